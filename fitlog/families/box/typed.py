"""What of a box joint on a key is typed in, and what it can be: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit, Plan
from ...language.limits import Limit
from ..fingers.typed import LEAST_SCRAP, READINGS, SHARED, setting_of
from ..typed import Figure, First, OneOf, Size
from .figures import KEY_UNDER
from .names import GAP, STARTER

__all__ = ["FIGURES", "READINGS", "least_thickness", "setting"]


def setting(bit: Bit, name: str) -> Limit:
    """The values of a setting that are believed, as true lengths."""
    return (
        setting_of(bit).get(name)
        or {
            GAP: Limit("the key gap", 0.5, 100.0, "any cutter"),
            STARTER: Limit("the starter", 0.1, 100.0, "any spacer"),
        }[name]
    )


def least_thickness(plan: Plan) -> float:
    """A test piece may be as thin as any board."""
    return LEAST_SCRAP


FIGURES: dict[str, Figure] = {
    "key-gap": First(GAP),
    "starter": First(STARTER),
    "key": Size(
        "key_width",
        lambda bit: Limit("the key", 1.0, bit.diameter + 0.5, "what goes into the slot"),
        lambda bit, _, __: bit.diameter - KEY_UNDER,
    ),
    "pressed": OneOf("pressed", ("key", "cutter")),
    "gap-from": OneOf("gap_from", ("tooth", "axis", "far")),
    "gap-by": OneOf("gap_by", ("caliper", "gauge", "rule")),
    **SHARED,
}
