"""What the moisture of a half-blind dovetail's boards and scrap calls for."""

from __future__ import annotations

from ...domain import Remark
from ..moisture import Board, moisture_remarks, scrap_remarks
from .figures import fit_window
from .names import FIT
from .plan import DovetailPlan


def plan_remarks(plan: DovetailPlan) -> tuple[Remark, ...]:
    """Return what a set-up's boards and scrap call for, by their moisture on the day of `start`."""
    tail = Board(plan.stock.species, plan.stock.sawn, plan.moisture)
    pin = Board(plan.pin_stock.species, plan.pin_stock.sawn, plan.pin_moisture)
    window, step = fit_window(plan.many_tails), plan.spacing or plan.pitch
    span = plan.board_width - step
    if plan.tails is not None:
        span = min(span, (plan.tails - 1) * step)
    said = moisture_remarks(tail, pin, plan.board_width, span, window.middle)
    if FIT not in plan.in_play:
        return said
    scrap = Board(plan.scrap, moisture=plan.scrap_moisture)
    return (*said, *scrap_remarks(tail, scrap, plan.board_width, plan.pitch, window.half, FIT))
