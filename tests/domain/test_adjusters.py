"""What a machine can be set to, and that the advice never shows anything else.

Outside checks: exact rational arithmetic (`fractions`) for the marks of an inch rule and for what
lies nearest on a grid; what a user's scale shows is worked out here from the scale's zero. Searched
by hypothesis, derandomized: no false alarm by chance.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from building import make_cut, make_plan, make_setup
from hypothesis import given, settings
from hypothesis import strategies as st
from tables import table

from fitlog.advice import advise
from fitlog.advice.history import History
from fitlog.domain import Aspect, Machine, Said, Settings, adjuster
from fitlog.domain.adjusters import Adjuster
from fitlog.families.half_blind.names import HALF_BLIND, WORDS, say
from fitlog.families.half_blind.opening import first_settings

STEADY = {"derandomize": True, "deadline": None, "database": None}
FULL = table(
    "full", height_step=0.1, fence_step=25.4 / 64, depth_step=0.5, height_zero=0.37, fence_zero=-1.3
)
# values are rounded to 1e-6 mm, so that two of them differ by that from their grid at most
MICRON = 2e-6

STEPS = st.sampled_from([0.01, 0.02, 0.05, 0.1, 0.25, 0.5, 25.4 / 128, 25.4 / 64, 1.5 / 32])
PLACES = st.integers(0, 120_000).map(lambda n: n / 1000)
ORIGINS = st.integers(-3000, 3000).map(lambda n: n / 1000)


def off_grid(value: float, step: float, origin: float) -> float:
    """How far a value lies from the nearest origin + k * step, by exact rational arithmetic, mm."""
    away = (Fraction(value) - Fraction(origin)) / Fraction(step)
    return float(abs(away - round(away)) * Fraction(step))


# --- which adjuster -------------------------------------------------------------------------------


def test_without_a_machine_or_a_step_a_caliper_is_all_that_limits() -> None:
    for machine in (None, Machine("bare")):
        assert (
            adjuster(machine, "height") == Adjuster("free", 0.01, -0.0)
            and not adjuster(machine, "depth").coarse
        )


@pytest.mark.parametrize(
    ("aspect", "step", "origin"),
    [("fit", 0.1, -0.37), ("centre", 25.4 / 64, 1.3), ("seat", 0.5, 0.0)],
)
def test_steps_count_from_the_users_own_zero(aspect: Aspect, step: float, origin: float) -> None:
    """zero: what the scale shows less the true value, so that the scale's 0 is truly at
    minus that.
    """
    found = adjuster(FULL, HALF_BLIND.adjusted(aspect).part)
    assert (found.kind, found.step, found.origin, found.sd, found.coarse) == (
        "steps",
        step,
        origin,
        0.0,
        True,
    )


@pytest.mark.parametrize("part", ["height", "fence", "depth"])
def test_between_marks_a_quarter_is_set_by_eye_with_its_error(part: str) -> None:
    """A quarter of a mark's distance, an eighth of it as sd: common practice, no source."""
    machine = table("eye", height_step=1.0, fence_step=1.0, depth_step=1.0, between=(part,))
    for name in ("height", "fence", "depth"):
        found = adjuster(machine, name)
        assert (found.kind, found.step, found.sd) == (
            ("between", 0.25, 0.125) if name == part else ("steps", 1.0, 0.0)
        )
    assert adjuster(table("no marks", between=(part,)), part).kind == "free"


def test_a_lift_by_turns_starts_from_where_it_stands() -> None:
    lift = table("turns", height_turn=1.6)
    found = adjuster(lift, "height", 8.437)
    assert (found.kind, found.step, found.origin) == ("turns", 0.05, 8.437) and found.nearest(
        8.437
    ) == 8.437
    assert adjuster(lift, "height").kind == "free", (
        "where it stands is not known before the first piece"
    )
    assert adjuster(lift, "fence", 75.0).kind == "free"
    both = table("both", height_turn=1.6, height_step=0.1)
    assert adjuster(both, "height", 8.437).kind == "steps"


# --- what lies on its grid ------------------------------------------------------------------------


@settings(max_examples=400, **STEADY)
@given(PLACES, STEPS, ORIGINS)
def test_the_nearest_is_on_the_grid_and_nothing_on_it_is_nearer(
    value: float, step: float, origin: float
) -> None:
    found = Adjuster("steps", step, origin).nearest(value)
    assert off_grid(found, step, origin) <= MICRON
    exactly = (Fraction(value) - Fraction(origin)) / Fraction(step)
    least = min(abs(exactly - k) for k in (math.floor(exactly), math.ceil(exactly))) * Fraction(
        step
    )
    assert abs(found - value) <= float(least) + MICRON


