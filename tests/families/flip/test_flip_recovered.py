"""Tenons, tongues and laps got back from their set-up and from a kept sample; and what is simulated
of them. Half of what a board is thicker goes to each face: geometry (`test_flip_oracle`).
"""

from __future__ import annotations

import math
import shlex
from statistics import stdev
from typing import Any

import pytest
from building import STARTED
from flips_at_work import BOARD, EIGHT, RAIL, cut, lap, said, tenon, tongue
from shop import Shop, sentence

from fitlog.advice.history import History
from fitlog.domain import Plan, Reading, Settings
from fitlog.domain.setups import SetUp
from fitlog.families import joint_of
from fitlog.families.drawn import Drawn
from fitlog.families.example import example_of
from fitlog.families.flip.names import FACES, FIT, HEIGHT
from fitlog.families.flip.recover import RecoveredFlip, recovered
from fitlog.families.recovering import Asked
from fitlog.families.tenon.names import set_to
from fitlog.families.tongue_groove import truth as tongue_truth
from fitlog.families.tongue_groove.names import set_to as set_tongue
from fitlog.language.units import Ruler
from fitlog.simulation import Truth
from fitlog.simulation.simulated import simulated

JOINTS = ("tenon", "tongue-groove", "half-lap")


def finished(shop: Shop, joint: str) -> Shop:
    """A set-up that ended good at its first settings."""
    for command in example_of(joint).BEFORE:
        if command[0] != "machine":
            shop.run(*command)
    shop.run(*example_of(joint).EXAMPLE)
    word = "meets" if joint == "half-lap" else "good, flush"
    shop.run("cut", *f"{word}, closed".split(" "))
    shop.words("finish")
    return shop


def back(shop: Shop, *more: str) -> Any:
    return shop.run("recover", "--from", "1", *more, "--json").document


@pytest.mark.parametrize("joint", JOINTS)
def test_the_same_bit_and_boards_come_back_as_they_were(shop: Shop, joint: str) -> None:
    finished(shop, joint)
    good = shop.run("show", "1", "--json").document["cuts"][0]["settings"]
    told = back(shop)
    assert told["settings"] == pytest.approx(good)
    thick = {"tenon": 20.0, "tongue-groove": 18.0, "half-lap": 18.0}[joint]
    assert told["left"] == pytest.approx(thick - 2 * good["height"], abs=1e-3)
    text = " ".join(shop.words("recover --from 1").out.split())
    assert "As the good piece of set-up 1 was cut." in text
    shop.run(*shlex.split(told["start"])[1:])
    assert shop.json("next")["settings"] == pytest.approx(good)


def test_a_thicker_rail_takes_half_of_that_off_each_face(shop: Shop) -> None:
    finished(shop, "tenon")
    same, thick = (back(shop, "--thickness", t) for t in ("20.0001", "21"))
    for name in ("height", "mortise_fence"):
        more = thick["settings"][name] - same["settings"][name]
        assert more == pytest.approx(0.5, abs=0.011), name
    assert thick["settings"]["stop"] == same["settings"]["stop"]


def test_what_never_was_good_does_not_come_back(shop: Shop) -> None:
    shop.run(*finished(shop, "tenon") and example_of("tenon").EXAMPLE)
    shop.words("cut tight")
    shop.words("finish --as-it-is")
    error = shop.run("recover", "--from", "2", code=1).err
    sentence(error)
    assert "did not end with a joint that was good" in error


@pytest.mark.parametrize(("solid", "height"), [(7.94, 6.03), (8.1, 5.95)])
def test_a_kept_tenon_says_how_much_is_left(solid: float, height: float) -> None:
    """h = (T - t) / 2 by a height whose zero is not known to be off."""
    at = set_to(6.0, 6.05, 28.5)
    origin = SetUp(1, tenon(), at, at, STARTED, cuts=(cut(1, at, said(tenon(), fit="good")),))
    asked = Asked("tenon", EIGHT, RAIL, RAIL, None, origin, readings=(Reading("tenon", solid),))
    told = recovered(asked, History(), "", Ruler())
    assert isinstance(told, RecoveredFlip)
    assert told.settings[HEIGHT] == pytest.approx(height, abs=1e-6)
    assert told.left == pytest.approx(solid, abs=1e-6)
    assert [r.code for r in told.reasons] == ["sample-left"]


@pytest.mark.parametrize(
    ("plan", "lead"), [(tenon(), FIT), (tongue(), FIT), (lap(), FACES)], ids=JOINTS
)
def test_a_simulated_joint_hides_what_is_drawn_for_it(plan: Plan, lead: str) -> None:
    """As printed it is the nominal one; a shift and the bit's error come on top."""
    hidden, joint = simulated(plan.joint), joint_of(plan)
    beyond = {"groove_fence": 9.6, "mortise_fence": 6.0}
    at = Settings.named(plan.family, {n: beyond.get(n, 6.0) for n in plan.family.names})
    plain = hidden.misfits(plan, Drawn(), at, 0.0)
    for aspect in plan.family.setting_of:
        assert plain[aspect] == pytest.approx(joint.nominal(aspect, at, plan.figures()))
    moved = hidden.misfits(plan, Drawn(shift={lead: 0.1}), at, 1.0)
    assert moved[lead] - plain[lead] == pytest.approx(0.1 + joint.piece_sd(lead))
    kinds = {t.key[0] for a in plan.family.setting_of for t in joint.terms(a, at)}
    assert kinds <= {*hidden.CAUSES}
    for number in range(20):
        draw = [number / 20, number % 4 / 4]  # every cutter and every stock
        drawn = hidden.invented(draw, number / 20, None, (lead,), False, {})  # type: ignore[arg-type]
        height = hidden.fitting(drawn, Drawn())
        limit = joint_of(drawn).limit(HEIGHT, at)
        assert limit.low < height < limit.high


def test_a_simulated_groove_is_wider_on_either_side_of_the_middle() -> None:
    """A bit off the middle by .1 either way makes it .2 wider, and the play with it."""
    plan = tongue()
    drawn = [Drawn(off={"fence zero": off}) for off in (-0.1, 0.0, 0.1)]
    at = set_tongue(9.0, 5.9, 5.0)
    play = [tongue_truth.misfits(plan, d, at, 0.0)[FIT] for d in drawn]
    assert play[0] == pytest.approx(play[1] + 0.2) and play[2] == pytest.approx(play[1] + 0.2)
    assert tongue_truth.slot(plan, drawn[0], at, 0.0).value == pytest.approx(6.2)
    assert BOARD.thickness == 18.0


def test_cuts_on_one_end_have_its_wood_alike_and_the_rest_each() -> None:
    """Spreads of 200 pairs with a fixed seed, within 20 %: 4 standard errors, one false alarm in
    8000 a spread.
    """
    plan, truth = tenon(), Truth(11)
    joint, at = joint_of(plan), Settings.named(plan.family, dict.fromkeys(plan.family.names, 6.0))
    piece, end = joint.piece_sd(FIT), joint.end_sd(FIT)
    again, fresh = [], []
    for number in range(1, 201):
        first = truth.misfits(plan, number, 1, at)[FIT]
        again.append(truth.misfits(plan, number, 2, at, end=1)[FIT] - first)
        fresh.append(truth.misfits(plan, number, 3, at)[FIT] - first)
    assert stdev(fresh) == pytest.approx(math.sqrt(2) * piece, rel=0.2)
    assert stdev(again) == pytest.approx(math.sqrt(2 * (piece**2 - end**2)), rel=0.2)
