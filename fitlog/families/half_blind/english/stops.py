"""What to do before each part of the real work, in English: marking, the rabbet, tail boards, pin
boards, the fence.
"""

from __future__ import annotations

from ....errors import Mm
from ....language.saying import Sentence, Tongue
from .boards import play_of
from .recipe import DRAW_BACK

_MARKING = {
    "mark-edges": "Mark one long edge of every board: the upper edges of a drawer, the front edges "
    "of a case. All boards are ripped to one width: in a tail board the play of the tail at the "
    "far edge takes up any difference.",
    "mark-pins": "A pin board lies inside face down, the end to be cut leading, so its two ends "
    "have different edges at the fence. Seen from outside with the marked edge up, the left end "
    "has the marked edge at the fence, the right end the other one.",
    "mark-tails": "A tail board goes with the pin board it will meet: the same edge at the fence, "
    "marked with marked, other with other. A drawer side that meets a left end in front meets a "
    "right end behind.",
    "mark-hands": "The layout is alike at both edges, so both hands use the same stops.",
    "fence-out": "For the rabbet, the tail boards and the pin boards each: bring the fence in past "
    "the first position and come out to it; then it only moves out.",
}


def _same(text: str) -> Sentence:
    return lambda _: text


def rabbet(t: Tongue, *, depth: float, length: float, over: float, height: float | None) -> str:
    """The rabbet's size. height: of the bit on the user's scale, mm, where it is this bit."""
    how = (
        "a straight bit, the depth by its own setting"
        if height is None
        else f"this bit at {t.length(height)}, the board on end, its inside face to the fence"
    )
    return (
        f"On the inside of both ends of every tail board: {t.length(depth)} deep and "
        f"{t.length(length)} long (up to {t.length(over)} more, never less), with {how}."
    )


def rabbet_passes(_: Tongue, *, same: bool) -> str:
    """How the rabbet is taken off."""
    below = " (A fence below its zero: the bit's centre lies behind the fence's face.)"
    return (
        "A light first pass, then the rest; a backing board behind the edge where the bit comes "
        f"out.{below if same else ''}"
    )


def tails_first(t: Tongue, *, height: float) -> str:
    """The tail boards. height: on the user's scale, mm."""
    return (
        f"Tails first, while a wrong one costs one board: bit at {t.length(height)}, on end, held "
        "upright by a square block, a backing board behind, right through and on past the bit; all "
        "boards at one stop before the fence moves."
    )


def open_edges(_: Tongue, *, passes: int) -> str:
    """How the edges are opened. passes: at each edge."""
    more = (
        f" Then stop {passes} in the same way, on each edge always after stop 1, which clears the "
        "strip before it."
    )
    return (
        "Stop 1 opens the edges: the bit stands partly in the fence, only its outer side cuts. Cut "
        "it with the marked edge to the fence, turn the board about its upright axis, cut it "
        "again. Never open the edge that lies away from the fence: there the bit would cut on its "
        "fence side, a climb cut with the work trapped. The pass pushes the board off the fence: "
        f"hold it in.{more if passes > 1 else ''}"
    )


def waste_first(t: Tongue, *, widest: float, lower: float) -> str:
    """A straight bit first."""
    return (
        "It pays to waste slots and sockets first with a straight bit no wider than "
        f"{t.length(widest)}, {t.length(lower)} lower, at the same stops: in all boards before the "
        "dovetail bit is set, or with a second router. Once the dovetail bit has been out, its "
        "height wants a test piece again."
    )


def pin_depth(t: Tongue, *, stops: tuple[tuple[str, float, float, float], ...]) -> str:
    """The pin boards' depth stop. stops: for each thickness of tail boards on which side they are,
    "" for all, their thickness, the depth, and what a caliper reads, mm.
    """

    def where(thick: float, hand: str) -> str:
        return f" for the {hand} tail boards, {t.size(thick)} thick," if hand else ""

    depths = " and ".join(
        f"at {t.length(depth)}{where(thick, hand)} from the end to the bit's centre (a caliper to "
        f"the deepest point of the mouth reads {t.length(deepest)})"
        for hand, thick, depth, deepest in stops
    )
    return f"Same height. Flat, inside face down, a depth stop {depths}. Never lift it. {DRAW_BACK}"


