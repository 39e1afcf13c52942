"""What moisture does to joints cut from both faces, in English."""

from __future__ import annotations

from ....language.numbers import content
from ....language.saying import Sentence, Tongue


def parts(t: Tongue, *, one: float, other: float, apart: float) -> str:
    """Two parts that are not equally dry. apart: what the joint is off by once they are, mm."""
    return (
        f"One part is at {content(one)} moisture, the other at {content(other)}: once they are "
        f"alike, the {t.name('misfit')} differs by {t.length(apart)}. Let them lie together until "
        "they agree, then cut both the same day."
    )


def planed(t: Tongue, *, scrap: float, boards: float, apart: float) -> str:
    """Scrap of another moisture. apart: what that makes of its thickness in the joint, mm."""
    return (
        f"The scrap is at {content(scrap)} moisture, the boards at {content(boards)}: planed alike "
        f"but dried apart, that is {t.length(apart)} in the {t.name('misfit')}. Measure both "
        f"today ({t.act('scrap-thickness')}), or take scrap of the same batch."
    )


def _moves(t: Tongue, what: str, width: float, apart: float, year: float) -> str:
    return (
        f"{what}, {t.size(width)} wide, can move {t.length(apart)} for {year:g}% of moisture, "
        "about a year indoors"
    )


def tenon(t: Tongue, *, apart: float, width: float, year: float) -> str:
    """A tenon across its grain, in a mortise along the stile's."""
    return (
        f"{_moves(t, 'A tenon', width, apart, year)}; its mortise, along the grain, hardly does: "
        f"glue its middle alone, and leave {t.length(apart / 2)} free at either narrow side."
    )


def boarding(t: Tongue, *, apart: float, width: float, year: float) -> str:
    """Boards that are not glued to each other."""
    return (
        f"{_moves(t, 'A board', width, apart, year)}: unglued, each joint opens by that as it "
        "dries, so keep the tongue longer than that; boards laid dry want as much between their "
        "shoulders."
    )


def panel(t: Tongue, *, apart: float, width: float, year: float) -> str:
    """A panel in its frame."""
    return (
        f"{_moves(t, 'A panel', width, apart, year)}: no glue, and if it goes in dry, a groove "
        f"deeper than the tongue is long by {t.length(apart / 2)} on either side (the figure "
        "groove-depth)."
    )


def lap(t: Tongue, *, apart: float, width: float, year: float) -> str:
    """The shoulder of a lap, at the edge of the part that it lies across."""
    return (
        f"{_moves(t, 'The other part', width, apart, year)}: a shoulder that is closed today "
        "opens by that as it dries. Cut it as dry as it will live."
    )


SENTENCES: dict[str, Sentence] = {
    "moisture-parts": parts,
    "moisture-planed": planed,
    "moisture-tenon": tenon,
    "moisture-boarding": boarding,
    "moisture-panel": panel,
    "moisture-lap": lap,
}
