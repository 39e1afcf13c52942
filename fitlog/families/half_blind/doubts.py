"""What only the half-blind dovetail knows of things typed that no shop would mean: a gap against
its word, a step, walls, a board's width by its pitch. See `families.doubting` for each function.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence

from ... import defaults
from ...domain import Piece, Plan, Reading, Said, Verdict
from ...errors import Refused
from ...language.doubts import Doubt, beside, likely, remedy, slips
from ...language.units import MM_PER_INCH, Ruler
from ...texts import tell
from .. import Joint
from ..doubting import FAR, LIKE, WIDTHS
from ..typed import usual
from ..wanted import Wanted
from . import geometry
from .limits import height_limit
from .names import DEPTH, FENCE, FIT, HEIGHT, SEAT
from .plan import DovetailPlan, dovetail
from .possible import HOPELESS, MOST_OFF

_INCHES = re.compile(r"[/\"\u2033\u201d]|(?:^|[0-9 ])in(?:ch|ches)?\b")
WORD_SDS = 5.0  # a gap this many sds off its word's band belongs to another word, or is no gap
# mm proud or shy: the joint would hang by half its depth; common practice, no source
MOST_STEP = 5.0
# mm that a wall reading may put a cut off the middle; further, a piece or a ruler was mistaken
MOST_WALLS = 5.0
MOST_PROUD = 1.5  # mm that tails are left proud to be planed off
LEAST_HEIGHT = 0.25  # of the pin board's thickness: a shallower socket holds nothing


def far(plan: Plan) -> Mapping[str, float]:
    """A height may not be off by more than HOPELESS of clearance; a fence may by MOST_OFF, because
    a fence whose zero is off by millimetres is common.
    """
    height = min(FAR, HOPELESS / abs(geometry.slope_clearance_height(plan.bit.theta)))
    return {HEIGHT: height, FENCE: MOST_OFF, DEPTH: FAR}


def hears(verdict: Verdict, readings: Sequence[Reading]) -> bool:
    """What was learnt of words is read only where a gap meets one."""
    said = verdict.of(FIT)
    return any(r.kind == "pull_gap" for r in readings) or bool(said is not None and said.size)


def said(
    joint: Joint, ruler: Ruler, verdict: Verdict, readings: Sequence[Reading], heard: str
) -> Iterator[Doubt]:
    """Yield a gap that its word cannot have, a step that no joint shows."""
    yield from _gaps(joint, ruler, verdict, readings, heard)
    yield from _step(ruler, verdict, heard)


def read(joint: Joint, ruler: Ruler, reading: Reading, piece: Piece) -> Iterator[Doubt] | None:
    """Walls may put the cut off the piece's middle by centimetres."""
    if reading.kind != "walls":
        return None
    bit = joint.plan.bit
    mouth = geometry.mouth(bit.diameter, piece.settings[HEIGHT], bit.theta)
    return _walls(ruler, reading, (joint.plan.figures(piece.sizes)["width"] - mouth) / 2)


def start(wanted: Wanted, ruler: Ruler) -> Iterator[Doubt]:
    """Yield a board too narrow for a tail, tails too proud, a height too low for the pin board."""
    width, height = wanted.size("board_width"), wanted.first.get(HEIGHT)
    if width is not None:
        yield from _width(ruler, wanted, width)
    step = wanted.size("wanted_step") or 0.0
    if abs(step) > MOST_PROUD:
        meant = step / MM_PER_INCH if ruler.units != "mm" else step / 10
        yield Doubt(
            Refused(
                "odd-size",
                "tails that stand {step} proud are not planed flush"
                if step > 0
                else "tails that stand {step} shy are not planed flush",
                "{advised}",
                step=ruler.size(abs(step)),
                advised=remedy(ruler.size(meant)),
            ),
            ruler.size(meant),
            {"wanted_step": meant},
        )
    if height is not None:
        yield from _height(ruler, wanted, height)


def _gaps(
    joint: Joint, ruler: Ruler, verdict: Verdict, readings: Sequence[Reading], heard: str
) -> Iterator[Doubt]:
    """A pull-apart gap that its word cannot have, or that no joint of these figures has."""
    said = verdict.of(FIT)
    gaps = [(FIT, said.size)] if said is not None and said.size is not None else []
    gaps += [(r.kind, r.value) for r in readings if r.kind == "pull_gap"]
    for name, gap in gaps:
        if _stray(joint, said, gap) <= 0:
            continue
        ways = [way for way in _smaller(gap, ruler, heard) if _stray(joint, said, way) <= 0]
        clearance = gap * abs(geometry.slope_clearance_height(joint.plan.bit.theta))
        say = ruler.size(ways[0]) if ways else ""
        yield Doubt(
            Refused(
                "word-and-gap",
                "a pull-apart gap of {gap} is more than any joint of this bit has: that gap is a "
                "clearance of {clearance}"
                if said is None
                else '"{word}" and a pull-apart gap of {gap} don\'t go together: that gap is a '
                "clearance of {clearance}",
                "{advised}",
                word=said.word if said is not None else "",
                gap=ruler.size(gap),
                clearance=ruler.size(clearance),
                advised=remedy(say),
            ),
            say,
            {name: ways[0]} if ways else {},
        )


