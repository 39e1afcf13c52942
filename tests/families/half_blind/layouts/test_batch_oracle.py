"""Other boards from one set-up, and a batch in its order, against a polygon library: every pass of
every end is cut in turn, looked at for a climb cut, and each corner put together.

Source of what climbs: the bit turns against the feed on the side away from the fence and with it on
the fence's side (common practice, no source), so that a pass must never take more there. Source of
the edges: the hand rule by cross products of the drawer's own directions. Bits and boards are
invented, seeded; no verdict is random.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import groupby

import pytest
from building import STOCK
from cut_boards import ALL, PLAY, pins_of, plays, profile, tails_of
from shapely import Point, Polygon, affinity, box, unary_union

from fitlog.families.half_blind.layouts import Layout, Stops, stops
from fitlog.families.half_blind.layouts.boards_said import boards_said
from fitlog.families.half_blind.layouts.corners import Boards, Depth, End
from fitlog.families.half_blind.layouts.other import (
    depth_for,
    depths_for,
    layout_on,
    layouts_on,
    miss,
)
from fitlog.families.half_blind.layouts.schedule import Pass, Schedule, schedule
from fitlog.families.half_blind.layouts.work import RabbetPass
from fitlog.families.half_blind.names import set_to
from fitlog.families.half_blind.plan import DovetailPlan

SOME = random.Random(2).sample(ALL, 50)
TWO_PASSES = [(seed, la) for seed, la in ALL if len(la.edge_passes) == 2]
FACE = 3.21  # what the scale shows with the bit's centre at the fence's face, mm
EXACT = 1e-6
SAID = (
    "front, back, 2 sides",
    "front 2, back 2, side 4",
    "front 2, side 4",
    "2 shelf pin, 2 sides",
)


def named(value: object) -> str:
    return str(value) if isinstance(value, int | str) else ""


def plan_of(layout: Layout) -> DovetailPlan:
    """A set-up of a layout: a pin board that leaves enough lap, a tail board 24 mm thick."""
    return DovetailPlan(
        layout.bit,
        STOCK,
        STOCK,
        None,
        pitch=layout.pitch,
        board_width=layout.width,
        tail_thickness=24.0,
        pin_thickness=layout.height + 4,
        rabbet_depth=layout.bit.diameter / 2,
        tails=layout.tails,
        spacing=layout.spacing if layout.wide else None,
    )


def is_sound(layout: Layout, found: Stops, zero: float) -> None:
    """The joint as it was promised: each flank has half the play, both edges their half-pins."""
    tails, pins = tails_of(layout, found, zero), pins_of(layout, found, zero)
    assert len(pins.geoms) == layout.tails + 1
    assert tails.intersection(pins).area < 1e-4
    for left, right in plays(layout, tails, pins):
        assert (left, right) == pytest.approx((PLAY / 2, PLAY / 2), abs=5e-6)
    half = pins.geoms[0].bounds[2] - pins.geoms[0].bounds[0]
    assert half == pytest.approx(layout.half_pin[1], abs=1e-5) and layout.half_pin[0] >= 3 - 1e-6


# --- other widths ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("seed", "layout"), SOME, ids=named)
def test_every_layout_of_another_width_is_the_intended_joint(seed: int, layout: Layout) -> None:
    """From the set-up's height, pitch and zero alone: what moves is half the width."""
    rng = random.Random(seed)
    for width in (rng.uniform(40, 120), rng.uniform(120, 400)):
        plan = replace(plan_of(layout), board_width=width, tails=None, spacing=None)
        for one in layouts_on(plan, layout.height):
            made = one.layout
            assert (made.pitch, made.height, made.width) == (layout.pitch, layout.height, width)
            zero = width / 2 + FACE
            is_sound(made, stops(made, zero, EXACT), zero)


def test_other_widths_are_found_of_both_kinds() -> None:
    found = [
        one.layout
        for seed, layout in SOME
        for one in layouts_on(
            replace(plan_of(layout), board_width=90.0, tails=None, spacing=None), layout.height
        )
    ]
    assert sum(one.wide for one in found) > 50 < sum(not one.wide for one in found)


