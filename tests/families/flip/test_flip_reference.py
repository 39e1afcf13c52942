"""What tenons, tongues and laps are assumed and worked out to be, against values from elsewhere:
derived by polygons (`test_flip_oracle`) or published, each with its source. Windows and
uncertainties are common practice, no source.
"""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest
from flips_at_work import EIGHT, cut, lap, said, setup, tenon, tongue

from fitlog.advice.decision import decide
from fitlog.advice.history import History
from fitlog.advice.knowledge import know
from fitlog.domain import Machine, Plan, Reading, Settings
from fitlog.domain.machines import Part
from fitlog.errors import Refused
from fitlog.families import joint_of, part_of, word_sets
from fitlog.families.flip import figures, geometry
from fitlog.families.flip.names import FACES, FIT, HEIGHT, SHOULDER, STOP
from fitlog.families.half_blind import names as half_blind
from fitlog.families.half_lap import craft as lap_craft
from fitlog.families.tenon import craft as tenon_craft
from fitlog.families.tenon import names as tenons
from fitlog.families.tenon.joint import TenonJoint
from fitlog.families.tongue_groove import craft as tongue_craft
from fitlog.families.tongue_groove import figures as tongue_figures
from fitlog.families.tongue_groove import names as tongues
from fitlog.families.tongue_groove.joint import TongueJoint, fence_limit

AT_TENON = tenons.set_to(6.1, 6.05, 28.5)
AT_TONGUE = tongues.set_to(9.4, 5.64, 5.0)
ALL = [(tenon(), AT_TENON), (tongue(), AT_TONGUE), (lap(), Settings(lap().family, (8.85, 45.0)))]
MATED = lap(mate=9.0)
ONCE = tongue(passes="one")
EACH = [
    *ALL,
    (MATED, Settings(MATED.family, (8.85, 45.0))),
    (ONCE, Settings(ONCE.family, (9.1, 6.05, 5.0))),
]


def by_joint(pair: object) -> str:
    return pair.joint if isinstance(pair, Plan) else ""


def test_check_values_of_a_tenon() -> None:
    """T 20, h 6.05, M 8: t 7.90, c .10; q 6.10: faces -.10 (derived)."""
    joint, sizes = joint_of(tenon()), tenon().figures()
    assert geometry.web(20.0, 6.05) == pytest.approx(7.90)
    assert joint.nominal(FIT, AT_TENON, sizes) == pytest.approx(0.10)
    assert joint.nominal(FACES, AT_TENON, sizes) == pytest.approx(-0.10)
    assert joint.nominal(SHOULDER, AT_TENON, sizes) == pytest.approx(-1.5)


def test_check_values_of_a_tongue() -> None:
    """T 18, w 6, x 9.40, h 5.64: G 6.80, t 6.72, c .08; both T 18.2: c -.32 (derived)."""
    joint = joint_of(tongue())
    assert geometry.groove(6.0, 9.4, 18.0) == pytest.approx(6.80)
    assert geometry.web(18.0, 5.64) == pytest.approx(6.72)
    assert joint.nominal(FIT, AT_TONGUE, tongue().figures()) == pytest.approx(0.08)
    thicker = tongue(tail_thickness=18.2, pin_thickness=18.2)
    assert joint_of(thicker).nominal(FIT, AT_TONGUE, thicker.figures()) == pytest.approx(-0.32)
    # A test piece of its own thickness has both, groove and tongue.
    assert joint.nominal(FIT, AT_TONGUE, tongue().figures({"thickness": 18.2})) == pytest.approx(
        -0.32
    )


def test_a_web_is_raised_by_half_of_it_and_one_recut_takes_half_as_much() -> None:
    """h 8.85 on both of T 18: step +.30, raise .15; one at 9.00: +.15. Half is published: Workbench
    magazine, half laps; a router tip page.
    """
    both, one = joint_of(lap()), joint_of(lap(mate=8.85))
    at = Settings(lap().family, (8.85, 45.0))
    assert both.nominal(FACES, at, lap().figures()) == pytest.approx(0.30)
    assert both.setting_for(FACES, 0.0, at) == pytest.approx(8.85 + 0.15)
    assert one.nominal(FACES, at.with_(HEIGHT, 9.0), lap().figures()) == pytest.approx(0.15)


