"""How the screens ask about a half-blind dovetail, and what its plans are called by; in English."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import ClassVar

from ....domain import Aspect, Machine, Plan, Settings, TrialCut
from ....language.sure import by_eye
from ....language.units import Ruler, counted
from ...bits import radius
from ...screens import Screens, Typed
from .. import figures
from ..names import CENTRE, DEPTH, FENCE, FIT, HEIGHT, SEAT
from ..plan import DovetailPlan, dovetail
from .usual import FIT_TESTS

WALLS = (
    "no-second-pass",
    "fence-side",
    "walls-first",
    "centre-known",
)  # told before a turn: no second pass is asked for
_GAPS = {
    "baseline": "even, along the shoulder: the pin board lifted, or a short rabbet",
    "inside": "on the inside corner only: a long rabbet, or a board that leaned",
    "flank": "one flank tight, the other open: a board leaning in its plane",
}
_READINGS = {
    "walls": Typed(
        "w",
        ("wall at the fence", "wall away from it"),
        "walls measured",
        "type the two walls beside a cut in the middle, instead of a second pass.",
    ),
    "mouth": Typed(
        "o",
        ("mouth of the slot in waste",),
        "slot in waste",
        "type the mouth of a slot cut in waste at the height shown: no piece, and the height gets "
        "surer.",
    ),
}
_MISFITS = {FIT: "clearance", CENTRE: "centre error", SEAT: "step, proud above zero"}
_NUMBERS = {FIT: "pull-apart gap", CENTRE: "extra width", SEAT: "step"}
_TAKEN = {
    FIT: "How far the seated tail comes straight back out before it binds.",
    CENTRE: "How much wider the second pass made the cut.",
    SEAT: "How far the tails stand off the end of the pin board.",
}


class Own(Screens):
    """What is said of half-blind dovetails."""

    waste = "mouth"
    minded = ("stand-square", "draw-back")
    may_wait = (*Screens.may_wait, "marks-lose-play", "centre-unsure", "far-stops")
    part_of: ClassVar[Mapping[str, str]] = {
        **Screens.part_of,
        "spacing": "tails",
        "rabbet_bit": "rabbet_depth",
        "spaced": "pitch",
    }

    def what_for(self) -> str:
        """Drawers and boxes."""
        return (
            "Drawer fronts and box corners whose front shows no joint: tails and sockets cut with "
            "one dovetail bit at a router table."
        )

    def keys(self) -> Mapping[str, str]:
        """The fence goes by the x of its drawing, since f is a gap."""
        return {"h": HEIGHT, "x": FENCE, "d": DEPTH}

    def readings(self) -> Mapping[str, Typed]:
        """The walls instead of a second pass, and the mouth of a slot in waste."""
        return _READINGS

    def what(self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> str:
        """What is tried or looked at."""
        if aspect == FIT:
            return "try the joint dry, one or two tails. How does it go together?"
        if aspect == SEAT:
            step = dovetail(plan).wanted_step
            wanted = f" ({ruler.length(step)} proud is wanted)" if step else ""
            return f"how do the tails stand at the end of the pin board?{wanted}"
        if _by_walls(turn):
            return (
                "measure the two walls beside the slot. Without a caliper: set a gauge to one and "
                "try it at the other."
            )
        return "what did the second pass show?"

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """What the hand, the light or a sheet of paper says."""
        if aspect == FIT:
            return tuple(FIT_TESTS.values())
        if aspect == CENTRE:
            return _centre_tests(ruler, _by_walls(turn))
        most, plain, little = (-e for e in figures.SEAT_EDGES[:3])
        below = (
            f"over {by_eye([most], ruler)} below the end",
            f"{by_eye([plain, most], ruler)} below it",
            f"{by_eye([little, plain], ruler)} below it",
        )
        above = (text.replace("below", "above") for text in reversed(below))
        return (*below, f"level, within {by_eye([little], ruler)} (a sheet of paper)", *above)

    def looked(self, plan: Plan, aspect: Aspect, ruler: Ruler) -> tuple[str, Sequence[str]]:
        """The centre by the walls: no real board gets a second pass."""
        if aspect != CENTRE:
            return super().looked(plan, aspect, ruler)
        asks = (
            "where a slot was cut in the middle of a board, measure the two walls beside it; where "
            "none was, leave this out."
        )
        return asks, _centre_tests(ruler, walls=True)

    def before(
        self, cut: TrialCut, machine: Machine | None, turn: Mapping[str, str], ruler: Ruler
    ) -> list[str]:
        """The turn, and what is to be minded first; nothing tells to make a second pass that must
        not be made.
        """
        if _by_walls(turn):
            return list(turn.values())[:1]
        fence = ruler.length(cut.settings.on_scale(machine)[FENCE])
        how = (
            "Now the turn: the other edge to the fence, the same end down. Mark the edge now at "
            "the fence"
        )
        return [f"{how}, and pass again at {fence}.", *turn.values()]

    def gap(self, place: str) -> str:
        """How each looks, and what makes it."""
        return _GAPS[place]

    def number(self, aspect: Aspect) -> str:
        """The gap before the joint binds, what the second pass took, the step."""
        return _NUMBERS[aspect]

    def taken(self, aspect: Aspect) -> str:
        """From the joint as it is tried."""
        return _TAKEN[aspect]

    def misfit(self, aspect: Aspect) -> str:
        """The clearance, the centre's error and the step."""
        return _MISFITS[aspect]

    def teaching(self, ruler: Ruler) -> str:
        """A gap said with its word."""
        return (
            "Words alone teach where your good settings lie, through the bit and the stock; they "
            "cannot teach where one word ends and the next begins, because a tighter bit and a "
            "stricter person sound the same. A reading now and then does: say the pull-apart gap "
            f"with the word, as in slightly loose {ruler.length(0.4)}. With many tails "
            "it counts for the bit, not for these edges."
        )

    def figures(self, plan: Plan, ruler: Ruler) -> tuple[str, ...]:
        """The pitch."""
        return (f"pitch {ruler.size(dovetail(plan).pitch)}",)

    def measured(self, plan: Plan, settings: Settings, ruler: Ruler) -> Mapping[str, str]:
        """The fence by a caliper, which knows no scale; the bit as such bits are."""
        far = ruler.length(settings[FENCE] + radius(plan.bit))
        return {FENCE: f"{far} to the far edge of the tip"}

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """The layout, the pitch, the rabbet and how the seat and the fence are wanted as well."""
        own, told = dovetail(plan), super().told(plan, ruler)
        bit = " with a straight bit" if own.rabbet_bit == "straight" else ""
        way = "proud" if own.wanted_step > 0 else "shy"
        step = f"{ruler.size(abs(own.wanted_step))} {way}" if own.wanted_step else ""
        wide, thick = ruler.size(plan.board_width), ruler.size(plan.tail_thickness)
        scrap = told.pop("scrap")
        return {
            "tails": _layout(own, ruler),
            "pitch": f"pitch {ruler.size(own.pitch)}{' by a spacer' if own.spaced else ''}",
            "many_tails": "aimed looser" if own.many_tails else "",
            "wanted_step": step,
            "rabbet_depth": f"rabbet {ruler.size(own.rabbet_depth)}{bit}",
            **told,
            "boards": f"boards {wide} by {thick}, pins in {ruler.size(plan.pin_thickness)}",
            "by_eye": "fence by eye" if own.by_eye else "",
            "scrap": scrap,
        }


def _by_walls(turn: Collection[str]) -> bool:
    """Whether no second pass is asked for."""
    return any(code in WALLS for code in turn)


def _centre_tests(ruler: Ruler, walls: bool) -> Sequence[str]:
    thin = by_eye([2 * figures.CENTRED], ruler)
    if walls:
        return (
            "the wall at the fence is thinner",
            f"alike, or up to {thin} apart",
            "the far wall is thinner",
        )
    return (
        "a shaving at the fence",
        f"no shaving, or up to {thin}",
        "a shaving away from the fence",
    )


def _layout(plan: DovetailPlan, ruler: Ruler) -> str:
    wide = plan.spacing is not None and plan.spacing > plan.pitch + 1e-6
    apart = f"slots {ruler.size(plan.spacing)} apart" if wide and plan.spacing is not None else ""
    if plan.tails is None:
        return apart
    tails = counted(plan.tails, "wide tail" if wide else "tail")
    return f"{tails}, {apart}" if apart else tails
