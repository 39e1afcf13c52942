"""The hidden shop: what is really true of its bits, machines, woods and days, and what each piece
comes out as.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from ..domain import Aspect, Plan, Settings
from ..errors import Refused
from ..estimator.evidence import Term
from ..families import joint_of, names
from ..families.drawn import Drawn, Shown
from .draws import normal
from .reckoning import anywhere
from .simulated import simulated

BOARDS = 0  # the number of the real boards, where a piece's is asked: no test piece has it


def causes() -> tuple[str, ...]:
    """Return every kind of cause that a shop may have, of whatever joint: the first words of the
    terms' keys.
    """
    every = (kind for joint in names.FAMILIES for kind in simulated(joint).CAUSES)
    return tuple(dict.fromkeys(every))


def kinds() -> tuple[str, ...]:
    """Return every kind whose spread can be scaled: the causes, and what differs piece by piece."""
    return (*causes(), "piece")


class Truth:
    """The true causes of a shop, each drawn from its stated prior; a value depends only on the seed
    and its key.

    scale: by kind of cause (`kinds`), its true sd as a multiple of the assumed one.  bias: by kind
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
        scaled, known = kinds(), causes()
        for kind, factor in self.scale.items():
            if kind not in scaled or not (math.isfinite(factor) and factor >= 0):
                raise Refused(
                    "bad-scale",
                    "{kind!r} times {factor:g} scales no cause",
                    "name one of: {known}",
                    kind=kind,
                    factor=factor,
                    known=", ".join(scaled),
                )
        for kind, off in self.bias.items():
            if kind not in known or not math.isfinite(off):
                raise Refused(
                    "bad-scale",
                    "{kind!r} off by {off:g} is no cause",
                    "name one of: {known}",
                    kind=kind,
                    off=off,
                    known=", ".join(known),
                )
        self._values: dict[tuple[object, ...], float] = {}
        self._known: dict[int, tuple[Plan, Drawn]] = {}  # by set-up, for one plan at a time

    def value(self, term: Term, setup: int) -> float:
        """Return the true value of a cause, mm or radians; one of its own differs from set-up to
        set-up.
        """
        key = (*term.key, setup) if term.own else term.key
        if key not in self._values:
            self._values[key] = normal(self.seed, "cause", key)
        kind = term.key[0]
        return (
            term.mean
            + term.sd * self.scale.get(kind, 1.0) * self._values[key]
            + self.bias.get(kind, 0.0)
        )

    def dialled(self, setup: int, piece: int, aspect: Aspect, sd: float) -> float:
        """Return how far a setting that is dialled before `piece` really lies off what was dialled,
        mm.
        """
        return sd * normal(self.seed, "dial", setup, piece, aspect) if sd > 0 else 0.0

    def stands_for(self, plan: Plan, setup: int) -> Mapping[Aspect, float]:
        """Return by aspect the misfit that 1 mm of the number said with its word really stands
        for.
        """
        return simulated(plan.joint).stands_for(plan, self._drawn(plan, setup))

    def misfits(
        self, plan: Plan, setup: int, piece: int, settings: Settings, end: int | None = None
    ) -> dict[Aspect, float]:
        """Return the true misfits of one piece cut at `settings`, mm. piece: its number, `BOARDS`
        for the real boards; end: the piece whose end it is another cut on.
        """
        drawn, own = self._drawn(plan, setup), self._own(setup, piece)
        joint, lead = joint_of(plan), plan.family.lead
        if by_end := joint.end_sd(lead) ** 2:  # every cut on an end has the wood of that end
            share, place = by_end / joint.piece_sd(lead) ** 2, piece if end is None else end
            wood = self.scale.get("piece", 1.0) * normal(self.seed, "end", setup, place)
            own = math.sqrt(share) * wood + math.sqrt(1 - share) * own
        return simulated(plan.joint).misfits(plan, drawn, settings, own)

    def shown(
        self, plan: Plan, setup: int, piece: int, settings: Settings, by: str
    ) -> tuple[Shown | None, float | None]:
        """Return what is truly measured of one piece's zeroed aspect that is shown this way, and
        what a second pass takes off it, mm; None: nothing.
        """
        drawn, own = self._drawn(plan, setup), self._own(setup, piece)
        return simulated(plan.joint).shown(plan, drawn, settings, own, by)

    def slot(self, plan: Plan, setup: int, piece: int, settings: Settings) -> Shown:
        """Return the true length that is measured of a slot in waste, mm; piece: a number of its
        own.
        """
        drawn, own = self._drawn(plan, setup), self._own(setup, piece)
        return simulated(plan.joint).slot(plan, drawn, settings, own)

    def fitting(self, plan: Plan, setup: int) -> float:
        """Return the lead's setting that truly brings the middle of its window, mm."""
        return simulated(plan.joint).fitting(plan, self._drawn(plan, setup))

    def _own(self, setup: int, piece: int) -> float:
        return self.scale.get("piece", 1.0) * normal(self.seed, "piece", setup, piece)

    def _drawn(self, plan: Plan, setup: int) -> Drawn:
        known = self._known.get(setup)
        if known is None or known[0] is not plan:
            known = self._known[setup] = (plan, self._new(plan, setup))
        return known[1]

    def _new(self, plan: Plan, setup: int) -> Drawn:
        joint, closed = joint_of(plan), simulated(plan.joint).CLOSED
        # The causes are drawn whatever the settings: only the factors of those in the closed forms
        # depend on them, and those come in through the closed forms.
        about, off = anywhere(plan), dict[str, float]()
        shift = dict.fromkeys(plan.family.setting_of, 0.0)
        for aspect in shift:
            for term in joint.terms(aspect, about):
                if term.key[0] in closed:
                    off[term.key[0]] = self.value(term, setup)
                else:
                    shift[aspect] += term.factor * self.value(term, setup)
        return Drawn(off, shift)
