"""The bottom's groove against a corner that a polygon library cuts, grooves, puts together and
looks at from outside.

Invented bits and boards, seeded; nothing here is random in its verdict: no false alarms.
"""

from __future__ import annotations

import math
import random
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, unary_union

from fitlog.domain import Bit
from fitlog.errors import NotUnderstood, Refused
from fitlog.families.family import Limit
from fitlog.families.half_blind import figures
from fitlog.families.half_blind.layouts import Asked, Groove, Layout, Reach, find, groove_of
from fitlog.families.half_blind.layouts.layout import regular, wide_tails
from fitlog.families.telling import say
from fitlog.language.units import Ruler, parse_length
from fitlog.render.half_blind.end import drawing
from fitlog.render.half_blind.outline import groove_outline

PIN, TAIL, RABBET, DEEP = 18.0, 15.0, 6.0, 9.0  # thicknesses, the rabbet and the socket's depth, mm
PLAY = 0.07
LONG = 60.0  # how much of the side is looked at
SLICES = [n * TAIL / 6 + 1e-9 for n in range(9)]  # from the outside of the side inwards


def layouts() -> Iterator[Layout]:
    """Wide tails and tails like the pins, half-pins exact and not."""
    rng = random.Random(13)
    for number in range(100):
        bit = Bit("invented", rng.uniform(9, 18), rng.uniform(6, 14), 13.0)
        height = min(rng.uniform(8, 13), (bit.diameter - 3) / (2 * math.tan(bit.theta)))
        pitch = 2 * bit.diameter - PLAY - 2 * height * math.tan(bit.theta)
        tails = rng.randint(1, 5)
        width = tails * pitch * rng.uniform(1.12, 1.7) if number % 2 else tails * pitch
        make = wide_tails if number % 2 else regular
        more = rng.choice([0.0, 0.0, rng.uniform(-1, 4)])  # a slot further in or out
        yield make(bit, height, width, tails, pitch)
        yield regular(bit, height, tails * pitch + 2 * more, tails, pitch)


LAYOUTS = list(layouts())


def grooves(layout: Layout, seed: int) -> Iterator[Groove]:
    """Some anywhere on the board, some near a flank of a tail, some as deep as the tails."""
    rng = random.Random(seed)
    for _ in range(4):
        low, high = rng.choice(layout.roots)
        width, aside = rng.uniform(2, 9), rng.uniform(-3, 3)
        middle = (low + high - width + aside) / 2
        at = rng.choice(
            [
                low + aside,
                high - width + aside,
                middle,
                rng.uniform(1, max(2.0, layout.width - width)),
            ]
        )
        depth = rng.choice([rng.uniform(2, 7), layout.height + rng.uniform(-1, 1)])
        yield Groove(width, max(at, 0.5), min(depth, PIN - 2.4))


CASES = [(one, groove) for seed, one in enumerate(LAYOUTS) for groove in grooves(one, seed)]