def test_a_fence_move_counts_twice_in_a_groove_cut_from_both_faces() -> None:
    """Published: a router forum's thread on grooves."""
    joint, at = joint_of(tongue()), AT_TONGUE
    further = at.with_(tongues.FENCE, 9.5)
    sizes = tongue().figures()
    gained = joint.nominal(FIT, further, sizes) - joint.nominal(FIT, at, sizes)
    assert gained == pytest.approx(0.2)
    assert joint.slope(FIT, at, tongues.FENCE) == 2.0
    assert joint.slope(FIT, at.with_(tongues.FENCE, 8.6), tongues.FENCE) == -2.0


def test_the_strongest_tenon_of_a_published_test_is_a_tight_one() -> None:
    """.1 mm of interference (Elek, Kovacs, Csoka and Agarwal, Eur. J. Wood Wood Prod. 78, 2020,
    abstract): the very edge of `tight`, and far from any looseness that is called good here.
    """
    assert figures.PUSH_EDGES[0] == -0.10
    assert figures.PUSH_WINDOW.low == 0.0 and figures.PUSH_WINDOW.high == 0.06


@pytest.mark.parametrize(("plan", "at"), EACH, ids=by_joint)
def test_slopes_are_what_a_move_does(plan: Plan, at: Settings) -> None:
    joint, sizes = joint_of(plan), plan.figures()
    for aspect in plan.family.aspects:
        for name in at:
            moved = at.with_(name, at[name] + 0.01)
            change = joint.nominal(aspect, moved, sizes) - joint.nominal(aspect, at, sizes)
            assert change / 0.01 == pytest.approx(joint.slope(aspect, at, name), abs=1e-9)
    for aspect in plan.family.setting_of:
        assert joint.nominal(
            aspect, at.moved(aspect, joint.setting_for(aspect, 0.07, at)), sizes
        ) == pytest.approx(0.07)


@pytest.mark.parametrize(("plan", "at"), EACH, ids=by_joint)
def test_another_thickness_is_followed_by_what_is_set(plan: Plan, at: Settings) -> None:
    """What fitted a thinner piece fits the real boards at the settings that are carried over."""
    thin = plan.tail_thickness - 1.0
    piece = type(plan)(**{**_fields(plan), "piece_thickness": thin})
    joint, real = joint_of(piece), joint_of(piece).carried(at)
    assert joint.for_piece(real) == at
    for aspect in plan.family.setting_of:
        same = joint.nominal(aspect, at, piece.figures())
        assert joint.nominal(aspect, real, piece.boards()) == pytest.approx(same)


def _fields(plan: Plan) -> dict[str, object]:
    return {name: getattr(plan, name) for name in type(plan).__dataclass_fields__}


def test_causes_keep_their_keys_and_count_as_often_as_the_setting() -> None:
    """First-order propagation (GUM, JCGM 100:2008, 5.1.2)."""
    terms = {t.key[0]: t for t in joint_of(tenon()).terms(FIT, AT_TENON)}
    assert (terms["height zero"].factor, terms["height zero"].sd) == (2.0, 0.05)
    assert (terms["thickness"].factor, terms["diameter"].factor) == (-1.0, 1.0)
    assert terms["diameter"].key == ("diameter", EIGHT.name, "0")
    step = {t.key[0]: t.factor for t in joint_of(tenon()).terms(FACES, AT_TENON)}
    assert (step["fence zero"], step["thickness"], step["diameter"]) == (-1.0, 0.5, -0.5)
    fit = {t.key[0]: t for t in joint_of(tongue()).terms(FIT, AT_TONGUE)}
    assert fit["fence zero"].factor * fit["fence zero"].sd == pytest.approx(0.50)
    assert (fit["thickness"].factor, fit["diameter"].factor) == (-2.0, 1.0)
    one = {t.key[0]: t.factor for t in joint_of(MATED).terms(FACES, EACH[-1][1])}
    assert one["height zero"] == -1.0
    eye = {t.key[0]: t for t in joint_of(tenon(height_by="eye")).terms(FIT, AT_TENON)}
    assert eye["height zero"].sd == 0.30 and eye["height zero"].key != terms["height zero"].key


