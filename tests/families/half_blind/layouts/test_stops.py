"""Positions, passes and order of the real boards' cuts, against plain arithmetic."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitlog.domain import Bit
from fitlog.families.half_blind.layouts import Layout, layout_of, rabbet_passes, stops
from fitlog.families.half_blind.layouts.layout import fitting_tails, regular, wide_tails

BIT = Bit("invented", 14.3, 10.0, 15.0)
HEIGHT = 13.4
STEADY = settings(derandomize=True, deadline=None, database=None, max_examples=200)


# --- the rabbet: common practice, no source -------------------------------------------------------


@pytest.mark.parametrize(
    ("depth", "passes"),
    [
        (8.0, (1, 3, 3, 1)),
        (7.5, (1, 3, 3, 0.5)),
        (7.0, (1, 3, 3)),
        (1.0, (1,)),
        (0.6, (0.6,)),
        (4.0, (1, 3)),
        (4.1, (1, 3, 0.1)),
        (1.2, (1, 0.2)),
        (6.35, (1, 3, 2.35)),
    ],
)
def test_rabbet_passes(depth: float, passes: tuple[float, ...]) -> None:
    assert rabbet_passes(depth) == pytest.approx(passes)


@STEADY
@given(st.floats(0.1, 40))
def test_rabbet_passes_add_up(depth: float) -> None:
    found = rabbet_passes(depth)
    assert sum(found) == pytest.approx(depth, abs=1e-5) and found[0] <= 1
    assert all(0 < part <= 3 for part in found) and len(found) == 1 + math.ceil(
        (depth - 1) / 3 - 1e-6
    ) * (depth > 1)


# --- positions: W = n P, alike and wide -----------------------------------------------------------


def test_exact_half_pins_by_hand() -> None:
    """Six tails on 150 mm: P = 25, slots at 0, 25 .. 150, sockets at 12.5, 37.5 .. 137.5."""
    layout = regular(BIT, HEIGHT, 150, 6, 25.0)
    assert layout.slots == pytest.approx([0, 25, 50, 75, 100, 125, 150])
    assert [at for (at,) in layout.sockets] == pytest.approx([12.5, 37.5, 62.5, 87.5, 112.5, 137.5])
    assert layout.exact and layout.middle == "pin" and layout.cuts == 7 + 6
    mouth = 14.3 - 2 * 13.4 * math.tan(math.radians(10))
    assert layout.pin == pytest.approx((25 - 14.3, 25 - mouth))
    assert layout.half_pin == pytest.approx(((25 - 14.3) / 2, (25 - mouth) / 2))


def test_wide_tails_by_hand() -> None:
    """Three tails on 150 mm, fitted at 23.6: sockets 50 apart, their outermost passes
    26.4 apart.
    """
    layout = wide_tails(BIT, HEIGHT, 150, 3, 23.6)
    assert [(p[0], p[-1]) for p in layout.sockets] == [
        pytest.approx((middle - 13.2, middle + 13.2)) for middle in (25, 75, 125)
    ]
    for passes in layout.sockets:
        gaps = [b - a for a, b in pairwise(passes)]
        assert max(gaps) <= layout.mouth - 1 and max(gaps) - min(gaps) < 1e-9
    assert layout.pin[0] == pytest.approx(23.6 - 14.3)  # one bit wide: the slot's own pin
    kinds = [stop.cut.kind for stop in stops(layout, 75.0, 0.05).of("pin")]
    assert (
        kinds.count("first") == kinds.count("last") == 3
        and kinds[0] == "first"
        and kinds[-1] == "last"
    )


def test_a_pitch_of_the_spacer_gives_half_pins_as_they_fall() -> None:
    found = fitting_tails(BIT, HEIGHT, 160.0, 23.6, 3.0)
    assert {layout.tails for layout in found} == {6}
    assert found[0].edge == pytest.approx((160 - 6 * 23.6) / 2)
    both = fitting_tails(BIT, HEIGHT, 160.0, 23.6, 2.0)
    assert [layout.tails for layout in both] == [7, 6] and {layout.middle for layout in both} == {
        "tail",
        "pin",
    }


def test_what_a_number_of_tails_means() -> None:
    alike, wide = layout_of(BIT, HEIGHT, 150, 6, 23.6), layout_of(BIT, HEIGHT, 150, 4, 23.6)
    assert alike is not None and not alike.wide
    assert wide is not None and wide.wide and wide.spacing == pytest.approx(37.5) and wide.exact


# --- the fence ------------------------------------------------------------------------------------


@st.composite
def layouts(draw: st.DrawFn) -> Layout:
    width, tails = draw(st.floats(60, 600)), draw(st.integers(1, 24))
    pitch = draw(st.floats(21.0, 24.5))
    return wide_tails(BIT, HEIGHT, max(width, tails * pitch), tails, pitch)


@STEADY
@given(layouts(), st.floats(-50, 400), st.sampled_from([None, 0.05, 0.1, 0.5, 25.4 / 64]))
def test_stops_move_one_way_and_each_is_rounded_by_itself(
    layout: Layout, zero: float, step: float | None
) -> None:
    found, grid = stops(layout, zero, step), step or 0.01
    for board in ("tail", "pin"):
        mine = found.of(board)  # type: ignore[arg-type]
        assert all(a.exact < b.exact for a, b in pairwise(mine)) and all(
            a.setting <= b.setting for a, b in pairwise(mine)
        )
    for stop in found.stops:
        assert stop.exact == pytest.approx(zero - layout.width / 2 + stop.cut.position)
        assert abs(stop.error) <= grid / 2 + 1e-6
        assert stop.setting / grid == pytest.approx(round(stop.setting / grid), abs=1e-3)
    assert found.largest_error == max(abs(s.error) for s in found.stops)
    assert abs(found.play_lost) <= 2 * grid + 1e-5
    assert [s.number for s in found.stops] == list(range(1, len(found.stops) + 1))


@STEADY
@given(layouts(), st.floats(-3, 3))
def test_the_pattern_is_the_same_from_either_edge(layout: Layout, shift: float) -> None:
    """So that both hands of a drawer use the same stops."""
    tails = [
        *(s.cut.position for s in stops(layout, shift, None).of("tail")),
        layout.width - layout.edge,
    ]
    pins = [s.cut.position for s in stops(layout, shift, None).of("pin")]
    for places in (tails, pins):
        assert sorted(layout.width - at for at in places) == pytest.approx(sorted(places), abs=1e-6)


def test_a_strip_at_the_edge_is_cleared_by_a_second_pass() -> None:
    """Six tails at 23.6 on 160 mm: the outer slots' centres 9.2 from the edges, half a mouth is
    4.79.
    """
    layout = layout_of(BIT, HEIGHT, 160, 6, 23.6, 23.6)
    assert (
        layout is not None
        and len(layout.edge_passes) == 2
        and layout.edge_passes[1] == pytest.approx(9.2)
    )
    assert layout.edge_passes[0] - layout.mouth / 2 <= 0 < layout.edge_passes[1] - layout.mouth / 2
    assert layout.edge_passes[1] - layout.edge_passes[0] <= layout.mouth - 1 + 1e-9
    assert [s.cut.kind for s in stops(layout, 80.0, 0.05).of("tail")][:3] == [
        "edge",
        "edge",
        "slot",
    ]
    assert layout.half_pin[0] == pytest.approx(9.2 + (23.6 - 14.3) / 2) and layout.cuts == 5 + 4 + 6
    assert layout_of(BIT, HEIGHT, 160, 6, 23.6) == layout  # tails alike while they can be cut
    wide = layout_of(BIT, HEIGHT, 160, 6, 23.6, 26.0)
    assert wide is not None and wide.wide and wide.edge == pytest.approx(2.0)


def test_tails_that_do_not_fit() -> None:
    assert layout_of(BIT, HEIGHT, 150, 7, 23.6) is None
    assert layout_of(BIT, HEIGHT, 150, 6, 23.6, 30.0) is None
