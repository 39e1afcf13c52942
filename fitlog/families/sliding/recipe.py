"""How to cut a test piece of a sliding dovetail so that it shows fit and shoulder."""

from __future__ import annotations

from collections.abc import Sequence

from ...domain import Aspect, Plan, Remark, Settings, remark
from . import figures
from .geometry import mouth
from .names import EXPOSURE, FIT, HEIGHT, SHOULDER, TONGUE
from .plan import sliding


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """Return the steps of one test piece at these settings. shown_by: there is one way to show all.
    asked: the aspects that it is cut for, () for all in play.
    """
    own, dial = sliding(plan), settings.on_scale(plan.machine)
    wanted = {*(asked or plan.in_play)}
    return (
        remark(
            "cut-sockets",
            height=dial[HEIGHT],
            narrow=mouth(plan.bit.diameter, settings[HEIGHT], plan.bit.theta),
            waste=settings[HEIGHT] - figures.SHALLOWER,
        ),
        remark("pack-under", by=settings[HEIGHT] - settings[TONGUE], tongue=dial[TONGUE]),
        remark(
            "cut-tongue",
            exposure=dial[EXPOSURE],
            thickness=plan.figures()["thickness"],
            slide=own.figures()["width"],
            both=not own.one_face,
        ),
        remark("try-tongue", fit=FIT in wanted, shoulder=SHOULDER in wanted),
    )
