"""The lock mitre against check values, each with its source beside it, and its joint against the
closed forms.

"Reference" is the reference for further joints, section 5, whose own sources are named there.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from fitlog.advice.cautions import speed, top_speed
from fitlog.advice.craft import craft_of
from fitlog.advice.history import History
from fitlog.domain import Bit, Piece, Plan, Settings, Stock, Verdict
from fitlog.domain.said import Fault
from fitlog.errors import Refused
from fitlog.families import joint_of
from fitlog.families.lock_mitre import geometry as g
from fitlog.families.lock_mitre.joint import LockMitre
from fitlog.families.lock_mitre.names import CORNER, FENCE, FIT, HEIGHT, LOCK_MITRE, OFFSET, set_to
from fitlog.families.lock_mitre.plan import MitrePlan

BIT = Bit("lock (invented)", 50.8, 45.0, 22.0)
OAK = Stock("box oak", "oak (invented)", 19.0, 140.0)
MIDDLE = 11.0
PLAN = MitrePlan(
    BIT, OAK, OAK, None, 140.0, 19.0, 19.0, middle=MIDDLE, thinnest=11.0, thickest=22.0
)


def at(x: float, z: float) -> Settings:
    """Settings that bring the profile's middle there."""
    return set_to(MIDDLE + z, MIDDLE + x)


# x, z: flats, uprights, flat over, upright over, shortened (below 0 blunt). Reference, the table of
# check values (T 19).
VALUES = [
    (9.60, 9.70, (0.40, 0.20, -0.10, 0.10, 0.30)),
    (9.30, 9.40, (-0.20, -0.40, -0.40, -0.20, -0.30)),
    (9.70, 9.40, (-0.20, 0.40, 0.30, -0.30, 0.10)),
]


@pytest.mark.parametrize(("x", "z", "told"), VALUES)
def test_check_values(x: float, z: float, told: tuple[float, ...]) -> None:
    found = (
        g.flats(z, 19),
        g.uprights(x, 19),
        g.flat_over(x, z, 19, 19),
        g.upright_over(x, z, 19, 19),
        g.edge(x, z, 19),
    )
    assert found == pytest.approx(told, abs=1e-9)
    joint = LockMitre(PLAN)
    misfits = [joint.nominal(a, at(x, z), PLAN.figures()) for a in (HEIGHT, FENCE, CORNER, FIT)]
    assert misfits == pytest.approx([*told[:3], 0.0], abs=1e-9)


def test_the_piece_as_cut_stands_high_raise_by_half() -> None:
    """P20 of the reference, a router demonstration page: the piece as cut stands high: raise the
    bit by half of the step. As cut it stands 0.40 high, so the turned one lies 0.40 shy.
    """
    joint, now = LockMitre(PLAN), at(9.5, 9.3)
    assert joint.nominal(HEIGHT, now, PLAN.figures()) == pytest.approx(-0.40)
    raised = joint.setting_for(HEIGHT, 0.0, now)
    assert raised - now[HEIGHT] == pytest.approx(0.20)


@pytest.mark.parametrize(("inches", "rpm", "rim"), [(2.25, 16000, 47.9), (3.5, 12000, 55.9)])
def test_speeds(inches: float, rpm: int, rim: float) -> None:
    """P21 of the reference, a magazine: 16,000 rpm to 2-1/4 in, 12,000 to 3-1/2 in."""
    plan = replace(PLAN, bit=Bit("large", inches * 25.4, 45.0, 22.0))
    assert top_speed(plan) == rpm
    assert dict(speed(plan).values)["rim"] == pytest.approx(rim, abs=0.05)


def test_unequal_boards_are_flush_and_leave_a_butt_line_of_half_the_difference() -> None:
    """Reference, section 5: with z = F/2 and x = V/2 the faces are flush, the line is half of what
    they differ.
    """
    flat, upright = 19.0, 18.0
    x, z = upright / 2, flat / 2
    assert g.flat_over(x, z, flat, upright) == 0 == g.flats(z, flat)
    # The flat's end is blunt by half of the millimetre, the thinner upright's as much too short.
    assert -g.edge(x, z, flat) == 0.5 == g.edge(x, z, upright)


@pytest.mark.parametrize("aspect", LOCK_MITRE.aspects)
@pytest.mark.parametrize(("x", "z"), [(9.60, 9.70), (9.30, 9.40), (9.70, 9.40), (9.4, 9.5)])
@pytest.mark.parametrize("name", LOCK_MITRE.names)
def test_slopes_are_those_of_the_nominal(aspect: str, x: float, z: float, name: str) -> None:
    joint, now, step = LockMitre(PLAN), at(x, z), 1e-5
    above, below = (
        joint.nominal(aspect, now.with_(name, now[name] + s * step), PLAN.figures())
        for s in (1, -1)
    )
    assert joint.slope(aspect, now, name) == pytest.approx((above - below) / (2 * step), abs=1e-6)


