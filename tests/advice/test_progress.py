"""How a set-up converged: the numbers of each step, and the bars of characters.

Checks against the outside: the standard normal distribution's quantile 1.644854 and `math.erf`
(NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6.1 and 1.3.6.7.1), the geometry by hand,
the hidden truth of the simulated shop.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest
from building import BIT, make_cut, make_plan, make_setup
from hypothesis import given, settings
from hypothesis import strategies as st
from tables import table

from fitlog import defaults
from fitlog.advice import advise, progress
from fitlog.advice.decision import Decision
from fitlog.advice.history import History
from fitlog.advice.progress import BUDGET, STEP, Step, chosen, steps
from fitlog.domain import Aspect, Plan, SetUp
from fitlog.families.half_blind.names import ASPECTS, WORDS, say, set_to
from fitlog.language.units import UNITS, Ruler
from fitlog.render.progress import _MARKS, charts, drawings, explained, heading, same
from fitlog.simulation import Advised, Person, Truth, run

FIRST = set_to(8.41, 75.2, 11.2)
MACHINE = table(
    "invented table", height_turn=1.5, fence_step=0.05, height_zero=0.31, fence_zero=-0.2
)
ASCII, BLOCKS = _MARKS
STEADY = {"derandomize": True, "deadline": None, "database": None}


def simulated(seed: int, plan: Plan, count: int = 1) -> list[SetUp]:
    """Set-ups of one simulated shop, one after the other, with the assumed slips."""
    person = Person(seed, slip=defaults.SLIP)
    return [o.setup for o in run(Truth(seed), person, Advised(), [plan] * count, most=12)]


def first_pieces(setup: SetUp, count: int) -> SetUp:
    numbers = {p.number for p in setup.pieces()[:count]}
    return replace(setup, cuts=tuple(c for c in setup.cuts if c.piece in numbers), outcome=None)


def check_against_advise(setup: SetUp, past: History) -> None:
    found = steps(setup, past)
    assert [s.known for s in found] == list(range(len(setup.pieces()) + 1))
    for step in found:
        then = advise(first_pieces(setup, step.known), past)
        assert step.proposed.settings == then.settings
        assert dict(step.proposed.chance_good) == then.chance_good
        assert step.settled == then.settled and dict(step.window) == then.window
        for aspect, misfit in step.proposed.misfit.items():
            told, move = (
                then.misfit[aspect],
                (then.moves or {}).get({"fit": "bit_height"}.get(aspect, "fence_offset"), 0.0),
            )
            assert told is not None
            # Told at the last piece's settings, carried over: dc = -2 tan(theta) dh.
            if aspect == "fit":
                assert misfit.mean == pytest.approx(
                    told.mean - 2 * math.tan(setup.plan.bit.theta) * move, abs=1e-9
                )
            elif aspect == "centre" and not any(p.sizes for p in setup.pieces()):
                assert misfit.mean == pytest.approx(told.mean + move, abs=1e-9)
            if aspect != "seat" or not then.moves:
                assert misfit.sd == told.sd


# --- the numbers of a set-up ----------------------------------------------------------------------


@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_each_step_is_what_advise_said_then(seed: int) -> None:
    earlier = simulated(seed, make_plan(machine=MACHINE), 4)
    *before, last = earlier
    check_against_advise(last, History(before))
    for step in steps(last, History(before))[:-1]:
        assert step.cut is step.proposed or step.cut is not None
        if step.piece is not None and step.piece.settings == step.proposed.settings:
            assert step.cut is step.proposed, (
                "cut as advised: what was expected of the piece is what was said"
            )


def test_other_sizes_other_woods_readings_later_and_nothing_judged() -> None:
    cuts = [
        make_cut(1, FIRST, "tight", say("centre", "gap far", 0.4), "proud"),
        make_cut(1, FIRST, None, None, "flush", by="another"),
        make_cut(
            2,
            FIRST.changed(bit_height=8.2, fence_offset=50.1),
            None,
            None,
            None,
            scrap="mdf",
            sizes={"width": 100.0},
        ),
        make_cut(4, FIRST.changed(bit_height=8.1), "good", "centred", sizes={"thickness": 16.0}),
    ]
    setup = make_setup(make_plan(machine=MACHINE, many_tails=True), FIRST, cuts)
    check_against_advise(setup, History())
    found = steps(setup, History())
    assert [s.piece.number if s.piece else None for s in found] == [1, 2, 4, None]
    assert found[1].judged == dict.fromkeys(ASPECTS)
    assert found[0].judged == {"fit": False, "centre": False, "seat": True}
    # A narrower piece's fence offset is carried over by half of what the widths differ: e = x -
    # W/2.
    assert found[1].view.settings["fence_offset"] == pytest.approx(50.1 + (150.0 - 100.0) / 2)
    assert found[2].view.settings["bit_height"] == 8.1


TIMES = math.exp(
    0.4 * math.sqrt(3)
)  # the scale of the causes is log-normal by 0.4, as the three points that match its moments
SCALES = ((1 / 6, 1 / TIMES), (2 / 3, 1.0), (1 / 6, TIMES))


def below(edge: float, sd: float, noise: float = 0.0) -> float:
    """Chance that what has this sd, its scale uncertain, lies below `edge`, seen with a noise."""
    one = sd / math.sqrt(sum(chance * times**2 for chance, times in SCALES))
    return sum(
        chance * 0.5 * (1 + math.erf(edge / math.hypot(one * times, noise) / math.sqrt(2)))
        for chance, times in SCALES
    )


def reach(chance: float) -> float:
    """Where such a law of sd 1 has that much below it: by halving."""
    low, high = 0.0, 10.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if below(middle, 1.0) < chance else (low, middle)
    return low


def test_before_the_first_piece_by_independent_arithmetic() -> None:
    """Three normals are mixed then: closed forms of the interval, of where the good height lies and
    of its chance.
    """
    assert (
        1.5 < reach(0.95) < 1.644854
    )  # heavier in its tails than the normal of the same sd, narrower before them
    plan = make_plan(in_play=("fit", "centre"))
    setup = make_setup(plan, FIRST, [make_cut(1, FIRST.changed(bit_height=8.6), "good")])
    step = steps(setup, History())[0]
    slope, end = -2 * math.tan(math.radians(BIT.angle)), reach(0.95)
    for aspect, per_mm, half in (("fit", slope, 0.03), ("centre", 1.0, 0.05)):
        for view in (step.proposed, step.view):
            law, belief, window = view.misfit[aspect], view.belief[aspect], step.window[aspect]  # type: ignore[index]
            assert law.interval90 == pytest.approx(
                (law.mean - end * law.sd, law.mean + end * law.sd), abs=2e-5
            )
            here = view.settings.of(aspect)  # type: ignore[arg-type]
            assert belief.middle == pytest.approx(
                here + ((window.low + window.high) / 2 - law.mean) / per_mm, abs=1e-9
            )
            width = belief.interval90[1] - belief.interval90[0]
            assert width == pytest.approx(2 * end * law.sd / abs(per_mm), rel=1e-4)
            assert belief.reach == pytest.approx(half / abs(per_mm))
    law = step.view.misfit["fit"]
    assert law.mean - step.proposed.misfit["fit"].mean == pytest.approx(slope * (8.6 - 8.41))
    noise = math.hypot(defaults.WORD_NOISE, slope * defaults.HEIGHT_REPEAT)
    inside = below(0.10 - law.mean, law.sd, noise) - below(0.04 - law.mean, law.sd, noise)
    good = (1 - defaults.SLIP) * inside + defaults.SLIP / len(WORDS["fit"])
    assert step.view.chance_good["fit"] == pytest.approx(good, abs=2e-4)
    assert step.proposed.chance_good["fit"] != step.view.chance_good["fit"]


def true_good(seed: int, setup: SetUp, aspect: Aspect, middle: float) -> float:
    """The setting that truly brings the middle of the window, from the shop's hidden truth; linear
    in its setting.
    """
    truth, plan = Truth(seed, {"piece": 0.0}), setup.plan
    off = truth.misfits(plan, setup.number, 1, setup.first)[aspect] - middle
    return setup.first.of(aspect) + (
        off / truth.stands_for(plan, setup.number)["fit"] if aspect == "fit" else -off
    )


@pytest.mark.parametrize(
    ("number", "least", "most"), [(40, 30, 40), pytest.param(160, 130, 155, marks=pytest.mark.long)]
)
def test_intervals_narrow_and_hold_the_truth_in_nine_of_ten(
    number: int, least: int, most: int
) -> None:
    """Simulated set-ups, each in a shop of its own. Of 160 draws at 90 %, 130 to 155 hold it with a
    chance of 0.9995, of 40 at least 30 with 0.9985 (binomial, exact); the seeds are fixed, so there
    is no false alarm to come.
    """
    plan = make_plan(in_play=("fit", "centre"))
    for aspect in ("fit", "centre"):
        held, widths, narrower = {"first": 0, "last": 0}, [0.0, 0.0], 0.0
        for seed in range(number):
            (setup,) = simulated(7000 + seed, plan)
            found = steps(setup, History())
            middle = (found[0].window[aspect].low + found[0].window[aspect].high) / 2
            wanted = true_good(7000 + seed, setup, aspect, middle)
            ends = {
                "first": found[0].view.belief[aspect].interval90,
                "last": found[-1].view.belief[aspect].interval90,
            }
            for when, (low, high) in ends.items():
                held[when] += low <= wanted <= high
            spans = [b[1] - b[0] for b in (s.view.belief[aspect].interval90 for s in found)]
            widths = [widths[0] + spans[0], widths[1] + spans[-1]]
            narrower += sum(math.log(b / a) for a, b in pairwise(spans))
        assert widths[1] < 0.5 * widths[0] and narrower < 0, (aspect, widths)
        assert all(least <= n <= most for n in held.values()), (aspect, held)


def test_a_step_knows_what_is_settled_at_its_own_settings() -> None:
    cuts = [
        make_cut(1, FIRST, "good", "centred", "flush"),
        make_cut(2, FIRST.changed(bit_height=8.7), "tight", "centred"),
    ]
    found: tuple[Step, ...] = steps(make_setup(make_plan(), FIRST, cuts), History())
    assert found[1].settled == ASPECTS and not found[1].holds("fit") and found[1].holds("centre")
    assert not found[1].holds("seat"), "another height wants another depth"


def test_a_seat_is_shown_at_its_own_height() -> None:
    """Lifting the bit by dh adds dh tan(theta) to the step and closes the joint, so that it stands
    prouder: cut deeper.
    """
    cuts = [
        make_cut(1, FIRST.changed(bit_height=8.0), "loose", "centred", "shy"),
        make_cut(2, FIRST, "good", "centred"),
    ]
    setup = make_setup(make_plan(), FIRST, cuts)
    fit, centre, seat = charts(setup, "tuning", steps(setup, History()), Ruler())
    assert fit.rows[0].proposed == FIRST["bit_height"] and centre.rows[0].proposed is not None
    assert seat.rows[0].proposed is None and seat.rows[0].cut == 11.2
    assert "at its own bit height" in heading(seat, Ruler()) and "height)" not in heading(
        fit, Ruler()
    )
    lower, higher = (
        steps(make_setup(make_plan(), FIRST, [c]), History())[0].view.belief["seat"].middle
        for c in cuts
    )
    assert higher > lower


# --- a long set-up --------------------------------------------------------------------------------


def spent(kept: Sequence[int]) -> int:
    """What a replay costs, in pieces weighed."""
    return sum(STEP + known for known in kept)


@given(pieces=st.integers(0, 1500), budget=st.integers(3000, 9000))
@settings(max_examples=200, **STEADY)
def test_a_budget_keeps_the_first_pieces_and_the_last_two(pieces: int, budget: int) -> None:
    kept, whole = chosen(pieces, budget), tuple(range(pieces + 1))
    assert chosen(pieces, math.inf) == whole
    if spent(whole) <= budget:
        assert kept == whole
        return
    assert spent(kept) <= max(budget, spent([*range(11), pieces - 1, pieces]))
    assert kept[:11] == whole[:11] and kept[-2:] == whole[-2:] and kept == tuple(sorted({*kept}))
    assert spent(kept) > budget / 2, "what may be spent is used"


def test_forty_pieces_are_replayed_whole_and_a_thousand_in_a_few_steps() -> None:
    assert all(chosen(n, BUDGET) == tuple(range(n + 1)) for n in range(52))
    found = chosen(1000, BUDGET)
    assert found == (*range(11), 21, 47, 102, 222, 482, 999, 1000) and spent(found) == 3828


def test_what_a_budget_leaves_out_is_not_weighed_and_the_rest_is_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    cuts = [
        make_cut(n, FIRST.changed(bit_height=8.0 + n / 60), "tight" if n % 2 else "slightly loose")
        for n in range(1, 31)
    ]
    setup = make_setup(make_plan(in_play=("fit",)), FIRST, cuts)
    whole, weighed, decide = steps(setup, History()), list[int](), progress.decide

    def watching(so_far: SetUp, past: History) -> Decision:
        weighed.append(len(so_far.cuts))
        return decide(so_far, past)

    monkeypatch.setattr(progress, "decide", watching)
    found = steps(setup, History(), budget=1200)
    assert weighed == list(chosen(30, 1200)) and spent(weighed) <= 1200 < spent(range(31))
    assert [s.known for s in found] == weighed and found == tuple(whole[n] for n in weighed)


# --- the bars -------------------------------------------------------------------------------------


def picture(
    setup: SetUp,
    status: str,
    width: int,
    ruler: Ruler,
    marks: str = ASCII,
    past: History | None = None,
) -> list[str]:
    found = charts(setup, status, steps(setup, past or History()), ruler)
    for text in (heading(found[0], ruler), explained(found, marks)):
        assert text.isascii() or marks is not ASCII
    return [line for drawn in drawings(found, ruler, width, marks) for line in drawn]


def test_a_small_picture_by_hand() -> None:
    """The centre alone, its good offset known as 75.1 +- 0.05 after the word: every cell can be
    told by hand.
    """
    setup = make_setup(
        make_plan(in_play=("centre",)),
        FIRST,
        [make_cut(1, FIRST, None, say("centre", "gap far", 0.4))],
    )
    (chart,) = charts(setup, "tuning", found := steps(setup, History()), Ruler())
    middle = found[-1].view.belief["centre"].middle
    assert chart.good == pytest.approx((middle - 0.05, middle + 0.05)) and middle == pytest.approx(
        75.0, abs=0.01
    )
    assert chart.left <= min(r.low for r in chart.rows) and chart.right >= max(
        r.high for r in chart.rows
    )
    head, first, second = drawings([chart], Ruler(), 80, ASCII)[0]
    assert head.split() == [
        "piece",
        *Ruler().length(chart.left).split(),
        *Ruler().length(chart.right).split(),
        "set",
        "to",
        "%",
        "said",
    ]
    assert (
        first.split()[-4:] == ["gap", "far", "0.40", "mm"]
        and first.split()[0] == "1"
        and second.split()[0] == "next"
    )
    room = head.index("set to") - 3 - 6
    cells = first[6 : 6 + room]
    cell = (75.2 - chart.left) / (chart.right - chart.left) * room
    assert abs(cells.index("X") - cell) <= 3 and "o" not in cells and "=" in cells and "o" in second
    assert chart.rows[0].dial == "75.20 mm" and chart.rows[1].said == ""


def test_the_scale_is_the_users_own() -> None:
    setup = make_setup(make_plan(machine=MACHINE), FIRST, [make_cut(1, FIRST, "tight")])
    fit, centre, seat = charts(setup, "tuning", steps(setup, History()), Ruler())
    assert (fit.rows[0].dial, fit.rows[0].cut) == ("8.72 mm", pytest.approx(8.41 + 0.31))
    assert (centre.rows[0].dial, centre.rows[0].cut) == ("75.00 mm", pytest.approx(75.2 - 0.2))
    assert (seat.rows[0].dial, seat.rows[0].said) == ("11.20 mm", "not judged")
    plain = make_setup(make_plan(), FIRST, [make_cut(1, FIRST, "tight")])
    other = charts(plain, "tuning", steps(plain, History()), Ruler())[0]
    assert fit.rows[0].low - other.rows[0].low == pytest.approx(0.31)


def test_a_setting_far_off_is_at_the_edge_and_the_axis_stays_readable() -> None:
    far = FIRST.changed(bit_height=11.9)
    setup = make_setup(make_plan(in_play=("fit",)), FIRST, [make_cut(1, far, "very tight")])
    proposed = steps(setup, History())[1].proposed.settings
    setup = replace(setup, cuts=(*setup.cuts, make_cut(2, proposed, "good")))
    (chart,) = charts(setup, "ready", steps(setup, History()), Ruler())
    assert (
        chart.right < 11.9
        and chart.off(11.9) == ">"
        and not same(chart.rows[0])
        and same(chart.rows[1])
    )
    lines = drawings([chart], Ruler(), 80, ASCII)[0]
    assert ">" in lines[1] and "o" in lines[1] and "ready" in lines[-1] and "settled" in lines[-1]
    assert "farther off" in explained([chart], ASCII) and "o proposed" in explained([chart], ASCII)


SAID = {a: st.none() | st.builds(say, st.just(a), st.sampled_from(WORDS[a])) for a in ASPECTS}


@settings(max_examples=40, **STEADY)
@given(
    data=st.data(),
    width=st.integers(40, 120),
    units=st.sampled_from(UNITS),
    marks=st.sampled_from([ASCII, BLOCKS]),
    outcome=st.sampled_from([None, "finished"]),
)
def test_no_line_is_wider_than_the_screen(
    data: st.DataObject, width: int, units: str, marks: str, outcome: str
) -> None:
    cuts, away = [], st.integers(-3000, 3000).map(lambda n: n / 1000)
    for number in range(1, data.draw(st.integers(0, 3)) + 1):
        h, x, s = (data.draw(away) for _ in range(3))
        words = [data.draw(SAID[a]) for a in ASPECTS]
        scrap = data.draw(
            st.sampled_from(["", "mdf", "a name as long as nobody would ever give a scrap"])
        )
        at = set_to(FIRST["bit_height"] + h, FIRST["fence_offset"] + x, FIRST["socket_depth"] + s)
        cuts.append(make_cut(number, at, *words, scrap=scrap))
    aspects = data.draw(st.sampled_from([ASPECTS, ("fit",), ("centre", "seat")]))
    setup = make_setup(make_plan(machine=MACHINE, in_play=aspects), FIRST, cuts, outcome=outcome)
    lines = picture(setup, outcome or "tuning", width, Ruler(units), marks)
    assert max(map(len, lines)) <= width - 1
    assert all(line == line.rstrip() for line in lines) and (
        marks is BLOCKS or all(map(str.isascii, lines))
    )
    rows = [
        line for line in lines if line.split()[0] in {*(str(c.piece) for c in cuts), "next", "end"}
    ]
    assert len(rows) >= len(aspects) * (len(cuts) + 1)


def test_fifty_pieces_and_none() -> None:
    cuts = [
        make_cut(n, FIRST.changed(bit_height=8.0 + n / 60), "tight" if n % 2 else "slightly loose")
        for n in range(1, 51)
    ]
    setup = make_setup(make_plan(in_play=("fit",)), FIRST, cuts)
    assert len(picture(setup, "tuning", 80, Ruler())) == 1 + 51
    assert len(picture(make_setup(make_plan(), FIRST), "tuning", 80, Ruler())) == 3 * 2
