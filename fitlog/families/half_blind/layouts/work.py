"""What to do before each part of the real work, in words: marking, the rabbet, tail boards, pin
boards.

Common practice, no source, but for the geometry: which edge lies at the fence follows from feeding
right to left with the fence behind the work.
"""

from __future__ import annotations

from dataclasses import dataclass

from .... import defaults
from ....domain import Misfit, Plan, Settings
from ....domain.standing import LastTail
from ....language.units import Ruler
from .layout import Layout
from .stops import Stops, rabbet_passes


@dataclass(frozen=True, slots=True)
class RabbetPass:
    """One pass of the rabbet: what it takes and how deep it then is, mm; fence: on the user's
    scale, None: another bit.
    """

    takes: float
    depth: float
    fence: float | None


def rabbet(plan: Plan, found: Stops) -> tuple[RabbetPass, ...]:
    """Return the passes of the rabbet, from the same zero and rounded to the same steps as the
    stops.

    Cut with the same bit, its centre lies D / 2 - depth behind the fence's face.
    """
    face = (
        found.zero - found.layout.width / 2
    )  # what the scale shows with the bit's centre at the fence's face
    done, passes = 0.0, []
    for takes in rabbet_passes(plan.rabbet_depth):
        done += takes
        fence = (
            found.rounded(face + done - plan.bit.diameter / 2)
            if plan.rabbet_bit == "same"
            else None
        )
        passes.append(RabbetPass(takes, round(done, 6), fence))
    return tuple(passes)


def marking() -> tuple[str, ...]:
    """Which edge goes against the fence, for both ends and both hands."""
    return (
        "Mark one long edge of every board: the upper edges of a drawer, the front edges of a "
        "case. All boards are ripped to "
        "one width: in a tail board the play of the tail at the far edge takes up any difference.",
        "A pin board lies inside face down, the end to be cut leading, so its two ends have "
        "different edges at the fence. Seen "
        "from outside with the marked edge up, the left end has the marked edge at the fence, the "
        "right end the other one.",
        "A tail board goes with the pin board it will meet: the same edge at the fence, marked "
        "with marked, other with other. "
        "A drawer side that meets a left end in front meets a right end behind.",
        "The layout is alike at both edges, so both hands use the same stops.",
    )


def before_rabbet(plan: Plan, settings: Settings, ruler: Ruler) -> tuple[str, ...]:
    """How the rabbet on the back of the tails is taken off."""
    height, over = settings.on_scale(plan.machine)["bit_height"], ruler.length(defaults.RABBET_OVER)
    length = f"{ruler.length(settings['bit_height'])} long (up to {over} more, never less)"
    how = (
        f"this bit at {ruler.length(height)}, the board on end, its inside face to the fence"
        if plan.rabbet_bit == "same"
        else "a straight bit, the depth by its own setting"
    )
    return (
        f"On the inside of both ends of every tail board: {ruler.length(plan.rabbet_depth)} deep "
        f"and {length}, with {how}.",
        "A light first pass, then the rest; a backing board behind the edge where the bit comes "
        "out."
        + (
            " (A fence below its zero: the bit's centre lies behind the fence's face.)"
            if plan.rabbet_bit == "same"
            else ""
        ),
    )


def before_tails(plan: Plan, layout: Layout, settings: Settings, ruler: Ruler) -> tuple[str, ...]:
    """What to do before the tail boards' slots."""
    height = ruler.length(settings.on_scale(plan.machine)["bit_height"])
    edge = (
        "Stop 1 opens the edges: the bit stands partly in the fence, only its outer side cuts. Cut "
        "it with the marked edge to "
        "the fence, turn the board about its upright axis, cut it again. Never open the edge that "
        "lies away from the fence: "
        "there the bit would cut on its fence side, a climb cut with the work trapped."
    )
    if (passes := len(layout.edge_passes)) > 1:
        edge += (
            f" Then stop {passes} in the same way, on each edge always after stop 1, which "
            "clears the strip before it."
        )
    return (
        *_waste(layout, settings["bit_height"], ruler),
        f"Tails first, while a wrong one costs one board: bit at {height}, on end, a backing board "
        "behind, all boards at one "
        "stop before the fence moves.",
        edge,
    )


def _waste(layout: Layout, height: float, ruler: Ruler) -> tuple[str, ...]:
    """A straight bit first, where the slot is large enough and leaves room for one."""
    area, widest = height * (layout.bit.diameter + layout.mouth) / 2, layout.mouth - 1
    if area < defaults.WASTE_FROM or widest < 3:
        return ()
    return (
        "It pays to waste slots and sockets first with a straight bit no wider than "
        f"{ruler.length(widest)}, "
        f"{ruler.length(0.5)} lower, at the same stops: in all boards before the dovetail bit is "
        "set, or with a second router. "
        "Once the dovetail bit has been out, its height wants a test piece again.",
    )