@pytest.mark.parametrize(("seed", "layout"), SOME[:20], ids=named)
def test_a_width_that_misses_names_widths_that_do_not(seed: int, layout: Layout) -> None:
    """By trying every tenth of a millimetre: no narrower and no wider one in between."""
    plan, height = replace(plan_of(layout), tails=None, spacing=None), layout.height

    def takes(width: float) -> list[int]:
        one = replace(plan, board_width=width)
        return [f.layout.tails for f in layouts_on(one, height, wide=False)]

    tried = [60 + n / 10 for n in range(0, 600, 7)]
    for width in [w for w in tried if not takes(w)][:3]:
        near = miss(replace(plan, board_width=width), height)
        wide, tails = near.wider
        assert width < wide and tails in takes(wide) and not takes(round(wide - 0.11, 6))
        if near.narrower is not None:
            narrow, fewer = near.narrower
            assert narrow < width and fewer in takes(narrow)
            assert not takes(round(narrow + 0.11, 6))


def test_some_widths_miss() -> None:
    plans = [(replace(plan_of(la), tails=None, spacing=None), la.height) for _, la in SOME[:40]]
    missed = [
        width
        for plan, height in plans
        for width in range(60, 120)
        if not layouts_on(replace(plan, board_width=float(width)), height, wide=False)
    ]
    assert len(missed) > 30


@pytest.mark.parametrize(("seed", "layout"), SOME[:20], ids=named)
def test_the_stops_take_the_first_of_the_layouts_that_are_shown(seed: int, layout: Layout) -> None:
    plan = replace(plan_of(layout), board_width=100.0, tails=None, spacing=None)
    settings = set_to(layout.height, 50.0, 10.0)
    own = layouts_on(plan, layout.height, wide=layout.wide)
    if own:
        assert layout_on(plan_of(layout), plan, settings, None) == own[0].layout


# --- other thicknesses ----------------------------------------------------------------------------


def proud(layout: Layout, thickness: float, rabbet: float, depth: float, bit: str) -> float:
    """How proud a tail stands, mm: pushed into its socket as far as it goes, seen from above at
    five levels. bit: which cuts the rabbet; with the dovetail bit the tail's end leans as it does.
    """
    h, m, slope = layout.height, layout.mouth, math.tan(layout.bit.theta)
    passes = [at - layout.sockets[0][0] for at in layout.sockets[0]]
    middle, ends = passes[-1] / 2, []
    for z in (h * k / 4 for k in range(5)):
        radius, half = m / 2 + z * slope, layout.tail[1] / 2 - (h - z) * slope
        cut = unary_union(
            [
                box(at - radius, -90, at + radius, 0).union(Point(at, 0).buffer(radius, 256))
                for at in passes
            ]
        )
        low, high = -radius, radius
        for _ in range(40):  # the furthest that the tail's end comes past the bit's centre
            at = (low + high) / 2
            tail = box(middle - half, -80, middle + half, at)
            low, high = (at, high) if tail.difference(cut).area < 1e-9 else (low, at)
        lean = (h - z) * slope if bit == "same" else 0.0
        ends.append(low + lean)
    # The end of the pin board lies `depth` before the bit's centre; the tail is T - r from its face
    # to the shoulder that the rabbet leaves, and longer by the bit's flank at its end.
    reach = thickness - rabbet + (h * slope if bit == "same" else 0.0)
    return reach - depth - min(ends)


@pytest.mark.parametrize("bit", ["same", "straight"])
@pytest.mark.parametrize(("seed", "layout"), SOME[:15], ids=named)
def test_the_socket_goes_with_the_tail_boards_thickness(
    seed: int, layout: Layout, bit: str
) -> None:
    plan, rng = plan_of(layout), random.Random(seed)
    settings = set_to(layout.height, layout.width / 2, 12.0)
    was = proud(layout, plan.tail_thickness, plan.rabbet_depth, 12.0, bit)
    for thick in (rng.uniform(16, 24), rng.uniform(24, 30)):
        deep = depth_for(plan, settings, thick)
        assert proud(layout, thick, plan.rabbet_depth, deep, bit) == pytest.approx(was, abs=1e-6)
        # the oracle sees a depth that does not go with it
        assert abs(proud(layout, thick, plan.rabbet_depth, 12.0, bit) - was) > 1e-3