def no_new_piece(_: Tongue, *, ended: bool) -> str:
    """Boards of other sizes from a set-up whose centre is known."""
    if ended:
        return (
            "No new test piece while the bit has not been out and its height and the fence's scale "
            "are as they were; else one first."
        )
    return "No new test piece: bit, height and pitch stay, only the stops are new."


def depth_follows(_: Tongue) -> str:
    """Tail boards of another thickness."""
    return "The rabbet stays; the socket depth goes with the tail board's thickness, 1:1."


def other_lap(t: Tongue, *, laps: tuple[float, ...], pins: tuple[str, ...]) -> str:
    """Pin boards of another thickness. laps: of each, mm; pins: what they are called."""
    if len(laps) == 1:
        return f"The lap is then {t.length(laps[0])}."
    told = (f"{t.length(lap)} ({pin})" for lap, pin in zip(laps, pins, strict=False))
    return f"The lap is then {' and '.join(told)}."


def pins_alike(t: Tongue, *, thickness: float, pins: tuple[str, ...]) -> str:
    """Two kinds of pin boards, of which nobody said how thick they are. thickness: what is taken
    for both, mm; pins: what they are called.
    """
    return (
        f"Every {' and '.join(pins)} is taken to be {t.length(thickness)} thick: measure them. A "
        f"thinner one would be cut through: say both first ({t.act('pin-thickness')})."
    )


def pins_alike_short(t: Tongue, *, thickness: float, pins: tuple[str, ...]) -> str:
    """The same in fewer words."""
    which = f"{' and '.join(pins).capitalize()} {t.length(thickness)} thick"
    return f"{which}? Thinner is cut through: {t.act('pin-thickness')}."


def more_play(t: Tongue, *, tails: int, low: float, high: float) -> str:
    """So many tails from a set-up that was tuned for fewer. low, high: the play they want, mm."""
    return (
        f"{tails} tails want more play ({t.length(low)} to {t.length(high)}) than this set-up was "
        "tuned for: cut one joint in scrap at these stops first, or start one of their own "
        f"{t.act('of-tails', tails=tails)}."
    )


def check_centre(t: Tongue, *, width: float, zero: float) -> str:
    """Boards of other widths from a set-up that was never told its centre."""
    return (
        f"Check the centre on one scrap {t.size(width)} wide first: one pass on end at "
        f"{t.length(zero)}, then measure both walls beside it. Half their difference is what every "
        "stop is off: too far out where the wall at the fence is the thicker."
    )


def socket_passes(t: Tongue, *, passes: int, apart: float) -> str:
    """Sockets of several passes, the outer ones so far apart, mm."""
    return (
        f"Each socket takes {passes} passes; the first and the last, {t.length(apart)} apart, set "
        f"the fit{', the others only clear' if passes > 2 else ''}. The fence moves out only, so "
        "that each pass cuts on its outer side, and pushes the board off the fence: hold it in."
    )


def last_tail(
    t: Tongue,
    *,
    zero: tuple[float, float] | None,
    tail: tuple[tuple[float, float], tuple[float, float], float] | None,
) -> str:
    """What the centre does to the tail at the far edge.

    zero: what the log shows it to be off, which the zero allows for; None: it is not in play.
    tail: its play, its window and the chance of it.
    """
    cause = (
        "The slot at the far edge is cut with that edge to the fence: the last tail's play "
        "changes by twice what the centre"
    )
    way = (
        "If only that tail binds, the fence stands too near the bit, if only it rattles, too far; "
        "it is not the height."
    )
    if zero is None:
        return f"{cause} is off. {way}"
    off = t.length(zero[0])
    shown = (
        "The zero is"
        if off == t.length(0.0)
        else f"The zero allows for the {off} that the log shows the centre is off and is"
    )
    known = f"{shown} known to +-{t.ruler.doubt(zero[1])} (one standard deviation)."
    play = f" There {play_of(t, play=tail[0], window=tail[1], chance=tail[2])}" if tail else ""
    return f"{known} {cause} is still off.{play} {way}"


