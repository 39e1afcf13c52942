"""How the screens ask about a sliding dovetail, and what its plans are called by; in English."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from ....domain import Aspect, Plan
from ....language.sure import by_eye
from ....language.units import Ruler
from ...screens import Screens, Typed
from .. import figures
from ..names import EXPOSURE, FIT, HEIGHT, SHOULDER, TONGUE
from ..plan import sliding
from .usual import FIT_TESTS

_READINGS = {
    "play": Typed(
        "p",
        ("sideways play",),
        "play measured",
        "type the sideways play of the tongue, by a feeler blade or a dial.",
    ),
    "pull_gap": Typed(
        "g",
        ("gap pulled straight out",),
        "gap pulled",
        "type how far the shelf comes straight out of the socket, at the shoulder.",
    ),
}
_MISFITS = {FIT: "clearance", SHOULDER: "shoulder, open above zero"}
_NUMBERS = {FIT: "gap at the shoulder, pulled straight out", SHOULDER: "gap at the shoulder"}


class Own(Screens):
    """What is said of sliding dovetails."""

    def what_for(self) -> str:
        """Cases and shelves."""
        return (
            "Shelves and partitions in the sides of a case: a tongue on the shelf's end slides "
            "into a socket across the panel, both cut with one dovetail bit."
        )

    def keys(self) -> Mapping[str, str]:
        """The tongue goes by the t of its name."""
        return {"h": HEIGHT, "t": TONGUE, "x": EXPOSURE}

    def readings(self) -> Mapping[str, Typed]:
        """The play, and the gap of a shelf that is pulled out."""
        return _READINGS

    def what(self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> str:
        """What is tried or looked at."""
        if aspect == FIT:
            return "slide the tongue in dry. How far does it go?"
        return "slid home, look at both shoulders. Are they closed?"

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """What the hand or the light says."""
        if aspect == FIT:
            return tuple(FIT_TESTS.values())
        none, little, plain = figures.SHOULDER_EDGES
        return (
            "no light at either",
            f"{by_eye([none, little], ruler)} at both",
            f"{by_eye([little, plain], ruler)} at both",
            f"over {by_eye([plain], ruler)} at both",
        )

    def number(self, aspect: Aspect) -> str:
        """The gap of the shelf pulled straight out, and that at a shoulder."""
        return _NUMBERS[aspect]

    def misfit(self, aspect: Aspect) -> str:
        """The clearance, and how far the shoulder stands off."""
        return _MISFITS[aspect]

    def teaching(self, ruler: Ruler) -> str:
        """A gap said with its word."""
        return (
            "Words alone teach where your good settings lie; they cannot teach where one word ends "
            "and the next begins. A reading now and then does: pull the shelf straight out and say "
            f"the gap at the shoulder with the word, as in slightly loose "
            f"{ruler.length(0.4)}."
        )

    def figures(self, plan: Plan, ruler: Ruler) -> tuple[str, ...]:
        """The slide's length."""
        return (f"slide {ruler.size(sliding(plan).slide)}",)

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """The socket, and how the tongue is cut and measured, as well."""
        own, told = sliding(plan), super().told(plan, ruler)
        by = {"shaving": "a trial shaving", "rod": "", "eye": "eye"}[own.exposure_by]
        stopped, clear = own.stopped, own.clear_width
        wide, thick = ruler.size(plan.board_width), ruler.size(plan.tail_thickness)
        return {
            "socket_height": f"sockets {ruler.size(own.socket_height)} deep",
            **told,
            "boards": f"shelf {wide} by {thick}, panel {ruler.size(plan.pin_thickness)}",
            "one_face": "one face cut" if own.one_face else "",
            "exposure_by": f"exposure by {by}" if by else "",
            "to_axis": "scale to the bit's axis" if own.to_axis else "",
            "two_machines": "panel and shelf on two machines" if own.two_machines else "",
            "stopped": f"stopped {ruler.size(stopped)} short" if stopped else "",
            "clear_width": f"{ruler.size(clear)} between the panels" if clear else "",
        }