def test_two_thicknesses_are_the_left_and_the_right() -> None:
    plan = plan_of(SOME[0][1])
    settings = set_to(9.0, 70.0, 12.0)
    assert depths_for(plan, settings, (11.8, 12.1)) == (
        Depth(11.8, pytest.approx(12.0 + 11.8 - 24), ("left",)),
        Depth(12.1, pytest.approx(12.0 + 12.1 - 24), ("right",)),
    )
    assert depths_for(plan, settings, (20.0, 20.0)) == depths_for(plan, settings, (20.0,))
    assert depths_for(plan, settings, ()) == (Depth(24.0, 12.0),)


# --- which edge lies at the fence -----------------------------------------------------------------

Vector = tuple[int, int, int]


def cross(a: Vector, b: Vector) -> Vector:
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


# Of a drawer that stands before one: right, to the back, up.
LEFT, RIGHT, FRONT, BACK, UP = (-1, 0, 0), (1, 0, 0), (0, -1, 0), (0, 1, 0), (0, 0, 1)


@pytest.mark.parametrize(
    ("mark", "outside", "end"),
    [("FL", FRONT, LEFT), ("FR", FRONT, RIGHT), ("BL", BACK, LEFT), ("BR", BACK, RIGHT)],
)
def test_the_edge_at_the_fence_by_the_hand_rule(mark: str, outside: Vector, end: Vector) -> None:
    """At the table: right, towards the fence, up. The pin board's outside looks up, the end to be
    cut leads to the left; up x left is away from the fence.
    """
    away = cross(outside, end)
    assert cross((0, 0, 1), (-1, 0, 0)) == (0, -1, 0)
    edge = "other" if away == UP else "marked"
    ends = {e.kind: e for e in boards_said("front, back, 2 sides").ends if e.mark == mark}
    assert ends["pin"].edge == edge and ends["tail"].edge == edge
    assert ends["pin"].end == ("left" if end == LEFT else "right")
    assert ends["tail"].board == ("side 1" if end == LEFT else "side 2")


# --- the order ------------------------------------------------------------------------------------


def made(layout: Layout, said: str, off: float = 0.0) -> tuple[Boards, Schedule, Stops]:
    """A batch on the exact stops. off: how far out the fence really stands, mm."""
    boards = boards_said(said)
    found = stops(layout, layout.width / 2 + FACE + off, EXACT)
    depths = (Depth(24.0, 12.0, ("left",)), Depth(24.5, 12.5, ("right",)))
    return boards, schedule(boards, found, (RabbetPass(1.0, 1.0, 0.0),), depths), found


def cut_at(one: Pass, layout: Layout) -> float:
    """Where a pass really cuts, from the marked edge of the board, mm."""
    assert one.stop is not None
    at = one.stop.setting - FACE
    return at if one.edge == "marked" else layout.width - at


class Worked:
    """Every end as it is cut, pass by pass: its wood along the end, from the marked edge."""

    def __init__(self, layout: Layout) -> None:
        self.layout, self.wood, self.climbed = layout, dict[End, Polygon](), list[Pass]()

    def cut(self, one: Pass) -> None:
        layout, at = self.layout, cut_at(one, self.layout)
        whole = box(0, 0, layout.width, layout.height)
        before = self.wood.get(one.end, whole)
        taken = before.intersection(profile(layout, at))
        towards = box(-900, -1, at, 99) if one.edge == "marked" else box(at, -1, 900, 99)
        inner = taken.intersection(towards).area
        if inner > taken.area - inner + 1e-6:
            self.climbed.append(one)
        self.wood[one.end] = before.difference(profile(layout, at))

    def corner(self, mark: str) -> list[tuple[float, float]]:
        """The plays of a corner's tails, from the marked edge, both boards with it up."""
        both = {end.kind: wood for end, wood in self.wood.items() if end.mark == mark}
        tails = affinity.scale(both["tail"], 1, -1, origin=(0, self.layout.height / 2))
        assert tails.intersection(both["pin"]).area < 1e-4
        return plays(self.layout, tails, both["pin"])


