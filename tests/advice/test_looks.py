"""Looks at joints between real boards: go on or stop, what drifts, when to look again.

Measured in the simulated shop (cold set-ups of the fit alone, tuned by the tool, then 120 joints,
looked at when it says, 60 each, other seeds than below): without a drift none of 60 was told of
one, with a feeler or by words alone; 27 % were stopped with a feeler, 57 % by words alone.
A height that creeps 0.006 mm a joint was stopped in all of 60, after 35 joints on average with a
feeler, 27 by words alone; 18 % were told of the drift by then, none by words alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from building import in_words, make_cut, make_plan, make_setup
from hypothesis import given
from hypothesis import strategies as st

from fitlog import defaults
from fitlog.advice import advise
from fitlog.advice.creep import counted
from fitlog.advice.decision import decide
from fitlog.advice.history import History
from fitlog.advice.run import Looked, cautions, look_after, looked, moved, said_of
from fitlog.advice.wear import wear_of
from fitlog.domain import Fault, Settings, SetUp, TrialCut
from fitlog.domain.standing import standing
from fitlog.families.half_blind.names import say, set_to
from fitlog.simulation import Advised, Person, Truth, year

DAY = datetime(2031, 1, 1, tzinfo=UTC)
AT = set_to(8.41, 75.0, 11.2)
GOOD = make_cut(1, AT, "good", "centred", "flush")

# --- when to look again ---------------------------------------------------------------------------

chances = st.floats(0.0, 1.0)
ahead = st.lists(chances, min_size=2, max_size=1 + defaults.LOOK_CAP)
since = st.integers(1, 500)


@given(since, ahead)
def test_the_next_look_is_ahead_and_no_further_than_twice_as_far(
    joints: int, fits: list[float]
) -> None:
    found = look_after(joints, fits)
    assert 1 <= found <= min(defaults.LOOK_CAP, 2 * joints)


@given(since, ahead, chances, st.integers(1, defaults.LOOK_CAP))
def test_a_joint_that_fits_worse_is_never_looked_at_later(
    joints: int, fits: list[float], worse: float, place: int
) -> None:
    place = 1 + place % (len(fits) - 1)
    less = [min(worse, f) if i == place else f for i, f in enumerate(fits)]
    assert look_after(joints, less) <= look_after(joints, fits)


@given(since, ahead)
def test_a_joint_that_was_not_called_good_brings_no_later_look(
    joints: int, fits: list[float]
) -> None:
    found = look_after(joints, fits, said_good=False)
    assert found <= min(joints, look_after(joints, fits))


@given(since, ahead)
def test_until_the_next_look_the_fit_hardly_leaves_its_window(
    joints: int, fits: list[float]
) -> None:
    """Unless already the next joint does: sooner than that nobody can look."""
    found = look_after(joints, fits)
    left = max(fits[0] - one for one in fits[1 : found + 1])
    assert found == 1 or left <= defaults.LOOK_RISK


def test_the_interval_doubles_up_to_the_cap_far_from_the_edge_and_halves_at_it() -> None:
    """Common practice, no source."""
    level = [0.9] * (1 + defaults.LOOK_CAP)
    assert [look_after(n, level) for n in (1, 6, 12, 24, 48, 300)] == [2, 12, 24, 48, 48, 48]
    assert [look_after(12, [f] * 49) for f in (0.59, 0.41, 0.39, 0.0)] == [12, 12, 6, 6]
    falling = [0.9 - 0.03 * n for n in range(1 + defaults.LOOK_CAP)]
    assert look_after(12, falling) == 3


# --- what a look says -----------------------------------------------------------------------------


def joint(number: int, after: int, fit: str | None, size: float | None = None) -> TrialCut:
    """A joint of the real boards that was looked at, at the settings of the test piece."""
    said = None if fit is None else say("fit", fit, size)
    return make_cut(number, AT, said, after=after)


def run(*joints: TrialCut, **more: object) -> SetUp:
    """A set-up whose one test piece was good in everything, then a run."""
    return make_setup(make_plan(), AT, (GOOD, *joints), **more)


def look(setup: SetUp) -> Looked:
    found = looked(setup, History())
    assert found is not None
    return found


def test_only_a_joint_that_was_looked_at_is_a_look() -> None:
    assert looked(run(), History()) is None
    assert looked(make_setup(make_plan(), AT), History()) is None
    later = make_cut(3, AT, "good")
    assert looked(run(joint(2, 12, "good"), later), History()) is None


def test_a_good_joint_lets_the_run_go_on() -> None:
    found = look(run(joint(2, 12, "good", 0.25)))
    assert found.go_on and found.after == 12 and found.settings == AT
    assert not found.off and found.drift is None and not found.doubted
    assert found.look_after == 24


@pytest.mark.parametrize("seat", ["flush", "slightly shy", "slightly proud"])
def test_a_run_that_goes_on_leaves_every_setting_where_it_is(seat: str) -> None:
    """What the joint adds would move the depth by less than a tenth, and every stop with it."""
    setup = run(make_cut(2, AT, "good", None, seat, after=3))
    assert look(setup).go_on
    advice = advise(setup, History())
    assert advice.status == "ready" and advice.real == AT and advice.settings == AT


def test_joints_called_off_are_counted_as_such_and_no_others() -> None:
    goods = [joint(n, 6 * n, "good", 0.15) for n in range(2, 6)]
    near = make_cut(6, AT, "good", None, "slightly shy", after=36)
    setup = run(*goods, near, joint(7, 40, "slightly tight"))
    assert look(setup).doubted == ("fit",)
    assert in_words(said_of(setup, look(setup), to=True)[0]).startswith("Move nothing yet")


def test_one_joint_called_off_is_looked_at_again_before_anything_moves() -> None:
    goods = [joint(n, 6 * n, "good", 0.15) for n in range(2, 6)]
    setup = run(*goods, joint(6, 36, "slightly tight"))
    found = look(setup)
    assert found.go_on and found.doubted and found.look_after == 1 and found.settings == AT
    assert advise(setup, History()).status == "ready"
    text = in_words(said_of(setup, found, to=True)[0])
    assert text.startswith("Move nothing yet") and "joint 37" in text


def test_joints_that_stay_off_stop_the_run_and_move_the_bit_against_their_word() -> None:
    offs = [joint(n, 10 + n, "tight") for n in range(2, 6)]
    setup = run(*offs)
    found = look(setup)
    assert not found.go_on and found.off == ("fit",)
    assert found.settings["bit_height"] < AT["bit_height"]
    assert ("bit_height", "height") in moved(setup, found)
    advice = advise(setup, History())
    assert advice.status == "tuning"
    assert advice.settings["bit_height"] == found.settings["bit_height"]
    stop, *_ = said_of(setup, found, to=True)
    assert stop.code == "run-stop" and "the fit is tight" in in_words(stop)
    assert "the stops stay" in in_words(stop)
    told = [one.code for one in cautions(setup, found)]
    assert told == ["run-cut", "run-mixed"]
    both = " ".join(in_words(one) for one in cautions(setup, found))
    assert "the same bit height" in both and "never pass a finished cut again" in both


def test_a_gap_that_no_setting_cures_stops_the_run_and_moves_nothing() -> None:
    cut = make_cut(2, AT, "good", after=12)
    setup = run(replace(cut, verdict=replace(cut.verdict, faults=(Fault("flank"),))))
    found = look(setup)
    assert not found.go_on and found.faults == ("flank",) and found.settings == AT
    assert "no setting cures" in in_words(said_of(setup, found, to=False)[0])


def test_a_finished_set_up_is_moved_by_no_look_after_its_end() -> None:
    """It says what is seen, and everything that is told of its settings stays."""
    before = run(outcome="finished", closing=7)
    offs = [replace(joint(n, 10 + n, "tight"), entry=10 + n) for n in range(2, 6)]
    after = replace(before, cuts=(GOOD, *offs))
    assert decide(after, History()).settings == decide(before, History()).settings
    was, now = advise(before, History()), advise(after, History())
    assert (was.settings, was.real, was.settled, was.chance_real) == (
        now.settings,
        now.real,
        now.settled,
        now.chance_real,
    )
    found = look(after)
    assert not found.go_on and found.settings["bit_height"] < AT["bit_height"]


def test_a_run_teaches_nothing_to_later_set_ups_that_its_test_pieces_do_not() -> None:
    """What moves in a run is gone when the bit is set anew."""
    plain = run(outcome="finished")
    ran = run(*(joint(n, 12 * n, "tight") for n in range(2, 9)), outcome="finished")
    assert History([ran]).lessons == History([plain]).lessons
    assert History([plain]).lessons[0].heard


def test_joints_are_taken_as_pieces_of_the_stock_and_of_their_own_size() -> None:
    """Tested in another wood and of another size, looked at in the boards: the board's own fence
    stop is no move of the fence.
    """
    plan = make_plan(scrap="pine", piece_width=80.0, piece_thickness=20.0)
    test = make_cut(1, set_to(8.41, 40.0, 14.2), "good", "centred", "flush")
    boards = set_to(8.41, 75.0, 11.2)
    check = make_cut(
        2,
        boards,
        "good",
        after=12,
        scrap=plan.stock.name,
        sizes={"width": 150.0, "thickness": 17.0},
    )
    setup = make_setup(plan, test.settings, (test, check))
    made = decide(setup, History())
    assert made.known.joint.wood == ""
    assert made.pieces[-1].settings == test.settings
    advice = advise(setup, History())
    assert advice.moves is not None and abs(advice.moves["fence_offset"]) < 0.5
    assert not [n for n in advice.notices if n.code == "other-size"]
    assert look(setup).settings == boards


def test_a_test_piece_in_a_run_comes_after_what_was_cut_by_then() -> None:
    cuts = (joint(2, 12, "good"), make_cut(3, AT, "good"), joint(4, 30, "good"))
    assert counted(run(*cuts).pieces()) == {1: 0, 2: 12, 3: 12, 4: 30}


# --- the simulated shop ---------------------------------------------------------------------------


def tuned(seed: int) -> tuple[SetUp, Truth, Person] | None:
    """A cold set-up of the fit alone, tuned as the tool says; None where it is not ready soon."""
    plan = year(seed, 1, ("fit",))[0]
    truth, person, method = Truth(seed), Person(seed, slip=defaults.SLIP), Advised()
    first = method.first(plan)
    setup, at, ready = SetUp(1, plan, first, first, DAY), first, False
    while not ready and len(setup.cuts) < 10:
        setup = judged(setup, truth, person, at, at, None)
        at, ready = method.after(setup)
    return (setup, truth, person) if ready else None


def judged(
    setup: SetUp, truth: Truth, person: Person, at: Settings, real: Settings, after: int | None
) -> SetUp:
    number = len(setup.cuts) + 1
    misfits = truth.misfits(setup.plan, 1, number, real)
    verdict = person.judge(setup.plan, 1, number, misfits, truth.stands_for(setup.plan, 1))
    cut = TrialCut(number, number, at, verdict, after=after)
    return replace(setup, cuts=(*setup.cuts, cut))


def through(seed: int, creeps: float, counts: Sequence[int]) -> list[Looked]:
    """Looks after so many joints, whatever they say, while the bit creeps: mm of height a joint."""
    begun = tuned(seed)
    if begun is None:
        return []
    setup, truth, person = begun
    at, found = setup.cuts[-1].settings, []
    for after in counts:
        real = at.changed(bit_height=at["bit_height"] + creeps * after)
        setup = judged(setup, truth, person, at, real, after)
        found.append(look(setup))
    return found


COUNTS = (12, 24, 36, 48, 72)


@pytest.mark.parametrize(("runs", "most"), [(20, 5), pytest.param(60, 9, marks=pytest.mark.long)])
def test_a_sound_run_is_hardly_ever_told_of_a_drift(runs: int, most: int) -> None:
    """At most 5.5 % of sound runs are (Ville's inequality; the module says it): more than 5 of 20,
    or than 9 of 60, happens less than once in 300 such tests (exact binomial).
    """
    told = [any(one.drift for one in through(41_000 + s, 0.0, COUNTS)) for s in range(runs)]
    assert sum(told) <= most


def test_a_creeping_bit_is_stopped_and_mostly_named() -> None:
    """0.008 mm of height a joint, twenty runs: all stop within 72 joints, and the drift that is
    told goes the right way.
    """
    named = 0
    for seed in range(42_000, 42_020):
        looks = through(seed, 0.008, COUNTS)
        if not looks:
            continue
        assert not all(one.go_on for one in looks), seed
        told = [one.drift.mean for one in looks if one.drift is not None]
        named += bool(told)
        assert not told or told[-1] < 0, seed  # a higher bit makes it tighter
    assert named > 10


# --- the bit --------------------------------------------------------------------------------------


def test_a_bit_wears_as_its_own_runs_since_the_sharpening_show() -> None:
    def finished(number: int, sharpenings: int = 0, *joints: TrialCut) -> SetUp:
        cuts = (GOOD, *joints)
        return make_setup(
            make_plan(), AT, cuts, number, outcome="finished", sharpenings=sharpenings
        )

    steady = (joint(2, 12, "good"), joint(3, 40, "good"))
    bit = make_plan().bit
    assert wear_of(bit, 0, []) == (0, 0, None)
    assert wear_of(bit, 80, [finished(1), finished(2, 1, *steady)]) == (80, 0, None)
    assert wear_of(bit, 80, [finished(1, 0, *steady), finished(2, 0, *steady)]) == (80, 2, None)
    grown = [joint(n, 12 * (n - 1), "slightly loose", 0.2 + 0.15 * (n - 1)) for n in range(2, 7)]
    runs = [finished(n, 0, *grown) for n in range(1, 4)]
    wear = wear_of(bit, 180, runs)
    assert wear.runs == 3 and wear.drift is not None and wear.drift.mean > 0


@pytest.mark.parametrize("units", ["mm", "fraction"])
def test_what_drifts_is_told_by_ten_joints_in_ones_own_unit(units: str) -> None:
    grown = [joint(n, 12 * (n - 1), "slightly loose", 0.2 + 0.15 * (n - 1)) for n in range(2, 7)]
    setup = run(*grown)
    found = look(setup)
    assert found.drift is not None and found.drift.mean > 0
    text = in_words(said_of(setup, found, to=False)[-1], units)
    assert "toward loose" in text and "ten joints" in text
    assert ("mm" in text) == (units == "mm")


def test_one_more_comes_first_only_after_a_joint_that_was_called_off() -> None:
    """A run that goes well wants no more test pieces; one that is looked at again is not called
    ready.
    """
    goods = [joint(n, 6 * n, "good", 0.15) for n in range(2, 6)]
    gap = replace(joint(6, 36, "good"), verdict=replace(GOOD.verdict, faults=(Fault("inside"),)))
    for cuts, more in (
        (goods, False),
        ([*goods, joint(6, 36, "slightly tight")], True),
        ([*goods, gap], True),
    ):
        setup = run(*cuts)
        how = standing(setup, advise(setup, History()))
        assert how.settled and how.more == more