def before_pins(plan: Plan, layout: Layout, depth: float, ruler: Ruler) -> tuple[str, ...]:
    """What to do before the pin boards' sockets. depth: socket depth for the real boards, mm."""
    deepest = ruler.length(depth + layout.mouth / 2)
    lead = (
        f"Same height. Flat, inside face down, a depth stop at {ruler.length(depth)} from "
        "the end to the bit's centre (a caliper to the deepest point of the mouth reads "
        f"{deepest}); draw the board straight "
        "back out, never lift it."
    )
    if not layout.wide:
        return (lead,)
    passes = len(layout.sockets[0])
    return (
        lead,
        f"Each socket takes {passes} passes; the first and the last, "
        f"{ruler.length(layout.spacing - layout.pitch)} "
        f"apart, set the fit{', the others only clear' if passes > 2 else ''}. The fence moves out "
        "only, so that each pass "
        "cuts on its outer side.",
    )


def last_tail(centre: Misfit | None, tail: LastTail | None, ruler: Ruler) -> tuple[str, ...]:
    """What the set-up's centre does to the tail at the far edge.

    centre: what the log shows of its error, which the zero allows for; None where it is not in
    play.
    """
    cause = (
        "The slot at the far edge is cut with that edge to the fence: the last tail's play "
        "changes by twice what the centre"
    )
    way = (
        "If only that tail binds, the fence stands too near the bit, if only it rattles, too "
        "far; it is not the height."
    )
    if centre is None:
        return (f"{cause} is off. {way}",)
    zero = (
        f"The zero allows for the {ruler.length(centre.mean)} that the log shows the centre is off"
    )
    shown = f"{zero} and is" if ruler.length(centre.mean) != ruler.length(0.0) else "The zero is"
    known = f"{shown} known to +-{ruler.doubt(centre.sd)} (one standard deviation)."
    play = "" if tail is None else f" There {play_of(tail, ruler)}"
    return (f"{known} {cause} is still off.{play} {way}",)


def play_of(tail: LastTail, ruler: Ruler) -> str:
    """The last tail's play with its chance."""
    low, high = map(ruler.length, tail.window)
    chance = (
        "over 99%"
        if tail.chance > 0.99
        else "under 1%"
        if tail.chance < 0.01
        else f"{tail.chance:.0%}"
    )
    return (
        f"its play comes out at {ruler.length(tail.mean)} +- {ruler.doubt(tail.sd)}, inside its "
        f"window of {low} to {high} with "
        f"a chance of {chance}."
    )


def smaller(tail: LastTail | None, walls_sd: float, fit_sd: float, ruler: Ruler) -> tuple[str, ...]:
    """What makes the last tail surer. walls_sd, fit_sd: what one more reading of each is
    worth, mm.
    """
    if tail is None:
        return ()
    found, walls = [], tail.with_(walls_sd)
    if walls.chance > tail.chance + 0.02:
        found.append(
            "The two walls measured beside a cut in the middle (fitlog cut --same-piece --walls "
            "NEAR FAR) bring that to "
            f"{walls.chance:.0%}."
        )
    both = tail.with_(walls_sd, fit_sd)
    if both.chance > walls.chance + 0.02:
        found.append(
            f"A pull-apart gap read on one more piece as well brings it to {both.chance:.0%}."
        )
    if tail.centre_sd > walls_sd:
        found.append(
            "Or gauge the end tails on a scrap as wide as the boards: cut stop 1 with each edge to "
            "the fence and the slots "
            "next to both edges. Half of what the two end tails differ by is what the fence stands "
            "off: too far out where the "
            "far one is the narrower."
        )
    if abs(tail.rounded) > (tail.window[1] - tail.window[0]) / 2:
        way = "in" if tail.rounded > 0 else "out"
        found.append(
            f"Rounding {'adds' if tail.rounded > 0 else 'takes'} {ruler.length(abs(tail.rounded))} "
            "of it: for the second edge "
            f"alone set stop 1 {ruler.length(abs(tail.rounded))} further {way}, between the marks "
            "or with a paper shim."
        )
    return tuple(found)


def rounding(found: Stops, half: float, known: bool, ruler: Ruler) -> tuple[str, ...]:
    """What rounding to the fence's step does.

    half: half the window of play that is good, mm.  known: the step is the machine's own.
    """
    of = (
        f"the fence's step of {ruler.length(found.step)}"
        if known
        else "0.01 mm (your fence's own step is not known)"
    )
    largest, lost, nothing = (
        ruler.length(found.largest_error),
        ruler.length(abs(found.play_lost)),
        ruler.length(0.0),
    )
    changed = (
        f"{'take' if found.play_lost > 0 else 'add'} {lost} {'of' if found.play_lost > 0 else 'to'}"
    )
    text = (
        f"Every position is rounded to {of} by itself, so errors never add up: the largest is "
        f"{'too small to read' if largest == nothing else largest}, and together they "
        f"{'leave' if lost == nothing else changed} the joint's "
        f"play{' as it is' if lost == nothing else ''}."
    )
    if abs(found.play_lost) > half:
        text += (
            " That takes a good joint out of its window: set the fence between its marks, or "
            "take another pitch."
        )
    return (text,)