@pytest.mark.parametrize("said", SAID)
@pytest.mark.parametrize(("seed", "layout"), [*SOME[:12], *TWO_PASSES[:3]], ids=named)
def test_a_batch_in_its_order_is_the_intended_joint(seed: int, layout: Layout, said: str) -> None:
    """The fence a little too far out, so that a board with the wrong edge at it would not fit: the
    last tail from the fence has 2 e more play, every other what was promised.
    """
    boards, order, _ = made(layout, said, off=0.02)
    worked = Worked(layout)
    for one in order.passes():
        if one.stop is not None:
            worked.cut(one)
    assert worked.climbed == []
    assert set(worked.wood) == set(boards.ends)
    for end in boards.ends:
        play = [left + right for left, right in worked.corner(end.mark)]
        from_fence = play if end.edge == "marked" else play[::-1]
        assert from_fence == pytest.approx([PLAY] * (layout.tails - 1) + [PLAY + 0.04], abs=2e-5), (
            end
        )


@pytest.mark.parametrize(("seed", "layout"), SOME[:10], ids=named)
def test_the_oracle_sees_a_climb_cut(seed: int, layout: Layout) -> None:
    """The far edge's slot from the wrong side, and the slots from the far edge inwards: of a wide
    socket each later pass then cuts on the fence's side.
    """
    _, order, _ = made(layout, "front, side 2")
    first = next(one for one in order.passes() if one.stop is not None)
    assert first.stop is not None
    far = replace(first.stop, setting=layout.width - layout.edge + FACE)
    worked = Worked(layout)
    worked.cut(replace(first, stop=far))
    assert worked.climbed or layout.edge > layout.mouth / 2  # a strip is left: both sides cut
    sockets = [one for one in order.passes() if one.end.kind == "pin"]
    for one in reversed([p for p in sockets if p.end == sockets[0].end]):
        worked.cut(one)
    assert bool([p for p in worked.climbed if p.end.kind == "pin"]) == layout.wide


@pytest.mark.parametrize("said", SAID)
def test_each_stop_is_set_once_and_the_fence_moves_out_only(said: str) -> None:
    layout = next(la for _, la in TWO_PASSES if la.tails > 2)
    boards, order, found = made(layout, said)
    passes = [(one.step, one.stop) for one in order.passes() if one.stop is not None]
    sets = [key for key, _ in groupby(passes, key=lambda p: (p[0], p[1].number))]
    assert len(sets) == len(set(sets))  # never again within a run
    for step, run in groupby(sets, key=lambda key: key[0]):
        numbers = [number for _, number in run]
        settings = [s.setting for s in found.stops if s.number in numbers]
        assert numbers == sorted(numbers) and settings == sorted(settings), step
    assert [step.work for step in order.steps] == [
        "rabbet",
        "edges",
        "slots",
        "sockets",
        "sockets",
    ]
    for step in order.steps[3:]:
        assert step.depth is not None and {end.hand for end in step.ends} == set(step.depth.hands)
    # every tail end has its rabbet, both edges opened, and all its slots
    for end in (e for e in boards.ends if e.kind == "tail"):
        own = [one for one in order.passes() if one.end == end]
        opened = [(one.stop.number, one.edge) for one in own if one.stop and one.step == 2]
        assert sorted(opened) == [(n, e) for n in (1, 2) for e in ("marked", "other")]
        assert sum(one.stop is None for one in own) == 1
        assert sum(one.step == 3 for one in own) == layout.tails - 1
