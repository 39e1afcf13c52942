"""Geometry and measuring against published numbers.

Sources: Machinery's Handbook, "Measuring dovetail slides" (as quoted in public pages); JCGM
100:2008 (GUM); Evans, Hocken and Estler on reversal (CIRP Annals 45(2), 1996, from memory). A fact
of the trade is marked so.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from building import about, make_cut, make_piece, make_plan, make_setup

from fitlog.advice import advise
from fitlog.advice.history import History
from fitlog.domain import Bit, Reading
from fitlog.errors import Refused
from fitlog.estimator.evidence import Term
from fitlog.estimator.history import Lessons
from fitlog.families.half_blind import geometry as g
from fitlog.families.half_blind.causes import causes
from fitlog.families.half_blind.joint import HalfBlindDovetail
from fitlog.families.half_blind.names import say, set_to
from fitlog.families.half_blind.readings import combine, read_centre, read_clearance, term_readings

deg = math.radians


# --- Machinery's Handbook, measuring dovetail slides ----------------------------------------------
# x = a + d (1 + cot(alpha/2)), y = b - d (1 + cot(alpha/2))


@pytest.mark.parametrize(
    ("theta", "k"), [(7, 2.130294), (8, 2.150368), (14, 2.279942), (30, 2.732051)]
)
def test_rod_factor_is_the_handbooks(theta: float, k: float) -> None:
    alpha = deg(90 - theta)  # the handbook's angle is from the floor
    assert g.rod_factor(deg(theta)) == pytest.approx(1 + 1 / math.tan(alpha / 2), abs=1e-12)
    assert g.rod_factor(deg(theta)) == pytest.approx(k, abs=6e-7)


def test_published_width_over_rods() -> None:
    # Machinery's Handbook: 60 deg dovetail, narrow flat 1.000 in, rods .250 in -> 1.6830 in; 40 mm,
    # 10 mm -> 67.3205.
    assert g.over_rods(1.000, 0.250, deg(30)) == pytest.approx(1.6830, abs=5e-5)
    assert g.over_rods(40.0, 10.0, deg(30)) == pytest.approx(67.3205, abs=5e-5)


def test_published_wide_side() -> None:
    # Machinery's Handbook: width 20, depth 4, 60 deg -> 24.6188 across the wide side. Any D with P
    # - D = 20 will do.
    for diameter in (26.0, 30.0):
        assert g.tail_root_width(diameter, diameter + 20) == 20
        assert g.tail_end_width(diameter, diameter + 20, 4.0, deg(30)) == pytest.approx(
            24.6188, abs=5e-5
        )


@pytest.mark.parametrize("theta", [7.0, 8.0, 14.0, 30.0])
def test_rods_belong_to_the_narrow_root_and_the_wide_floor(theta: float) -> None:
    """A rod drawn where it must lie: on the floor and against the overhanging flank, from distances
    alone.
    """
    t, d, narrow, wide, height = deg(theta), 4.0, 9.0, 20.0, 8.0
    up = np.array([math.sin(t), math.cos(t)])  # along a male flank, leaning outwards over the floor
    centre = np.array([(g.over_rods(narrow, d, t) - d) / 2, d / 2])
    away = centre - np.array([narrow / 2, 0.0])
    assert abs(up[0] * away[1] - up[1] * away[0]) == pytest.approx(d / 2, abs=1e-12)
    inner = np.array([(g.between_rods(wide, d, t) + d) / 2, d / 2])
    up[0] = -up[0]  # a female flank leans inwards over its wide floor
    away = inner - np.array([wide / 2, 0.0])
    assert abs(up[0] * away[1] - up[1] * away[0]) == pytest.approx(d / 2, abs=1e-12)
    mixed_up = g.over_rods(
        narrow + 2 * height * math.tan(t), d, t
    )  # what pages that take the wide flat would print
    assert abs(mixed_up - g.over_rods(narrow, d, t)) > 1.9


WORKED = [
    # theta, P, mouth, between rods, tail root, over rods; for D 12.7, h 9.5, rods 4, c 0.10 (worked
    # in closed form)
    (14.0, 20.5628, 7.9628, 3.5802, 7.8628, 16.9825),
    (7.0, 22.9671, 10.3671, 4.1788, 10.2671, 18.7883),
]


@pytest.mark.parametrize(("theta", "pitch", "mouth", "between", "root", "over"), WORKED)
def test_worked_rods(
    theta: float, pitch: float, mouth: float, between: float, root: float, over: float
) -> None:
    t = deg(theta)
    assert g.pitch_for(0.10, 12.7, 9.5, t) == pytest.approx(pitch, abs=5e-5)
    assert g.clearance(12.7, pitch, 9.5, t) == pytest.approx(0.10, abs=5e-5)
    assert g.mouth(12.7, 9.5, t) == pytest.approx(mouth, abs=5e-5)
    assert g.between_rods(12.7, 4.0, t) == pytest.approx(between, abs=5e-5)
    assert g.tail_root_width(12.7, pitch) == pytest.approx(root, abs=5e-5)
    exact_root = g.tail_root_width(
        12.7, g.pitch_for(0.10, 12.7, 9.5, t)
    )  # the printed root is rounded already
    assert g.over_rods(exact_root, 4.0, t) == pytest.approx(over, abs=5e-5)
    # the identity of both readings: c = 2 d k - 2 h tan(theta) - (x - y)
    k = g.rod_factor(t)
    assert 2 * 4 * k - 2 * 9.5 * math.tan(t) - (over - between) == pytest.approx(0.10, abs=1e-4)


@pytest.mark.parametrize(("theta", "pitch", "mouth", "between", "root", "over"), WORKED)
def test_worked_rods_read_on_a_piece_are_no_surprise(
    theta: float, pitch: float, mouth: float, between: float, root: float, over: float
) -> None:
    """The readings' path takes the wide floor for the slot and the narrow root for the tail:
    nothing is left over.
    """
    plan = make_plan(Bit("rods", 12.7, theta, 15.0), pitch=pitch)
    end = pitch - mouth
    readings = (
        Reading("between_rods", between, rod=4.0),
        Reading("over_rods", over, rod=4.0),
        Reading("mouth", mouth),
        Reading("tail_width", end),
    )
    piece = make_piece(set_to(9.5, 75.2, 9.0), readings=readings)
    found = term_readings(plan, piece, causes(plan, "fit", 9.5))
    assert [r.kind for r in found] == ["between_rods", "over_rods", "mouth", "tail_width"]
    for reading in found:
        assert reading.value == pytest.approx(0.0, abs=1.1e-4), reading.kind


@pytest.mark.parametrize("kind", ["mouth", "tail_width", "between_rods", "over_rods"])
def test_reading_sensitivities_are_the_slopes(kind: str) -> None:
    """Each factor of a reading's terms against the difference quotient of the closed form (GUM
    5.1.3).
    """
    angle, height, pitch, diameter, rod = 8.0, 9.0, 22.6, 12.6, 4.0

    def shown(d: float = 0.0, t: float = 0.0, p: float = 0.0, h: float = 0.0) -> float:
        big, theta, step, up = diameter + d, deg(angle) + t, pitch + p, height + h
        flat, rods = (
            big - 2 * up * math.tan(theta),
            rod * (1 + 1 / math.tan((math.pi / 2 - theta) / 2)),
        )
        return {
            "mouth": flat,
            "tail_width": step - flat,
            "between_rods": big - rods,
            "over_rods": step - big + rods,
        }[kind]

    reading = Reading(kind, 5.0, rod=rod if kind.endswith("rods") else None)
    plan = make_plan(Bit("b", diameter, angle, 15.0), pitch=pitch)
    found = term_readings(
        plan,
        make_piece(set_to(height, 75.0, 9.0), readings=[reading]),
        causes(plan, "fit", height),
    )[0]
    assert found.value == pytest.approx(5.0 - shown(), abs=1e-12)
    factors = {t.key[0]: t.factor for t in found.terms}
    for name, letter in {"diameter": "d", "angle": "t", "pitch": "p", "height zero": "h"}.items():
        e = 1e-5
        quotient = (shown(**{letter: e}) - shown(**{letter: -e})) / (2 * e)
        assert factors.get(name, 0.0) == pytest.approx(quotient, abs=1e-6), name


@pytest.mark.parametrize("theta", [7.0, 14.0, 30.0])
def test_two_rods_give_the_angle(theta: float) -> None:
    for width, sign in ((g.over_rods, 9.0), (lambda a, d, t: -g.between_rods(a, d, t), 20.0)):
        found = g.theta_from_rods(
            3.0, width(sign, 3.0, deg(theta)), 5.0, width(sign, 5.0, deg(theta))
        )
        assert math.degrees(found) == pytest.approx(theta, abs=1e-9)
    # from the published pair of Machinery's Handbook, k = (67.3205 - 40) / 10 over a rod of no size
    # at all
    assert math.degrees(g.theta_from_rods(10.0, 67.3205, 0.0, 40.0)) == pytest.approx(
        30.0, abs=1e-3
    )


def test_equal_rods_are_refused() -> None:
    with pytest.raises(Refused, match="4 mm"):
        g.theta_from_rods(4.0, 17.0, 4.0, 17.1)


# --- closed forms of the pitch, the height and the slopes of the trade ----------------------------


@pytest.mark.parametrize(
    ("diameter", "theta", "height", "pitch"),
    [
        (12.7, 14, 9.525, 20.6503),
        (12.7, 8, 9.525, 22.7227),
        (12.7, 7, 12.7, 22.2813),
        (19.05, 14, 12.7, 31.7671),
    ],
)
def test_zero_clearance_pitch(diameter: float, theta: float, height: float, pitch: float) -> None:
    assert g.pitch_for(0.0, diameter, height, deg(theta)) == pytest.approx(pitch, abs=5e-5)
    assert g.clearance(diameter, pitch, height, deg(theta)) == pytest.approx(0.0, abs=5e-5)
    assert g.height_for(0.0, diameter, pitch, deg(theta)) == pytest.approx(height, abs=5e-4)


@pytest.mark.parametrize(("rise", "angle"), [(6, 9.4623), (8, 7.1250)])
def test_slopes_of_the_trade(rise: int, angle: float) -> None:
    # 1:6 and 1:8 are a convention of the trade: common practice, no source. A tail 1 in 6 loses 2
    # h/6 of its width.
    assert math.degrees(math.atan2(1, rise)) == pytest.approx(angle, abs=5e-5)
    assert 12.7 - g.mouth(12.7, 9.0, deg(angle)) == pytest.approx(2 * 9.0 / rise, abs=1e-5)
    Bit("any species", 12.7, angle, 12.0)  # and no angle is refused for its species


def test_sensitivities_are_the_slopes_of_the_clearance() -> None:
    diameter, pitch, height, t, e = 12.6, 22.6, 8.7, deg(8), 1e-6

    def quotient(d: float, p: float, h: float, a: float) -> float:
        up = g.clearance(diameter + d, pitch + p, height + h, t + a)
        return (up - g.clearance(diameter - d, pitch - p, height - h, t - a)) / (2 * e)

    factors = {term.key[0]: term.factor for term in causes(make_plan(), "fit", height)}
    assert factors["diameter"] == pytest.approx(quotient(e, 0, 0, 0), abs=1e-7)
    assert factors["pitch"] == pytest.approx(quotient(0, e, 0, 0), abs=1e-7)
    assert factors["height zero"] == pytest.approx(quotient(0, 0, e, 0), abs=1e-7)
    assert factors["angle"] == pytest.approx(quotient(0, 0, 0, e), abs=1e-7)
    assert HalfBlindDovetail(make_plan()).slope("fit", about(8.0)) == pytest.approx(
        quotient(0, 0, e, 0), abs=1e-7
    )


# --- JCGM 100:2008 (GUM) --------------------------------------------------------------------------


def test_worked_uncertainty_of_the_clearance() -> None:
    # Worked in closed form after GUM 4.3.7 and 5.1.2: D 12.7 +-.02, P 20.65 +-.02, h 9.5 +-.05,
    # theta 14 +-.25 deg, all rectangular: terms .0231, .0115, .0144, .0508, together .0588.
    half = {"diameter": 0.02, "pitch": 0.02, "height zero": 0.05, "angle": deg(0.25)}
    plan = make_plan(Bit("gum", 12.7, 14, 15.0), pitch=20.65)
    terms = [
        replace(t, sd=half[t.key[0]] / math.sqrt(3))
        for t in causes(plan, "fit", 9.5)
        if t.key[0] in half
    ]
    sizes = {t.key[0]: Lessons().law([t]).sd for t in terms}
    expected = {"diameter": 0.0231, "pitch": 0.0115, "height zero": 0.0144, "angle": 0.0508}
    assert sizes == pytest.approx(expected, abs=5.1e-5)
    assert Lessons().law(terms).sd == pytest.approx(0.0588, abs=5e-5)


def test_root_sum_square_of_annex_h1() -> None:
    # JCGM 100:2008, Annex H.1.7: 25, 16.6, 6.7, 5.8, 3.9, 2.9 nm together 32 nm (the components are
    # printed rounded).
    parts = (25.0, 16.6, 6.7, 5.8, 3.9, 2.9)
    law = Lessons().law([Term((str(u),), 1.0, 0.0, u) for u in parts])
    assert law.sd == pytest.approx(31.66, abs=0.02)
    assert round(law.sd) == 32


def test_inverse_variance_mean() -> None:
    # Weighted mean of GUM-style readings: 1.0 +- 1 and 4.0 +- 0.5 -> (1 + 16)/5 = 3.4, sd
    # 1/sqrt(5).
    assert combine([(1.0, 1.0), (4.0, 0.5)]) == pytest.approx((3.4, 1 / math.sqrt(5)))


# --- reversal: Evans, Hocken, Estler, CIRP Annals 45(2), 1996 (from memory) -----------------------


@pytest.mark.parametrize("e", [0.31, -0.17])
def test_reversal_gives_half_the_difference(e: float) -> None:
    """Two passes drawn as intervals, the board turned between them; the readings are taken from the
    drawing.
    """
    width, diameter = 150.0, 12.6
    x = width / 2 + e
    first = (x - diameter / 2, x + diameter / 2)  # from the edge at the fence in the first pass
    walls = (first[0], width - first[1])
    again = (
        width - first[1],
        width - first[0],
    )  # the same cut seen from the other edge, now at the fence
    both = (min(first[0], again[0]), max(first[1], again[1]))
    extra = both[1] - both[0] - diameter
    # the second pass cuts at `first` again; what stands out of `again` is what it shaves
    side = "gap far" if first[1] > again[1] else "gap near"
    at = set_to(9.0, x, 9.0)
    by_walls = read_centre(make_piece(at, readings=[Reading("walls", walls[0], other=walls[1])]))
    by_turn = read_centre(make_piece(at, centre=say("centre", side, extra)))
    assert by_walls is not None
    assert by_turn is not None
    assert by_walls[0] == pytest.approx(e, abs=1e-9)
    assert by_turn[0] == pytest.approx(e, abs=1e-9)


# --- what makers say of it: common practice, no source --------------------------------------------

D, THETA, H = 15.875, deg(7), 15.0


def test_common_practice_spacing() -> None:
    # common practice, no source: a 15.875 mm, 7 deg bit at 15 mm wants a spacing of 28.07 mm
    assert g.pitch_for(0.0, D, H, THETA) == pytest.approx(28.07, abs=0.005)


def test_common_practice_rabbet_is_the_radius() -> None:
    # common practice, no source: the rabbet is about 8 mm for that bit, its radius
    assert g.least_rabbet(0.0, D / 2) == D / 2
    assert g.least_rabbet(0.0, D / 2) == pytest.approx(8, abs=0.1)


def test_common_practice_error_is_half_of_what_the_second_pass_shows() -> None:
    # common practice, no source: move the fence by half the extra width, never by all of it
    plan, first = make_plan(), set_to(8.7, 75.2, 10.2)
    for side, sign in (("gap far", -1), ("gap near", 1)):
        setup = make_setup(plan, first, [make_cut(1, first, centre=say("centre", side, 0.4))])
        moves = advise(setup, History()).moves
        assert moves is not None
        assert moves["fence_offset"] == pytest.approx(sign * 0.2, abs=0.0151)  # rounded to 0.01


def test_common_practice_raising_tightens_lowering_loosens() -> None:
    # common practice, no source: raise the bit when loose, lower it when tight
    assert (
        g.clearance(D, 28.07, H + 0.1, THETA)
        < g.clearance(D, 28.07, H, THETA)
        < g.clearance(D, 28.07, H - 0.1, THETA)
    )
    plan, first = make_plan(), set_to(8.7, 75.2, 10.2)
    for word, sign in (("loose", 1), ("tight", -1)):
        moves = advise(make_setup(plan, first, [make_cut(1, first, fit=word)]), History()).moves
        assert moves is not None
        assert moves["bit_height"] * sign > 0


def test_a_pull_apart_gap_is_the_height_to_raise() -> None:
    # g = c / (2 tan theta) is also h(0) - h(c): two closed forms that must agree
    for c in (0.02, 0.1, 0.3):
        pitch = g.pitch_for(c, D, H, THETA)
        assert g.pull_apart_gap(c, THETA) == pytest.approx(
            g.height_for(0.0, D, pitch, THETA) - H, abs=1e-10
        )
    assert g.pull_apart_gap(-0.1, THETA) == 0.0
    read = read_clearance(make_piece(set_to(9, 75, 9), fit=say("fit", "loose", 0.8)), THETA)
    assert read is not None
    assert read[0] == pytest.approx(2 * math.tan(THETA) * 0.8)
