"""What is said of the real boards of a half-blind dovetail, in English."""

from __future__ import annotations

from ....language.numbers import percent
from ....language.saying import Sentence, Tongue


def narrow_piece(t: Tongue, *, least: float) -> str:
    """A test piece too narrow for its two slots. least: mm."""
    return (
        f"The test piece wants a board at least {t.length(least)} wide for its two slots and "
        f"their wall: take a wider scrap ({t.act('scrap-width')}), or judge fit and seat only "
        f"({t.act('only')})."
    )


def marks_lose_play(
    t: Tongue,
    *,
    step: float,
    lost: float,
    half: float,
    better: tuple[float, int, float | None] | None,
) -> str:
    """A pitch that the fence can only be set to roughly.

    lost: play taken, mm; half: what a good joint has to spare; better: pitch, tails and spacing of
    a layout on the marks.
    """
    changes = f"take {t.length(lost)} from" if lost > 0 else f"add {t.length(-lost)} to"
    remedy = f"find a pitch on the marks with {t.act('plan')}"
    if better is not None:
        pitch, tails, spacing = better
        exact = t.ruler.exact
        if spacing is None:
            anew = t.act("start-anew", pitch=exact(pitch), tails=tails)
        else:
            anew = t.act("start-wide", pitch=exact(pitch), tails=tails, spacing=exact(spacing))
        remedy = f"a pitch of {t.length(pitch)} loses none ({anew})"
    return (
        f"Rounded to the fence's {t.length(step)}, the real boards' cuts would {changes} the "
        f"joint's play, and a good joint has {t.length(half)} to spare: {remedy}, or set the fence "
        "between its marks with a caliper."
    )


def centre_unsure(
    t: Tongue, *, play: tuple[float, float], window: tuple[float, float], chance: float
) -> str:
    """A last tail that may well not fit."""
    return (
        f"The last tail: {play_of(t, play=play, window=window, chance=chance)} What makes that "
        f"surer stands under The fence ({t.act('stops')})."
    )


def centre_unsure_short(
    t: Tongue, *, play: tuple[float, float], window: tuple[float, float], chance: float
) -> str:
    """A last tail that may well not fit."""
    return (
        f"The last tail fits with a chance of {percent(chance)}: {t.act('stops')} says under The "
        "fence what makes that surer."
    )


def play_of(
    t: Tongue, *, play: tuple[float, float], window: tuple[float, float], chance: float
) -> str:
    """The last tail's play with its chance."""
    low, high = map(t.length, window)
    return (
        f"its play comes out at {t.length(play[0])} +- {t.ruler.doubt(play[1])}, inside its window "
        f"of {low} to {high} with a chance of {percent(chance)}."
    )


def far_stops(t: Tongue, *, most: float) -> str:
    """Stops that a fence may not reach."""
    return (
        f"The fence goes out to {t.length(most)}: where yours does not reach, clamp a straight "
        "board across the table as a fence, parallel to its travel, and take its distance to the "
        "bit's centre. The pin boards need every stop."
    )


SENTENCES: dict[str, Sentence] = {
    "narrow-piece": narrow_piece,
    "marks-lose-play": marks_lose_play,
    "centre-unsure": centre_unsure,
    "far-stops": far_stops,
}
SHORT: dict[str, Sentence | None] = {"centre-unsure": centre_unsure_short}
