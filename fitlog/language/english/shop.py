"""What is said around a set-up, in English: how it may be built on, who was at the machine, whether
real boards may be cut.
"""

from __future__ import annotations

from ..saying import Sentence, Tongue
from ..units import counted

_ENDED = {"as it is": "ended as it is, short of ready", "abandoned": "abandoned"}


def not_good(_: Tongue, *, setup: int, ended: str) -> str:
    """An earlier set-up is built on though it was never found good. ended: as of `standing`."""
    return (
        f"Set-up {setup} was {_ENDED[ended]}: its settings were never all found good, and only "
        "what its pieces say is used."
    )


_AIM = {"tight": "looser", "loose": "closer"}
_WHEN = {"glue": " with glue", "season": " after a season", "": ""}


def outcome(
    t: Tongue, *, way: str, setup: int, wood: str, when: str, option: str, by: float
) -> str:
    """What became of the last joint in a wood. way: how it was off; option: of `start`, that aims
    `by` further, mm; without one, this set-up aims so already, by more than 0, or nothing can be
    said.
    """
    last = f"Last time in {wood} (set-up {setup}): {way}{_WHEN[when]}."
    if option:
        return f"{last} To aim {t.length(by)} {_AIM[way]}: {t.act('start-with', option=option)}."
    if by:
        return f"{last} This set-up aims {t.length(by)} {_AIM[way]} than that one."
    return f"{last} Nothing is moved for it: mind it when you call a joint good."


def outcome_briefly(
    t: Tongue, *, way: str, setup: int, wood: str, when: str, option: str, by: float
) -> str:
    """The same in fewer words."""
    last = f"Last time in {wood}: {way}{_WHEN[when]}"
    if option:
        return f"{last}. {t.length(by)} {_AIM[way]}: {t.act('start-with', option=option)}."
    return (
        f"{last}; this one aims {t.length(by)} {_AIM[way]}." if by else f"{last}; nothing is moved."
    )


def as_found(
    t: Tongue,
    *,
    machine: str,
    other: tuple[bool, str, int] | None,
    last: str | None,
    days: int,
    typed: tuple[str, ...],
) -> str:
    """Remembered settings may have moved. typed: by which options each is told.

    other: what was done there since: whether by the person at work, by whom, for which set-up;
    last: who was last at this set-up, where that was somebody else; days: since then.
    """
    if other is not None:
        own, by, setup = other
        who = "you" if own else by or "somebody"
        why = f"Since this set-up was last at {machine}, {who} used it for set-up {setup}"
    elif last is not None:
        why = f"{last or 'Somebody'} was the last at this set-up, not you"
    else:
        why = f"This set-up was last worked on more than {counted(days, 'day')} ago"
    more = f" ({', '.join(typed[1:])})" if typed[1:] else ""
    return (
        f"{why}: its settings may have moved. Before the next cut, measure them as they stand and "
        f"log that: {t.act('found', first=typed[0], others=more)} says what to dial."
    )


def bit_left_out(_: Tongue, *, name: str, why: str) -> str:
    """A bit that cannot cut these boards. why: the refusal's message."""
    return f"{name} was left out: {why}."


def abandoned(_: Tongue) -> str:
    """Stops of an abandoned set-up."""
    return (
        "This set-up was abandoned: nothing says that its settings are good. Start another before "
        "you cut real wood."
    )


def as_it_is(_: Tongue) -> str:
    """Stops of a set-up that ended as it is."""
    return (
        "This set-up was ended as it is, short of ready: nothing says that its settings are good. "
        "Tune before real wood."
    )


def not_settled(_: Tongue) -> str:
    """Stops of a set-up that is still tuned."""
    return (
        "The set-up is not settled yet: these stops hold for the settings so far; tune on before "
        "you cut real wood."
    )


def doubted(_: Tongue) -> str:
    """Stops of a set-up that the figures doubt."""
    return (
        "It is ready by your word, but the figures doubt it: make one more cut in the real stock "
        "first."
    )


SENTENCES: dict[str, Sentence] = {
    "not-good": not_good,
    "outcome-tight": outcome,
    "outcome-loose": outcome,
    "as-found": as_found,
    "bit-left-out": bit_left_out,
    "abandoned-setup": abandoned,
    "ended-as-it-is": as_it_is,
    "not-settled": not_settled,
    "doubted": doubted,
}
SHORT: dict[str, Sentence | None] = {
    "outcome-tight": outcome_briefly,
    "outcome-loose": outcome_briefly,
}
