"""A half-blind test piece as it lies at the router table: see `families.drawing`."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Literal

from ...domain import Plan
from ...domain.drawing import Area, Dimension, Drawing, Point, Stroke, oblong
from ..boards import Job
from ..drawing import setting
from .geometry import mouth
from .names import DEPTH, FENCE, HEIGHT
from .plan import dovetail

_FENCE, _PAST, _LYING = 8.0, 12.0, 60.0  # mm: thick, beyond the work, of the pin piece shown
_SIDES = 24  # of a round bit


def drawings(job: Job) -> tuple[Drawing, ...]:
    """The tail piece on end from above, the pin piece flat from the side."""
    return _tails(job), _pins(job)


def labelled(plan: Plan) -> Mapping[str, float]:
    """Nothing beside what a sample's label has of every half-blind."""
    return {}


def _tails(job: Job) -> Drawing:
    """From above: the fence at the left, the piece's end on the table, two passes a pitch apart."""
    plan, x = dovetail(job.setup.plan), job.settings[FENCE]
    figures = plan.figures()
    wide, thick, first = figures["width"], figures["thickness"], x + dovetail(plan).pitch
    narrow = mouth(plan.bit.diameter, job.settings[HEIGHT], plan.bit.theta)
    front = (thick + plan.bit.diameter) / 2 + _PAST
    slots = [
        Stroke(((at + side * narrow / 2, 0.0), (at + side * narrow / 2, thick)))
        for at in (x, first)
        for side in (-1, 1)
    ]
    off = job.settings.on_scale(plan.machine)[FENCE] - x
    earlier = Dimension(
        "first pass", (0.0, -_PAST), (first, -_PAST), "above", 1, reading=first + off or None
    )
    return Drawing(
        "Tail piece on end, one edge to the fence",
        (
            oblong(-_FENCE, -_PAST, 0.0, front, "guide"),
            oblong(0.0, 0.0, wide, thick),
            _round(x, front, plan.bit.diameter / 2),
        ),
        tuple(slots),
        (setting(job, FENCE, (0.0, -_PAST), (x, -_PAST), "above"), earlier),
    )


def _pins(job: Job) -> Drawing:
    """From the side: the piece flat on the table, cut open along a socket that is as deep in its
    end as the bit goes; the wood beside the socket is dashed.
    """
    plan, depth, high = dovetail(job.setup.plan), job.settings[DEPTH], job.settings[HEIGHT]
    thick, half = plan.pin_thickness, plan.bit.diameter / 2
    neck = mouth(plan.bit.diameter, high, plan.bit.theta) / 2
    left: tuple[Point, ...] = ((depth - neck, 0.0), (depth - half, -high))
    right: tuple[Point, ...] = ((depth + half, -high), (depth + neck, 0.0))
    wood = ((0.0, -thick), (_LYING, -thick), (_LYING, 0.0), *reversed(right), (0.0, -high))
    return Drawing(
        "Pin piece flat, inside face down",
        (Area(wood, "second"), Area((*left, *right), "cutter")),
        (
            Stroke(((-_PAST - half, 0.0), (_LYING, 0.0)), dashed=False),
            Stroke(((0.0, -high), (0.0, 0.0))),
        ),
        (
            setting(job, DEPTH, (0.0, -thick), (depth, -thick), "above"),
            setting(job, HEIGHT, (depth + half, -high), (depth + half, 0.0), "right"),
        ),
    )


def _round(x: float, y: float, radius: float) -> Area:
    """The bit from above."""
    of: Literal["cutter"] = "cutter"
    turns = (2 * math.pi * n / _SIDES for n in range(_SIDES))
    return Area(tuple((x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns), of)