@dataclass(frozen=True)
class Corner:
    """A front and a side put together, cut and grooved as a router does it.

    w runs from the lower edge up, z from the front's inside face to its outside, x from the side's
    outside along the front.
    """

    layout: Layout
    front: Groove | None
    side: Groove | None

    def cut(
        self, at: float, mouth_z: float, tip_z: float, radius: Callable[[float], float]
    ) -> Polygon:
        """What one pass takes at a slice; radius: half its width so far from its mouth."""
        levels = [mouth_z + (tip_z - mouth_z) * n / 8 for n in range(9)]
        halves = [radius(abs(z - mouth_z)) for z in levels]
        return Polygon(
            [(at - half, z) for half, z in zip(halves, levels, strict=True)]
            + [(at + half, z) for half, z in zip(reversed(halves), reversed(levels), strict=True)]
        )

    def half(self, z: float) -> float:
        """Half the bit's width z above its mouth."""
        return self.layout.mouth / 2 + z * math.tan(self.layout.bit.theta)

    def front_at(self, x: float) -> Polygon:
        """The front's wood at a slice, its sockets' round ends included."""
        past = max(0.0, x - DEEP)

        def radius(z: float) -> float:
            return math.sqrt(max(0.0, self.half(z) ** 2 - past**2))

        top = self.layout.height
        cuts = [self.cut(at, 0.0, top, radius) for passes in self.layout.sockets for at in passes]
        wood = box(0, 0, self.layout.width, PIN).difference(unary_union(cuts))
        return wood if self.front is None else wood.difference(_section(self.front))

    def side_at(self, x: float) -> Polygon:
        """The side's wood at a slice: tails, rabbet and groove."""
        top = self.layout.height
        wood = box(0, -LONG, self.layout.width, top if x < TAIL - RABBET else 0.0)
        if x > TAIL:
            return Polygon()
        places = {*self.layout.slots, *self.layout.edge_passes}
        places |= {self.layout.width - at for at in self.layout.edge_passes}
        wood = wood.difference(unary_union([self.cut(at, top, 0.0, self.half) for at in places]))
        if self.side is None or x < TAIL - self.side.depth:
            return wood
        along = box(self.side.at, -LONG, self.side.at + self.side.width, top)
        return wood.difference(along)

    def open_outside(self) -> float:
        """How much of the outer faces is no wood: of the side's, where the pins' ends are, of the
        front's, and of both edges.
        """
        whole = box(0, -LONG, self.layout.width, PIN)
        first = unary_union([self.front_at(0.0), self.side_at(0.0)])
        lines = 0.0
        for x in SLICES:
            wood = unary_union([self.front_at(x), self.side_at(x)])
            face = box(0, PIN - 1e-3, self.layout.width, PIN)
            edges = [box(w, 0, w + 1e-3, PIN) for w in (0.0, self.layout.width - 1e-3)]
            lines += sum(strip.difference(wood).area for strip in (face, *edges))
        return float(whole.difference(first).area + lines)


def _section(groove: Groove) -> Polygon:
    return box(groove.at, -1e-9, groove.at + groove.width, groove.depth)


def test_the_cases_are_of_every_kind() -> None:
    margins = [groove.margin(layout) for layout, groove in CASES]
    assert sum(margin < 0 for margin in margins) > 250
    assert sum(0 <= margin < figures.GROOVE_COVER for margin in margins) > 50
    assert sum(margin >= figures.GROOVE_COVER for margin in margins) > 80
    assert sum(layout.wide for layout, _ in CASES) > 150
    covered = [groove.covered(layout) for layout, groove in CASES]
    assert sum(found.tail > 1 for found in covered) > 200
    assert sum(found.ground < min(found.below, found.above) for found in covered) > 200


@cache
def ungrooved(layout: Layout) -> float:
    """What play shows of a corner without a groove."""
    return Corner(layout, None, None).open_outside()


def test_it_shows_outside_where_no_tail_covers_it_and_nowhere_else() -> None:
    """All boards grooved from end to end. A groove that passes a root by less than the play beside
    it takes no wood of the pin; what covers it is counted to the tail all the same.
    """
    for layout, groove in CASES[::3]:
        shown = Corner(layout, groove, groove).open_outside() - ungrooved(layout)
        found = groove.covered(layout)
        passes = min(found.below, found.above) < -PLAY / 2 - 1e-6
        assert (shown > 1e-7) == (passes or found.ground < -1e-6), (layout, groove)
        assert shown < 1e-7 or found.margin < 0


def test_a_sides_own_groove_shows_nowhere_wherever_it_lies() -> None:
    for layout, groove in CASES[::3]:
        groove = replace(groove, depth=min(groove.depth, TAIL - 2.4))
        shown = Corner(layout, None, groove).open_outside() - ungrooved(layout)
        assert shown == pytest.approx(0, abs=1e-9)


def test_a_tail_covers_it_least_at_the_inside_face() -> None:
    """At five levels of its depth, read off the polygons of the tails."""
    for layout, groove in CASES[::5]:
        found, side = groove.covered(layout), Corner(layout, None, None).side_at(0.0)
        reach = min(groove.depth, layout.height)
        for z in (1e-6, *(reach * n / 4 - 1e-6 for n in range(1, 5))):
            line = side.intersection(box(-1, z - 1e-8, layout.width + 1, z + 1e-8))
            tails = sorted(getattr(line, "geoms", [line]), key=lambda part: part.bounds[0])
            low, _, high, _ = tails[found.tail - 1].bounds
            wider = z * math.tan(layout.bit.theta)
            assert groove.at - low == pytest.approx(found.below + wider, abs=1e-5)
            assert high - groove.at - groove.width == pytest.approx(found.above + wider, abs=1e-5)


