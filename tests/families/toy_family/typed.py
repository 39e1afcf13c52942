"""What of the invented pegs is typed in: see `families.typed`."""

from __future__ import annotations

from fitlog.domain import Bit, Plan
from fitlog.families.typed import Figure, First, Size, Taken
from fitlog.language.limits import Limit


def setting(bit: Bit, name: str) -> Limit:
    return {
        "key_gap": Limit("the key gap", 0.5, 50.0, "any key"),
        "reach": Limit("the reach", 1.0, 200.0, "any stop"),
    }[name]


def least_thickness(plan: Plan) -> float:
    return 2.0


FIGURES: dict[str, Figure] = {
    "spacing": Size(
        "spacing",
        lambda bit: Limit("the spacing", bit.diameter, 500.0, "any row of pegs"),
        lambda bit, _, __: 2 * bit.diameter,
    ),
    "reach": First("reach"),
}
READINGS = {"shim": Taken(("the shim",), (2.0,))}
