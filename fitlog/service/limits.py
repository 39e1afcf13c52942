"""Between which limits a size is believed, each said once: what it is called, from, to (mm) and
whose limit that is.
"""

from __future__ import annotations

from typing import NamedTuple

from ..domain import Bit, Plan
from ..language.phrases import PULL_GAP_LIMIT
from ..language.units import Length, check_range


class Limit(NamedTuple):
    """A size's name in messages, its limits in mm, and what the upper one is in words."""

    what: str
    low: float
    high: float
    why: str

    def moved(self, by: float) -> Limit:
        """Return the limit as a scale reads it that shows `by` mm more than the truth."""
        return Limit(self.what, self.low + by, self.high + by, self.why)

    def check(self, length: Length) -> float:
        """Return a length that lies inside, mm; raises Refused (absurd-size, bad-size)."""
        return check_range(length, self.low, self.high, self.what, self.why)


TEST_PIECE = "anything on a test piece"
SCRAP_WIDTH = Limit("the scrap's width", 10, 2000, "any test piece")
MOVE = Limit("the move", 0.0, 20.0, "any correction")
ROD = Limit("the rods", 0.0, 50.0, TEST_PIECE)
_READING = 200.0  # anything on a test piece is smaller
_THICK = "any board's thickness"
TAIL_BOARD = Limit("the tail board's thickness", 1, 100, _THICK)
PIN_BOARD = Limit("the pin board's thickness", 1, 100, _THICK)
BOARD_WIDTH = Limit("the board width", 10, 2000, "any board")
RABBET = Limit("the rabbet", 0.5, 100, "any rabbet")
WANTED_STEP = Limit("the wanted step", -3, 3, "any wanted step")
HALF_PIN = Limit("the thinnest half-pin", 0.5, 100, "any half-pin")
ANY_PITCH = Limit("the pitch", 3, 200, "any pitch")

# What the shop has, by the names of the catalogue.
CATALOGUE: dict[str, Limit] = {
    "diameter": Limit("the cutting diameter", 3, 80, "any dovetail bit"),
    "cutting_length": Limit("the cutting length", 2, 80, "any dovetail bit"),
    "neck": Limit("the neck", 1, 60, "any dovetail bit"),
    "thickness": Limit("the thickness", 3, 60, "any board for this joint"),
    "width": Limit("the width", 15, 1500, "any board for this joint"),
    "height_step": Limit("the height step", 0.001, 2, "any lift"),
    "height_turn": Limit("the travel per turn", 0.1, 10, "any lift"),
    "fence_step": Limit("the fence step", 0.001, 2, "any fence"),
    "depth_step": Limit("the depth step", 0.001, 5, "any depth stop"),
    "backlash": Limit("the backlash", 0, 2, "any lift"),
    "height_zero": Limit("the height scale's zero", -100, 100, "any scale"),
    "fence_zero": Limit("the fence scale's zero", -1000, 1000, "any scale"),
}


def bit_height(bit: Bit) -> Limit:
    """The bit heights that a bit can cut at, as true lengths."""
    length = bit.cutting_length
    return Limit("the bit height", 0.5, length, f"this bit's cutting length of {length:g} mm")


def setting(plan: Plan, name: str) -> Limit:
    """The values of a setting that are believed, as true lengths."""
    return {
        "bit_height": bit_height(plan.bit),
        "fence_offset": Limit("the fence offset", 0.5, 2000.0, "any fence"),
        "socket_depth": Limit("the socket depth", 0.1, 100.0, _THICK),
    }[name]


def pitch(bit: Bit) -> Limit:
    """The pitches that a bit can space."""
    why = f"what a {bit.diameter:g} mm bit can space"
    return Limit("the pitch", bit.diameter, 2 * bit.diameter, why)


def spacing(bit: Bit) -> Limit:
    """The spacings of slots whose tails are wider than the pins."""
    return Limit("the spacing of the slots", bit.diameter, 2000, "any board")


def scrap_thickness(least: float, why: str) -> Limit:
    """The thicknesses of a test piece; least: what must be left of it, mm."""
    return Limit("the scrap's thickness", least, 100, why)


def reading(kind: str, what: str, on: str = TEST_PIECE) -> Limit:
    """The values of a reading. on: what it was measured on, as the limit is called."""
    return Limit(what, 0.0, PULL_GAP_LIMIT if kind == "pull_gap" else _READING, on)
