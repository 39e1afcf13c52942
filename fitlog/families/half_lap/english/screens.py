"""How the screens ask about a half-lap, and what its plans are called by; in English."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from ....domain import Aspect, Plan
from ....language.units import Ruler
from ...flip.english.screens import FlipScreens
from ...flip.names import FACES, SHOULDER
from ...screens import Typed
from ..plan import lap


class Own(FlipScreens):
    """What is said of half-laps."""

    asks: ClassVar[Mapping[Aspect, str]] = {
        FACES: "what is left between the two cuts, or how does one face stand over the other?",
        SHOULDER: "lapped with the end flush, look at the shoulder. Is it closed?",
    }
    told_depth = "across {depth}"

    def what_for(self) -> str:
        """Frames."""
        return (
            "Frames and crossings: two parts recessed by half their thickness each, so that their "
            "faces are level."
        )

    def readings(self) -> Mapping[str, Typed]:
        """The web."""
        told = "type the thickness of the web that the two cuts leave."
        return {"web": Typed("w", ("web that is left",), "web measured", told)}

    def figures(self, plan: Plan, ruler: Ruler) -> tuple[str, ...]:
        """What it lies across."""
        return (f"across {ruler.size(lap(plan).depth)}",)

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """The other part where it is cut already, as well."""
        mate = lap(plan).mate
        cut = f"for a part recessed by {ruler.size(mate)}" if mate is not None else ""
        return {**super().told(plan, ruler), "mate": cut}
