"""Trial cuts as no shop would mean them: settings, words and readings that a slip of the hand
explains, or nothing.

Pure: a set-up's plan and what was typed in, doubts out. What is only unlikely (a fence off by 3 mm,
a step of 2.5 mm) is no doubt: it is logged.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from ..domain import Figures, Piece, Plan, Reading, Settings, SetUp
from ..errors import Refused
from ..estimator.evidence import Voices
from ..families import Joint, joint_of
from ..families.doubting import Doubting, doubts_of
from ..families.names import setting_called, typed_by
from ..language.doubts import EXACT, NEAR, Doubt, doubted, likely, slips, transposed
from ..language.units import Ruler
from ..texts import tell
from .asked import Reported
from .possible import check_settings

if TYPE_CHECKING:
    from .bench import Workbench

SLIPPED = 0.5  # mm: nobody misses by so much and hits upon a slip of the very number by chance
LIKE_MOVE = 0.06  # mm: a move with a slipped point comes so near to the one that was advised
# mm between a reading and the bit's figures; a bit, a pitch and a caliper together are not so far
# off
ODD_READING = 2.0


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
    yield from _other_advice(setup, bench.by, bench.ruler, told)
    hears = doubts_of(setup.plan.joint).hears(told.verdict, told.readings)
    voices = bench.past(setup).voices if hears else {}
    yield from cut_doubts(
        Place(
            setup.plan, setup.shown, setup.last_piece(), bench.ruler, voices, moved or {}, bench.by
        ),
        told,
    )


def _other_advice(setup: SetUp, by: str, ruler: Ruler, told: Reported) -> Iterator[Doubt]:
    """Another advice that came between the one shown to whoever cut and the cut, for the settings
    that are not stated: was it cut at what they were shown?
    """
    other, plan = setup.other, setup.plan
    if other is None or told.later:
        return
    mine, now = (s.on_scale(plan.machine) for s in (setup.shown, other.settings))
    names = [
        name
        for name in plan.family.names
        if name not in told.changed and ruler.length(mine[name]) != ruler.length(now[name])
    ]
    if not names:
        return
    at, theirs = _spoken(plan, ruler, names, mine), _spoken(plan, ruler, names, now)
    cut = next((c for c in reversed(setup.cuts) if c.entry > other.after and c.by != by), None)
    values = {"at": at, "theirs": theirs, "other": (cut or other).by or "somebody"}
    message = "you were shown {at}; {other} was shown {theirs} since"
    if cut is not None:
        message = "you were shown {at}; since {other}'s piece {piece} it is {theirs}"
        values["piece"] = str(cut.piece)
    hint = "say what it was cut at, {typed} or {others}; --yes takes what you were shown"
    typed, others = (_typed(plan, ruler, names, sizes) for sizes in (mine, now))
    refusal = Refused("other-advice", message, hint, typed=typed, others=others, **values)
    yield Doubt(refusal, insist=tell("Was it cut at {at}?", at=at))


def _spoken(plan: Plan, ruler: Ruler, names: Sequence[str], sizes: Mapping[str, float]) -> str:
    """Return settings as a sentence names them, sizes on the machine's scale, mm."""
    kinds = {name: plan.family.setting(name) for name in names}
    return tell(" and ").join(
        tell("a {setting} of {size}", setting=kinds[n].noun, size=ruler.length(sizes[n]))
        for n in names
    )


def _typed(plan: Plan, ruler: Ruler, names: Sequence[str], sizes: Mapping[str, float]) -> str:
    """Return settings as options of `cut` take them, sizes on the machine's scale, mm."""
    return " ".join(f"{typed_by(plan.family, n)}{ruler.exact(sizes[n])}" for n in names)


def cut_doubts(at: Place, told: Reported) -> Iterator[Doubt]:
    """Yield what no shop would mean by a trial cut."""
    joint, doubts = joint_of(at.plan, at.voices, at.by), doubts_of(at.plan.joint)
    if not told.later:
        far = doubts.far(at.plan)
        for name in at.plan.family.names:
            if name in told.changed:
                yield from _setting(at, joint, name, told, far[name])
    yield from doubts.said(joint, at.ruler, told.verdict, told.readings, told.heard)
    yield from _readings(at, joint, doubts, told)


