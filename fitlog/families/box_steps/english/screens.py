"""How the screens ask about a box joint by steps of the fence; in English."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import ClassVar

from ....domain import Aspect, Machine, Plan, Settings, TrialCut
from ....domain.family import Family
from ....language.units import Ruler
from ...fingers.english.screens import FingerScreens
from ...half_blind.english.screens import Own as Dovetails
from ...half_blind.names import HALF_BLIND
from ...screens import Typed
from ..names import CENTRE, FENCE, SECOND
from ..plan import StepsPlan


class Own(FingerScreens):
    """What is said of box joints by steps; of their centre as of half-blind dovetails."""

    numbers: ClassVar[Mapping[Aspect, str]] = {**FingerScreens.numbers, CENTRE: "extra width"}
    part_of: ClassVar[Mapping[str, str]] = {**FingerScreens.part_of, "spaced": "pitch"}

    def __init__(self, family: Family) -> None:
        super().__init__(family)
        self._centred = Dovetails(HALF_BLIND)

    def what_for(self) -> str:
        """Boxes and drawers."""
        return (
            "Boxes and drawers with straight fingers, cut on end along the fence of a router "
            "table, a step of the fence for each finger."
        )

    def keys(self) -> Mapping[str, str]:
        """The fence goes by the x of its drawing, since f is a gap."""
        return {"d": SECOND, "x": FENCE, "h": "height"}

    def readings(self) -> Mapping[str, Typed]:
        """The walls of a slot of one pass as well."""
        walls = self._centred.readings()["walls"]
        return {
            **super().readings(),
            "slot": super().readings()["slot"]._replace(key="o"),
            "walls": walls,
        }

    def what(self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> str:
        """The centre by the walls, or by a second pass after the turn."""
        if aspect == CENTRE:
            return self._centred.what(plan, aspect, ruler, turn)
        return super().what(plan, aspect, ruler, turn)

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """What a shaving says."""
        if aspect == CENTRE:
            return self._centred.tests(aspect, ruler, turn)
        return super().tests(aspect, ruler, turn)

    def looked(self, plan: Plan, aspect: Aspect, ruler: Ruler) -> tuple[str, Sequence[str]]:
        """The centre by the walls."""
        if aspect == CENTRE:
            return self._centred.looked(plan, aspect, ruler)
        return super().looked(plan, aspect, ruler)

    def before(
        self, cut: TrialCut, machine: Machine | None, turn: Mapping[str, str], ruler: Ruler
    ) -> list[str]:
        """The turn, and what is to be minded first."""
        return self._centred.before(cut, machine, turn, ruler)

    def misfit(self, aspect: Aspect) -> str:
        """The centre's error beside the rest."""
        return "centre error" if aspect == CENTRE else super().misfit(aspect)

    def figures(self, plan: Plan, ruler: Ruler) -> tuple[str, ...]:
        """The pitch."""
        assert isinstance(plan, StepsPlan)
        return (f"pitch {ruler.size(plan.pitch)}",)

    def measured(self, plan: Plan, settings: Settings, ruler: Ruler) -> Mapping[str, str]:
        """The fence by a caliper, which knows no scale."""
        return self._centred.measured(plan, settings, ruler)

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """The pitch and the fence as well."""
        assert isinstance(plan, StepsPlan)
        return {
            "pitch": f"pitch {ruler.size(plan.pitch)}{' by a spacer' if plan.spaced else ''}",
            **super().told(plan, ruler),
            "by_eye": "fence by eye" if plan.by_eye else "",
        }