def _stray(joint: Joint, said: Said | None, gap: float) -> float:
    """By how much a pull-apart gap lies past what its word can have, mm of clearance; 0 or less
    within it.
    """
    slope, window = abs(geometry.slope_clearance_height(joint.plan.bit.theta)), joint.window(FIT)
    clearance = gap * slope
    if said is None:
        return clearance - window.high - HOPELESS
    sd = math.hypot(slope * defaults.FEELER, joint.word_noise(FIT), defaults.BAND_EDGES)
    bands = joint.word_bands(FIT)[said.index]
    off = min(max(low - clearance, clearance - high, 0.0) for low, high, _ in bands) - WORD_SDS * sd
    return max(off, clearance - window.high - HOPELESS)


def _step(ruler: Ruler, verdict: Verdict, heard: str) -> Iterator[Doubt]:
    said = verdict.of(SEAT)
    if said is not None and said.size is not None and said.size > MOST_STEP:
        meant = _smaller(said.size, ruler, heard)[0]
        say = ruler.size(meant)
        yield Doubt(
            Refused(
                "far-step",
                '"{word}" by {size} (a fraction without a unit is inches) is more than a joint '
                "that went together shows"
                if "/" in heard and ruler.units == "mm"
                else '"{word}" by {size} is more than a joint that went together shows',
                "{advised}",
                word=said.word,
                size=ruler.size(said.size),
                advised=remedy(say),
            ),
            say,
            {SEAT: meant},
        )


def _smaller(size: float, ruler: Ruler, heard: str) -> tuple[float, ...]:
    """What a size too large was likely meant as: mm where it was read as inches, else with its
    point a place further left.
    """
    inches = ruler.units != "mm" or _INCHES.search(heard) is not None
    return (size / MM_PER_INCH, size / 10) if inches else (size / 10, size / MM_PER_INCH)


def _walls(ruler: Ruler, reading: Reading, half: float) -> Iterator[Doubt]:
    """half: what a wall beside a cut in the middle has, mm."""
    near, far = reading.value, reading.other or 0.0
    if abs(near - far) / 2 <= MOST_WALLS:
        return
    odd, other, name, where = (
        (near, far, "walls", "{wall} at the fence")
        if abs(near - half) > abs(far - half)
        else (far, near, beside("walls"), "{wall} far")
    )
    mend, say = likely(odd, [other, half], ruler) or (0.0, "")
    say = say and tell(where, wall=say)
    yield Doubt(
        Refused(
            "odd-reading",
            "walls of {near} and {far} put the cut {off} off the middle",
            "{advised}",
            near=ruler.size(near),
            far=ruler.size(far),
            off=ruler.size(abs(near - far) / 2),
            advised=remedy(say),
        ),
        say,
        {name: mend} if say else {},
    )


def _width(ruler: Ruler, wanted: Wanted, width: float) -> Iterator[Doubt]:
    """A board narrower than one tail between two half-pins, P + D: no pass that the test piece asks
    for would meet it.
    """
    least, usual = _pitch(wanted) + wanted.bit.diameter, wanted.stock.width
    ways = sorted(slips(width, ruler), key=lambda way: abs(math.log(way[0] / usual)))
    if width < least:
        found = next((way for way in ways if least <= way[0] <= max(3 * usual, 400.0)), None)
    else:
        found = next(
            (way for way in ways if width > WIDTHS[1] and abs(way[0] - usual) <= LIKE * usual), None
        )
        if found is None:
            return
    meant, shown = found or (None, "")
    yield Doubt(
        Refused(
            "odd-size",
            "a board {width} wide is narrower than one tail between two half-pins, {beside} with "
            "this bit"
            if width < least
            else "a board would be {width} wide, and its stock is {beside}",
            "{advised}",
            width=ruler.size(width),
            beside=ruler.size(least if width < least else usual),
            advised=remedy(shown),
        ),
        shown,
        {} if meant is None else {"board_width": meant},
    )


def _pitch(wanted: Wanted) -> float:
    """The pitch given or repeated, else the one that the given or a usual height makes by the bit's
    figures, mm.
    """
    pitch, said_height = wanted.size("pitch"), wanted.first.get(HEIGHT)
    if pitch is None and said_height is None and wanted.again is not None:
        return dovetail(wanted.again.plan).pitch
    bit = wanted.bit
    sizes = usual(wanted.joint, bit, wanted.stock, wanted.pin_stock)
    plan = DovetailPlan(
        bit,
        wanted.stock,
        wanted.pin_stock,
        wanted.machine,
        sizes["board_width"],
        sizes["tail_thickness"],
        wanted.boards()[2],
        pitch=sizes["pitch"],
        rabbet_depth=sizes["rabbet_depth"],
    )
    height = said_height or height_limit(plan).high
    return pitch or max(bit.diameter, geometry.pitch_for(0.0, bit.diameter, height, bit.theta))


def _height(ruler: Ruler, wanted: Wanted, height: float) -> Iterator[Doubt]:
    pin, most = wanted.boards()[2], wanted.bit.cutting_length
    if height >= LEAST_HEIGHT * pin:
        return
    zero = wanted.machine.zero("height") if wanted.machine else 0.0
    found = next(
        (
            w
            for w, _ in slips(height + zero, ruler)
            if LEAST_HEIGHT * pin <= w - zero < min(pin, most)
        ),
        None,
    )
    say = "" if found is None else ruler.size(found)
    yield Doubt(
        Refused(
            "odd-size",
            "a bit height of {height} leaves sockets too shallow to hold in a {pin} board",
            "{advised}",
            height=ruler.size(height + zero),
            pin=ruler.size(pin),
            advised=remedy(say),
        ),
        say,
        {} if found is None else {HEIGHT: found - zero},
    )
