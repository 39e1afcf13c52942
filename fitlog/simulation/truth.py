"""The hidden shop: what is really true of its bits, machines, woods and days, and what each piece
comes out as.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from .. import defaults
from ..domain import Aspect, Plan, Settings
from ..errors import Refused
from ..estimator.evidence import Term
from ..families import Joint, joint_of
from ..families.half_blind import geometry
from ..families.half_blind.names import set_to
from ..families.half_blind.plan import dovetail
from .draws import normal

# Every kind of cause whose spread can be scaled: the first words of the terms' keys, and what
# differs piece by piece.
KINDS = (
    "diameter",
    "angle",
    "pitch",
    "height zero",
    "species",
    "stock",
    "fit day",
    "fence zero",
    "fence day",
    "socket zero",
    "socket day",
    "piece",
)
CAUSES = KINDS[:-1]
BOARDS = 0  # the number of the real boards, where a piece's is asked: no test piece has it
_IN_THE_GEOMETRY = ("diameter", "angle", "pitch", "height zero")

# The causes are drawn whatever the settings: only their factors depend on those.
_ABOUT = set_to(1.0, 1.0, 1.0)


@dataclass(frozen=True, slots=True)
class _Real:
    """What is true of one set-up, mm and radians. shift: what is added to each aspect's misfit."""

    diameter: float
    theta: float
    pitch: float
    height_zero: float
    shift: Mapping[Aspect, float]


class Truth:
    """The true causes of a shop, each drawn from its stated prior; a value depends only on the seed
    and its key.

    scale: by kind of cause (`KINDS`), its true sd as a multiple of the assumed one.  bias: by kind
    of cause, what is added to its true value, mm or radians: a prior that is off. Raises `Refused`
    for other kinds.
    """

    def __init__(
        self,
        seed: int,
        scale: Mapping[str, float] | None = None,
        bias: Mapping[str, float] | None = None,
    ) -> None:
        self.seed, self.scale, self.bias = int(seed), dict(scale or {}), dict(bias or {})
        for kind, factor in self.scale.items():
            if kind not in KINDS or not (math.isfinite(factor) and factor >= 0):
                raise Refused(
                    "bad-scale",
                    f"{kind!r} times {factor:g} scales no cause",
                    f"name one of: {', '.join(KINDS)}",
                )
        for kind, off in self.bias.items():
            if kind not in CAUSES or not math.isfinite(off):
                raise Refused(
                    "bad-scale",
                    f"{kind!r} off by {off:g} is no cause",
                    f"name one of: {', '.join(CAUSES)}",
                )
        self._drawn: dict[tuple[object, ...], float] = {}
        self._known: dict[int, tuple[Plan, _Real]] = {}  # by set-up, for one plan at a time

    def value(self, term: Term, setup: int) -> float:
        """Return the true value of a cause, mm or radians; one of its own differs from set-up to
        set-up.
        """
        key = (*term.key, setup) if term.own else term.key
        if key not in self._drawn:
            self._drawn[key] = normal(self.seed, "cause", key)
        kind = term.key[0]
        return (
            term.mean
            + term.sd * self.scale.get(kind, 1.0) * self._drawn[key]
            + self.bias.get(kind, 0.0)
        )

    def dialled(self, setup: int, piece: int, aspect: Aspect, sd: float) -> float:
        """Return how far a setting that is dialled before `piece` really lies off what was dialled,
        mm.
        """
        return sd * normal(self.seed, "dial", setup, piece, aspect) if sd > 0 else 0.0

    def theta(self, plan: Plan) -> float:
        """Return the true side angle of the plan's bit, radians."""
        terms = joint_of(plan).terms("fit", _ABOUT)
        return plan.bit.theta + sum(self.value(t, 0) for t in terms if t.key[0] == "angle")

    def misfits(
        self, plan: Plan, setup: int, piece: int, settings: Settings
    ) -> dict[Aspect, float]:
        """Return the true clearance, error of the centre and step of one piece cut at `settings`,
        mm.

        piece: its number, `BOARDS` for the real boards. The closed forms of `half_blind` with
        everything true in them; the seat takes the piece's own clearance.
        """
        real, height = self._real(plan, setup), self._height(plan, setup, piece, settings)
        clearance = (
            geometry.clearance(real.diameter, real.pitch, height, real.theta) + real.shift["fit"]
        )
        centre = settings["fence_offset"] - plan.figures()["width"] / 2 + real.shift["centre"]
        same = dovetail(plan).rabbet_bit == "same"
        width = (
            real.diameter if same else max(0.0, geometry.mouth(real.diameter, height, real.theta))
        )
        rise = height * math.tan(real.theta) if same else 0.0
        step = geometry.step(
            plan.figures()["thickness"],
            dovetail(plan).rabbet_depth,
            rise,
            settings["socket_depth"],
            clearance,
            width / 2,
        )
        return {"fit": clearance, "centre": centre, "seat": step + real.shift["seat"]}

    def fitting_height(self, plan: Plan, setup: int) -> float:
        """Return the bit height at which the joint truly fits, its clearance in the middle of the
        window, mm.
        """
        real, middle = self._real(plan, setup), joint_of(plan).window("fit").middle
        wanted = middle - real.shift["fit"]
        return geometry.height_for(wanted, real.diameter, real.pitch, real.theta) - real.height_zero

    def mouth(self, plan: Plan, setup: int, piece: int, settings: Settings) -> float:
        """Return the true width of one piece's slot where the walls are measured, mm."""
        real = self._real(plan, setup)
        return max(
            0.0,
            geometry.mouth(real.diameter, self._height(plan, setup, piece, settings), real.theta),
        )

    def _height(self, plan: Plan, setup: int, piece: int, settings: Settings) -> float:
        repeat = (
            defaults.HEIGHT_REPEAT
            * self.scale.get("piece", 1.0)
            * normal(self.seed, "piece", setup, piece)
        )
        return settings["bit_height"] + self._real(plan, setup).height_zero + repeat

    def _real(self, plan: Plan, setup: int) -> _Real:
        known = self._known.get(setup)
        if known is None or known[0] is not plan:
            known = self._known[setup] = (plan, self._made(plan, setup))
        return known[1]

    def _made(self, plan: Plan, setup: int) -> _Real:
        joint = joint_of(plan)
        # Only the factors of the causes in the geometry depend on the height, and those come in
        # through the geometry.
        off = {t.key[0]: self.value(t, setup) for t in joint.terms("fit", _ABOUT)}
        return _Real(
            plan.bit.diameter + off["diameter"],
            plan.bit.theta + off["angle"],
            dovetail(plan).pitch + off["pitch"],
            off["height zero"],
            {a: self._shift(joint, a, setup) for a in plan.family.aspects},
        )

    def _shift(self, joint: Joint, aspect: Aspect, setup: int) -> float:
        terms = joint.terms(aspect, _ABOUT)
        return sum(
            t.factor * self.value(t, setup) for t in terms if t.key[0] not in _IN_THE_GEOMETRY
        )
