"""What is said of the real boards before they are cut: what speaks against it, what boards of other
sizes mean.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...domain import Advice, Remark, SetUp, remark
from ...domain.standing import Standing
from ..boards import Batch
from . import figures
from .last_tail import WALLS_SD
from .layouts import Stops
from .layouts.corners import Boards
from .plan import DovetailPlan, dovetail
from .tail import LastTail

# of the chance of the last tail's play: what measuring the two walls must add to be asked for
_HELPS = 0.1


def anew(
    setup: SetUp, advice: Advice, how: Standing, found: Stops, batch: Batch
) -> Iterator[Remark]:
    """What other boards mean for the settings, and whether they ask for a test piece: not where the
    centre is settled, since the middle of any board is known as well as that of the set-up's own.
    """
    layout = found.layout
    if batch.thicknesses:
        yield remark("depth-follows")
    if batch.pin_thicknesses:
        laps = tuple(thick - layout.height for thick in batch.pin_thicknesses)
        pins = batch.boards.pins if isinstance(batch.boards, Boards) else ("first", "second")
        yield remark("other-lap", laps=laps, pins=pins)
    width = layout.width
    few = width != setup.plan.board_width and not dovetail(setup.plan).many_tails
    if few and layout.tails >= figures.MANY_TAILS_FROM:
        window = figures.fit_window(many_tails=True)
        yield remark("more-play", tails=layout.tails, low=window.low, high=window.high)
    if how.settled and width != setup.plan.board_width and "centre" not in advice.settled:
        yield remark("check-centre", "centre", width=width, zero=found.zero)
    elif how.settled:
        yield remark("no-new-piece", ended=setup.outcome is not None)


def doubts(how: Standing) -> Iterator[Remark]:
    """What speaks against cutting real boards at these settings."""
    if how.ended == "abandoned":
        yield remark("abandoned-setup")
    elif how.ended == "as it is":
        yield remark("ended-as-it-is")
    elif how.code == "tuning":
        yield remark("not-settled")
    elif how.code == "doubted" and how.ended is None:
        yield remark("doubted")


def unsure(tail: LastTail | None) -> Iterator[Remark]:
    """A last tail that may well not fit, and what makes that less likely."""
    if tail is None:
        return
    helped = tail.with_(WALLS_SD).chance - tail.chance
    if helped > _HELPS or abs(tail.rounded) > (tail.window[1] - tail.window[0]) / 2:
        play = (tail.mean, tail.sd)
        yield remark("centre-unsure", "centre", play=play, window=tail.window, chance=tail.chance)


def alike(batch: Batch, plan: DovetailPlan) -> Iterator[Remark]:
    """That two kinds of pin boards are taken to be of one thickness, where nobody said: the sockets
    would go right through a thinner one.
    """
    boards = batch.boards
    two = isinstance(boards, Boards) and boards.second not in (None, boards.first)
    if isinstance(boards, Boards) and two and not batch.pin_thicknesses:
        yield remark("pins-alike", thickness=plan.pin_thickness, pins=boards.pins)


def far(found: Stops) -> Iterator[Remark]:
    """A stop further out than fences reach."""
    most = max(stop.setting for stop in found.stops)
    if most > figures.FENCE_REACH:
        yield remark("far-stops", most=most)