def piece(at_: Settings, **words: Any) -> Piece:
    """A piece of which this was said: a word, or a word and its number."""
    told = {a: w if isinstance(w, tuple) else (w, None) for a, w in words.items()}
    said = tuple(LOCK_MITRE.said(a, *told[a]) for a in LOCK_MITRE.aspects if a in told)
    return Piece(1, at_, Verdict(said), (), ())


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ({"corner": ("under", 0.4), "height": ("shy", 0.2)}, (-0.4, 0.04)),  # blunt
        ({"corner": ("over", 0.3), "height": ("shy", 0.2)}, (0.4, math.hypot(0.08, 0.04))),  # sharp
        ({"corner": ("under", 0.1), "height": ("proud", 0.4)}, (0.2, math.hypot(0.08, 0.04))),
        ({"corner": ("over", 0.3)}, None),  # alone it tells height and fence not apart
        ({"height": ("shy", 0.2)}, None),
        ({"corner": "over", "height": "shy"}, None),  # no numbers
    ],
)
def test_what_a_corner_tells_of_the_fence(
    words: dict[str, Any], told: tuple[float, float] | None
) -> None:
    found = LockMitre(PLAN).reading_of(FENCE, piece(at(9.5, 9.5), **words))
    assert (found is None) == (told is None)
    if told is not None:
        assert found == pytest.approx(told, abs=1e-9)


def test_a_gap_inside_silences_the_corner_and_two_thicknesses_do() -> None:
    joint, cut = LockMitre(PLAN), piece(at(9.5, 9.5), corner=("over", 0.3), height=("shy", 0.2))
    open_inside = replace(cut, verdict=replace(cut.verdict, faults=(Fault("inside"),)))
    assert joint.reading_of(FENCE, cut) is not None
    assert joint.reading_of(FENCE, open_inside) is None
    assert LockMitre(replace(PLAN, pin_thickness=18.0)).reading_of(FENCE, cut) is None


def first(plan: Plan) -> Settings:
    return craft_of(plan).first_settings(plan, History(()))


def test_the_first_ends_are_blunt_but_once_in_twenty() -> None:
    now = first(PLAN)
    x, z = LockMitre(PLAN).middle_at(now)
    # Both pairs are known to about 0.8 mm (reference: "sd of the first step 0.8 each").
    terms = [joint_of(PLAN).terms(aspect, now) for aspect in (HEIGHT, FENCE)]
    sds = [math.hypot(*(t.factor * t.sd for t in found)) for found in terms]
    assert sds == pytest.approx([0.8, 0.8], abs=0.05)
    edge = g.edge(x, z, 19)
    # The prior's own scale is uncertain, which makes the law a sixth wider than its terms.
    assert -1.17 * 1.645 - 0.08 < edge / (math.hypot(*sds) / 2) <= -1.645
    assert now[HEIGHT] < MIDDLE + 9.5 and now[OFFSET] < MIDDLE + 9.5


def test_set_up_by_kept_ends_starts_nearer_and_by_eye_teaches_nothing() -> None:
    far, near = (first(replace(PLAN, set_by=by))[HEIGHT] for by in ("eye", "blocks"))
    assert far < near < MIDDLE + 9.5
    for aspect in (HEIGHT, FENCE):
        terms = joint_of(replace(PLAN, set_by="eye")).terms(aspect, first(PLAN))
        shared = [t for t in terms if not t.own]
        assert [t.key[0] for t in shared] == ["thickness"]


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"bit": Bit("wren", 12.7, 14.0, 14.0)}, "bad-angle"),
        ({"thinnest": 25.0}, "absurd-size"),
        ({"middle": 0.0}, "bad-size"),
    ],
)
def test_what_is_no_lock_mitre_is_refused(changes: dict[str, Any], code: str) -> None:
    with pytest.raises(Refused) as raised:
        replace(PLAN, **changes)
    assert raised.value.code == code


@pytest.mark.parametrize("thick", [10.0, 23.0])
def test_boards_that_the_bit_is_not_marked_for_are_refused(thick: float) -> None:
    with pytest.raises(Refused) as raised:
        first(replace(PLAN, tail_thickness=thick, pin_thickness=thick))
    assert raised.value.code == "no-room"


def test_thinner_scrap_is_carried_over_by_half_of_what_it_is_thinner() -> None:
    plan = replace(PLAN, piece_thickness=18.0)
    joint, now = LockMitre(plan), at(9.0, 9.0)
    real = joint.carried(now)
    assert [real[n] - now[n] for n in LOCK_MITRE.names] == pytest.approx([0.5, 0.5])
    for aspect in (HEIGHT, FENCE):
        assert joint.nominal(aspect, now, plan.figures()) == pytest.approx(0.0)
        assert joint.nominal(aspect, real, plan.boards()) == pytest.approx(0.0)