def test_a_tenon_by_figures_is_known_to_an_eighth_of_a_millimetre() -> None:
    """.12, the height's repeat apart: common practice, no source."""
    law = know(tenon(), (), History(), AT_TENON).cold[FIT]
    assert law.sd == pytest.approx(0.12, abs=0.01)
    given = know(tenon(mortise=8.02), (), History(), AT_TENON).cold[FIT]
    assert given.sd < law.sd and given.mean == pytest.approx(0.0)  # measured: not under size
    wide = know(tongue(), (), History(), AT_TONGUE).cold[FIT]
    assert wide.sd == pytest.approx(math.hypot(0.50, 0.12), abs=0.03)


@pytest.mark.parametrize(
    ("craft", "plan", "aspect", "thick"),
    [
        (tenon_craft, tenon(), FIT, -1),
        (tongue_craft, tongue(), FIT, -1),
        (lap_craft, lap(), FACES, 1),
        (lap_craft, MATED, FACES, 1),
    ],
)
def test_a_first_piece_is_left_thick_but_once_in_twenty(
    craft: object, plan: Plan, aspect: str, thick: int
) -> None:
    """It can be cut again, and nothing puts wood back."""
    first = craft.first_settings(plan, History())  # type: ignore[attr-defined]
    found = know(plan, (), History(), first)
    joint, law = found.joint, found.cold[aspect]
    at = joint.nominal(aspect, first, plan.figures()) + law.mean
    middle, spread = joint.window(aspect).middle, math.hypot(law.sd, joint.piece_sd(aspect))
    thin = NormalDist(at, spread).cdf(middle)
    assert (thin if thick > 0 else 1 - thin) <= 0.0501
    wanted = craft.start_at(plan, History())  # type: ignore[attr-defined]
    assert first[HEIGHT] < wanted


def test_a_groove_begins_on_the_far_branch_for_sure() -> None:
    """At .3 mm beyond the middle a fence known to .25 stands on the near side once in nine; so it
    begins where it is not even nearer than .15 but once in forty.
    """
    assert NormalDist(0.3, 0.25).cdf(0.0) == pytest.approx(0.115, abs=0.001)
    first = tongue_craft.first_settings(tongue(), History())
    truly = NormalDist(first[tongues.FENCE] - 9.0, math.hypot(0.25, 0.05))
    assert truly.cdf(tongue_figures.LEAST_BEYOND) <= 0.025 and truly.cdf(0.0) < 0.006
    limit = fence_limit(tongue())
    assert (limit.low, limit.high) == pytest.approx((9.15, 11.5))
    stepped = Machine("bench", {"fence": Part(step=0.5)})
    assert tongue_craft.first_settings(tongue(stepped), History())[tongues.FENCE] == 10.0
    with pytest.raises(Refused, match="too thin"):
        tongue_craft.first_settings(tongue(bit=type(EIGHT)("two", 2.0, 0.0, 9.0)), History())


@pytest.mark.parametrize("fence", [8.5, 9.0, 9.14])
def test_a_groove_that_is_not_beyond_the_middle_is_refused(fence: float) -> None:
    at = AT_TONGUE.with_(tongues.FENCE, fence)
    with pytest.raises(Refused, match="climb cut"):
        tongue_craft.check(tongue(), at, {}, {})
    tongue_craft.check(tongue(), AT_TONGUE.with_(tongues.FENCE, 9.15), {}, {})


