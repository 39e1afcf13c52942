"""A sliding dovetail as it is drawn, apart by a little: see `families.drawing`."""

from __future__ import annotations

import math
from collections.abc import Mapping

from ...domain import Plan
from ...domain.drawing import Area, Dimension, Drawing, Label, Point
from ..boards import Job
from ..drawing import setting
from .geometry import mouth
from .names import EXPOSURE, HEIGHT, TONGUE
from .plan import SlidingPlan, sliding

_SHELF, _BETWEEN, _BESIDE = 22.0, 6.0, 16.0  # mm: above the shoulder, apart, beside the socket


def drawings(job: Job) -> tuple[Drawing, ...]:
    """The shelf's tongue above the panel's socket."""
    plan = sliding(job.setup.plan)
    socket, tongue, out = (job.settings[name] for name in (HEIGHT, TONGUE, EXPOSURE))
    theta, wide = plan.bit.theta, plan.bit.diameter
    narrow, thick = mouth(wide, socket, theta), plan.tail_thickness
    left = -narrow / 2 if plan.one_face else -thick / 2
    right, face = left + thick, tongue + _BETWEEN
    shelf = Area(tuple(_shelf(plan, left, right, out, tongue)))
    side, under = wide / 2 + _BESIDE, face + plan.pin_thickness
    panel = Area(
        (
            *((-side, face), (-narrow / 2, face), (-wide / 2, face + socket)),
            *((wide / 2, face + socket), (narrow / 2, face), (side, face)),
            *((side, under), (-side, under)),
        ),
        "second",
    )
    return (
        Drawing(
            "Tongue and socket",
            (shelf, panel),
            dimensions=(
                setting(job, EXPOSURE, (right - out, 0.0), (right, 0.0), "above"),
                Dimension("shelf", (left, -_SHELF), (right, -_SHELF), "above", 1),
                setting(job, TONGUE, (right - out, 0.0), (right - out, tongue), "right"),
                setting(job, HEIGHT, (narrow / 2, face), (wide / 2, face + socket), "right"),
                Dimension("mouth", (-narrow / 2, face), (narrow / 2, face), "below"),
            ),
            labels=(
                Label(((left + right) / 2, -_SHELF / 2), "shelf"),
                Label((-side + 7.0, face + socket / 2), "panel"),
            ),
        ),
    )


def labelled(plan: Plan) -> Mapping[str, float]:
    """The sockets that are cut."""
    return {"sockets": height} if (height := sliding(plan).socket_height) else {}


def _shelf(
    plan: SlidingPlan, left: float, right: float, out: float, high: float
) -> tuple[Point, ...]:
    """The shelf's outline; a flank that would go beyond its face stops there."""
    slope = math.tan(plan.bit.theta)
    flank: list[Point] = [(right, 0.0), (right - out, 0.0)]
    if out < high * slope:
        flank += [(right, out / slope), (right, high)]
    else:
        flank += [(right - out + high * slope, high)]
    other = [(left + right - x, y) for x, y in reversed(flank)]
    if plan.one_face:
        other = [(left, high)]
    return ((left, -_SHELF), (right, -_SHELF), *flank, *other)
