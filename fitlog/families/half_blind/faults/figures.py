"""The figures that cures rest on, from the set-up's own bit, height, pitch, boards and posterior.
Closed forms only.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from .... import defaults
from ....advice.cautions import top_speed
from ....domain import Settings, Stock, Value
from ... import wood
from .. import figures as assumed
from .. import geometry
from ..plan import DovetailPlan

_FEELABLE = 0.05  # mm of clearance: about one band of the words


def lean(gap: float, height: float) -> float:
    """Lean of a board, degrees, that opens `gap` over `height` (mm): gap = height tan(lean)."""
    return math.degrees(math.atan(gap / height))


def rabbet_tightens(short: float, theta: float) -> float:
    """How much a rabbet that holds the joint off by `short`, mm, tightens it: 2 short tan(theta),
    mm.
    """
    return 2 * short * math.tan(theta)


def height_for(clearance: float, theta: float) -> float:
    """Change of bit height that changes the clearance by `clearance`, mm: dc / (2 tan(theta))."""
    return clearance / (2 * math.tan(theta))


def tails_of(plan: DovetailPlan) -> int:
    """How many tails a board has: as said, or its width over the spacing of its slots."""
    return plan.tails or round(plan.board_width / (plan.spacing or plan.pitch))


def tail_root(plan: DovetailPlan) -> float:
    """Return the width of a tail at its root, mm: the spacing of the slots less the bit."""
    return geometry.tail_root_width(plan.bit.diameter, plan.spacing or plan.pitch)


def per_step(difference: float, tails: int) -> float:
    """Error of one step, mm, where the clearance differs by `difference` from the first of n tails
    to the last: d / (n - 1).
    """
    return difference / max(1, tails - 1)


def after_sharpening(lost: float, theta: float) -> float:
    """How much to lower the bit, mm, to keep the fit with `lost` less of diameter: dh = dD /
    tan(theta).
    """
    return lost / math.tan(theta)


def moves_by(stock: Stock) -> float:
    """Return a board's change of width per 1 % of moisture, C of the Wood Handbook; a typical
    wood's for sheet goods.
    """
    found = wood.coefficient(stock.species, stock.sawn) or wood.coefficient("")
    return found.value if found else 0.0


def moisture(difference: float, width: float, moves: float) -> float:
    """Moisture, percent, by which two boards of `width`, mm, must differ for their widths to differ
    by `difference`, mm.

    moves: C of the Wood Handbook (FPL-GTR-190), equation 13-2: change = width x C x (change of
    moisture).
    """
    return difference / (width * moves)


@dataclass(frozen=True)
class Figures:
    """Everything that a text about a fault can name. size: of the symptom, mm; clearance: believed
    of the joint, mm.

    settings: true mm.  play: of the lift, mm.
    """

    plan: DovetailPlan
    settings: Settings
    size: float
    clearance: float
    window: tuple[float, float]

    @cached_property
    def values(self) -> Mapping[str, float]:
        """Figures by name: lengths mm; names end in _deg, _percent, _n where they are something
        else.
        """
        return {**self._of_size(), **self._of_setup()}

    def _of_size(self) -> dict[str, float]:
        plan, d, height = self.plan, self.size, self.settings["bit_height"]
        theta, leaning = plan.bit.theta, lean(self.size, height)
        lift = height_for(d, theta)
        return {
            "d": d,
            "half_mm": d / 2,
            "twice_mm": 2 * d,
            "lift_mm": lift,
            "tightens": rabbet_tightens(d, theta),
            "lean_deg": leaning,
            "across_mm": plan.board_width * math.tan(math.radians(leaning)),
            "tip_deg": lean(d, plan.board_width),
            "tip_lift_deg": lean(lift, plan.board_width),
            "pin_lean_deg": lean(d, plan.pin_thickness),
            "per_step_mm": per_step(d, self.tails),
            "moist_percent": moisture(d, plan.board_width, moves_by(plan.stock)),
            "sharp_mm": after_sharpening(d, theta),
            "felt_mm": rabbet_tightens(d, theta),
        }

    def _of_setup(self) -> dict[str, float]:
        plan, height = self.plan, self.settings["bit_height"]
        bit, theta = plan.bit, plan.bit.theta
        end = bit.diameter if plan.rabbet_bit == "same" else self._mouth
        low, high = self.window
        rise = geometry.seat_depth_taken(high, end / 2) - geometry.seat_depth_taken(low, end / 2)
        known = None if plan.machine is None else plan.machine.part("height").backlash
        play = known or defaults.LIFT_PLAY
        lap = plan.pin_thickness - height
        lower = max(0.0, assumed.LEAST_LAP - lap)
        lost = -defaults.SHARPENING[0]
        return {
            "h": height,
            "margin": assumed.RABBET_OVER,
            "clearance_mm": self.clearance,
            "tails_n": self.tails,
            "diameter_mm": bit.diameter,
            "root_mm": tail_root(plan),
            "band_mm": _FEELABLE,
            "window_low": low,
            "window_high": high,
            "rabbet_mm": plan.rabbet_depth,
            "least_rabbet_mm": geometry.least_rabbet(low, end / 2),
            "seat_change_mm": rise,
            "mouth_mm": self._mouth,
            "mouth_reach_mm": self.settings["socket_depth"] + self._mouth / 2,
            "half_pitch_mm": plan.pitch / 2,
            "play_mm": play,
            "over_mm": play + 0.1,
            "board": plan.board_width,
            "pin": plan.pin_thickness,
            "tail": plan.tail_thickness,
            "lap_mm": lap,
            "least_lap_mm": assumed.LEAST_LAP,
            "highest_mm": plan.pin_thickness - assumed.LEAST_LAP,
            "lower_mm": lower,
            "pitch_more_mm": rabbet_tightens(lower, theta),
            "dd_mm": lost,
            "dd_sharp_mm": after_sharpening(lost, theta),
            "feelable_mm": height_for(_FEELABLE, theta),
            "wall_mm": assumed.LEAST_HALF_PIN,
            "step": 0.05,
            "rpm_n": top_speed(plan),
            "coefficient": moves_by(plan.stock),
        }

    @property
    def _mouth(self) -> float:
        return max(
            0.0,
            geometry.mouth(
                self.plan.bit.diameter, self.settings["bit_height"], self.plan.bit.theta
            ),
        )

    @property
    def tails(self) -> int:
        """About how many tails the board has."""
        return max(2, tails_of(self.plan))

    @cached_property
    def told(self) -> dict[str, Value]:
        """All that the sentences of a cause name, as values of a remark."""
        machine = self.plan.machine
        return {
            "figures": tuple(self.values.items()),
            "play_stored": bool(machine and machine.part("height").backlash),
            "turn": machine.turn("height") if machine else None,
            "zero": machine.zero("height") if machine else 0.0,
        }

    def amounts(self, names: tuple[str, ...]) -> dict[str, float]:
        """Return the named figures as a document gives them: lengths under a name that
        ends in _mm.
        """
        return {_LONG.get(n, n): round(self.values[n], 4) for n in names}


_LONG = {"d": "size_mm", "h": "height_mm", "tightens": "tightens_mm"}