def _setting(at: Place, joint: Joint, name: str, told: Reported, far: float) -> Iterator[Doubt]:
    """A setting that lies further than the family allows from all that speaks for one.

    That is what was advised, where the last piece was cut, where its own reading puts it, and
    whatever lies between: a move of that size is never a correction. Nearer, only a slip of the
    very number is doubted.
    """
    value = told.changed[name]
    own = _own_size(at.plan, name, told.sizes)
    here = [at.advised[name] + own, *_by_last(at, joint, name, own)]
    off = max(min(here) - value, value - max(here), 0.0)
    zero = at.advised.on_scale(at.plan.machine)[name] - at.advised[name]
    meant = _meant(at, name, value, zero, here, NEAR if off > far else EXACT)
    if meant is None and off > far and _cannot_be(at, told):
        return  # `possible` says why, with a remedy of its own
    if off > far or (meant is not None and off > SLIPPED):
        spoken, shown = name.replace("_", " "), at.ruler.size(value + zero)
        mend, say = meant or (0.0, "")
        yield doubted(
            "far-setting",
            "a move of {move} makes a {setting} of {shown}, {off} off the {right} {source}"
            if name in at.moved
            else "a {setting} of {shown} is {off} off the {right} {source}",
            say,
            {name: mend} if say else {},
            move=at.ruler.size(abs(at.moved.get(name, 0.0))),
            setting=spoken,
            shown=shown,
            off=at.ruler.size(abs(value - here[0])),
            right=at.ruler.size(here[0] + zero),
            source=at.source,
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
    return (
        (min(near)[1], at.ruler.move(setting_called(name), min(near)[1] - start)) if near else None
    )


def _by_last(at: Place, joint: Joint, name: str, own: float) -> Iterator[float]:
    """Where the last piece was cut, and where its own reading puts the setting, for a piece of the
    new one's size.
    """
    if at.last is None:
        return
    cut = at.last.settings[name] + own - _own_size(at.plan, name, at.last.sizes)
    yield cut
    for aspect, setting in at.plan.family.setting_of.items():
        reading = joint.reading_of(aspect, at.last) if setting == name else None
        if reading is None:
            continue
        yield cut - (reading[0] - joint.window(aspect).middle) / joint.slope(
            aspect, at.last.settings
        )


def _own_size(plan: Plan, name: str, sizes: Figures) -> float:
    """How much more a setting is on a piece of its own size than on the set-up's test
    pieces, mm.
    """
    usual, own = plan.figures(), plan.figures(sizes)
    with_figures = plan.family.settings[plan.family.place[name]].with_figures
    return sum(by * (own[figure] - usual[figure]) for figure, by in with_figures.items())


def _readings(at: Place, joint: Joint, doubts: Doubting, told: Reported) -> Iterator[Doubt]:
    """A reading that only a slip explains.

    One that cannot be and that no slip explains is logged: it is left out of what is learnt, and
    said so.
    """
    settings = _settings(at, told)
    for reading in told.readings:
        piece = Piece(1, settings, told.verdict, (reading,), (), told.scrap, told.sizes)
        own = doubts.read(joint, at.ruler, reading, piece)
        if own is not None:
            yield from own
            continue
        for found in joint.term_readings([piece]):
            if abs(found.value) > ODD_READING:
                yield from _odd_reading(at.ruler, reading, reading.value - found.value)


def _odd_reading(ruler: Ruler, reading: Reading, expected: float) -> Iterator[Doubt]:
    found = likely(reading.value, [expected], ruler)
    if found is None:
        return
    (mend, say), what = found, reading.kind.replace("_", " ")
    yield doubted(
        "odd-reading",
        "the {what} of {size} is far from the {expected} that these figures give",
        say,
        {reading.kind: mend},
        what=what,
        size=ruler.size(reading.value),
        expected=ruler.size(expected),
    )


def _settings(at: Place, told: Reported) -> Settings:
    if told.later and at.last is not None:
        return at.last.settings
    return at.advised.changed(**told.changed)
