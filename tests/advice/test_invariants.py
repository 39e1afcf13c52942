"""What must hold whatever was cut and said: searched by hypothesis over arbitrary histories, fixed
seeds.

No outside source: these are the promises of the advice itself (order, scale, limits, never against
the word just said).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from importlib import import_module
from itertools import pairwise
from typing import Any

import pytest
from building import BIT, about, make_cut, make_plan, make_setup
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from tables import table

from fitlog import defaults
from fitlog.advice import advise
from fitlog.advice.aim import SURELY, Aim, aim
from fitlog.advice.history import History
from fitlog.advice.knowledge import SWAPPED, Knowledge, know
from fitlog.advice.laws import law_of, nominal_of
from fitlog.advice.settled import SAME
from fitlog.domain import (
    Aspect,
    Bit,
    Machine,
    Piece,
    Plan,
    Said,
    Settings,
    Stock,
    Window,
    adjusters,
    merge,
)
from fitlog.families.half_blind import figures
from fitlog.families.half_blind.names import WORDS, say, set_to
from fitlog.families.half_blind.plan import DovetailPlan
from fitlog.families.half_blind.showing import fence_side_chance, showing

FIRST = set_to(8.41, 75.2, 11.2)
MACHINES = [
    None,
    table("coarse", height_step=0.05, fence_step=0.1),
    table("turns", height_turn=1.5, fence_step=0.25),
    table("odd zeros", height_step=0.1, fence_step=0.1, height_zero=0.337, fence_zero=-0.213),
]
STEADY = {"derandomize": True, "deadline": None, "database": None}


def away(most: float) -> st.SearchStrategy[float]:
    """How far a setting was moved from the first one, in hundredths of a millimetre or finer."""
    return st.integers(-int(most * 1000), int(most * 1000)).map(lambda n: n / 1000)


def sized(aspect: Aspect, words: Sequence[str], most: float) -> st.SearchStrategy[Said | None]:
    """A word, sometimes with its number, or no judgement."""
    size = st.none() | st.integers(2, int(most * 100)).map(lambda n: n / 100)
    said = st.builds(
        lambda w, s: say(aspect, w, None if w in ("centred", "flush") else s),
        st.sampled_from(words),
        size,
    )
    return st.none() | said


FIT = st.none() | st.builds(lambda w: say("fit", w), st.sampled_from(WORDS["fit"]))
FIT_READ = FIT | st.builds(
    lambda w, s: say("fit", w, s / 100), st.sampled_from(WORDS["fit"][2:]), st.integers(5, 200)
)
CENTRE = sized("centre", WORDS["centre"], 1.5)
SEAT = sized("seat", WORDS["seat"], 1.5)
NOTHING: st.SearchStrategy[Said | None] = st.none()


def histories(
    fit: st.SearchStrategy[Said | None] = FIT_READ,
    centre: st.SearchStrategy[Said | None] = CENTRE,
    seat: st.SearchStrategy[Said | None] = NOTHING,
    most: int = 5,
) -> st.SearchStrategy[tuple[Piece, ...]]:
    """One to `most` pieces about FIRST, with words that may well contradict each other."""
    one = st.tuples(away(0.6), away(0.4), away(0.5), fit, centre, seat)

    def build(rows: list[Any]) -> tuple[Piece, ...]:
        return merge(
            make_cut(
                i,
                set_to(
                    FIRST["bit_height"] + h, FIRST["fence_offset"] + x, FIRST["socket_depth"] + s
                ),
                *said,
            )
            for i, (h, x, s, *said) in enumerate(rows, 1)
        )

    return st.lists(one, min_size=1, max_size=most).map(build)


def next_aim(plan: Plan, pieces: Sequence[Piece]) -> tuple[Knowledge, Aim]:
    known = know(plan, pieces, History(), FIRST)
    return known, aim(known, pieces, pieces[-1].settings)


# --- the order of trial cuts ----------------------------------------------------------------------


@settings(max_examples=60, **STEADY)
@given(st.data())
def test_the_order_of_cuts_does_not_matter(data: st.DataObject) -> None:
    pieces = data.draw(histories(seat=SEAT, most=4))
    shuffled = data.draw(st.permutations(pieces))
    one, other = (know(make_plan(), order, History(), FIRST) for order in (pieces, shuffled))
    for a, b in (
        (one.law("fit"), other.law("fit")),
        (one.law("centre"), other.law("centre")),
        (one.coupled("seat").marginal, other.coupled("seat").marginal),
    ):
        assert a.mean == pytest.approx(b.mean, abs=1e-9)
        assert a.sd == pytest.approx(b.sd, abs=1e-9)


# --- a tighter word never raises the bit ----------------------------------------------------------


@settings(max_examples=80, **STEADY)
@given(history=histories(fit=FIT, centre=NOTHING), many=st.booleans(), sharpened=st.integers(0, 1))
@example(history=merge([make_cut(1, FIRST)]), many=False, sharpened=1)
def test_without_slips_a_tighter_word_never_asks_for_a_higher_bit(
    history: tuple[Piece, ...], many: bool, sharpened: int
) -> None:
    """A sharpened bit starts from a wide prior, where the rule of the choice changes from one law
    to another.
    """
    plan = make_plan(replace(BIT, sharpenings=sharpened), many_tails=many, in_play=("fit",))
    last = history[-1]
    with pytest.MonkeyPatch.context() as patch:
        for lapse in ("SLIP", "SWAP_ONCE", "SWAPPED"):
            patch.setattr(defaults, lapse, 0.0)
        patch.setattr(figures, "FAR_OFF", dict.fromkeys(figures.FAR_OFF, 0.0))
        heights = []
        for word in WORDS["fit"]:
            cut = make_cut(last.number, last.settings, word)
            _, found = next_aim(plan, (*history[:-1], *merge([cut])))
            heights.append(
                found.wanted.get("fit", last.settings["bit_height"])
            )  # a settled fit stays where it is
    for tighter, looser in pairwise(heights):
        assert tighter <= looser + 1e-6, dict(zip(WORDS["fit"], heights, strict=True))


# --- never against the word just said -------------------------------------------------------------


def check_not_against(
    aspect: Aspect, looser: int, history: tuple[Piece, ...], machine: Machine | None
) -> None:
    """looser: which way the setting goes for a positive misfit. Loose: raise the bit; gap far: move
    the fence in.
    """
    last = history[-1]
    said = last.verdict.of(aspect)
    assume(said is not None and said.side)
    assert said is not None
    known, found = next_aim(make_plan(machine=machine), history)
    if aspect != "fit" and known.chance_of(aspect, SWAPPED) >= SURELY:
        said = said.turned  # asked about, and taken as meant
    before = last.settings.of(aspect)
    unrounded, rounded = found.wanted.get(aspect, before), found.settings.of(aspect)
    assert (unrounded - before) * looser * said.side >= -1e-9, (str(said), before, unrounded)
    assert (rounded - before) * looser * said.side >= -1e-9, (str(said), before, rounded)


@settings(max_examples=80, **STEADY)
@given(history=histories(centre=NOTHING), machine=st.sampled_from(MACHINES))
@example(
    history=merge([make_cut(1, set_to(8.44, 75.2, 11.2), say("fit", "slightly tight", 0.6))]),
    machine=MACHINES[1],
)
def test_the_fit_never_goes_against_the_word_just_said(
    history: tuple[Piece, ...], machine: Machine | None
) -> None:
    check_not_against("fit", 1, history, machine)


NEAR_THEN_FAR = merge(
    [
        make_cut(1, FIRST, centre=say("centre", "gap near", 1.2)),
        make_cut(2, FIRST, centre=say("centre", "gap near", 1.2)),
        make_cut(3, FIRST, centre="gap far"),
    ]
)
FAR_THEN_NEAR = merge(
    [
        make_cut(1, FIRST, centre=say("centre", "gap far", 1.2)),
        make_cut(2, FIRST, centre=say("centre", "gap far", 1.2)),
        make_cut(3, FIRST, centre="gap near"),
    ]
)


@settings(max_examples=80, **STEADY)
@given(history=histories(fit=NOTHING), machine=st.sampled_from(MACHINES))
@example(history=NEAR_THEN_FAR, machine=None)
@example(history=FAR_THEN_NEAR, machine=None)
def test_the_fence_never_goes_against_the_word_just_said(
    history: tuple[Piece, ...], machine: Machine | None
) -> None:
    check_not_against("centre", -1, history, machine)


@settings(max_examples=60, **STEADY)
@given(history=histories(fit=FIT, centre=NOTHING, seat=SEAT, most=3))
def test_the_seat_never_goes_against_the_word_just_said(history: tuple[Piece, ...]) -> None:
    """In terms of the step itself, as another fit moves it too; a depth is set to 0.01, so a step
    is only to half that.

    A word whose sides are surely swapped is taken, and said to be taken, as the word of the other
    side.
    """
    last = history[-1]
    said = last.verdict.of("seat")
    assume(said is not None and said.side)
    assert said is not None
    known, found = next_aim(make_plan(), history)
    if "seat" in found.held:
        return

    def step(at: Settings) -> float:
        return nominal_of(known, "seat", at) + law_of(known, "seat", at).mean

    side = said.turned.side if known.chance_of("seat", SWAPPED) >= SURELY else said.side
    unrounded = found.settings.moved("seat", found.wanted["seat"])
    assert (step(unrounded) - step(last.settings)) * side <= 1e-6
    assert (step(found.settings) - step(last.settings)) * side <= adjusters.PLAIN_STEP / 2 + 1e-6


def test_a_joint_wanted_proud_is_not_pushed_to_flush() -> None:
    """Wanted 0.5 proud and 0.2 proud: the word is about flush, the window is not, and the socket
    must get shallower.
    """
    setup = make_setup(
        make_plan(wanted_step=0.5, in_play=("seat",)),
        FIRST,
        [
            make_cut(1, FIRST, seat=say("seat", "proud", 0.2)),
        ],
    )
    moves = advise(setup, History()).moves
    assert moves is not None
    assert moves["socket_depth"] == pytest.approx(-0.3, abs=0.03)


# --- scale ----------------------------------------------------------------------------------------

LENGTHS = [
    "GROOVE_COVER",
    "GROOVE_DEPTH",
    "LEAST_GROOVE",
    "RUN_HEIGHT",
    "STRAIGHT_PRINTED",
    "DIAMETER_PRINTED",
    "DIAMETER_MEASURED",
    "SHARPENING",
    "PITCH_BY_SCALE",
    "PITCH_BY_SPACER",
    "HEIGHT_ZERO",
    "STOCK_EFFECT",
    "DAY_TO_DAY_FIT",
    "FENCE_ZERO_MEASURED",
    "FENCE_ZERO_BY_EYE",
    "SOCKET_ZERO",
    "DAY_TO_DAY_FENCE",
    "DAY_TO_DAY_SOCKET",
    "HEIGHT_REPEAT",
    "WORD_NOISE",
    "BAND_EDGES",
    "CALIPER",
    "FEELER",
    "SLIP_RANGE",
    "FIT_EDGES",
    "LOST_SIZE",
    "FAR_OFF_SD",
    "MISREAD_WALL",
    "AGAIN_STEP",
    "ZERO_KNOWN",
    "FENCE_REMEMBERED",
    "FIT_EDGES_MANY_TAILS",
    "CENTRED",
    "PLAIN_GAP",
    "SEAT_EDGES",
    "FIT_WINDOW",
    "FIT_WINDOW_MANY_TAILS",
    "CENTRE_WINDOW",
    "SEAT_TOLERANCE",
    "LEAST_LAP",
    "LEAST_STRAIGHT_TAIL",
    "LEAST_MOUTH",
    "LEAST_WALL",
    "LEAST_HALF_PIN",
    "LEAST_PIN",
    "LEAST_SPREAD",
    "PASS_OVERLAP",
    "FENCE_REACH",
    "RABBET_FIRST",
    "RABBET_MOST",
    "RABBET_OVER",
    "MOST_SHAVING",
    "FENCE_SIDE_SHAVING",
    "FENCE_SIDE_ROUNDING",
    "START_OUTSIDE",
    "TRIFLE",
    "MEETING_SD",
    "MOVE_FAULT_LEAST",
    "DRIFT_HEIGHT",
    "DRIFT_FENCE",
    "LIFT_PLAY",
    "WIDE_BOARD",
]
OTHERS = [
    "GROOVE_POINTS",
    "GROOVE_SHARE",
    "LOOK_CAP",
    "LOOK_NEAR",
    "LOOK_RISK",
    "LOOK_SURE",
    "RUN_DRIFT",
    "SWAP_ONCE",
    "SWAPPED",
    "SWAPPED_SAID_AGAIN",
    "FAR_OFF",
    "AGAIN",
    "SETTLED_CHANCE",
    "NO_BETTER",
    "NO_BETTER_IN_WORDS",
    "NO_BETTER_ON_MARKS",
    "WORTH_SAYING",
    "SLOT_WORTH",
    "SCALE_DOUBT",
    "MANY_TAILS_FROM",
    "SPOILED_JOINT",
    "DOUBTFUL",
    "AS_FOUND_HOURS",
    "ANGLE_DEG",
    "SLIP",
    "UNNUMBERED_WIDE_GAP",
    "FENCE_SIDE_CHANCE",
    "MEDIAN_BEYOND",
    "NIBBLE",
    "ONE_SIDED_CHANCE",
    "SURPRISE",
    "SPECIES_SHARE",
    "COMPONENT_LESSONS",
    "COMPONENT_DOUBT",
    "COMPONENT_RANGE",
    "LESSON_WIDTH",
    "VOICE_MEETINGS",
    "HISTORY_NEWEST",
    "HISTORY_PIECES",
    "BIT_NEWEST",
    "MOVE_FAULT",
    "DRIFT",
    "DRIFT_PIECES",
    "FAULT_SURE",
    "FAULT_LOOK_BACK",
    "MOST_TAIL",
    "GOOD_LAP",
    "SLENDER",
    "WASTE_FROM",
    "METER",
    "METER_STEP",
]


def grown(value: Any, k: float) -> Any:
    if isinstance(value, Window):
        return Window(value.low * k, value.high * k)
    if isinstance(value, dict):
        return {name: part * k for name, part in value.items()}
    return tuple(part * k for part in value) if isinstance(value, tuple) else value * k


def grown_piece(piece: Piece, k: float) -> Piece:
    at = piece.settings
    said = [
        s and say(s.aspect, s.word, s.size and s.size * k)
        for s in (piece.verdict.of("fit"), piece.verdict.of("centre"), piece.verdict.of("seat"))
    ]
    big = set_to(at["bit_height"] * k, at["fence_offset"] * k, at["socket_depth"] * k)
    return merge([make_cut(piece.number, big, *said)])[0]


def test_every_default_is_a_length_or_is_not() -> None:
    """So that the next test cannot miss a new one: name a new constant in LENGTHS or in OTHERS."""
    numbers = {
        n
        for n, v in (*vars(defaults).items(), *vars(figures).items())
        if n.isupper() and isinstance(v, float | int | tuple | dict | Window)
    }
    assert numbers == {*LENGTHS, *OTHERS}


@settings(max_examples=50, **STEADY)
@given(history=histories(seat=SEAT, most=3), k=st.sampled_from([0.5, 2.0, 4.0]))
def test_everything_twice_as_large_is_advised_twice_as_large(
    history: tuple[Piece, ...], k: float
) -> None:
    """All lengths, bands, limits and uncertainties by k; angles and the chance of a slip stay.

    The joint's own least height of 2 mm, its 0.1 mm below the cutting length and its least depth of
    0.5 mm are no defaults: the bit is long and the boards thick enough for them not to bind. Powers
    of two keep the arithmetic exact but for the rounding of set values to 1e-6.
    """

    def plan(k: float) -> Plan:
        stock = Stock("invented", "oak (invented)", 22.0 * k, 150.0 * k)
        bit = Bit("invented", 12.6 * k, 8.0, 20.0 * k)
        return DovetailPlan(
            bit,
            stock,
            stock,
            None,
            pitch=22.6 * k,
            board_width=150.0 * k,
            tail_thickness=22.0 * k,
            pin_thickness=22.0 * k,
            rabbet_depth=6.3 * k,
        )

    def wanted() -> dict[Aspect, float]:
        known = know(plan(scale), pieces, History(), about(FIRST["bit_height"] * scale))
        return aim(known, pieces, pieces[-1].settings).wanted

    scale, pieces = 1.0, history
    plain = wanted()
    with pytest.MonkeyPatch.context() as patch:
        for name in LENGTHS:
            at = figures if hasattr(figures, name) else defaults
            patch.setattr(at, name, grown(getattr(at, name), k))
        for module in ("fitlog.advice.settled", "fitlog.advice.settling"):
            patch.setattr(import_module(module), "SAME", SAME * k)
        patch.setattr(adjusters, "PLAIN_STEP", adjusters.PLAIN_STEP * k)
        scale, pieces = k, tuple(grown_piece(p, k) for p in history)
        large = wanted()
    assert {a: v * k for a, v in plain.items()} == pytest.approx(large, abs=5e-6 * max(k, 1))


# --- limits and the fence side --------------------------------------------------------------------


@settings(max_examples=60, **STEADY)
@given(
    history=histories(),
    machine=st.sampled_from(MACHINES),
    pin=st.sampled_from([10.9, 11.0, 17.0]),
    length=st.sampled_from([8.9, 16.0]),
    by_eye=st.booleans(),
)
def test_no_proposal_lies_beyond_a_limit(
    history: tuple[Piece, ...], machine: Machine | None, pin: float, length: float, by_eye: bool
) -> None:
    """Thin pin boards and short bits put the limit of the height close; what is held is not
    proposed.
    """
    bit = Bit(BIT.name, BIT.diameter, BIT.angle, length)
    known, found = next_aim(make_plan(bit, machine, pin_thickness=pin, by_eye=by_eye), history)
    for aspect in ("fit", "centre", "seat"):
        limit = known.joint.limit(FIRST.family.setting_of[aspect], FIRST)
        if aspect not in found.held:
            assert limit.low - 1e-6 <= found.settings.of(aspect) <= limit.high + 1e-6, aspect


@settings(max_examples=80, **STEADY)
@given(history=histories(fit=NOTHING), machine=st.sampled_from(MACHINES), by_eye=st.booleans())
@example(history=NEAR_THEN_FAR, machine=None, by_eye=False)
@example(history=FAR_THEN_NEAR, machine=None, by_eye=False)
def test_no_second_pass_is_expected_to_shave_the_fence_side_or_thickly(
    history: tuple[Piece, ...], machine: Machine | None, by_eye: bool
) -> None:
    """A second pass is only offered where the far wall is expected to be shaved, a little, and
    hardly ever the other one.

    Elsewhere the two walls are measured instead, whatever mark the fence stands on.
    """
    plan = make_plan(machine=machine, by_eye=by_eye)
    known, found = next_aim(plan, history)
    if "centre" in found.settled or showing(known, history, found.settings) == "walls":
        return
    e = nominal_of(known, "centre", found.settings) + known.law("centre").mean
    assert e >= -figures.FENCE_SIDE_ROUNDING - 1e-6, (found.settings, found.slips)
    assert 2 * e <= figures.MOST_SHAVING + 1e-6, (found.settings, found.slips)
    assert fence_side_chance(known, found.settings) <= figures.FENCE_SIDE_CHANCE
    assert known.law("centre").sd <= figures.ZERO_KNOWN
    said = [p.verdict.of("centre") for p in history if p.verdict.of("centre") is not None]
    assert not said or said[-1].side >= 0
