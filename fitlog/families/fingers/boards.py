"""The real boards of a box joint: how wide they are so that their ends come out as wanted, and what
is done before each; see `families.boards`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

from ...advice.decision import decide
from ...advice.history import History
from ...domain import Remark, Settings, SetUp, remark
from .. import boards
from .joint import Fingers
from .names import FIT
from .plan import FingerPlan, finger_count

Ends = Literal["alike", "opposite"]
Section = tuple[str, tuple[Remark, ...]]  # a heading and what to do under it
TRIFLE = 0.05  # mm of a board's width that nobody sees
_BESIDE = 1  # fingers more and fewer whose widths are told as well


class Width(NamedTuple):
    """A width, mm, that ends as told with so many fingers. asked: the number that is meant."""

    fingers: int
    ends: Ends
    width: float
    asked: bool


class Stop(NamedTuple):
    """One slot of a board: the middle of it from the reference edge, and where the fence stands for
    its two passes as the user's scale reads it; rounding: of that, mm.
    """

    number: int
    board: Literal["first", "second"]
    middle: float
    exact: float
    fence: float
    second: float
    rounding: float


@dataclass(frozen=True)
class FingerJob(boards.Job):
    """The real boards of a set-up. play: to be expected of a finger in its slot; slot: its width;
    pitch: from finger to finger, mm. stops: none on a sled.
    """

    play: float
    slot: float
    pitch: float
    widths: tuple[Width, ...]
    sections: tuple[Section, ...]
    stops: tuple[Stop, ...] = ()


def expected_play(setup: SetUp, past: History, settings: Settings) -> float:
    """Return the play of a finger in its slot to be expected at settings of the real boards, mm."""
    known = decide(setup, past).known
    joint = known.joint
    assert isinstance(joint, Fingers)
    nominal = joint.nominal(FIT, settings, setup.plan.boards())
    return max(0.0, nominal + known.weighed(FIT).law.mean + joint.loss)


def widths(pitch: float, finger: float, count: int) -> tuple[Width, ...]:
    """Return the widths about a number of fingers that end alike, and that end opposite, mm."""
    about = range(max(1, count - _BESIDE), count + _BESIDE + 1)
    alike = (Width(n, "alike", (n - 1) * pitch + finger, n == count) for n in about)
    return (*alike, *(Width(n, "opposite", n * pitch, n == count) for n in about))


def wanted_count(plan: FingerPlan, tails: int | None, pitch: float, finger: float) -> int:
    """Return how many fingers the first board is to have: as was typed (`tails`), as planned, or as
    many as end alike on it.
    """
    most = max(1, math.floor((plan.board_width + TRIFLE - finger) / pitch) + 1)
    return finger_count(tails) or plan.fingers or most


def width_steps(plan: FingerPlan, found: tuple[Width, ...], play: float) -> tuple[Remark, ...]:
    """Return what to saw the boards to. play: of a finger in its slot, mm."""
    alike = next(w for w in found if w.asked and w.ends == "alike")
    off = plan.board_width - alike.width
    return (
        remark("boards-width", fingers=alike.fingers, width=alike.width, off=off),
        remark("boards-short", short=alike.fingers * play, fingers=alike.fingers),
    )
