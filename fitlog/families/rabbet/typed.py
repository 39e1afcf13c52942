"""What of a rabbet is typed in, and what it can be: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit, Plan
from ...language.limits import Limit
from ..sheets import typed as shared
from ..typed import Figure, First, OneOf, Size, Taken, YesNo
from .figures import EXPOSURE, SHARE
from .names import FENCE, WIDTH
from .plan import LEAST_LEFT


def setting(bit: Bit, name: str) -> Limit:
    """The values of a setting that are believed, as true lengths."""
    return {
        **shared.setting_of(bit),
        FENCE: Limit("the exposure", 0.1, bit.diameter, "the bit itself"),
    }[name]


def least_thickness(plan: Plan) -> float:
    """Something is left under the rabbet."""
    return LEAST_LEFT + shared.LEAST_SCRAP


FIGURES: dict[str, Figure] = {
    "exposure": First(FENCE),
    "depth": Size(
        "depth",
        lambda _: shared.depth_limit("the rabbet's depth"),
        lambda _, stock, __: round(SHARE * stock.thickness, 6),
    ),
    "back": YesNo("back"),
    "bearing": Size("bearing", lambda _: Limit("the bearing", 2.0, 50.0, "any back")),
    "exposure-by": OneOf("exposure_by", tuple(EXPOSURE)),
    **shared.SHARED,
}
READINGS: dict[str, Taken] = {WIDTH: Taken(("the rabbet's width",), (100.0,)), **shared.READINGS}