def test_a_groove_that_measures_too_narrow_stops_the_work_at_that_fence() -> None:
    first = tongue_craft.first_settings(tongue(), History())
    narrow = (Reading("groove", 6.1),)
    made = decide(
        setup(tongue(), first, cut(1, first, said(tongue(), fit="tight"), narrow)), History()
    )
    told = {r.code: dict(r.values) for r in tongue_craft.notices(made)}
    # By .05 on either side: .35 further out it is beyond by .3 at least.
    assert told["near-side"]["fence"] == pytest.approx(first[tongues.FENCE] + 0.35)
    wide = (Reading("groove", 7.1),)
    made = decide(
        setup(tongue(), first, cut(1, first, said(tongue(), fit="tight"), wide)), History()
    )
    assert "near-side" not in {r.code for r in tongue_craft.notices(made)}


def test_an_untuned_fence_goes_with_the_board_and_never_to_the_near_side() -> None:
    """A 16 mm piece is grooved at 8.6, an 18 mm board at 9.6: not at 8.6, a climb cut there."""
    plan, at = tongue(), tongues.set_to(8.6, 4.6, 5.0)
    first = tongue_craft.first_settings(plan, History())
    verdict = said(plan, fit="tight")
    thin = cut(1, at, verdict)
    thin = type(thin)(1, 1, at, verdict, (), sizes={"thickness": 16.0})
    made = decide(setup(plan, first, thin), History())
    assert made.settings[tongues.FENCE] == pytest.approx(9.6)


@pytest.mark.parametrize(("hollow", "solid"), [(8.0, 8.12), (8.0, 7.97)])
def test_both_parts_measured_give_the_play_tight_or_not(hollow: float, solid: float) -> None:
    """M - t by inside and outside jaws, u .042."""
    pieces = setup(
        tenon(),
        AT_TENON,
        cut(1, AT_TENON, said(tenon()), (Reading("jaws", hollow, other=solid),)),
        cut(2, AT_TENON, said(tenon()), (Reading("mortise", hollow), Reading("tenon", solid))),
    ).pieces()
    joint = TenonJoint(tenon())
    for piece in pieces:
        assert joint.reading_of(FIT, piece) == pytest.approx((hollow - solid, 0.042))
    (alone,) = setup(
        tenon(), AT_TENON, cut(1, AT_TENON, said(tenon()), (Reading("tenon", solid),))
    ).pieces()
    assert joint.reading_of(FIT, alone) is None
    given = TenonJoint(tenon(mortise=8.05))
    assert given.reading_of(FIT, alone) == pytest.approx((8.05 - solid, 0.042))


def test_a_feeler_beside_is_the_play_itself() -> None:
    verdict = said(tenon(), fit=("slightly loose", 0.10))
    (piece,) = setup(tenon(), AT_TENON, cut(1, AT_TENON, verdict)).pieces()
    assert TenonJoint(tenon()).reading_of(FIT, piece) == pytest.approx((0.10, 0.03))


def test_a_groove_measured_in_waste_tells_where_the_fence_stands() -> None:
    """7.2 where 7.0 was figured: wider by .2, of which the fence is most."""
    cold = know(tongue(), (), History(), AT_TONGUE).cold[FIT]
    at = tongues.set_to(9.5, 5.0, 5.0)
    pieces = setup(tongue(), at, cut(1, at, said(tongue()), (Reading("groove", 7.2),))).pieces()
    found = know(tongue(), pieces, History(), at).cold[FIT]
    assert found.mean == pytest.approx(0.2, abs=0.03) and found.sd < cold.sd / 2.5
    alone = setup(tongue(), at, cut(1, at, said(tongue()), (Reading("tongue", 8.2),))).pieces()
    thick = know(tongue(), alone, History(), at).cold[FIT]
    assert thick.mean < cold.mean - 0.05  # .2 thicker than figured


