"""The real boards of a box joint on a sled: see `families.boards.Boarded.real_boards`."""

from __future__ import annotations

from ...advice.history import History
from ...domain import Advice, SetUp, remark
from ...domain.standing import for_real_boards, standing
from ..fingers.boards import (
    FingerJob,
    expected_play,
    wanted_count,
    width_steps,
    widths,
)
from ..fingers.craft import wood_notices
from ..fingers.names import HEIGHT
from .craft import cautions
from .names import GAP, STARTER
from .plan import BoxPlan


def real_boards(setup: SetUp, advice: Advice, past: History, tails: int | None) -> FingerJob:
    """tails: fingers of the first board; None: as the set-up says, or as its width gives."""
    plan, settings = setup.plan, for_real_boards(setup, advice)
    assert isinstance(plan, BoxPlan)
    gap, play = settings[GAP], expected_play(setup, past, settings)
    slot, key = gap + play, plan.key_width if plan.pressed == "cutter" else None
    pitch = gap + (slot if key is None else key)
    # Whichever way the boards are pressed, the first finger is as wide as the gap.
    found = widths(pitch, gap, wanted_count(plan, tails, pitch, gap))
    dial = settings.on_scale(plan.machine)
    first = remark("boards-first", gap=dial[GAP], height=dial[HEIGHT], side=plan.pressed)
    second = remark("boards-second", starter=dial[STARTER])
    again = remark("boards-other-end")
    return FingerJob(
        setup,
        advice.status,
        settings,
        wood_notices(plan),
        cautions(plan, None),
        standing(setup, advice),
        play,
        slot,
        pitch,
        found,
        (
            ("Widths", width_steps(plan, found, play)),
            ("First boards", (first, again)),
            ("Second boards", (second, again)),
        ),
    )
