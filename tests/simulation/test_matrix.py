"""The matrix's shops: adjusters, lapses and priors that are off, what rivals take for known, real
boards inside, the cells.

Random checks are seeded; the chance stated beside each is that of a false alarm had the seed been a
fresh one.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from statistics import NormalDist
from types import SimpleNamespace
from typing import Any

import pytest
from bench_chances import claims, tenths
from bench_matrix import (
    TOOL,
    TUNING,
    Found,
    Went,
    matrix,
    named,
    percentile,
    report,
    sidak,
    trace,
    verdict,
    went,
)
from building import about, make_cut, make_plan, make_setup
from matrix_cells import COARSE, FINE, PAIRS, Cell, cells
from scipy.stats import binom, chi2, norm
from tables import table

from fitlog import defaults
from fitlog.advice import advise
from fitlog.advice.history import History
from fitlog.domain import Misfit, Plan, Reading, Settings, SetUp, TrialCut
from fitlog.domain.adjusters import adjuster
from fitlog.errors import Refused
from fitlog.families import joint_of
from fitlog.families.drawn import Shown
from fitlog.families.half_blind import figures
from fitlog.families.half_blind.names import ASPECTS, HALF_BLIND, say, set_to
from fitlog.simulation import (
    Advised,
    Conditions,
    Habit,
    Knowing,
    Notebook,
    Person,
    Truth,
    Undeterred,
    one_joint,
    run,
)
from fitlog.simulation.plans import MACHINE
from fitlog.simulation.truth import BOARDS, causes, kinds
from fitlog.simulation.tuned import rivals

RARE = 1e-6  # false alarm of one random check
SETTINGS = set_to(8.41, 75.2, 11.2)
STILL = dict.fromkeys(kinds(), 0.0)
WALLS = Shown("walls", 60.3, 59.7)
TAN8 = 0.140540835  # from a table
COARSEST = table("coarse", height_step=0.1, fence_step=0.4, depth_step=0.5)
SENSIBLE = Habit(
    {"fit": 0.4}, uses_numbers=True, by_degree=True, together=True, uses_gap=True, marks=True
)


# --- the cells ------------------------------------------------------------------------------------


def test_the_cells_are_at_most_eighty_with_names_of_their_own() -> None:
    every = cells()
    assert len(every) <= 80 and len({c.name for c in every}) == len(every)
    assert len(PAIRS) == 20 and all(c.why and c in every for c in PAIRS)
    assert len({replace(c, name="", why="") for c in every}) == len(every), "two cells are one shop"
    assert {c.fence for c in every} >= {None, 0.02, 0.05, 0.1, 0.25, 25.4 / 128, 25.4 / 64}
    assert {c.lift for c in every} >= {None, 1.5 / 16, 0.1} and {c.depth for c in every} >= {
        None,
        0.1,
        0.5,
    }
    assert {c.conditions.readings for c in every} == {0.05, 0.1, None}
    assert {c.conditions.sds for c in every} == {0.5, 1.0, 2.0} and {
        c.conditions.slips for c in every
    } == {0.0, 0.03, 0.1}


def test_cells_are_found_by_name() -> None:
    assert named("fine mm; 1/64 in") == [FINE, COARSE]
    assert {c.name for c in named("1/64 in: repeat*")} >= {
        "1/64 in: repeat",
        "1/64 in: repeat, fit",
    }
    assert named(None) == list(cells())
    with pytest.raises(Refused, match="fine inch"):
        named("fine inch")


def test_a_repeat_is_the_same_joint_and_a_later_one_another_height() -> None:
    first, again = FINE.but("x", again="repeat").plans(3)
    assert first == again and FINE.plans(3) == [first]
    _, later = FINE.but("x", again="later").plans(3)
    assert later.pitch != first.pitch and replace(later, pitch=first.pitch) == first


@pytest.mark.parametrize("off", [0.0, 0.3])
def test_a_joint_can_be_made_with_causes_twice_as_wide(off: float) -> None:
    """The height really needed lies inside the limits: five assumed sds are two and a half of the
    true ones.
    """
    for seed in range(150):
        plan = one_joint(seed, FINE.machine, bias={"height zero": off})
        joint, truth = joint_of(plan), Conditions(sds=2.0, zeros_off={"height": off}).truth(seed)
        at = set_to(joint.limit("bit_height", about(8.0)).high, 50.0, 5.0)
        tight = truth.misfits(plan, 1, BOARDS, at)["fit"]
        assert tight < joint.window("fit").middle, (seed, plan.bit.name)


# --- the truth ------------------------------------------------------------------------------------


def test_a_prior_that_is_off_reaches_the_misfit() -> None:
    """By hand: the fence's zero adds itself; 0.3 mm more height takes 0.6 tan(theta) of clearance,
    its rise lifts the step.
    """
    plan = make_plan()
    true = Truth(3, STILL).misfits(plan, 1, 1, SETTINGS)
    off = Truth(3, STILL, {"fence zero": 3.0, "height zero": -0.3}).misfits(plan, 1, 1, SETTINGS)
    assert off["centre"] - true["centre"] == pytest.approx(3.0)
    assert off["fit"] - true["fit"] == pytest.approx(0.6 * TAN8, abs=1e-6)
    taken = math.sqrt(12.53 / 2 * off["fit"]) - math.sqrt(
        12.53 / 2 * max(0.0, true["fit"])
    )  # bits run 0.07 small
    assert off["seat"] - true["seat"] == pytest.approx(-0.3 * TAN8 - taken, abs=1e-6)
    drawn = Truth(3), Truth(3, bias={"fence zero": 3.0})
    plain, moved = (truth.misfits(plan, 2, 1, SETTINGS)["centre"] for truth in drawn)
    assert moved - plain == pytest.approx(3.0)
    with pytest.raises(Refused, match="piece"):
        Truth(0, bias={"piece": 0.1})
    with pytest.raises(Refused, match="nan"):
        Truth(0, bias={"angle": math.nan})


def test_another_day_is_another_fence_but_the_same_zero() -> None:
    """A repeat: only the causes of a day differ. The difference of two days has sd 0.05 * sqrt 2;
    chi-squared, 1e-6.
    """
    plan, n = make_plan(), 400
    off = [
        Truth(s).misfits(plan, 1, 1, SETTINGS)["centre"]
        - Truth(s).misfits(plan, 2, 1, SETTINGS)["centre"]
        for s in range(n)
    ]
    squares = sum(x * x for x in off) / (2 * figures.DAY_TO_DAY_FENCE**2)
    assert chi2.ppf(RARE / 2, n) < squares < chi2.isf(RARE / 2, n)


# --- the person -----------------------------------------------------------------------------------


def test_a_swapped_side_is_the_mirrored_word_with_its_number() -> None:
    plan, misfits = make_plan(), {"fit": 0.2, "centre": 0.3, "seat": -0.3}
    plain, swapped = Person(4), Person(4, swap=1.0)
    opposite = {
        "loose": "tight",
        "very loose": "very tight",
        "slightly loose": "slightly tight",
        "gap far": "gap near",
        "shy": "proud",
        "slightly shy": "slightly proud",
    }
    for piece in range(50):
        said, other = (p.judge(plan, 1, piece, misfits) for p in (plain, swapped))
        for aspect in ASPECTS:
            one, two = said.of(aspect), other.of(aspect)
            assert one is not None and two is not None
            assert two.word == opposite[one.word] and two.size == one.size
    settled = replace(swapped, word_noise=0.0).judge(
        plan, 1, 1, {"fit": 0.07, "centre": 0.0, "seat": 0.0}
    )
    assert (settled.of("centre"), settled.of("seat")) == (
        say("centre", "centred"),
        say("seat", "flush"),
    )


def test_swaps_come_at_their_rate() -> None:
    """False alarm 1e-6 by the binomial law."""
    plan, person = make_plan(in_play=("seat",)), Person(5, swap=0.05)
    words = [person.judge(plan, 1, piece, {"seat": 0.4}).of("seat") for piece in range(4000)]
    swapped = sum(said is not None and "shy" in said.word for said in words)
    assert binom.ppf(RARE / 2, 4000, 0.05) <= swapped <= binom.isf(RARE / 2, 4000, 0.05)


def test_walls_read_right() -> None:
    """Exactly without noise; half their difference with sd rule / sqrt 2 (normal and chi-squared
    laws, 1e-6 each).
    """
    read = Person(6, rule=0.0).measured(WALLS, 1, 1, "centre")
    assert read == Reading("walls", 60.3, other=59.7)
    assert Person(6, rule=0.0, swap=1.0).measured(WALLS, 1, 1, "centre") == Reading(
        "walls", 59.7, other=60.3
    )
    assert Person(6, rule=None).measured(WALLS, 1, 1, "centre") is None
    n, sd = 4000, defaults.CALIPER / math.sqrt(2)
    found = [Person(6).measured(WALLS, 1, piece, "centre") for piece in range(n)]
    errors = [(r.value - (r.other or 0.0)) / 2 - 0.3 for r in found if r is not None]
    assert abs(sum(errors)) / n < norm.isf(RARE / 2) * sd / math.sqrt(n)
    assert chi2.ppf(RARE / 2, n) < sum(e * e for e in errors) / sd**2 < chi2.isf(RARE / 2, n)
    coarse = Person(6, rule_step=0.1).measured(Shown("walls", 60.31, 59.68), 1, 1, "centre")
    assert coarse is not None and all(
        abs(v / 0.1 - round(v / 0.1)) < 1e-6 for v in (coarse.value, coarse.other or 0.0)
    )
    slips = [
        Person(6, rule=0.0, slip=1.0).measured(WALLS, 1, piece, "centre") for piece in range(200)
    ]
    assert all(r is not None and 0 < abs(r.value - 60.3) <= 1.0 and r.other == 59.7 for r in slips)


def test_edges_of_ones_own_move_every_word() -> None:
    """Without noise: `good` from 0.09 to 0.15, flush from -0.03 to 0.13, centred up to
    0.10 mm off.
    """
    person, plan = (
        Person(7, word_noise=0.0, edges_off=0.05, rule=None, words_only=True),
        make_plan(),
    )

    def words(fit: float, centre: float, seat: float) -> list[str]:
        said = person.judge(plan, 1, 1, {"fit": fit, "centre": centre, "seat": seat})
        return [str(said.of(a)) for a in ASPECTS]

    assert (
        words(0.091, 0.099, -0.029) == words(0.149, -0.099, 0.129) == ["good", "centred", "flush"]
    )
    assert words(0.089, 0.101, -0.031) == ["slightly tight", "gap far", "slightly shy"]
    assert words(0.151, -0.101, 0.131) == ["slightly loose", "gap near", "slightly proud"]


# --- adjusters ------------------------------------------------------------------------------------


@pytest.mark.parametrize("cell", [FINE, COARSE, *PAIRS[:4]], ids=lambda cell: cell.name)
def test_whoever_proposes_the_machine_sets_what_it_can(cell: Cell) -> None:
    told = cell.conditions
    for make in (Advised, *rivals(HALF_BLIND.name, cell.base, told.words_only).values()):
        outcome = run(told.truth(2), told.person(2), Undeterred(make()), cell.plans(2), 5)[-1]
        for cut in outcome.setup.cuts:
            for aspect in ASPECTS:
                value = cut.settings.of(aspect)
                assert adjuster(cell.machine, HALF_BLIND.adjusted(aspect).part).nearest(
                    value
                ) == pytest.approx(value, abs=1e-6)


class Stepping:
    """A way of working that goes through settings written down, whatever is said."""

    def __init__(self, *settings: Settings) -> None:
        self.settings = settings

    def first(self, plan: Plan) -> Settings:
        return self.settings[0]

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        done = len(setup.cuts)
        return self.settings[min(done, len(self.settings) - 1)], done == len(self.settings)

    def finished(self, setup: SetUp) -> None:
        """Forget it."""


def test_a_setting_between_marks_is_really_a_little_off_until_it_is_dialled_again() -> None:
    """Half-way settings have sd 0.125 marks; what stays is not dialled anew. Chi-squared over 500
    shops, 1e-6.
    """
    machine = table("by eye", fence_step=0.8, between=("fence",))
    plan, sd = make_plan(machine=machine, in_play=("centre",)), 0.1
    stay, other = SETTINGS.moved("centre", 75.2), SETTINGS.moved("centre", 75.6)
    offs = []
    for seed in range(500):
        turns = run(Truth(seed, STILL), Person(seed), Stepping(stay, stay, other), [plan])[0].turns
        first, second, third = (t / 2 for t in turns)
        assert first == second != third - 0.4
        offs += [first - 0.2, third - 0.6]
    assert chi2.ppf(RARE / 2, 1000) < sum(o * o for o in offs) / sd**2 < chi2.isf(RARE / 2, 1000)
    exact = run(
        Truth(1, STILL),
        Person(1),
        Stepping(stay, other),
        [replace(plan, machine=table("marks", fence_step=0.4))],
    )
    assert [t / 2 for t in exact[0].turns] == pytest.approx([0.2, 0.6])


def test_a_slot_in_waste_is_measured_and_is_no_piece() -> None:
    """Its true mouth by hand: D - 2 h tan(theta) with everything as printed but the bit, 0.07
    small; read with 0.03 mm.
    """
    plan = make_plan()
    outcome = run(Truth(1, STILL), Person(1, rule=0.0), Advised(slots=2), [plan])[0]
    first, second, *pieces = outcome.setup.cuts
    assert (
        first.slot
        and second.slot
        and not any(c.slot for c in pieces)
        and outcome.pieces == len(pieces)
    )
    assert [c.piece for c in pieces] == list(range(1, len(pieces) + 1)) and len(
        outcome.setup.slots()
    ) == 2
    mouth = 12.53 - 2 * first.settings["bit_height"] * TAN8
    assert first.verdict.empty and first.readings[0].value == pytest.approx(mouth, abs=1e-6)
    read = [Person(2).measured(Shown("mouth", 10.0), 1, n) for n in range(1000)]
    squares = sum((r.value - 10.0) ** 2 for r in read if r is not None) / defaults.CALIPER**2
    assert chi2.ppf(RARE / 2, 1000) < squares < chi2.isf(RARE / 2, 1000)
    mute = run(Truth(1), Person(1, rule=None), Advised(slots=1), [plan], 3)[0]
    assert mute.setup.cuts[0].slot and mute.setup.cuts[0].readings == ()


# --- what rivals take for known -------------------------------------------------------------------


def after(method: Habit, plan: Plan, *cuts: TrialCut) -> tuple[Settings, bool]:
    return method.after(make_setup(plan, cuts[0].settings, cuts))


def test_half_the_extra_width_half_the_walls_and_the_whole_step() -> None:
    """By hand: 0.5 of extra width is 0.25 too far out; walls of 70.4 and 69.8 are 0.3; a step of
    0.31 is deeper by 0.31.
    """
    plan = make_plan(in_play=("centre", "seat"))
    told = make_cut(
        1, SETTINGS, centre=say("centre", "gap far", 0.5), seat=say("seat", "proud", 0.31)
    )
    now, ready = after(SENSIBLE, plan, told)
    assert ready and (now["fence_offset"], now["socket_depth"]) == pytest.approx((74.95, 11.51))
    walls = make_cut(
        1, SETTINGS, seat=say("seat", "shy", 0.4), readings=[Reading("walls", 70.4, other=69.8)]
    )
    now, ready = after(SENSIBLE, plan, walls)
    assert ready and (now["fence_offset"], now["socket_depth"]) == pytest.approx((74.9, 10.8))
    words = make_cut(1, SETTINGS, centre="gap far", seat="proud")
    now, ready = after(SENSIBLE, plan, words)
    assert not ready and (now["fence_offset"], now["socket_depth"]) == pytest.approx((75.0, 11.4))


def test_walls_that_are_alike_settle_the_centre_for_one_who_uses_no_numbers() -> None:
    plan, plain = make_plan(in_play=("centre",)), Habit({"centre": 0.2})
    off = make_cut(1, SETTINGS, readings=[Reading("walls", 70.4, other=69.8)])
    now, ready = after(plain, plan, off)
    assert not ready and now["fence_offset"] == pytest.approx(75.0)
    alike = make_cut(2, now, readings=[Reading("walls", 70.12, other=70.05)])
    assert after(plain, plan, off, alike) == (now, True)


def test_a_gap_is_how_far_to_raise_for_no_play() -> None:
    """c = 2 tan(theta) g: a gap of 0.9 is 0.253 mm of play, 0.183 too much: up by 0.183 / (2 tan 8)
    = 0.651 mm.
    """
    plan, loose = make_plan(in_play=("fit",)), make_cut(1, SETTINGS, fit=say("fit", "loose", 0.9))
    now, ready = after(SENSIBLE, plan, loose)
    assert not ready and now["bit_height"] == pytest.approx(
        8.41 + 0.9 - 0.07 / (2 * TAN8), abs=1e-6
    )
    assert after(replace(SENSIBLE, uses_gap=False), plan, loose)[0]["bit_height"] == pytest.approx(
        8.81
    )
    inside = make_cut(2, SETTINGS, fit=say("fit", "slightly loose", 0.3))  # 0.084 mm of play
    assert after(SENSIBLE, plan, loose, inside)[1]


def test_a_seat_read_before_the_fit_moved_is_looked_at_again() -> None:
    plan = make_plan(in_play=("fit", "seat"))
    first = make_cut(1, SETTINGS, "loose", seat=say("seat", "shy", 0.3))
    now, ready = after(SENSIBLE, plan, first)
    assert not ready and (now["bit_height"], now["socket_depth"]) == pytest.approx((8.81, 10.9))
    unseen = make_cut(2, now, "good")
    assert after(SENSIBLE, plan, first, unseen) == (now, False)
    seen = make_cut(2, now, "good", seat=say("seat", "slightly proud", 0.1))
    again, ready = after(SENSIBLE, plan, first, seen)
    assert ready and again["socket_depth"] == pytest.approx(11.0)


def test_between_two_marks_the_search_ends() -> None:
    """Far at 75.2, near at 74.8, the next mark: the zero lies midway. The seat keeps the mark that
    was slighter.
    """
    plan = make_plan(machine=COARSEST, in_play=("centre",))
    far, near = (
        make_cut(1, SETTINGS, centre="gap far"),
        make_cut(2, SETTINGS.moved("centre", 74.8), centre="gap near"),
    )
    now, ready = after(SENSIBLE, plan, far, near)
    assert ready and now["fence_offset"] == pytest.approx(75.0)
    assert not after(replace(SENSIBLE, marks=False), plan, far, near)[1]
    assert not after(SENSIBLE, make_plan(in_play=("centre",)), far, near)[
        1
    ]  # a free fence can stand between
    seat = make_plan(machine=COARSEST, in_play=("seat",))
    low, high = set_to(8.4, 75.2, 11.0), set_to(8.4, 75.2, 11.5)
    now, ready = after(
        SENSIBLE, seat, make_cut(1, low, seat="slightly proud"), make_cut(2, high, seat="shy")
    )
    assert ready and now["socket_depth"] == 11.0


def test_walls_where_the_zero_is_not_known_the_turn_where_it_takes_a_shaving_off_the_far_wall() -> (
    None
):
    plan, book = make_plan(), Notebook(uses_numbers=True)
    assert (
        SENSIBLE.shown_by(make_setup(plan, SETTINGS))
        == book.shown_by(make_setup(plan, SETTINGS))
        == "walls"
    )
    walls = make_cut(
        1, SETTINGS, "good", seat="flush", readings=[Reading("walls", 70.4, other=69.8)]
    )  # the zero: 74.9
    read = make_setup(plan, SETTINGS, [walls], outcome="finished")

    def way(fence: float) -> str:
        return SENSIBLE.shown_by(replace(read, shown=SETTINGS.moved("centre", fence)))

    assert [way(f) for f in (74.85, 74.9, 75.2, 75.31)] == ["walls", "turn", "turn", "walls"]
    snatched = make_cut(2, SETTINGS, "good", say("centre", "gap near", 0.1), "flush")
    assert SENSIBLE.shown_by(make_setup(plan, SETTINGS, [walls, snatched])) == "walls"
    book.finished(read)
    assert book.first(plan)["fence_offset"] == pytest.approx(
        74.9
    )  # what it noted is the zero, not the mark
    other = make_setup(plan, book.first(plan), number=2)
    assert book.shown_by(other) == "turn"


# --- real boards ----------------------------------------------------------------------------------


class Believing(Stepping):
    """One that also says what it believes right for the real boards."""

    def __init__(self, cut: Settings, real: Settings) -> None:
        super().__init__(cut)
        self.believed = real

    def shown_by(self, setup: SetUp) -> str:
        return "walls"

    def real(self, setup: SetUp) -> Settings:
        return self.believed


@pytest.mark.parametrize(
    ("error", "inside"),
    [(0.0, True), (0.049, True), (-0.049, True), (0.051, False), (-0.051, False)],
)
def test_the_centre_is_inside_where_the_zero_is_known_whatever_its_mark(
    error: float, inside: bool
) -> None:
    plan = make_plan(machine=COARSEST, in_play=("centre",))
    method = Believing(SETTINGS, SETTINGS.moved("centre", 75.0 + error))
    assert isinstance(method, Knowing)
    outcome = run(Truth(1, STILL), Person(1), method, [plan])[0]
    assert outcome.within is inside and outcome.turns == (None,)
    (cut,) = outcome.setup.cuts
    assert cut.verdict.of("centre") is None and cut.readings[0].kind == "walls"
    error_read = (cut.readings[0].value - (cut.readings[0].other or 0.0)) / 2
    assert error_read == pytest.approx(
        cut.settings["fence_offset"] - 75.0, abs=6 * defaults.CALIPER / math.sqrt(2)
    )


def test_fit_and_seat_are_inside_as_one_more_piece_comes_out_on_the_marks_of_the_machine() -> None:
    """The piece is one that nobody cut; height and depth are what the adjusters make of what is
    believed.
    """
    plan, counts = make_plan(machine=COARSEST), {True: 0, False: 0}
    joint = joint_of(plan)
    for seed in range(60):
        truth = Truth(seed, {**STILL, "piece": 1.0, "stock": 1.0, "socket day": 1.0})
        believed = set_to(8.44 + seed % 3 * 0.03, 75.0, 11.4)
        method = Believing(SETTINGS, believed)
        outcome = run(truth, Person(seed), method, [plan])[0]
        at = set_to(round(believed["bit_height"], 1), 75.0, 11.5)
        true = truth.misfits(plan, 1, BOARDS, at)
        assert outcome.within is all(joint.window(a).holds(true[a]) for a in ASPECTS)
        counts[outcome.within] += 1
    assert min(counts.values()) > 0


def test_a_set_up_given_up_has_no_real_boards() -> None:
    cell = COARSE.but("x", in_play=("fit",))
    never = Person(
        3, edges=(-9.0, -8.0, -7.0, -6.99, -6.98, -6.97), words_only=True
    )  # everything is very loose
    for make in (Advised, *rivals(HALF_BLIND.name, cell.base, words_only=True).values()):
        outcome = run(Truth(3), never, make(), cell.plans(1), 4)[0]
        assert (outcome.solved, outcome.within, outcome.pieces) == (False, False, 4)
    results = [Went(30, False, True, (True,) * 30, True), Went(1, True, False, (), None)]
    found = Found(cell, "habit", dict.fromkeys((TOOL, "habit", "notebook"), results))
    assert (
        found.pieces(TOOL) == [30.0, 1.0]
        and found.inside(TOOL) == [0.0, 1.0]
        and found.more("pieces") == [0.0, 0.0]
    )


def test_second_passes_that_shave_the_fence_side_are_counted() -> None:
    """75.0 is the middle: 0.04 mm inside it takes 0.08 mm off at the fence, 0.06 mm 0.12 mm: more
    than is allowed.
    """
    plan = make_plan(in_play=("centre",))
    fences = (75.3, 74.96, 74.94, 74.8)
    outcome = run(
        Truth(1, STILL), Person(1), Stepping(*(SETTINGS.moved("centre", f) for f in fences)), [plan]
    )[0]
    assert outcome.turns == pytest.approx((0.6, -0.08, -0.12, -0.4)) and outcome.snatched == (
        False,
        False,
        True,
        True,
    )


class Certain(Advised):
    """The tool with a decision that already says what the real boards are to be cut at."""

    def decided(self, setup: SetUp) -> object:  # type: ignore[override]
        made = super().decided(setup)
        zero = Misfit(0.2, 0.01, (0.18, 0.22))
        return SimpleNamespace(settings=made.settings, ready=True, real=SETTINGS, zero=zero)


def test_the_tools_own_real_settings_and_zero_are_used() -> None:
    setup = make_setup(make_plan(), SETTINGS, [make_cut(1, SETTINGS, "good", "centred", "flush")])
    assert Certain().real(setup) == SETTINGS.moved("centre", 75.0)
    asked, opened = Advised(), replace(setup, cuts=())
    assert asked.shown_by(opened) == "walls" == advise(opened, History()).shown_by
    assert asked.shown_by(setup) == "" == advise(setup, History()).shown_by
    assert asked.decided(setup) is asked.decided(setup)  # worked out once
    assert asked.decided(replace(setup, cuts=())) is not asked.decided(setup)


# --- the bench ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "cell",
    [FINE, COARSE.but("x", again="repeat", in_play=("centre",), swaps=0.3)],
    ids=lambda c: c.name,
)
def test_a_cell_comes_out_the_same_again(cell: Cell) -> None:
    for way in (TOOL, "habit", "notebook"):
        first, again = ([went((cell, way, seed)) for seed in range(4)] for _ in range(2))
        assert first == again
    assert len({went((cell, "habit", seed)) for seed in range(12)}) > 1


def test_the_table_has_a_row_for_each_cell_and_the_bound(
    capsys: pytest.CaptureFixture[str],
) -> None:
    chosen = [FINE.but("x", in_play=("fit",)), COARSE.but("y", in_play=("centre",))]

    def one_by_one(f: Any, jobs: Sequence[Any]) -> list[Any]:
        return [f(job) for job in jobs]

    found = matrix(3, chosen, one_by_one)
    report(found)
    head, rule, first, second, *rest = capsys.readouterr().out.splitlines()
    assert len({line.count("|") for line in (head, rule, first, second)}) == 1
    assert first.startswith("| fine mm: x |") and second.startswith("| 1/64 in: y |")
    assert any(f"{sidak(2 * len(cells())):.2f} standard errors" in line for line in rest)
    for each in found:
        assert each.by_method["habit"] == [went((each.cell, "habit", seed)) for seed in range(3)]
        taken = {
            n: sum(went((each.cell, n, TUNING + s)).pieces for s in range(3))
            for n in ("habit", "notebook")
        }
        assert taken[each.rival] == min(taken.values())
    trace(chosen[1], 2)
    assert f"{found[1].by_method[TOOL][2].pieces} pieces" in capsys.readouterr().out


def test_a_centre_that_is_not_asked_for_is_not_judged() -> None:
    class Incurious(Believing):
        def shown_by(self, setup: SetUp) -> str:
            return ""

    outcome = run(Truth(1), Person(1), Incurious(SETTINGS, SETTINGS), [make_plan()])[0]
    (cut,) = outcome.setup.cuts
    assert cut.verdict.of("centre") is None and cut.readings == () and outcome.turns == (None,)
    assert cut.verdict.of("fit") is not None and cut.verdict.of("seat") is not None


def test_one_bound_over_all() -> None:
    """Sidak: 160 tests of one side at 1 - 0.95 ** (1 / 160) each; false alarms together 5 %."""
    z = sidak(160)
    assert 1 - norm.cdf(z) ** 160 == pytest.approx(0.05, abs=1e-9)
    assert sidak(1) == pytest.approx(NormalDist().inv_cdf(0.95))
    level = [0.0, 1.0] * 50
    assert (
        verdict([x - 0.9 for x in level], z, 1) == "better"
        and verdict([x + 0.9 for x in level], z, 1) == "WORSE"
    )
    assert verdict([x - 0.9 for x in level], z, -1) == "WORSE"
    assert (
        verdict([x - 0.45 for x in level], z, 1) == "not shown"
        and verdict([x - 0.5 for x in level], z, 1) == "no worse"
    )


def test_the_99th_percentile_is_a_number_of_pieces_that_was_met() -> None:
    assert percentile([float(n) for n in range(1, 101)]) == 99 and percentile([3.0]) == 3
    assert percentile([1.0] * 99 + [30.0]) == 1 and percentile([1.0] * 98 + [30.0] * 2) == 30


def test_tenths_of_the_stated_chances() -> None:
    cases = (
        [("ready", 0.95, n % 10 < 8) for n in range(100)]
        + [("ready", 1.0, True)] * 20
        + [("ready", 0.31, True)]
    )
    (top,) = tenths(cases, 2)
    assert (top.place, top.n) == (9, 120) and top.off == pytest.approx(
        100 * (100 / 120 - (95 + 20) / 120)
    )


def test_claims_are_of_the_real_boards_and_of_the_next_piece() -> None:
    made = claims((3, False, 1.0))
    assert made == claims((3, False, 1.0))
    ((kind, chance, inside),) = made.ready
    assert kind == "ready" and 0 < chance <= 1
    told = Conditions()
    outcome = run(told.truth(3), told.person(3), Advised(), [one_joint(3, MACHINE, ASPECTS)])[0]
    assert (
        inside is outcome.within
        and len([c for c in made.following if c[0] == "all"]) == outcome.pieces - 1
    )
    assert set(made.ends) == set(ASPECTS)


def test_conditions_are_those_of_truth_and_person() -> None:
    told = Conditions(
        sds=2.0,
        slips=0.1,
        swaps=0.05,
        readings=0.05,
        zeros_off={"fence": 3.0, "height": 0.3},
        edges_off=0.05,
    )
    truth, person = told.truth(4), told.person(4)
    assert truth.scale == dict.fromkeys(causes(), 2.0) and truth.bias == {
        "fence zero": 3.0,
        "height zero": 0.3,
    }
    assert (person.slip, person.swap, person.gap_step, person.rule_step, person.edges_off) == (
        0.1,
        0.05,
        0.05,
        0.05,
        0.05,
    )
    mute = Conditions(readings=None)
    assert mute.words_only and mute.person(1).rule is None and mute.person(1).words_only
    assert (
        COARSE.but("x", readings=None).plans(1)[0].words_only and not COARSE.plans(1)[0].words_only
    )