def test_a_fence_and_a_bit_carry_over_between_joints() -> None:
    """One key for the fence's zero, one for the bit: half-blind, tenon and groove share them."""
    zero = next(t for t in joint_of(tongue()).terms(FIT, AT_TONGUE) if t.key[0] == "fence zero")
    mortise = next(t for t in joint_of(tenon()).terms(FACES, AT_TENON) if t.key[0] == "fence zero")
    assert zero.key == mortise.key == ("fence zero", "", "caliper")
    assert half_blind.FENCE == "fence_offset"


@pytest.mark.parametrize(
    ("changes", "window"),
    [
        ({}, (0.04, 0.10)),
        ({"length": 301.0}, (0.08, 0.15)),
        ({"use": "panel"}, (0.15, 0.40)),
        ({"use": "stub"}, (0.0, 0.06)),
    ],
)
def test_the_words_are_those_of_what_is_joined(
    changes: dict[str, object], window: tuple[float, float]
) -> None:
    """Common practice, no source; the free panel's and the stub's are guesses."""
    plan = tongue(**changes)
    found = TongueJoint(plan).stated_window(FIT)
    assert (found.low, found.high) == window
    edges = word_sets(plan.joint, FIT)[plan.word_set]
    assert edges[2:4] == window and list(edges) == sorted(edges)


@pytest.mark.parametrize(("plan", "at"), EACH, ids=by_joint)
def test_limits_leave_enough_wood(plan: Plan, at: Settings) -> None:
    """3 mm and a quarter of the board for a tenon or a tongue: common practice, no source."""
    joint = joint_of(plan)
    limit = joint.limit(HEIGHT, at)
    left = {"tenon": 5.0, "tongue-groove": 4.5, "half-lap": 0.0}[plan.joint]
    assert geometry.web(plan.tail_thickness, limit.high) <= left + 1e-9
    if plan.joint != "half-lap":
        assert geometry.web(plan.tail_thickness, limit.high) == pytest.approx(left)
    assert joint.limit(STOP, at).low == 2.0
    short = type(plan)(**{**_fields(plan), "bit": type(EIGHT)("short", 8.0, 0.0, 4.0)})
    assert joint_of(short).limit(HEIGHT, at).high == 4.0


@pytest.mark.parametrize(
    ("craft", "plan"),
    [(tenon_craft, tenon(mortise=3.0)), (tongue_craft, tongue(tail_thickness=6.0))],
)
def test_wood_that_allows_no_joint_is_refused(craft: object, plan: Plan) -> None:
    with pytest.raises(Refused) as refused:
        craft.first_settings(plan, History())  # type: ignore[attr-defined]
    assert refused.value.code == "no-room"


def test_a_dovetail_bit_is_refused() -> None:
    with pytest.raises(Refused, match="a tenon wants a straight one"):
        tenon(bit=type(EIGHT)("wren", 12.7, 14.0, 14.0))


@pytest.mark.parametrize(("plan", "at"), ALL, ids=by_joint)
def test_a_closed_shoulder_says_only_that_none_is_seen(plan: Plan, at: Settings) -> None:
    joint = joint_of(plan)
    (piece,) = setup(plan, at, cut(1, at, said(plan, shoulder="closed"))).pieces()
    (heard,) = joint.evidence(SHOULDER, (piece,))
    assert heard.bands == ((-math.inf, 0.05, 1.0),) and heard.read is None and heard.other is None


@pytest.mark.parametrize(("plan", "at"), EACH, ids=by_joint)
def test_a_whole_family_has_its_rooms(plan: Plan, at: Settings) -> None:
    for room in ("example", "speech", "truth", "english.screens", "figures", "typed"):
        assert part_of(plan.joint, room) is not None
    edges = {a: word_sets(plan.joint, a) for a in plan.family.aspects}
    for kind in plan.family.kinds:
        assert all(len(e) == len(kind.words) - 1 for e in edges[kind.name].values())