def test_the_tail_that_is_named_covers_it_best() -> None:
    for layout, groove in CASES:
        sides = [
            min(groove.at - low, high - groove.at - groove.width) for low, high in layout.roots
        ]
        found = groove.covered(layout)
        assert min(found.below, found.above) == max(sides) == sides[found.tail - 1]


def missed() -> list[tuple[Layout, Groove, dict[str, object]]]:
    return [
        (layout, groove, dict(groove.told([layout]).values))
        for layout, groove in CASES
        if not groove.covered(layout).enough
    ]


def test_what_is_said_to_help_does_and_no_more_is_asked_than_that() -> None:
    moved = narrowed = 0
    for layout, groove, told in missed():
        shallow = replace(groove, depth=min(groove.depth, told["deepest"] or groove.depth))
        assert shallow.covered(layout).ground >= figures.GROOVE_COVER - 1e-9
        if told["move"] is not None:
            first, last = told["move"]
            assert first > 0 or last < 0
            for by, enough in ((first, 1), (last, 1), (first - 0.01, 0), (last + 0.01, 0)):
                other = replace(shallow, at=groove.at + by)
                assert (min(other.covered(layout)[:2]) > figures.GROOVE_COVER - 1e-9) == enough
            moved += 1
        if told["widest"] is not None:
            at = told["room"] or groove.at
            other = replace(shallow, width=told["widest"], at=at)
            assert other.covered(layout).short < 1e-9
            assert not replace(other, width=other.width + 0.01).covered(layout).enough
            narrowed += 1
    assert moved > 100 and narrowed > 50


@pytest.mark.parametrize("units", ["mm", "inch", "fraction"])
def test_the_sentence_names_lengths_that_help_as_they_are_read(units: str) -> None:
    """Rounded inwards to what a person measures by: each length as printed is taken again."""
    ruler, seen, placed = Ruler(units), 0, 0
    for layout, groove, _ in missed():
        text = say(groove.told([layout]), ruler)
        assert ("mm" in text) == (units == "mm")
        shallow = replace(groove, depth=2.0)
        if found := re.search(
            r"(raise|lower) it by (?:(\S+|\S+ \S+) to )?([^,]+? (?:in|mm|thou)),", text
        ):
            way, *ends = found.groups()
            for end in filter(None, ends):
                by = parse_length(end, units=units).mm * (1 if way == "raise" else -1)
                if found[2] is not None:  # without room for a step the middle is named
                    assert replace(shallow, at=groove.at + by).covered(layout).short < 1e-6
            seen += 1
        if found := re.search(r"at most ([^,]+) wide(?:, (.+?) from the edge)?, or", text):
            wide, at = (end and parse_length(end, units=units).mm for end in found.groups())
            assert replace(shallow, width=wide, at=at or groove.at).covered(layout).short < 1e-6
            placed += at is not None
    assert seen > 100 and placed > 10


# --- which layouts are kept -----------------------------------------------------------------------

BIT = Bit("invented", 12.7, 8.0, 14.0)
SLOPE = 2 * math.tan(BIT.theta)


def reach() -> Reach:
    limit = Limit(2.0, 13.5, "", "a limit", "", "")
    pitch = 2 * BIT.diameter - PLAY - SLOPE * 11.0
    return Reach(BIT, limit, pitch, lambda p, n: ((2 * BIT.diameter - p - PLAY) / SLOPE, 0.2))


@settings(derandomize=True, deadline=None, database=None, max_examples=60)
@given(st.floats(70, 220), st.floats(3, 9), st.floats(2, 25))
def test_layouts_that_hide_it_are_kept_alone_where_there_are_any(
    width: float, wide: float, at: float
) -> None:
    asked, groove = Asked(width, 17.0, 17.0), Groove(wide, at, 5.0)
    plain = find([reach()], asked, Ruler())
    found = find([reach()], replace(asked, groove=groove), Ruler())
    hiding = [one for one in plain if groove.margin(one.layout) >= figures.GROOVE_COVER - 1e-6]
    if hiding:
        assert [one.layout for one in found] == [one.layout for one in hiding]
        assert groove.told([one.layout for one in found]).code == "groove-hidden"
        return
    assert {one.layout for one in found} == {one.layout for one in plain}
    assert all(
        one.points
        == pytest.approx(
            next(other.points for other in plain if other.layout == one.layout)
            + figures.GROOVE_POINTS * (figures.GROOVE_COVER - groove.margin(one.layout))
        )
        for one in found
    )
    told = dict(groove.told([one.layout for one in found]).values)
    assert told["cover"] == max(groove.margin(one.layout) for one in found)
    assert told["cover"] == groove.margin(found[told["which"] - 1].layout)


