"""What of a sliding dovetail is typed in, and what it can be: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit, Plan
from ...errors import Clause, Mm
from ...language.limits import Limit
from ..typed import Figure, First, OneOf, Size, Taken, YesNo
from . import figures
from .names import EXPOSURE, HEIGHT, SLIDING, TONGUE
from .speech import GAP_LIMIT

_READING, _ROD = 200.0, 50.0  # mm: anything on a test piece, and any rod, is smaller


def setting(bit: Bit, name: str) -> Limit:
    """The values of a setting that are believed, as true lengths."""
    why = Clause("this bit's cutting length of {length}", length=Mm(bit.cutting_length))
    half = Clause("half of this bit, {half}", half=Mm(bit.diameter / 2))
    return {
        HEIGHT: Limit("the socket height", 0.5, bit.cutting_length, why),
        TONGUE: Limit("the tongue height", 0.5, bit.cutting_length, why),
        EXPOSURE: Limit("the exposure", 0.1, bit.diameter / 2, half),
    }[name]


def least_thickness(plan: Plan) -> float:
    """A test piece has a root like the shelf's."""
    return figures.LEAST_ROOT + 2 * figures.LEAST_EXPOSURE


FIGURES: dict[str, Figure] = {
    # A slide is as long as the shelf is wide.
    "length": Size("board_width", lambda _: Limit("the slide's length", 10, 2000, "any shelf")),
    "height": First(HEIGHT),
    "tongue-height": First(TONGUE),
    "exposure": First(EXPOSURE),
    "one-face": YesNo("one_face"),
    "exposure-by": OneOf("exposure_by", ("shaving", "rod", "eye")),
    "to-axis": YesNo("to_axis"),
    "two-machines": YesNo("two_machines"),
    "stopped": Size(
        "stopped", lambda _: Limit("the stop before the front edge", 1, 1000, "any shelf")
    ),
    "clear-width": Size("clear_width", lambda _: Limit("the clear width", 20, 5000, "any case")),
}
READINGS: dict[str, Taken] = {
    kind: Taken(
        (f"the {kind.replace('_', ' ')}",) if not second else (f"the width {called}", "the rods"),
        (_READING,) if not second else (_READING, _ROD),
    )
    for kind, second in SLIDING.readings.items()
    for called in (kind.replace("_", " "),)
} | {
    "pull_gap": Taken(("the pull gap",), (GAP_LIMIT,)),
    "play": Taken(("the sideways play",), (GAP_LIMIT,)),
}
