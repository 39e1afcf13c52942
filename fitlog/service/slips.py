"""Trial cuts as no shop would mean them: settings, words and readings that a slip of the hand
explains, or nothing.

Pure: a set-up's plan and what was typed in, doubts out. What is only unlikely (a fence off by 3 mm,
a step of 2.5 mm) is no doubt: it is logged.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from .. import defaults
from ..domain import Aspect, Figures, Piece, Plan, Reading, Said, Settings, SetUp
from ..errors import Refused
from ..estimator.evidence import Voices
from ..families import Joint, joint_of
from ..families.half_blind import geometry
from ..families.half_blind.names import ASPECTS, SETTING_OF, set_to
from ..language.units import MM_PER_INCH, Ruler
from .asked import Reported
from .doubts import EXACT, NEAR, Doubt, likely, remedy, slips, transposed
from .possible import HOPELESS, MOST_OFF, check_settings

if TYPE_CHECKING:
    from .bench import Workbench

_INCHES = re.compile(r"[/\"\u2033\u201d]|(?:^|[0-9 ])in(?:ch|ches)?\b")
# mm between a height or a depth and all that speaks for one: a stop is off by so much, its
# correction is not
FAR = 3.0
SLIPPED = 0.5  # mm: nobody misses by so much and hits upon a slip of the very number by chance
LIKE_MOVE = 0.06  # mm: a move with a slipped point comes so near to the one that was advised
WORD_SDS = 5.0  # a gap this many sds off its word's band belongs to another word, or is no gap
MOST_STEP = (
    5.0  # mm proud or shy: the joint would hang by half its depth; common practice, no source
)
# mm between a reading and the bit's figures; a bit, a pitch and a caliper together are not so far
# off
ODD_READING = 2.0
# mm that a wall reading may put a cut off the middle; further, a piece or a ruler was mistaken
MOST_WALLS = 5.0


@dataclass(frozen=True, slots=True)
class Place:
    """Where a trial cut comes in. advised: the settings last shown; last: the piece before it;
    voices: how people use their words, where that was learnt; moved: moves that were typed instead
    of settings, signed mm by name; by: who types; source: what the settings `advised` are called.
    """

    plan: Plan
    advised: Settings
    last: Piece | None
    ruler: Ruler
    voices: Voices = field(default_factory=dict)
    moved: Mapping[str, float] = field(default_factory=dict)
    by: str = ""
    source: str = "advised"


def doubts_on(
    bench: Workbench, setup: SetUp, told: Reported, moved: Mapping[str, float] | None = None
) -> Iterator[Doubt]:
    """Yield what no shop would mean by the next trial cut of a set-up. moved: signed moves that
    were typed, mm.
    """
    gap = any(r.kind == "pull_gap" for r in told.readings) or (
        (said := told.verdict.of("fit")) is not None and said.size
    )
    voices = (
        bench.past(setup).voices if gap else {}
    )  # what was learnt of words is read only where a gap meets one
    yield from cut_doubts(
        Place(
            setup.plan, setup.shown, setup.last_piece(), bench.ruler, voices, moved or {}, bench.by
        ),
        told,
    )


def cut_doubts(at: Place, told: Reported) -> Iterator[Doubt]:
    """Yield what no shop would mean by a trial cut."""
    joint = joint_of(at.plan, at.voices, at.by)
    if not told.later:
        for aspect in ASPECTS:
            if SETTING_OF[aspect] in told.changed:
                yield from _setting(at, joint, aspect, told)
    yield from _gaps(joint, at.ruler, told)
    yield from _step(at.ruler, told)
    yield from _readings(at, joint, told)


def _setting(at: Place, joint: Joint, aspect: Aspect, told: Reported) -> Iterator[Doubt]:
    """A setting that lies further than FAR, or than HOPELESS of clearance, from all that speaks for
    one; a fence, than MOST_OFF, because a fence whose zero is off by millimetres is common.

    That is what was advised, where the last piece was cut, where its own reading puts it, and
    whatever lies between: a move of that size is never a correction. Nearer, only a slip of the
    very number is doubted.
    """
    name = SETTING_OF[aspect]
    value = told.changed[name]
    own = _own_size(at.plan, aspect, told.sizes)
    here = [at.advised.of(aspect) + own, *_by_last(at, joint, aspect, own)]
    off = max(min(here) - value, value - max(here), 0.0)
    zero = at.advised.on_scale(at.plan.machine)[name] - at.advised.of(aspect)
    bound = {
        "fit": min(FAR, HOPELESS / abs(geometry.slope_clearance_height(joint.plan.bit.theta))),
        "centre": MOST_OFF,
        "seat": FAR,
    }[aspect]
    meant = _meant(at, name, value, zero, here, NEAR if off > bound else EXACT)
    if meant is None and off > bound and _cannot_be(at, told):
        return  # `possible` says why, with a remedy of its own
    if off > bound or (meant is not None and off > SLIPPED):
        spoken, shown = name.replace("_", " "), at.ruler.size(value + zero)
        how = f"a move of {at.ruler.size(abs(at.moved[name]))} makes " if name in at.moved else ""
        far = (
            f"{at.ruler.size(abs(value - here[0]))} off the {at.ruler.size(here[0] + zero)} "
            f"{at.source}"
        )
        mend, say = meant or (0.0, "")
        yield Doubt(
            Refused(
                "far-setting",
                f"{how}a {spoken} of {shown}{', ' if how else ' is '}{far}",
                remedy(say),
            ),
            say,
            {name: mend} if say else {},
        )


def _cannot_be(at: Place, told: Reported) -> bool:
    try:
        check_settings(at.plan, _settings(at, told), told.changed, told.sizes)
    except Refused:
        return True
    return False


def _meant(
    at: Place, name: str, value: float, zero: float, here: Sequence[float], digits: float
) -> tuple[float, str] | None:
    """The setting that was likely meant, true mm, and how that, or the move to it, is written."""
    if name not in at.moved or at.last is None:
        found = likely(value + zero, [h + zero for h in here], at.ruler, digits)
        return None if found is None else (found[0] - zero, found[1])
    move, start = at.moved[name], value - at.moved[name]
    sign = math.copysign(1, move)
    ways = [
        sign * v
        for v in (*(v for v, _ in slips(abs(move), at.ruler)), *transposed(abs(move), at.ruler))
    ]
    near = [
        (abs(start + way - here[0]), start + way)
        for way in ways
        if abs(start + way - here[0]) <= LIKE_MOVE
    ]
    near = (
        near if abs(here[0] - start) > 2 * LIKE_MOVE else []
    )  # where next to no move was advised, any small one would do
    return (min(near)[1], at.ruler.move(name, min(near)[1] - start)) if near else None


def _by_last(at: Place, joint: Joint, aspect: Aspect, own: float) -> Iterator[float]:
    """Where the last piece was cut, and where its own reading puts the setting, for a piece of the
    new one's size.
    """
    if at.last is None:
        return
    cut = at.last.settings.of(aspect) + own - _own_size(at.plan, aspect, at.last.sizes)
    yield cut
    reading = joint.reading_of(aspect, at.last)
    if reading is not None:
        yield cut - (reading[0] - joint.window(aspect).middle) / joint.slope(
            aspect, at.last.settings
        )


def _own_size(plan: Plan, aspect: Aspect, sizes: Figures) -> float:
    """How much more a setting is on a piece of its own size than on the set-up's test
    pieces, mm.
    """
    usual, own = plan.figures(), plan.figures(sizes)
    with_figures = plan.family.adjusted(aspect).with_figures
    return sum(by * (own[name] - usual[name]) for name, by in with_figures.items())


def _gaps(joint: Joint, ruler: Ruler, told: Reported) -> Iterator[Doubt]:
    """A pull-apart gap that its word cannot have, or that no joint of these figures has."""
    said = told.verdict.of("fit")
    gaps = [("fit", said.size)] if said is not None and said.size is not None else []
    gaps += [(r.kind, r.value) for r in told.readings if r.kind == "pull_gap"]
    for name, gap in gaps:
        if _stray(joint, said, gap) <= 0:
            continue
        ways = [way for way in _smaller(gap, ruler, told.heard) if _stray(joint, said, way) <= 0]
        word, clearance = (
            f'"{said.word}" and ' if said is not None else "",
            gap * abs(geometry.slope_clearance_height(joint.plan.bit.theta)),
        )
        say = ruler.size(ways[0]) if ways else ""
        together = "don't go together" if word else "is more than any joint of this bit has"
        yield Doubt(
            Refused(
                "word-and-gap",
                f"{word}a pull-apart gap of {ruler.size(gap)} {together}: that gap is a clearance "
                f"of {ruler.size(clearance)}",
                remedy(say),
            ),
            say,
            {name: ways[0]} if ways else {},
        )


def _stray(joint: Joint, said: Said | None, gap: float) -> float:
    """By how much a pull-apart gap lies past what its word can have, mm of clearance; 0 or less
    within it.
    """
    slope, window = abs(geometry.slope_clearance_height(joint.plan.bit.theta)), joint.window("fit")
    clearance = gap * slope
    if said is None:
        return clearance - window.high - HOPELESS
    sd = math.hypot(slope * defaults.FEELER, joint.word_noise("fit"), defaults.BAND_EDGES)
    bands = joint.word_bands("fit")[said.index]
    off = min(max(low - clearance, clearance - high, 0.0) for low, high, _ in bands) - WORD_SDS * sd
    return max(off, clearance - window.high - HOPELESS)


def _step(ruler: Ruler, told: Reported) -> Iterator[Doubt]:
    said = told.verdict.of("seat")
    if said is not None and said.size is not None and said.size > MOST_STEP:
        meant = _smaller(said.size, ruler, told.heard)[0]
        say = ruler.size(meant)
        inches = (
            " (a fraction without a unit is inches)"
            if "/" in told.heard and ruler.units == "mm"
            else ""
        )
        message = (
            f'"{said.word}" by {ruler.size(said.size)}{inches} is more than a joint that '
            "went together shows"
        )
        yield Doubt(Refused("far-step", message, remedy(say)), say, {"seat": meant})


def _smaller(size: float, ruler: Ruler, heard: str) -> tuple[float, ...]:
    """What a size too large was likely meant as: mm where it was read as inches, else with its
    point a place further left.
    """
    inches = ruler.units != "mm" or _INCHES.search(heard) is not None
    return (size / MM_PER_INCH, size / 10) if inches else (size / 10, size / MM_PER_INCH)


def _readings(at: Place, joint: Joint, told: Reported) -> Iterator[Doubt]:
    """A caliper reading that only a slip explains, walls that put the cut off the piece's middle by
    centimetres.

    A reading that cannot be and that no slip explains is logged: it is left out of what is learnt,
    and said so.
    """
    settings = _settings(at, told)
    piece = Piece(1, settings, told.verdict, (), (), told.scrap, told.sizes)
    for reading in told.readings:
        if reading.kind == "walls":
            mouth = geometry.mouth(at.plan.bit.diameter, settings["bit_height"], at.plan.bit.theta)
            yield from _walls(at.ruler, reading, (at.plan.figures(told.sizes)["width"] - mouth) / 2)
            continue
        one = Piece(1, settings, piece.verdict, (reading,), (), piece.scrap, piece.sizes)
        for found in joint.term_readings([one]):
            if abs(found.value) > ODD_READING:
                yield from _odd_reading(at.ruler, reading, reading.value - found.value)


def _odd_reading(ruler: Ruler, reading: Reading, expected: float) -> Iterator[Doubt]:
    found = likely(reading.value, [expected], ruler)
    if found is None:
        return
    (mend, say), what = found, reading.kind.replace("_", " ")
    message = (
        f"the {what} of {ruler.size(reading.value)} is far from the {ruler.size(expected)} "
        "that these figures give"
    )
    yield Doubt(Refused("odd-reading", message, remedy(say)), say, {reading.kind: mend})


def _walls(ruler: Ruler, reading: Reading, half: float) -> Iterator[Doubt]:
    """half: what a wall beside a cut in the middle has, mm."""
    near, far = reading.value, reading.other or 0.0
    if abs(near - far) / 2 <= MOST_WALLS:
        return
    odd, other, name, where = (
        (near, far, "walls", "at the fence")
        if abs(near - half) > abs(far - half)
        else (far, near, "far wall", "far")
    )
    mend, say = likely(odd, [other, half], ruler) or (0.0, "")
    say = say and f"{say} {where}"
    message = (
        f"walls of {ruler.size(near)} and {ruler.size(far)} put the cut "
        f"{ruler.size(abs(near - far) / 2)} off the middle"
    )
    yield Doubt(Refused("odd-reading", message, remedy(say)), say, {name: mend} if say else {})


def _settings(at: Place, told: Reported) -> Settings:
    if told.later and at.last is not None:
        return at.last.settings
    return set_to(
        **{name: told.changed.get(name, at.advised.of(a)) for a, name in SETTING_OF.items()}
    )