# --- what is asked --------------------------------------------------------------------------------


def test_the_depth_is_a_third_of_the_thinner_board_and_no_more_than_a_bottom_wants() -> None:
    sizes = {"groove": 6.0, "at": 10.0}
    assert groove_of(sizes, 110, 15.0) == Groove(6.0, 10.0, 5.0)
    assert groove_of(sizes, 110, 30.0) == Groove(6.0, 10.0, 6.0)
    assert groove_of({**sizes, "groove_depth": 4.0}, 110, 30.0) == Groove(6.0, 10.0, 4.0)
    assert groove_of({"pitch": 22.0}, 110, 15.0) is None


@pytest.mark.parametrize("half", [{"groove": 6.0}, {"at": 6.0}, {"groove_depth": 5.0}])
def test_half_a_groove_is_not_understood(half: dict[str, float]) -> None:
    with pytest.raises(NotUnderstood, match="both its width and where it lies"):
        groove_of(half, 110, 15.0)


@pytest.mark.parametrize(
    ("sizes", "said", "hint"),
    [
        ({"groove": 6.0, "at": 104.0}, "leaves a board 110 mm wide", "up to 103 mm"),
        ({"groove": 120.0, "at": 10.0}, "leaves a board 110 mm wide", "own width"),
        ({"groove": 6.0, "at": 9.0, "groove_depth": 13.0}, "less than 2.4 mm", "up to 12.6 mm"),
    ],
)
def test_a_groove_that_the_boards_cannot_have(
    sizes: dict[str, float], said: str, hint: str
) -> None:
    with pytest.raises(Refused) as raised:
        groove_of(sizes, 110, 15.0)
    assert raised.value.code == "absurd-size"
    assert said in raised.value.message and hint in raised.value.hint


# --- how it is drawn ------------------------------------------------------------------------------


@settings(derandomize=True, deadline=None, database=None, max_examples=100)
@given(st.floats(2, 9), st.floats(1, 60), st.floats(2, 8), st.integers(38, 99), st.booleans())
def test_it_is_drawn_where_it_lies(
    wide: float, at: float, depth: float, columns: int, blocks: bool
) -> None:
    layout, sign = wide_tails(BIT, 11.0, 110.0, 4, 22.5), "\u2591" if blocks else ":"
    plain = drawing(layout, 18.0, columns, blocks=blocks)
    rows = drawing(layout, 18.0, columns, blocks=blocks, groove=Groove(wide, at, depth))
    inner, before = ((r if blocks else [x[1:-1] for x in r[1:-1]]) for r in (rows, plain))
    scale = layout.width / len(inner[0])
    for row, other in zip(inner, before, strict=True):
        cells = [i for i, sign_here in enumerate(row) if sign_here == sign]
        assert [c for i, c in enumerate(row) if i not in cells] == [
            c for i, c in enumerate(other) if i not in cells
        ]
        if cells:
            assert len(cells) == cells[-1] - cells[0] + 1
            assert len(cells) * scale == pytest.approx(max(wide, scale), abs=1.001 * scale)
            middle = (cells[0] + cells[-1] + 1) / 2 * scale
            assert middle == pytest.approx(at + wide / 2, abs=0.501 * scale + 1e-6)
    count = sum(sign in row for row in inner)
    assert inner[-1].count(sign) and count == pytest.approx(depth / 18.0 * len(inner), abs=1.0)


def test_its_outline_lies_in_the_inside_face_from_either_edge() -> None:
    groove, layout = Groove(6.0, 10.0, 5.0), wide_tails(BIT, 11.0, 110.0, 4, 22.5)
    assert Polygon(groove_outline(groove)).bounds == (10.0, 0.0, 16.0, 5.0)
    assert Polygon(groove_outline(groove, layout)).bounds == (94.0, 0.0, 100.0, 5.0)
