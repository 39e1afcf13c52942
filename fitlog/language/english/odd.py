"""What does not go together in a set-up, in English: slips, surprises, swapped sides, moves that
did otherwise, drifts.
"""

from __future__ import annotations

from ..numbers import percent
from ..saying import Sentence, Tongue


def slip(_: Tongue, *, word: str, first: bool) -> str:
    """A verdict that is taken for a slip."""
    before = "what was known before it" if first else "the pieces before it"
    return (
        f'"{word}" goes against {before} and may be a slip (another edge on the fence, a lock '
        "that slipped, a wrong word): cut the same setting again."
    )


def surprise(
    t: Tongue,
    *,
    piece: int,
    word: str | None,
    against: str,
    before: tuple[int, str | None, float] | None,
) -> str:
    """A verdict that was hardly to be expected.

    against: "history", "figures" or "piece"; then before: its number, its word, its setting on the
    user's scale, mm.
    """
    why = t.name("figures before") if against == "figures" else "by what earlier set-ups taught"
    if before is not None:
        number, said, at = before
        told = f'"{said}" ' if said else "its reading "
        why = f"after piece {number} ({told}at a {t.name('setting')} of {t.length(at)})"
    return (
        f'Piece {piece} ("{word or "its reading"}") was less than 1 % likely {why}: '
        "check for backlash, a slipped lock, another edge on the fence, or a word logged "
        f"wrongly ({t.act('undo')} takes it back)."
    )


def sides_swapped(t: Tongue, *, said: str, turned: str, chance: float, taken: bool) -> str:
    """All verdicts of an aspect have their sides swapped. taken: they are taken so."""
    what = (
        f'they are taken so, and the setting moves for "{turned}"'
        if taken
        else "the setting stays until that is clear"
    )
    mark = t.names.get(f"{t.aspect} marked", "")
    return (
        f'Did you mean "{turned}" where you said "{said}"? What you said moved the wrong way '
        f"with the setting: the sides seem to be swapped (chance {percent(chance)}); {what}. If "
        f"so, {t.act('undo')} and log it again.{mark}"
    )


def swapped_once(
    t: Tongue,
    *,
    piece: int,
    meant: tuple[str, float | None],
    said: tuple[str, float | None],
    chance: float,
    newest: bool,
) -> str:
    """One verdict goes together with the others only when its sides are swapped."""
    # No setting goes against the newest word, whatever it is taken for.
    what = (
        "; the setting does not go against your word until that is clear"
        if newest
        else ", and is taken so"
    )
    return (
        f'Did you mean "{t.word(meant)}" where piece {piece} says "{t.word(said)}"? It goes '
        f"together with the other pieces only so (chance {percent(chance)}){what}. If it was, "
        f"{t.act('undo-piece', piece=piece)} and log it again."
    )


def far_off_zero(t: Tongue, *, off: float, chance: float) -> str:
    """A zero that is far off."""
    return (
        f"The {t.name('zero of')}'s zero seems to be off by about {t.length(off)}, far more than "
        f"usual (chance {percent(chance)}); the setting allows for it. Measure "
        f"{t.name('to measure')}."
    )


def word_and_number(t: Tongue, *, word: str, size: float, misfit: float) -> str:
    """A number that its word cannot have, mm."""
    return (
        f'"{word}" and {t.length(size)} don\'t go together: that is a {t.name("misfit")} of '
        f"{t.length(misfit)}. Check the number; a word alone is better than a wrong one."
    )


def far_off(t: Tongue, *, misfit: float) -> str:
    """A number far from what the settings give, mm."""
    return (
        f"A {t.name('misfit')} of {t.length(misfit)} is far from what these settings give: measure "
        f"{t.name('to measure')}. If the number is right, log the setting that you find."
    )


def left_out(t: Tongue, *, kind: str, off: float) -> str:
    """A reading that cannot be."""
    return (
        f"The reading of the {kind.replace('_', ' ')} is {t.length(off)} off what can be and was "
        "left out: measure it again."
    )


def move(t: Tongue, *, twice: bool, before: int, after: int, moved: float, chance: float) -> str:
    """A move that did nothing, or twice what was asked. moved: mm."""
    seems = "seems to have done twice what was asked" if twice else "seems to have done nothing"
    return (
        f"The {t.name('zero of')}'s move between pieces {before} and {after} "
        f"({t.length(abs(moved))}) {seems} (chance {percent(chance)}): play, a lock that held or "
        f"slipped. Measure {t.name('to measure')} before you move again, and cut the same setting "
        "again."
    )


def drifts(
    t: Tongue, *, pieces: tuple[int, int], chance: float, each: float, setting: float
) -> str:
    """A misfit that drifts. each: a piece, mm; setting: the same as its setting, mm."""
    return (
        f"The {t.name('misfit')} seems to {'grow' if each > 0 else 'shrink'} from piece "
        f"{pieces[0]} to piece {pieces[1]} (chance {percent(chance)}): about "
        f"{t.length(abs(each))} a piece, {t.length(setting)} of the {t.name('setting')}, as a "
        f"setting that creeps in its lock. Measure {t.name('to measure')} before and after a "
        "piece."
    )


SENTENCES: dict[str, Sentence] = {
    "slip-*": slip,
    "surprise-*": surprise,
    "sides-swapped": sides_swapped,
    "side-swapped-once": swapped_once,
    "far-off-zero": far_off_zero,
    "word-and-number": word_and_number,
    "far-off-*": far_off,
    "reading-left-out": left_out,
    "move-did-nothing": move,
    "move-overshot": move,
    "*-drifts": drifts,
}
