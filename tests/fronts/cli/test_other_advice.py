"""A cut "as advised" is one as advised to whoever cut it: where somebody else was shown other
settings since, the person is asked, and a script refused.
"""

from __future__ import annotations

from typing import Any

import pytest
from shop import Shop
from terminal import asked

MIRA, JO = {"LOGNAME": "mira"}, {"LOGNAME": "jo"}


@pytest.fixture
def both(shop: Shop) -> Shop:
    """Mira was shown the settings of the first piece; jo cut it meanwhile and was shown others."""
    return shop.built(_both)


def _both(shop: Shop) -> None:
    shop.started()
    shop.run("next", env=MIRA)
    shop.run("cut", "tight, gap far 0.4, flush", env=JO)


def settings(shop: Shop, who: dict[str, str], *args: str) -> Any:
    return shop.run(*args, "--json", env=who).document


def piece(shop: Shop) -> Any:
    return shop.json("show")["cuts"][-1]


def test_a_script_is_refused_with_the_options_that_say_it(both: Shop) -> None:
    before = both.entries()
    result = both.run("cut", "good", "--json", env=MIRA, code=1)
    error = result.document["error"]
    assert error["code"] == "other-advice" and both.entries() == before
    hers, his = both.json("show")["cuts"][0]["settings"], settings(both, JO, "next")["settings"]
    for number in (hers["bit_height"], his["bit_height"]):
        assert f"{number:.2f} mm" in error["message"]
        assert f"--height {number:g}" in error["hint"]
    assert "jo's piece 1" in error["message"] and "--yes" in error["hint"]


def test_yes_takes_what_the_person_was_shown(both: Shop) -> None:
    first = both.json("show")["cuts"][0]
    both.run("cut", "good", "--yes", env=MIRA)
    last = piece(both)
    assert last["by"] == "mira" and last["settings"] == first["settings"] == last["advised"]


def test_what_is_said_is_not_asked_about(both: Shop) -> None:
    now = settings(both, JO, "next")["settings"]
    stated = ("--fence", str(now["fence_offset"]), "--height", "11")
    asked_of = both.run("cut", "good", *stated, "--json", env=MIRA, code=1).document["error"]
    assert asked_of["message"].startswith("you were shown a socket depth of")
    both.run("cut", "good", *stated, "--depth", str(now["socket_depth"]), env=MIRA)
    assert piece(both)["settings"]["bit_height"] == 11


def test_nobody_else_is_asked(both: Shop) -> None:
    now = settings(both, JO, "next")["settings"]
    both.run("cut", "slightly tight", env=JO)
    assert piece(both)["settings"] == now
    shown = settings(both, MIRA, "next")["settings"]  # she looks, and cuts at that
    both.run("cut", "slightly tight", env=MIRA)
    assert piece(both)["settings"] == shown
    both.run("cut", "--same-piece", "flush", env=JO)


def test_a_stranger_cuts_at_the_newest_advice(both: Shop) -> None:
    now = settings(both, JO, "next")["settings"]
    both.run("cut", "good", env={"LOGNAME": "ada"})
    assert piece(both)["settings"] == now


@pytest.mark.parametrize(("typed", "code"), [("y\n", 0), ("n\n", 1), ("\n", 1)])
def test_on_a_terminal_it_is_asked(both: Shop, typed: str, code: int) -> None:
    first, before = both.json("show")["cuts"][0], both.entries()
    ended, text = asked(both, "cut", "good", typed=typed, columns=300, **MIRA)
    assert ended == code, text
    assert "You were shown a bit height of" in text and "Was it cut at" in text
    if code == 0:
        assert piece(both)["settings"] == first["settings"]
    else:
        assert both.entries() == before and "--height" in text
