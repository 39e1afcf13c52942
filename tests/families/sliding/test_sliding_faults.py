"""Faults of a sliding dovetail: what is seen, in a maker's words, with the tests and cures of its
causes.

Common practice, no source; the amount that is reckoned is checked by plain trigonometry.
"""

from __future__ import annotations

import math
import re

import pytest
from shop import Shop, sentence

from fitlog.families.sliding.faults import TABLE
from fitlog.families.sliding.symptoms import SYMPTOMS

PHRASES = {
    "one-shoulder": ("gap at one shoulder", "one shoulder open 0.3", "gap on one side only"),
    "both-shoulders": ("both shoulders open", "both shoulders gap 1/64 in", "it bottoms out"),
    "root-and-end": ("root and end fit differently", "tight at the root and loose at the end"),
    "binds-half-way": (
        "starts well and binds half way",
        "binds in the middle",
        "tight in the middle",
    ),
    "later-deeper": ("later sockets deeper", "the last sockets are deeper", "the bit creeps"),
    "jams-in-glue": ("good dry but jams in glue", "it jams with glue on"),
}


@pytest.fixture
def case(shop: Shop) -> Shop:
    return shop.built(_case)


def _case(shop: Shop) -> None:
    shop.words("bit add wren --diameter 12.7 --angle 14 --cutting-length 14")
    shop.words("stock add ash --species ash --thickness 18 --width 140")
    shop.run("start", "--joint", "sliding", "--height", "8")


@pytest.mark.parametrize(("code", "said"), [(c, p) for c, ps in PHRASES.items() for p in ps])
def test_what_makers_say_names_its_symptom(case: Shop, code: str, said: str) -> None:
    (told,) = case.run("fault", said, "--json").document["found"]
    assert told["symptom"] == code
    assert (told["size_from"] == "said") == bool(re.search("[0-9]", said))


def test_every_symptom_is_named_by_its_own_words(case: Shop) -> None:
    assert {s.code for s in SYMPTOMS} == PHRASES.keys()
    for symptom in SYMPTOMS:
        words = symptom.words.replace(",", "")
        (told,) = case.run("fault", words, "--json").document["found"]
        assert told["symptom"] == symptom.code
    assert {"shoulder", "glue", "root"} <= set(TABLE.vocabulary)


def test_a_fault_tells_causes_in_order_with_amounts(case: Shop) -> None:
    listed = case.json("fault")
    assert [s["code"] for s in listed["symptoms"]] == [s.code for s in SYMPTOMS]
    (told,) = case.run("fault", "gap at one shoulder 0.3", "--json").document["found"]
    assert told["size"] == 0.3 and told["size_from"] == "said"
    shares = [cause["share"] for cause in told["causes"]]
    assert shares == sorted(shares, reverse=True) and sum(shares) == pytest.approx(1, abs=0.01)
    assert told["causes"][0]["amounts"] == {"d_mm": 0.3, "thick_mm": 18.0}
    (glue,) = case.run("fault", "jams in glue", "--json").document["found"]
    least = 0.05 / (2 * math.tan(math.radians(14)))
    assert glue["causes"][0]["amounts"]["least_mm"] == pytest.approx(least, abs=1e-3)
    for symptom in SYMPTOMS:
        text = case.words(f"fault {symptom.words.replace(',', '')}").out
        assert text.count("Test:") == text.count("Cure:") == len(symptom.causes)
        assert "Unplug the router" in text and "never lift the router" in text


def test_a_fault_is_read_in_inches(case: Shop) -> None:
    case.words("prefer --units fraction")
    for said in ("both shoulders 1/64", "gap at one shoulder", "jams in glue"):
        assert not re.search(r"\bmm\b", case.run("fault", *said.split()).out)


@pytest.mark.parametrize(
    ("said", "code", "told"),
    [
        ("nonsense", 2, "names no symptom"),
        ("gap", 2, "does not say enough"),
        ("binds middle 0.3", 2, "takes no size"),
        ("one shoulder 0", 2, "must be a size above zero"),
        ("one shoulder 900", 1, "900"),
    ],
)
def test_what_names_no_symptom_is_refused(case: Shop, said: str, code: int, told: str) -> None:
    error = case.run("fault", *said.split(), code=code).err
    sentence(error)
    assert told in error
