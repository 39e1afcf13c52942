"""Getting the fit of a box joint back: from a kept finger and its slot, for another cutter, and as
it was. No outside source: these are promises of the tool itself.
"""

from __future__ import annotations

import shlex
from typing import Any

import pytest
from shop import Shop

from fitlog.defaults import STRAIGHT_PRINTED
from fitlog.families.fingers.geometry import loss_on_key


@pytest.fixture
def done(shop: Shop) -> Shop:
    """A shop with a good set-up of a box joint."""
    return shop.built(_done)


def _done(shop: Shop) -> None:
    shop.words("bit add plain --diameter 9.525 --angle 0 --cutting-length 25")
    shop.words("bit add other --diameter 10.0 --angle 0 --cutting-length 25")
    shop.words("stock add ash --species ash --thickness 12 --width 120")
    shop.run("machine", "add", "sled", "--part", "key=zero 0.3")
    shop.run("start", "--joint", "box", "--bit", "plain", "--machine", "sled")
    shop.run("cut", "good 0.07, level, flush", "--set", "key_gap=9.70")
    shop.words("finish")


def recovered(shop: Shop, *args: str) -> Any:
    return shop.run("recover", *args, "--json").document


def test_a_set_up_is_made_again_as_it_was(done: Shop) -> None:
    found = recovered(done, "--from", "1")
    assert (found["setting"], found["value"], found["as_it_was"]) == ("key_gap", 9.70, True)
    text = " ".join(done.run("recover", "--from", "1").out.split())
    assert "As the good piece of set-up 1 was cut." in text and "9.70 mm" in text
    line = shlex.split(found["start"])[1:]
    advice = done.run(*line, "--json").document
    assert advice["joint"] == "box"
    assert advice["settings"]["key_gap"] == pytest.approx(9.70)  # on the scale of the sled


def test_another_cutter_makes_the_same_play(done: Shop) -> None:
    """The first set-up says that play and gap make a slot of 9.40 + 0.07 mm and what errors of the
    steps take: what is not the cutter's own error comes again with another one.
    """
    found = recovered(done, "--from", "1", "--bit", "other")
    assert not found["as_it_was"]
    gap = found["value"] - 0.3
    printed = 10.0 + STRAIGHT_PRINTED[0] - 0.07 - loss_on_key(4, 0.010)
    assert gap == pytest.approx(printed, abs=0.05)
    assert found["play"] == pytest.approx(0.07 + loss_on_key(4, 0.010), abs=1e-3)
    text = " ".join(done.run("recover", "--from", "1", "--bit", "other").out.split())
    assert "was good with another cutter or machine" in text


def test_a_kept_finger_and_its_slot_say_the_play(done: Shop) -> None:
    sample = ("--joint", "box", "--bit", "plain", "--stock", "ash", "--machine", "sled")
    found = recovered(done, *sample, "--read", "slot=9.50", "--read", "finger=9.40")
    assert found["play"] == pytest.approx(0.10)
    assert found["value"] - 0.3 == pytest.approx(9.40, abs=0.05)  # this cutter cut that slot
    done.words("prefer --units fraction")
    text = done.run("recover", *sample, "--read", "slot=3/8", "--read", "finger=0.370").out
    assert " mm" not in text and "of play in its slot" in text


def test_what_says_nothing_is_refused(done: Shop) -> None:
    error = done.run("recover", "--joint", "box", "--bit", "plain", code=2).err
    assert "nothing says what the joint was" in error
    done.run("start", "--joint", "box", "--bit", "plain")
    assert "did not end with a good fit" in done.run("recover", "--from", "2", code=1).err
