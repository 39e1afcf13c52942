"""Faults of cuts for a sheet: a maker's phrases find their symptom, each cause has a test and a
cure, and none moves a setting.

Common practice, no source.
"""

from __future__ import annotations

import pytest
from shop import Shop, sentence

from fitlog.families.sheets.symptoms import SYMPTOMS

PHRASES = {
    "one-edge": ("fits at one edge only", "tight at one end", "some fit, others do not"),
    "wont-bottom": ("won't go to the bottom", "gap bottom", "the shelf wobbles"),
    "gap-lean": ("a gap on one face", "it leans", "gap lean"),
    "splintered": ("splintered edges", "edges chipped"),
    "wider-end": ("slot wider at one end", "the groove tapers"),
}
JOINTS = {
    "housing": ("--given", "sheet=17.6mm"),
    "rabbet": ("--given", "sheet=11.6mm"),
}


def begun(shop: Shop, joint: str) -> Shop:
    shop.words("bit add half --diameter 12.7 --angle 0 --cutting-length 25")
    shop.words("stock add side --species beech --thickness 20 --width 280")
    shop.words("stock add ply --species plywood --thickness 18 --width 280")
    base = ("start", "--joint", joint, "--stock", "side", "--pin-stock", "ply")
    shop.run(*base, *JOINTS[joint])
    return shop


def test_every_symptom_has_phrases_here() -> None:
    assert PHRASES.keys() == {symptom.code for symptom in SYMPTOMS}


@pytest.mark.parametrize("joint", JOINTS)
def test_phrases_find_their_symptom_with_a_test_and_a_cure_each(shop: Shop, joint: str) -> None:
    begun(shop, joint)
    titles = {symptom.code: symptom.title for symptom in SYMPTOMS}
    for code, phrases in PHRASES.items():
        for phrase in phrases:
            text = " ".join(shop.run("fault", phrase).out.split())
            assert text.startswith(titles[code]), (phrase, text[:80])
            causes = next(s.causes for s in SYMPTOMS if s.code == code)
            assert text.count("Test:") == text.count("Cure:") == len(causes) >= 2
            assert "Unplug the router" in text


def test_a_gap_that_was_logged_points_to_its_causes(shop: Shop) -> None:
    begun(shop, "housing").run("cut", "tight, right, wont bottom")
    text = " ".join(shop.words("next").out.split())
    assert "does not reach the bottom" in text and "fitlog fault gap bottom" in text
    advice = shop.json("next")
    assert advice["moves"]["second_pass"] == 0.0, "a sheet held off the bottom says nothing of fit"


def test_what_names_no_symptom_is_refused(shop: Shop) -> None:
    error = begun(shop, "housing").run("fault", "purple", code=2).err
    sentence(error)
    assert "names no symptom" in error
