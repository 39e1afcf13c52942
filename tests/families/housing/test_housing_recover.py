"""The second pass got back from a set-up that was good, for another sheet, and from a kept sample.

No outside source: these are promises of the tool itself; the shop is invented.
"""

from __future__ import annotations

import shlex

import pytest
from shop import Shop, sentence

START = ("start", "--joint", "housing", "--stock", "side", "--pin-stock", "ply")
MEASURED = (*START, "--given", "sheet=17.6mm")


def good(shop: Shop) -> None:
    shop.words("bit add half --diameter 12.7 --angle 0 --cutting-length 25")
    shop.words("stock add side --species beech --thickness 20 --width 280")
    shop.words("stock add ply --species plywood --thickness 18 --width 280")
    shop.run(*MEASURED)
    shop.run("cut", "good 0.07, right", "--set", "second_pass=5.03")
    shop.words("finish")


def test_a_set_up_comes_back_for_another_sheet(shop: Shop) -> None:
    """The spacer follows the sheet, 1:1; the command to go on with starts it so."""
    good(shop)
    same = shop.run("recover", "--from", "1", "--json").document
    other = shop.run("recover", "--from", "1", "--pin-thickness", "17.9", "--json").document
    assert same["setting"] == "second_pass" and same["value"] == pytest.approx(5.03)
    assert other["value"] == pytest.approx(5.03 + 0.3, abs=1e-6)
    begun = shop.run(*shlex.split(other["start"])[1:], "--json").document
    assert begun["settings"]["second_pass"] == pytest.approx(other["value"])
    assert begun["fixed"]["sheet"] == pytest.approx(17.9)


def test_a_kept_slot_and_its_offcut_say_the_play(shop: Shop) -> None:
    """Its play is made with today's bit: .10 more of it is a second pass .10 further out."""
    good(shop)
    base = ("recover", "--joint", "housing", "--bit", "half", "--stock", "side")
    base = (*base, "--pin-stock", "ply", "--pin-thickness", "17.6")
    near, far = (
        shop.run(*base, "--read", f"slot={slot}", "--read", "sheet=17.6", "--json").document
        for slot in ("17.65", "17.75")
    )
    assert near["play"] == pytest.approx(0.05) and far["play"] == pytest.approx(0.15)
    assert far["value"] - near["value"] == pytest.approx(0.10, abs=0.011)
    text = " ".join(shop.run(*base, "--read", "slot=17.65", "--read", "sheet=17.6").out.split())
    assert "0.05 mm of play in its slot" in text and "Go on with: fitlog start" in text


def good_rabbet(shop: Shop) -> None:
    shop.words("bit add wide --diameter 19.05 --angle 0 --cutting-length 25")
    shop.words("stock add side --species beech --thickness 20 --width 280")
    shop.words("stock add ply --species plywood --thickness 12 --width 280")
    shop.run("start", "--joint", "rabbet", *MEASURED[3:-1], "sheet=11.6mm")
    shop.run("cut", "flush, right", "--set", "fence_offset=11.5")
    shop.words("finish")


def test_a_rabbet_comes_back_for_another_mate_and_from_a_sample(shop: Shop) -> None:
    """The exposure follows the mate, 1:1; .10 less of a step is a rabbet .10 wider."""
    good_rabbet(shop)
    same = shop.run("recover", "--from", "1", "--json").document
    other = shop.run("recover", "--from", "1", "--pin-thickness", "11.9", "--json").document
    assert same["setting"] == "fence_offset" and same["value"] == pytest.approx(11.5)
    assert other["value"] == pytest.approx(11.5 + 0.3, abs=1e-6)
    begun = shop.run(*shlex.split(other["start"])[1:], "--json").document
    assert begun["settings"]["fence_offset"] == pytest.approx(other["value"])
    base = ("recover", "--joint", "rabbet", "--stock", "side", "--pin-stock", "ply")
    base = (*base, "--pin-thickness", "11.6", "--read", "sheet=11.6", "--read")
    near, far = (shop.run(*base, f"width={w}", "--json").document for w in ("11.5", "11.6"))
    assert near["step"] == pytest.approx(0.1) and far["step"] == pytest.approx(0.0)
    assert far["value"] - near["value"] == pytest.approx(0.10, abs=0.011)
    assert "stands 0.10 mm proud" in " ".join(shop.run(*base, "width=11.5").out.split())


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("recover --joint housing --stock side --pin-stock ply", "nothing says what the joint was"),
        ("recover --from 2", "did not end with a good fit"),
    ],
)
def test_what_cannot_be_got_back_is_refused(shop: Shop, typed: str, said: str) -> None:
    good(shop)
    shop.run(*MEASURED)
    shop.run("cut", "tight, right")
    shop.words("finish --as-it-is")
    error = shop.run(*typed.split(), code=None).err
    sentence(error)
    assert said in error
