"""A sliding dovetail got back from its set-up and from a kept sample's own tongue and socket."""

from __future__ import annotations

import math
import re
import shlex

import pytest
from shop import Shop, by_code, sentence

RISE = math.tan(math.radians(14))
K = 1 + 1 / math.cos(math.radians(14)) + RISE  # what a rod of 1 mm adds (Machinery's Handbook)


@pytest.fixture
def kept(shop: Shop) -> Shop:
    """A shop with a finished set-up: good at an exposure of 4.61 mm."""
    return shop.built(_kept)


def _kept(shop: Shop) -> None:
    shop.words("bit add wren --diameter 12.7 --angle 14 --cutting-length 14")
    shop.words("bit add lark --diameter 14 --angle 14 --cutting-length 14")
    shop.words("stock add ash --species ash --thickness 18 --width 140")
    shop.run("start", "--joint", "sliding", "--bit", "wren", "--height", "8")
    shop.run("cut", "good 0.14, closed", "--set", "exposure=4.61")
    shop.words("finish")


def test_what_was_good_is_set_again(kept: Shop) -> None:
    told = kept.json("recover --from 1")
    assert told["from"] == 1 and told["settings"]["socket_height"] == 8.0
    assert told["settings"]["exposure"] == pytest.approx(4.61, abs=0.04)
    low, high = told["range90"]
    assert low < told["settings"]["exposure"] < high and high - low < 0.25
    again = kept.run(*shlex.split(told["start"])[1:], "--json").document
    assert again["settings"] == pytest.approx(told["settings"], abs=1e-3)


def test_a_kept_sample_tells_its_own_root(kept: Shop) -> None:
    """A sample whose root is 0.2 mm thicker than the figures say was cut at an exposure that is 0.1
    short: the zero is taken in, most of it.
    """
    root = 18 - 2 * 4.61
    found = {}
    for more in (0.0, 0.2):
        rods = ("--over-rods", "4", f"{root + more + 4 * K:.3f}", "--mouth", "8.640")
        told = kept.run("recover", "--from", "1", *rods, "--json").document
        assert "mouth and over rods" in by_code(told["reasons"])["sample-read"]
        found[more] = told["settings"]["exposure"]
    assert 0.02 < found[0.2] - found[0.0] < 0.1
    told = kept.json("recover --from 1")
    measured = kept.run("recover", "--from", "1", *rods, "--json").document
    spread = [end["range90"][1] - end["range90"][0] for end in (measured, told)]
    assert spread[0] < spread[1]


def test_another_bit_cuts_its_own_sockets(kept: Shop) -> None:
    told = kept.json("recover --from 1 --bit lark")
    assert "sockets-anew" in by_code(told["notices"])
    # A wider bit has a wider mouth: the tongue's root is thicker by as much.
    assert told["settings"]["exposure"] == pytest.approx(4.61 - 1.3 / 2, abs=0.15)
    error = kept.run("recover", "--from", "1", "--bit", "lark", "--mouth", "9", code=1).err
    sentence(error)
    assert "the sample was cut by wren, and today's bit is lark" in error


def test_what_never_was_good_is_not_got_back(kept: Shop) -> None:
    kept.run("start", "--joint", "sliding", "--bit", "lark", "--height", "8")
    kept.run("cut", "tight")
    error = kept.run("recover", "--from", "2", code=1).err
    assert "set-up 2 did not end with a good fit" in error


def test_a_person_of_inches_reads_inches(kept: Shop) -> None:
    kept.words("prefer --units fraction")
    text = kept.words("recover --from 1").out
    assert not re.search(r"\bmm\b", text) and "5/16 in" in text
    start = text.split("Go on with: fitlog ")[1]
    assert kept.run(*shlex.split(" ".join(start.split())), "--json").document["setup"] == 2
