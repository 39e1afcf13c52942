"""The advice in English: why a setting is where it is, and what deserves a word beside it."""

from __future__ import annotations

import math
import shlex
from collections.abc import Mapping

from ...errors import Mm
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
        f"The true {t.name('misfit')} of the real boards{_apart(t, apart)} lies inside its window "
        f"with a chance of {chance:.0%}{other}: one more piece in the real stock first {verdict}."
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


def limit(
    t: Tongue, *, wanted: float, why: str, remedy: str, figures: tuple[tuple[str, Mm], ...]
) -> str:
    """A setting that is wanted beyond its limit, with what the texts of that name. wanted: on the
    user's scale, mm.
    """
    why, remedy = (t.clause(text, figures) for text in (why, remedy))
    return f"The wanted {t.name('setting')} of {t.length(wanted)} goes against {why}: {remedy}."


def coarse_step(
    t: Tongue,
    *,
    step: float,
    wanted: float | None = None,
    leap: float | None = None,
    window: float = 0.0,
    part: str = "",
) -> str:
    """A step that leaps over the whole window. leap: before the first piece; wanted: on the user's
    scale.
    """
    if leap is not None:
        return (
            f"One step of {t.length(step)} in the {t.name('setting')} moves the "
            f"{t.name('misfit')} by {t.length(leap)}, over the whole window of "
            f"{t.length(window)}: {_between(t, wanted)}. If you can by eye, say so once: "
            f"{t.act('between', part=part)}; else take a caliper or a paper shim, and log what you "
            "set."
        )
    assert wanted is not None
    return (
        f"The {t.name('setting')} wants {t.off_marks(wanted)}, between two steps of "
        f"{t.length(step)}, and none is good: set it between the marks with a caliper or a paper "
        "shim, and log the setting you used."
    )


def _between(t: Tongue, wanted: float | None) -> str:
    if wanted is None:
        return "it starts at a mark, and what comes after may have to be set between the marks"
    return f"set it between the marks, at {t.off_marks(wanted)}"


def coarse_stack(
    t: Tongue,
    *,
    step: float,
    part: str,
    leap: float | None = None,
    window: float = 0.0,
    wanted: float | None = None,
) -> str:
    """Stacks none of which is good: as `coarse_step` says it of marks."""
    remedy = f"add what is missing, such as a paper, and name it once: {t.act('stack', part=part)}"
    if leap is not None:
        return (
            f"From one stack to the next the {t.name('setting')} grows by {t.length(step)}, which "
            f"moves the {t.name('misfit')} by {t.length(leap)}, over the whole window of "
            f"{t.length(window)}: {remedy}."
        )
    assert wanted is not None
    return (
        f"The {t.name('setting')} wants {t.off_marks(wanted)}, and no stack comes near enough to "
        f"be good: {remedy}."
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


def held(t: Tongue) -> str:
    """A gap that no setting cures holds what is tried."""
    return f"{t.name('head')}: the {t.name('setting')} stays as it is until the gap is cured."


def gap(_: Tongue, *, place: str, lead: float) -> str:
    """A gap that no setting cures. lead: the first setting, mm."""
    return (
        f"A gap at the {place} comes from no setting: leave them alone, find what holds the joint "
        "off there, and cut another piece."
    )


def gap_where(_: Tongue) -> str:
    """A gap without its place."""
    return "A gap was logged without its place, and moves nothing: say where it is."


def other_size(t: Tongue, *, width: float, thickness: float, piece: int, **to: float) -> str:
    """A piece of another size than the set-up's own was cut. to: what it wants, by part, mm."""
    return (
        f"These settings are for a piece {t.size(width)} wide and {t.size(thickness)} thick; one "
        f"like piece {piece} wants {_parts(t, to)}."
    )


def real_board(t: Tongue, *, width: float, thickness: float, **to: float) -> str:
    """The test pieces are scrap of another size. to: what the boards want, by part, mm."""
    return (
        f"These settings are for the scrap. The real boards, {t.size(width)} wide and "
        f"{t.size(thickness)} thick, want {_parts(t, to)}."
    )


def _parts(t: Tongue, to: Mapping[str, float]) -> str:
    """Settings by the part of the machine, as the user's scale reads them, mm."""
    return " and ".join(f"a {t.names[f'{p} part']} of {t.length(x)}" for p, x in to.items())


def come_up(_: Tongue) -> str:
    """How to come to a greater height."""
    return "come up to it from below; if you pass it, go back down and come up again"


def go_below(t: Tongue, *, play: float | None, part: str) -> str:
    """How to come to a smaller setting. play: by how much to go below it at least, mm; part: of the
    machine, whose play it is.
    """
    past = f"at least {t.length(play)}" if play is not None else "well"
    whose = "the lift's" if part == "height" else "its"
    return f"go {past} below it, then come up to it, so that {whose} play is taken up"


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


def same_end(t: Tongue, *, piece: int) -> str:
    """The next cut is another one on an end that was cut. piece: the first on it."""
    return f"Cut the end of piece {piece} again: it only takes wood off{t.act('same-end')}."


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
    "coarse-stack-*": coarse_stack,
    "piece-twice": piece_twice,
    "word-replaced": word_replaced,
    "*-held": held,
    "gap-*": gap,
    "gap-where": gap_where,
    "other-size": other_size,
    "real-board": real_board,
    "come-up": come_up,
    "go-below": go_below,
    "waits": waits,
    "frozen": frozen,
    "frozen-moved": frozen_moved,
    "stack": stack,
    "same-end": same_end,
    "fresh-end": fresh_end,
}