@settings(max_examples=400, **STEADY)
@given(PLACES, STEPS, ORIGINS)
def test_below_and_above_are_the_neighbours(value: float, step: float, origin: float) -> None:
    can, slack = Adjuster("steps", step, origin), 1e-6 * step + MICRON
    below, above = can.below(value), can.above(value)
    assert off_grid(below, step, origin) <= MICRON and off_grid(above, step, origin) <= MICRON
    assert (
        value - step - slack < below <= value + slack
        and value - slack <= above < value + step + slack
    )
    assert above - below == pytest.approx(
        0.0 if off_grid(value, step, origin) <= slack else step, abs=2 * slack
    )
    assert min((below, above), key=lambda v: abs(v - value)) == pytest.approx(
        can.nearest(value), abs=2 * slack
    ) or (abs(value - below) == pytest.approx(abs(above - value), abs=2 * slack))


@settings(max_examples=200, **STEADY)
@given(PLACES, STEPS, ORIGINS, st.integers(0, 60))
def test_within_is_the_whole_grid_from_end_to_end(
    low: float, step: float, origin: float, steps: int
) -> None:
    can, high = Adjuster("steps", step, origin), low + (steps + 0.5) * step
    found = list(can.within(low, high))
    expected = [
        k
        for k in range(math.floor((low - origin) / step) - 1, math.ceil((high - origin) / step) + 2)
        if low - 1e-6 * step <= origin + k * step <= high + 1e-6 * step
    ]
    assert found == pytest.approx([origin + k * step for k in expected], abs=MICRON)
    assert list(can.within(can.below(low) + 0.3 * step, can.below(low) + 0.6 * step)) == []


@pytest.mark.parametrize("mark", [1, 63, 64, 65, 189, 12345])
def test_a_setting_on_a_mark_stays_there_whatever_binary_makes_of_it(mark: int) -> None:
    """A sixty-fourth of an inch is no binary fraction of a millimetre: no neighbour may be taken
    for it.
    """
    can, exactly = Adjuster("steps", 25.4 / 64), float(Fraction(254, 640) * mark)
    assert (
        can.below(exactly)
        == can.above(exactly)
        == can.nearest(exactly)
        == pytest.approx(exactly, abs=MICRON)
    )


# --- the advice -----------------------------------------------------------------------------------


def on_scale(machine: Machine, at: Settings) -> None:
    """The settings read on the user's own scales are marks of those scales."""
    for shown, step, part in (
        (at["bit_height"] + machine.zero("height"), machine.step("height"), "height"),
        (at["fence_offset"] + machine.zero("fence"), machine.step("fence"), "fence"),
        (at["socket_depth"], machine.step("depth"), "depth"),
    ):
        if step is not None:
            made = step / 4 if part in machine.between else step
            assert off_grid(shown, made, 0.0) <= 2 * MICRON, f"{part} {shown} is no mark of {made}"


MACHINES = st.builds(
    table,
    st.just("any"),
    height_step=st.sampled_from([0.02, 0.1, 25.4 / 128]),
    fence_step=st.sampled_from([0.1, 25.4 / 64]),
    depth_step=st.sampled_from([0.1, 0.5]),
    height_zero=st.sampled_from([0.0, 0.337]),
    fence_zero=st.sampled_from([0.0, -0.213]),
    between=st.sampled_from([(), ("fence",), ("height", "depth")]),
)
SIZES = st.none() | st.integers(2, 150).map(lambda n: n / 100)


def said(aspect: Aspect) -> st.SearchStrategy[Said | None]:
    """Any word or none; off its settling word sometimes with a number."""
    made = st.builds(
        lambda w, s: say(aspect, w, None if w in ("centred", "flush") or "tight" in w else s),
        st.sampled_from(WORDS[aspect]),
        SIZES,
    )
    return st.none() | made


@settings(max_examples=60, **STEADY)
@given(
    MACHINES,
    st.lists(st.tuples(said("fit"), said("centre"), said("seat")), max_size=3),
    st.sampled_from([6.3, 6.31]),
)
def test_the_advice_shows_only_what_the_machine_can_be_set_to(
    machine: Machine, spoken: list[tuple[Said | None, Said | None, Said | None]], rabbet: float
) -> None:
    """As the tool is used: each piece is cut at the settings that were advised, and judged in any
    words.
    """
    plan = make_plan(machine=machine, rabbet_depth=rabbet)
    at, cuts = first_settings(plan, History()), []
    on_scale(machine, at)
    for number, words in enumerate(spoken, 1):
        cuts.append(make_cut(number, at, *words))
        found = advise(make_setup(plan, at if not cuts else cuts[0].settings, cuts), History())
        on_scale(machine, found.settings)
        assert found.real is not None
        on_scale(machine, found.real)  # the boards are of the pieces' own size
        at = found.settings


def test_a_coarse_stop_is_never_told_a_hundredth() -> None:
    """13.69 and 7.31 on a 0.1 mm stop: what a depth stop was told before it had steps."""
    plain, stepped = (table("stop", depth_step=step) for step in (None, 0.1))
    told = [
        first_settings(make_plan(machine=m, rabbet_depth=6.31), History())["socket_depth"]
        for m in (plain, stepped)
    ]
    assert off_grid(told[0], 0.1, 0.0) > 1e-3, "the free stop shows that the step is what rounds it"
    assert off_grid(told[1], 0.1, 0.0) <= MICRON and abs(told[1] - told[0]) < 0.1
