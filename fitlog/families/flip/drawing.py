"""A part cut from both faces beside the hollow that it goes into, apart by a little."""

from __future__ import annotations

from typing import NamedTuple

from ...domain.drawing import Area, Dimension, Drawing, Label, Stroke
from ..boards import Job
from ..drawing import setting
from .names import HEIGHT, STOP

_BETWEEN, _BEYOND = 5.0, 22.0  # mm: apart; of each part that is drawn beyond its cut


class Hollow(NamedTuple):
    """The part with the hollow: how thick it is, the hollow's near wall from its face, its width
    and depth, mm; axis: of the bit at the fence, width: of the bit, where that is set by its axis.
    """

    name: str
    thick: float
    wall: float
    wide: float
    deep: float
    axis: float | None = None
    bit: float = 0.0


def apart(job: Job, title: str, hollow: Hollow, fence: str, part: str, inside: str) -> Drawing:
    """Return both parts, the one with the hollow at the left. fence: the hollow's setting; part:
    what the other one is called, inside: what goes into the hollow.
    """
    high, stop = job.settings[HEIGHT], job.settings[STOP]
    thick, back = job.setup.plan.tail_thickness, -hollow.deep - _BEYOND / 2
    low, floor = hollow.wall + hollow.wide, -hollow.deep
    left = Area(
        (
            *((back, 0.0), (0.0, 0.0), (0.0, hollow.wall), (floor, hollow.wall)),
            *((floor, low), (0.0, low), (0.0, hollow.thick), (back, hollow.thick)),
        ),
        "second",
    )
    top = hollow.wall + (hollow.wide - thick) / 2
    tip, line, end = _BETWEEN, _BETWEEN + stop, _BETWEEN + stop + _BEYOND
    over, under = top + high, top + thick - high
    right = Area(
        (
            *((end, top), (line, top), (line, over), (tip, over)),
            *((tip, under), (line, under), (line, top + thick), (end, top + thick)),
        )
    )
    at = hollow.wall if hollow.axis is None else hollow.axis
    strokes = () if hollow.axis is None else _first_pass(hollow, hollow.axis)
    return Drawing(
        title,
        (left, right),
        strokes,
        (
            setting(job, fence, (floor, 0.0), (floor, at), "left"),
            Dimension(hollow.name, (floor, hollow.wall), (floor, low), "left", 1),
            Dimension("depth", (floor, hollow.wall), (0.0, hollow.wall), "above"),
            setting(job, STOP, (tip, over), (line, over), "above", 1),
            setting(job, HEIGHT, (line, top), (line, over), "right"),
            Dimension(inside, (tip, over), (tip, under), "right", 1),
        ),
        (Label((line + _BEYOND / 2, top + thick / 2), part),),
    )


def _first_pass(hollow: Hollow, axis: float) -> tuple[Stroke, ...]:
    """The bit's axis and its pass with the first face at the fence."""
    floor, half = -hollow.deep, hollow.bit / 2
    return (
        Stroke(((floor - 3.0, axis), (3.0, axis))),
        Stroke(((0.0, axis - half), (floor, axis - half))),
    )
