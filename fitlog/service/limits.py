"""Between which limits the sizes of boards, tools and moves are believed, each said once; those of
a family's figures, settings and readings are its own (`families.typed`).
"""

from __future__ import annotations

from ..language.limits import Limit
from ..texts import tell

__all__ = ["CATALOGUE", "Limit", "of_part"]

TEST_PIECE = "anything on a test piece"
SCRAP_WIDTH = Limit("the scrap's width", 10, 2000, "any test piece")
MOVE = Limit("the move", 0.0, 20.0, "any correction")
_THICK = "any board's thickness"
TAIL_BOARD = Limit("the tail board's thickness", 1, 100, _THICK)
PIN_BOARD = Limit("the pin board's thickness", 1, 100, _THICK)
ANY_PITCH = Limit("the pitch", 1, 2000, "any board")
BOARD_WIDTH = Limit("the board width", 10, 2000, "any board")

# What the shop has, by the names of the catalogue.
CATALOGUE: dict[str, Limit] = {
    "diameter": Limit("the cutting diameter", 3, 80, "any dovetail bit"),
    "cutting_length": Limit("the cutting length", 2, 80, "any dovetail bit"),
    "neck": Limit("the neck", 1, 60, "any dovetail bit"),
    "thickness": Limit("the thickness", 3, 60, "any board for this joint"),
    "width": Limit("the width", 15, 1500, "any board for this joint"),
}
SHIM = Limit("the thickness of what is stacked", 0.001, 200, "any shim or block")

# What is known of a machine's parts, by the part and by what of it.
_PARTS: dict[tuple[str, str], Limit] = {
    ("height", "step"): Limit("the height step", 0.001, 2, "any lift"),
    ("height", "turn"): Limit("the travel per turn", 0.1, 10, "any lift"),
    ("fence", "step"): Limit("the fence step", 0.001, 2, "any fence"),
    ("depth", "step"): Limit("the depth step", 0.001, 5, "any depth stop"),
    ("height", "backlash"): Limit("the backlash", 0, 2, "any lift"),
    ("height", "zero"): Limit("the height scale's zero", -100, 100, "any scale"),
}


def of_part(part: str, what: str) -> Limit:
    """Return between which limits a figure of a machine's part is believed; what: its step, turn,
    backlash or zero.
    """
    usual = {
        "step": Limit(tell("the {part} step", part=part), 0.001, 5, "any stop"),
        "turn": Limit(tell("the travel of the {part} per turn", part=part), 0.1, 10, "any screw"),
        "backlash": Limit(tell("the backlash of the {part}", part=part), 0, 2, "any screw"),
        "zero": Limit(tell("the {part} scale's zero", part=part), -1000, 1000, "any scale"),
    }
    return _PARTS.get((part, what), usual[what])


def scrap_thickness(least: float, why: str) -> Limit:
    """The thicknesses of a test piece; least: what must be left of it, mm."""
    return Limit("the scrap's thickness", least, 100, why)
