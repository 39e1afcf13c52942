"""Boards that are not equally dry, in English."""

from __future__ import annotations

from ..numbers import content
from ..saying import Sentence, Tongue
from ..units import shown

_SHOWN_SPECIES = 30
Doubts = tuple[float | None, tuple[float, float] | None, tuple[tuple[str, tuple[str, ...]], ...]]


def boards(
    t: Tongue,
    *,
    tail: float,
    pin: float,
    apart: float,
    width: float,
    outer: float,
    play: float,
    doubts: Doubts,
) -> str:
    """Two boards whose patterns creep apart. apart: over the width; outer: between the outer
    tails.
    """
    return (
        f"The tail board is at {content(tail)} moisture and the pin board at {content(pin)}: once "
        f"they are at one, their patterns are {t.length(apart)} apart over {t.size(width)} of "
        f"width and {t.length(outer)} between the outer tails, and the joint has "
        f"{t.length(play)} of play. Let them lie together until they agree, then cut both the same "
        f"day and put them together soon.{_doubts(*doubts)}"
    )


def scrap(
    t: Tongue,
    *,
    scrap: float,
    boards: float,
    tail: float,
    apart: float,
    width: float,
    doubts: Doubts,
) -> str:
    """Scrap that is wetter or drier than the boards. tail: how far a tail is off."""
    return (
        f"The scrap is at {content(scrap)} moisture and the boards at {content(boards)}: that is "
        f"{t.length(tail)} a tail and {t.length(apart)} over {t.size(width)} of width, so what "
        "fits in the scrap says less of the boards. Take scrap from the same batch, or let it lie "
        "with the boards until they agree; until then try scrap only on scrap cut the same day, "
        f"never on a board.{_doubts(*doubts)}"
    )


def _doubts(
    meter: float | None,
    rough: tuple[float, float] | None,
    taken: tuple[tuple[str, tuple[str, ...]], ...],
) -> str:
    """What makes the numbers less than sure: the meter, the range of the formula, what was
    taken.
    """
    said = ""
    if meter is not None:
        said += (
            f" Such readings are good to about {meter:g}%, so the difference may be theirs alone: "
            "measure again."
        )
    if rough is not None:
        said += f" Below {rough[0]:g}% and above {rough[1]:g}% these figures are rough."
    named = [f'"{shown(species, _SHOWN_SPECIES)}" as {"; ".join(what)}' for species, what in taken]
    return said + (f" Taken: {', and '.join(dict.fromkeys(named))}." if named else "")


SENTENCES: dict[str, Sentence] = {"moisture-boards": boards, "moisture-scrap": scrap}
