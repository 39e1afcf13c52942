"""What a half-blind dovetail's first screen says in fewer words than `why` does, in English."""

from __future__ import annotations

from ....language.saying import Sentence, Tongue
from .. import figures
from . import boards, pieces, recipe, sheet, stops


def new_height(_: Tongue, **__: object) -> str:
    """A new height; the headline says unplugged."""
    return "A new height means a new test piece."


def gap(t: Tongue, *, place: str, lead: float = 0.0, **given: object) -> str:
    """A gap that no setting cures. lead: the bit height for the next piece, mm."""
    if given.get("piece") is not None:
        return pieces.gap(t, place=place, **given)  # type: ignore[arg-type]
    how = _GAPS[place].format(height=t.length(lead), margin=t.length(figures.RABBET_OVER))
    return f"{how} Tests: {t.act('fault-gap', place=place)}."


_GAPS = {
    "baseline": "Gap at the baseline: leave the bit. Hold the pin board down, rabbet {height} "
    "(+0 to {margin}), cut another piece.",
    "inside": "Gap on the inside corner: leave the bit. Rabbet {height}, the board upright at the "
    "fence, cut another piece.",
    "flank": "One flank open: leave the bit. Square the board's end, stand it upright, cut another "
    "piece.",
}


def marks_lose_play(
    t: Tongue,
    *,
    step: float,
    lost: float,
    better: tuple[float, int, float | None] | None,
    **_: object,
) -> str:
    """A pitch that the fence can only be set to roughly. lost: play taken, mm."""
    remedy = t.act("plan") if better is None else f"a pitch of {t.length(better[0])}"
    return (
        f"Rounded to the fence's {t.length(step)} the boards' stops change the play by "
        f"{t.length(abs(lost))}: {remedy} avoids it, or set it between the marks."
    )


def narrow_piece(t: Tongue, *, least: float) -> str:
    """A test piece too narrow for its two slots. least: mm."""
    return (
        f"Take a scrap at least {t.length(least)} wide ({t.act('scrap-width')}), or judge fit and "
        f"seat only ({t.act('only')})."
    )


def far_off_seat(t: Tongue, *, misfit: float) -> str:
    """A step far from what the settings give."""
    return (
        f"A step of {t.length(misfit)} is far off: measure the socket from the board's end, and "
        f"log the depth you find ({t.act('depth')})."
    )


def move(t: Tongue, *, twice: bool, before: int, after: int, **_: object) -> str:
    """A move that did nothing, or twice what was asked."""
    what, where = _MOVED[t.aspect == "fit"]
    did = "gone twice as far as asked" if twice else "stayed where it was"
    return (
        f"The {what} seems to have {did} between pieces {before} and {after}: measure {where} "
        "before you move it again."
    )


_MOVED = {
    True: ("lift", "how high the bit stands"),
    False: ("fence", "from it to the bit's centre"),
}


def drifts(t: Tongue, *, each: float, **_: object) -> str:
    """A fit or a centre that drifts. each: a piece, mm, looser or outward above 0."""
    if t.aspect == "fit":
        return (
            f"The fit grows {'looser' if each > 0 else 'tighter'} piece by piece, as if the bit or "
            "the lift creeps: measure the bit's height before and after one."
        )
    return (
        "The centre drifts piece by piece, as if the fence creeps: measure it before and after one."
    )


# None: it can wait for `why`.
SHORT: dict[str, Sentence | None] = {
    **boards.SHORT,
    **recipe.SHORT,
    **sheet.SHORT,
    **stops.SHORT,
    "new-height": new_height,
    "gap-baseline": gap,
    "gap-inside": gap,
    "gap-flank": gap,
    "marks-lose-play": marks_lose_play,
    "narrow-piece": narrow_piece,
    "far-off-seat": far_off_seat,
    "move-did-nothing": move,
    "move-overshot": move,
    "fit-drifts": drifts,
    "centre-drifts": drifts,
    # What the piece's own steps say.
    "fence-side": None,
    "no-second-pass": None,
    "rabbet-follows": None,
    "slot-first": None,
    "walls-first": None,
    "centre-known": None,
}
