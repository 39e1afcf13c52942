"""The real boards of a box joint by steps of the fence: see `families.boards.Boarded.real_boards`.

The first board begins and ends with a finger, the second lies half a pitch before it. The fence
moves out only; every stop is rounded by itself to the fence's own steps.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from ...advice.decision import decide
from ...advice.history import History
from ...domain import Advice, Settings, SetUp, remark
from ...domain.standing import for_real_boards, standing
from ...errors import Mm, Refused
from ..fingers.boards import (
    TRIFLE,
    FingerJob,
    Stop,
    Width,
    expected_play,
    wanted_count,
    width_steps,
    widths,
)
from ..fingers.craft import wood_notices
from ..fingers.names import HEIGHT
from .craft import cautions
from .names import CENTRE, SECOND
from .plan import StepsPlan


def real_boards(setup: SetUp, advice: Advice, past: History, tails: int | None) -> FingerJob:
    """tails: fingers of the first board; None: as the set-up says, or as its width gives."""
    plan, settings = setup.plan, for_real_boards(setup, advice)
    assert isinstance(plan, StepsPlan)
    play = expected_play(setup, past, settings)
    slot = (plan.pitch + play) / 2
    count = wanted_count(plan, tails, plan.pitch, slot - play)
    found = widths(plan.pitch, slot - play, count)
    _refuse_wide(plan, next(w for w in found if w.asked and w.ends == "alike"))
    off = decide(setup, past).known.law(CENTRE).mean if CENTRE in plan.in_play else 0.0
    stops = (
        *_stops(plan, settings, "first", plan.pitch - slot / 2, count - 1, off),
        *_stops(plan, settings, "second", (plan.pitch - slot) / 2, count, off),
    )
    height = settings.on_scale(plan.machine)[HEIGHT]
    first = remark("boards-stops", board="first", second=settings[SECOND], height=height)
    second = remark("boards-stops", board="second", second=settings[SECOND], height=height)
    return FingerJob(
        setup,
        advice.status,
        settings,
        wood_notices(plan),
        cautions(plan, None),
        standing(setup, advice),
        play,
        slot,
        plan.pitch,
        found,
        (
            ("Widths", width_steps(plan, found, play)),
            ("First boards", (first, remark("boards-same-edge"))),
            ("Second boards", (second, remark("boards-same-edge"), remark("boards-open-edge"))),
        ),
        stops,
    )


def _refuse_wide(plan: StepsPlan, wanted: Width) -> None:
    """Refuse fingers that end beyond the board: past its middle the bit would climb there."""
    if wanted.width > plan.board_width + TRIFLE:
        raise Refused(
            "no-layout",
            "{fingers} fingers want boards {width:.2f} wide, these are {board}",
            "take fewer with --tails N, or leave the number out",
            fingers=wanted.fingers,
            width=Mm(wanted.width),
            board=Mm(plan.board_width),
        )


def _stops(
    plan: StepsPlan,
    settings: Settings,
    board: Literal["first", "second"],
    start: float,
    count: int,
    off: float,
) -> Iterator[Stop]:
    """The slots of a board. start: the middle of the first one from the edge; off: how far a cut
    lies further out than the fence says, mm.
    """
    can, second = plan.adjuster(CENTRE), settings[SECOND]
    zero = plan.machine.zero("fence") if plan.machine else 0.0
    for number in range(1, count + 1):
        middle = start + (number - 1) * plan.pitch
        exact = middle - second / 2 - off
        set_to = can.nearest(exact)
        fence = set_to + zero
        yield Stop(number, board, middle, exact + zero, fence, fence + second, set_to - exact)
