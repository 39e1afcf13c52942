"""Layouts on the fence's marks: what is offered loses no play, and a pitch that does is told of
before the first piece.

Bits and boards are invented. The property tests are derandomised, so that they have no false
alarms.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shop import Shop, by_code

from fitlog.domain import Bit
from fitlog.errors import Refused
from fitlog.families.family import Limit
from fitlog.families.half_blind.layouts import Asked, Found, Layout, Reach, find, stops
from fitlog.families.half_blind.layouts.marks import on_marks, rounding
from fitlog.language.units import Ruler

STEADY = settings(derandomize=True, deadline=None, database=None, max_examples=150)
INCH_64 = 25.4 / 64
STEPS = st.sampled_from([0.05, 0.1, 0.25, 0.5, 25.4 / 128, INCH_64, 1.0])


def reach_of(diameter: float, angle: float, thick: float) -> Reach:
    """A bit that cuts exactly by its figures, with a play of 0.07 mm."""
    slope = 2 * math.tan(math.radians(angle))
    length = min(16.0, 0.9 * (diameter - 1) / slope)
    bit, high = (
        Bit("invented", diameter, angle, length),
        min(thick - 2.4, length - 0.1, (diameter - 3) / slope),
    )
    pitch = 2 * diameter - 0.07 - slope * 0.75 * high
    return Reach(
        bit,
        Limit(2.0, high, "", "a limit", "", ""),
        pitch,
        lambda p, n: ((2 * diameter - p - 0.07) / slope, 0.2),
    )


@st.composite
def offered(draw: st.DrawFn) -> tuple[list[Found], float]:
    """What a random board, bit and fence are offered."""
    step = draw(STEPS)
    reach = reach_of(draw(st.floats(9, 22)), draw(st.floats(6, 15)), draw(st.floats(14, 24)))
    try:
        asked = Asked(draw(st.floats(70, 420)), 24.0, 20.0, step=step, mark=step)
        return find([reach], asked, Ruler()), step
    except Refused:
        assume(False)
        raise


@STEADY
@given(offered())
def test_what_is_on_the_marks_loses_no_play(given_: tuple[list[Found], float]) -> None:
    found, step = given_
    for one in (f for f in found if f.true):
        assert one.rounded is not None
        assert one.rounded.lost == pytest.approx(0.0, abs=5e-5)
        sets = [
            s
            for s in stops(one.layout, 0.0, step).stops
            if s.cut.kind in ("slot", "socket", "first", "last")
        ]
        assert all(abs(s.error) < 5e-4 for s in sets)  # passes that only clear may lie anywhere
    for one in (f for f in found if not f.true):  # and where it does lose, it is said
        assert (
            one.rounded is not None and one.rounded.lost == stops(one.layout, 0.0, step).play_lost
        )


@STEADY
@given(offered(), st.floats(0, 1))
def test_a_zero_between_two_marks_changes_the_last_tail_alone(
    given_: tuple[list[Found], float], share: float
) -> None:
    """All stops share one fraction of a step; the far edge, cut after the turn, has it the other
    way.
    """
    found, step = given_
    assume(abs(share - 0.5) > 1e-3)  # half-way between two marks either is right
    for layout in [f.layout for f in found if f.true][:6]:
        made = stops(layout, share * step, step)
        changes = [left + right for left, right in made._changes()]
        error = made.of("tail")[len(layout.edge_passes) - 1].error
        assert changes[:-1] == pytest.approx([0.0] * (layout.tails - 1), abs=1e-4)
        assert changes[-1] == pytest.approx(2 * error, abs=1e-4) == made.last_tail


@STEADY
@given(
    st.integers(1, 12),
    st.integers(40, 80),
    st.integers(0, 40),
    st.sampled_from([0.1, 0.5, INCH_64]),
)
def test_which_cuts_must_fall_on_marks(tails: int, pitch: int, more: int, step: float) -> None:
    """Against every cut by itself: spacing, half the pitch and the outermost slot are all that it
    takes.
    """
    bit, spacing = Bit("invented", 0.6 * pitch * step, 8, 3), (pitch + more) * step
    layout = Layout(bit, 1.0, 400 * step * tails, tails, pitch * step, spacing)
    places = [at - layout.width / 2 for at in layout.slots] + [
        at - layout.width / 2 for passes in layout.sockets for at in (passes[0], passes[-1])
    ]
    assert on_marks(layout, step) == all(abs(at / step - round(at / step)) < 1e-3 for at in places)


def test_equal_fractions_are_rounded_alike() -> None:
    """An odd number of steps puts every socket half-way between two marks: all must go the same
    way.
    """
    bit = Bit("invented", 14.3, 10.0, 15.0)
    layout = Layout(bit, 13.4, 150.0, 6, 23.5, 23.5)  # 47 steps of 0.5 mm
    made = stops(layout, 75.0, 0.5)
    assert {round(s.error, 6) for s in made.of("pin")} == {
        0.25
    } and made.play_lost == pytest.approx(0.0, abs=1e-9)


# --- from the shell: an invented 1/2 in bit of 14 degrees, boards 5-1/2 in, a fence in 64ths ------


@pytest.fixture
def inches(shop: Shop) -> Shop:
    return shop.built(_inches)


def _inches(shop: Shop) -> None:
    shop.words("prefer --units fraction")
    shop.words("bit add half --diameter 1/2in --angle 14 --cutting-length 1/2in")
    shop.words("stock add pine --species pine --thickness 3/4in --width 5-1/2in")
    shop.words("machine add table --fence-step 1/64in")


def test_plan_ranks_by_the_play_that_rounding_costs(inches: Shop) -> None:
    """The first choice lost 0.68 mm of play; a layout further down lost none."""
    found = inches.json("plan --all")["layouts"]
    first = found[0]
    assert first["on_marks"] and abs(first["play_lost"]) < 1e-3 and first["largest_rounding"] < 1e-3
    assert first["pitch"] / INCH_64 == pytest.approx(round(first["pitch"] / INCH_64), abs=1e-3)
    lost = [abs(one["play_lost"]) for one in found]
    assert max(lost) > 0.2 and max(lost[:6]) <= 0.03
    said = inches.words("plan").out
    assert "on the fence's marks" in said


def test_the_start_command_of_plan_keeps_the_marks(inches: Shop) -> None:
    first = inches.json("plan")["layouts"][0]
    inches.words(inches.words("plan").out.split("Go on with the first: fitlog ")[1].split("\n")[0])
    made = inches.json("stops")
    assert made["layout"]["pitch"] == first["pitch"] and abs(made["play_lost"]) < 0.03
    assert "marks-lose-play" not in by_code(inches.json("next")["notices"])


def test_start_warns_before_the_first_piece_and_names_a_pitch(inches: Shop) -> None:
    text = by_code(inches.json("start --tails 4")["notices"])["marks-lose-play"]
    again = text.split("start with ")[1].split(")")[0]
    inches.words("undo --yes")
    inches.words(f"start {again}")
    made = inches.json("next")
    assert "marks-lose-play" not in by_code(made["notices"]), again
    assert abs(inches.json("stops")["play_lost"]) < 0.03


def test_no_warning_where_the_fence_is_free_or_a_spacer_steps(inches: Shop) -> None:
    assert "marks-lose-play" in by_code(inches.json("start")["notices"])
    inches.words("cut tight")
    assert "marks-lose-play" not in by_code(
        inches.json("next")["notices"]
    )  # too late to be worth a line
    inches.words("finish --abandon")
    assert "marks-lose-play" not in by_code(inches.json("start --spacer")["notices"])
    inches.words("finish --abandon")
    inches.words("machine add free")
    assert "marks-lose-play" not in by_code(inches.json("start --machine free")["notices"])


def test_a_fence_set_between_its_marks_rounds_to_less() -> None:
    """The same layouts, a quarter of the step: what rounding costs is no more than a quarter of a
    step a flank.
    """
    layout = Layout(Bit("invented", 12.7, 14.0, 12.7), 9.0, 139.7, 7, 139.7 / 7, 139.7 / 7)
    assert (
        abs(rounding(layout, INCH_64 / 4).lost)
        <= INCH_64 / 2
        < abs(rounding(layout, INCH_64).lost) + 0.2
    )
