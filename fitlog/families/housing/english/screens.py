"""How the screens ask about a housing, and what its plans are called by; in English."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import ClassVar

from ....domain import Aspect, Plan
from ....language.units import Ruler
from ...half_blind.english.usual import FIT_TESTS
from ...screens import Typed
from ...sheets.english.screens import SheetScreens
from ...sheets.names import HEIGHT
from ..names import FEELER, FIT, SECOND, SLOT
from ..plan import housing


class Own(SheetScreens):
    """What is said of housings."""

    waste = SLOT
    asked: ClassVar[Mapping[Aspect, str]] = {
        FIT: "push the offcut of the sheet in dry. How does it go in?"
    }
    part_of: ClassVar[Mapping[str, str]] = {
        **SheetScreens.part_of,
        "place": "places",
        "spacing": "places",
        "clear_width": "places",
    }
    numbers: ClassVar[Mapping[Aspect, str]] = {
        **SheetScreens.numbers,
        FIT: "one feeler beside the sheet",
    }

    def what_for(self) -> str:
        """Cases and shelves."""
        return (
            "Shelves, partitions and backs of sheet in the sides of a case: a groove across the "
            "side, a pass of a straight bit and a second one further out."
        )

    def keys(self) -> Mapping[str, str]:
        """The second pass by the d of its formula."""
        return {"d": SECOND, "h": HEIGHT}

    def readings(self) -> Mapping[str, Typed]:
        """A feeler beside the sheet and the width of the slot as well."""
        beside = "type the one feeler blade that goes in beside the sheet."
        slot = "type the width of the slot, by the inside jaws in three places."
        return {
            FEELER: Typed("b", ("feeler beside the sheet",), "feeler beside", beside),
            SLOT: Typed("w", ("width of the slot",), "slot measured", slot),
            **super().readings(),
        }

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """What the hand says."""
        return tuple(FIT_TESTS.values()) if aspect == FIT else super().tests(aspect, ruler, turn)

    def misfit(self, aspect: Aspect) -> str:
        """The play, and how much too deep."""
        return "play" if aspect == FIT else "depth, too deep above zero"

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """How it is put together as well."""
        own = housing(plan)
        return {
            **super().told(plan, ruler),
            "at_once": "glued in one go" if own.at_once else "",
            "places": ", ".join(
                f"{called} {ruler.size(mm)}"
                for called, mm in (
                    ("clear width", own.clear_width),
                    ("first at", own.place),
                    ("spacing", own.spacing),
                )
                if mm is not None
            ),
            "floats": "the sheet stays free" if own.floats else "",
        }