def walls_help(t: Tongue, *, chance: float) -> str:
    """What measuring the two walls makes of the chance."""
    return (
        f"The two walls measured beside a cut in the middle ({t.act('walls-later')}) bring that to "
        f"{chance:.0%}."
    )


def gap_helps(_: Tongue, *, chance: float) -> str:
    """What a pull-apart gap makes of the chance."""
    return f"A pull-apart gap read on one more piece as well brings it to {chance:.0%}."


def gauge_tails(_: Tongue) -> str:
    """The end tails gauged on a scrap."""
    return (
        "Or gauge the end tails on a scrap as wide as the boards: cut stop 1 with each edge to the "
        "fence and the slots next to both edges. Half of what the two end tails differ by is what "
        "the fence stands off: too far out where the far one is the narrower."
    )


def shim_edge(t: Tongue, *, rounded: float) -> str:
    """What rounding does to the last tail, and the shim that cures it. rounded: mm of play."""
    adds, much = rounded > 0, t.length(abs(rounded))
    return (
        f"Rounding {'adds' if adds else 'takes'} {much} of it: for the second edge alone set stop "
        f"1 {much} further {'in' if adds else 'out'}, between the marks or with a paper shim."
    )


def rounded(t: Tongue, *, step: float | None, largest: float, lost: float, spoils: bool) -> str:
    """What rounding to the fence's step does. step: None where the machine's own is not known."""
    of = (
        f"{t.ruler.told(Mm(0.01))} (your fence's own step is not known)"
        if step is None
        else f"the fence's step of {t.length(step)}"
    )
    most, play, nothing = t.length(largest), t.length(abs(lost)), t.length(0.0)
    does = f"take {play} of the joint's play" if lost > 0 else f"add {play} to the joint's play"
    same = "leave the joint's play as it is"
    text = (
        f"Every position is rounded to {of} by itself, so errors never add up: the largest is "
        f"{'too small to read' if most == nothing else most}, and together they "
        f"{same if play == nothing else does}."
    )
    cure = (
        " That takes a good joint out of its window: set the fence between its marks, or take "
        "another pitch."
    )
    return text + cure if spoils else text


def rounded_short(
    t: Tongue, *, step: float | None, largest: float, lost: float, spoils: bool
) -> str:
    """What rounding to the fence's step does, where it spoils a joint."""
    does = "takes {} of the joint's play" if lost > 0 else "adds {} to the joint's play"
    cure = "; set the fence between its marks, or take another pitch" if spoils else ""
    return f"Rounding to the fence's marks {does.format(t.length(abs(lost)))}{cure}."


def shim_short(t: Tongue, *, rounded: float) -> str:
    """The shim that cures what rounding does to the last tail."""
    way = "in" if rounded > 0 else "out"
    return (
        f"For the second edge alone set stop 1 {t.length(abs(rounded))} further {way}, between the "
        "marks or with a paper shim."
    )


SENTENCES: dict[str, Sentence] = {
    **{code: _same(text) for code, text in _MARKING.items()},
    "rabbet-size": rabbet,
    "rabbet-passes": rabbet_passes,
    "tails-first": tails_first,
    "open-edges": open_edges,
    "waste-first": waste_first,
    "pin-depth": pin_depth,
    "no-new-piece": no_new_piece,
    "check-centre": check_centre,
    "depth-follows": depth_follows,
    "other-lap": other_lap,
    "pins-alike": pins_alike,
    "more-play": more_play,
    "socket-passes": socket_passes,
    "last-tail": last_tail,
    "walls-help": walls_help,
    "gap-helps": gap_helps,
    "gauge-tails": gauge_tails,
    "shim-edge": shim_edge,
    "stops-rounded": rounded,
}
SHORT: dict[str, Sentence | None] = {
    "stops-rounded": rounded_short,
    "shim-edge": shim_short,
    "pins-alike": pins_alike_short,
}
