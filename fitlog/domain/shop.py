"""What the shop has: bits and stocks. Lengths are millimetres, angles degrees."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..errors import Mm, Refused
from .checks import board_size, clean_name, clean_text, optional_positive, positive, within

SAWN = ("", "flat", "quarter")
MOISTURES = (1.0, 40.0)  # per cent: beyond, no board for a joint
TEMPERATURES = (-20.0, 60.0)  # deg C, of air that a board lies in
HUMIDITIES = (1.0, 99.0)  # per cent


@dataclass(frozen=True, slots=True)
class Bit:
    """A cutter, straight at an angle of 0. `neck` is the thinnest part above the flanks; None:
    where the cutting length ends.
    """

    name: str
    diameter: float
    angle: float
    cutting_length: float
    measured: bool = False
    neck: float | None = None
    retired: bool = False
    sharpenings: int = 0

    def __post_init__(self) -> None:
        clean_name("bit", self.name)
        positive("the cutting diameter", self.diameter)
        positive("the cutting length", self.cutting_length)
        optional_positive("the neck", self.neck)
        if self.angle != 0 and not 1 <= self.angle <= 45:  # not a number is neither
            raise Refused(
                "bad-angle",
                "a side angle of {angle:g} deg is not a dovetail bit's",
                "give the angle between the flank and the bit's axis, 1 to 45 deg (7, 8 and 14 "
                "are usual), or 0 for a straight bit",
                angle=self.angle,
            )
        if self.diameter > 150 or self.cutting_length > 150:
            raise Refused(
                "bad-size",
                "a bit of {diameter} diameter and {cutting_length} cutting length does not exist",
                "check the unit",
                diameter=Mm(self.diameter),
                cutting_length=Mm(self.cutting_length),
            )
        if self.diameter <= self.full_height_reduction:
            meet = self.diameter / (2 * math.tan(self.theta))
            raise Refused(
                "bad-angle",
                "at {angle:g} deg the flanks of a {diameter} bit would meet after {meet:.1f}, "
                "before the cutting length of {cutting_length}",
                "check the angle (from the bit's axis), the diameter and the cutting length",
                angle=self.angle,
                diameter=Mm(self.diameter),
                meet=Mm(meet),
                cutting_length=Mm(self.cutting_length),
            )
        if self.neck is not None and self.neck >= self.diameter:
            raise Refused(
                "bad-size",
                "a neck of {neck} is not thinner than the tip",
                "check the neck",
                neck=Mm(self.neck),
            )

    @property
    def theta(self) -> float:
        """Side angle in radians."""
        return math.radians(self.angle)

    @property
    def full_height_reduction(self) -> float:
        """How much narrower the bit is at the end of its cutting length than at its tip, mm."""
        return 2 * self.cutting_length * math.tan(self.theta)

    @property
    def thinnest(self) -> float:
        """The width below which no mouth can be: the neck, mm."""
        return self.neck if self.neck is not None else self.diameter - self.full_height_reduction


@dataclass(frozen=True, slots=True)
class Stock:
    """A kind of board; width and thickness are defaults, a set-up takes today's own.

    moisture: per cent of the dry weight, as a meter reads it.  temperature (deg C), humidity (per
    cent): of the air the board has lain in.  sawn: "flat" or "quarter", which decides how it moves;
    "": not said.
    """

    name: str
    species: str
    thickness: float
    width: float
    moisture: float | None = None
    temperature: float | None = None
    humidity: float | None = None
    sawn: str = ""
    retired: bool = False

    def __post_init__(self) -> None:
        within("the moisture content", self.moisture, *MOISTURES, "% of the dry weight")
        within("the temperature", self.temperature, *TEMPERATURES, "deg C")
        within("the relative humidity", self.humidity, *HUMIDITIES, "%")
        if (self.temperature is None) != (self.humidity is None):
            raise Refused(
                "half-a-climate",
                "temperature and humidity of the air go together",
                "give both, or neither",
            )
        if self.sawn not in SAWN:
            raise Refused(
                "bad-word",
                "a board sawn {sawn!r} is not known",
                "say flat or quarter",
                sawn=self.sawn,
            )
        clean_name("stock", self.name)
        clean_text("the species", self.species)
        board_size("the thickness", self.thickness, 1.0, 100.0)
        board_size("the width", self.width, 10.0, 2000.0)
