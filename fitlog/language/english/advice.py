"""The advice in English: why a setting is where it is, and what deserves a word beside it."""

from __future__ import annotations

import math
import shlex

from ..numbers import percent
from ..saying import Sentence, Tongue
from ..units import counted


def aim(
    t: Tongue,
    *,
    said: tuple[str, float | None] | None,
    misfit: tuple[float, float] | None,
    window: tuple[float, float],
    follows: bool,
) -> str:
    """Why an aspect that is open is cut there. follows: another setting's move moves it too."""
    lead = f'after "{t.word(said)}" the' if said else "the"
    tail = f"; {t.name('follows')}" if follows else ""
    return (
        f"{t.name('head')}: {lead} {t.name('misfit')} at that setting is "
        f"{t.spread(misfit) if misfit else 'unknown'}; "
        f"good is {_range(t, *window)}{tail}."
    )


def _range(t: Tongue, low: float, high: float) -> str:
    """A window; an infinite end is none."""
    if math.isinf(low):
        return f"at most {t.length(high)}"
    return (
        f"at least {t.length(low)}" if math.isinf(high) else f"{t.length(low)} to {t.length(high)}"
    )


def settled(
    t: Tongue, *, way: str, piece: int | None, word: str | None, chance: float, **_: object
) -> str:
    """By what an aspect is settled. way: as of `Settled`."""
    if way in ("word", "reading"):
        why = f'your word "{word}"' if way == "word" and word else "its reading inside the window"
        return f"{t.name('head')}: settled by piece {piece}, {why}; leave it."
    if way == "figures":
        return f"{t.name('head')}: settled by figures ({chance:.0%}): {t.name('figures')}."
    sure = f"sure to {chance:.0%}; another piece would cost more than it could still save"
    return f"{t.name('head')}: {sure}."


def confirm(
    t: Tongue,
    *,
    chance: float,
    together: float | None,
    apart: tuple[float, float] | None,
    scrap: str | None,
    more: bool,
) -> str:
    """How sure the real boards are, and whether one more cut is worth its wood.

    together: the chance of all aspects, where it speaks for the cut alone; apart: how the real
    boards differ from the scrap; scrap: what the cut's wood is to be called.
    """
    verdict = "is worth its wood" if more else "is not worth its wood"
    verdict += f" ({t.act('confirm', scrap=shlex.quote(scrap))})" if scrap is not None else ""
    other = (
        f", but all that is tuned together with {together:.0%} only" if together is not None else ""
    )
    return (
        f"The true clearance of the real boards{_apart(t, apart)} lies inside its window with a "
        f"chance of {chance:.0%}{other}: one more piece in the real stock first {verdict}."
    )


def _apart(t: Tongue, apart: tuple[float, float] | None) -> str:
    """How the real boards differ from the scrap."""
    if apart is None:
        return ""
    doubt, mean = t.length(apart[1]), t.length(abs(apart[0]))
    if mean == t.length(0.0):
        return f", which may differ from the scrap by {doubt} either way,"
    way = "looser" if apart[0] > 0 else "tighter"
    return f", which come out about {mean} {way} than the scrap (+- {doubt}),"


def unjudged(t: Tongue, *, piece: int) -> str:
    """A piece that was logged and not judged."""
    return t.act("judge-later", piece=piece)


def limit(t: Tongue, *, wanted: float, why: str, remedy: str) -> str:
    """A setting that is wanted beyond its limit. wanted: on the user's scale, mm."""
    return f"The wanted {t.name('setting')} of {t.length(wanted)} goes against {why}: {remedy}."


def coarse_step(
    t: Tongue,
    *,
    step: float,
    leap: float | None = None,
    window: float = 0.0,
    part: str = "",
    wanted: float | None = None,
) -> str:
    """A step that leaps over the whole window. leap: before the first piece; wanted: later."""
    if leap is not None:
        return (
            f"One step of {t.length(step)} in the {t.name('setting')} moves the "
            f"{t.name('misfit')} by {t.length(leap)}, over the whole window of "
            f"{t.length(window)}: set it between the marks. If you can by eye, say so once: "
            f"{t.act('between', part=part)}; else take a caliper or a paper shim, and log what "
            "you set."
        )
    assert wanted is not None
    return (
        f"The {t.name('setting')} wants {t.length(wanted)}, between two steps of "
        f"{t.length(step)}, and none is good: set it between the marks with a caliper or a paper "
        "shim, and log the setting you used."
    )


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


def piece_twice(t: Tongue, *, piece: int, before: int, seconds: int) -> str:
    """A piece in the words of the one before, too soon for another."""
    return (
        f"Piece {piece} says the same as piece {before}, {counted(seconds, 'second')} before: if "
        f"it is the same piece, {t.act('undo')} takes it back."
    )


def word_replaced(
    t: Tongue, *, piece: int, new: tuple[str, float | None], old: tuple[str, float | None]
) -> str:
    """A word that stands where another one stood."""
    return (
        f'"{t.word(new)}" now stands for piece {piece} instead of "{t.word(old)}": '
        f"{t.act('undo')} brings that back."
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


def waits(_: Tongue, *, setting: str) -> str:
    """A setting of a later stage. setting: what it is called."""
    return f"{_capital(setting)} stays until what is set before it is settled."


def frozen(t: Tongue, *, setting: str, scrap: str, wanted: float) -> str:
    """A setting that is not moved any more. wanted: what it would have to be, on the user's
    scale, mm; scrap: the parts that a move spoils.
    """
    return (
        f"{_capital(setting)} stays: pieces that were cut after it depend on it. It would have to "
        f"be {t.length(wanted)}, and {scrap} cut before such a move are scrap."
    )


def frozen_moved(_: Tongue, *, setting: str, scrap: str, piece: int) -> str:
    """A frozen setting that was moved all the same. piece: the first one cut after it."""
    return f"{_capital(setting)} was moved before piece {piece}: {scrap} cut before it are scrap."


def same_end(_: Tongue, *, piece: int) -> str:
    """The next cut is another one on an end that was cut. piece: the first on it."""
    return f"Cut the end of piece {piece} again: it only takes wood off."


def fresh_end(_: Tongue) -> str:
    """The next cut wants a fresh end."""
    return "Cut a fresh end: the last one cannot come out good any more, or not for less."


def stack(_: Tongue, *, setting: str, names: tuple[str, ...]) -> str:
    """What a setting is stacked of."""
    counted_names = [f"{names.count(n)} x {n}" if names.count(n) > 1 else n for n in names]
    return f"{_capital(setting)}: stack {', '.join(dict.fromkeys(counted_names))}."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


SENTENCES: dict[str, Sentence] = {
    "*-aim": aim,
    "*-settled": settled,
    "confirm": confirm,
    "confirmed": confirm,
    "piece-unjudged": unjudged,
    "limit-*": limit,
    "coarse-step-*": coarse_step,
    "slip-*": slip,
    "surprise-*": surprise,
    "piece-twice": piece_twice,
    "word-replaced": word_replaced,
    "sides-swapped": sides_swapped,
    "side-swapped-once": swapped_once,
    "far-off-zero": far_off_zero,
    "waits": waits,
    "frozen": frozen,
    "frozen-moved": frozen_moved,
    "stack": stack,
    "same-end": same_end,
    "fresh-end": fresh_end,
}
