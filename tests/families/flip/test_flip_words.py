"""A word that met a reading at a tenon, whose edges are its own, teaches the same shift as at any
other joint.

No outside source: the edges are the tool's own (`figures`); the shop is invented.
"""

from __future__ import annotations

import pytest
from flips_at_work import cut, said, setup, tenon
from shop import Shop

from fitlog.advice.history import History
from fitlog.advice.voices import carried, usual_edges
from fitlog.domain import Reading
from fitlog.estimator.scale import Meeting
from fitlog.families import joint_of, word_sets
from fitlog.families.flip.names import FIT
from fitlog.families.names import FAMILIES
from fitlog.families.tenon.names import set_to

SCALED = [(f.name, k.name) for f in FAMILIES.values() for k in f.kinds if k.scaled]
AT = set_to(10.0, 6.0, 30.0)


@pytest.mark.parametrize(("joint", "aspect"), SCALED, ids=[joint for joint, _ in SCALED])
def test_what_a_word_met_lies_as_far_into_its_band_among_the_usual_edges(
    joint: str, aspect: str
) -> None:
    own, usual = word_sets(joint, aspect)[""], usual_edges(aspect)
    for word in range(1, len(own)):
        for share in (0.0, 0.3, 1.0):
            here, there = (e[word - 1] + share * (e[word] - e[word - 1]) for e in (own, usual))
            found = carried(Meeting(word, here, 0.03), own, usual)
            assert found == (word, pytest.approx(there), 0.03)
    ends = (carried(Meeting(0, at, 0.03), own, usual).mean for at in (own[0] - 1, own[-1] + 1))
    assert list(ends) == [pytest.approx(usual[0] - 1), pytest.approx(usual[-1] + 1)]


def test_a_person_who_says_it_as_assumed_at_tenons_has_the_usual_words() -> None:
    """Ten tenons, each word in the middle of its band: no edge moves by a tenth of a paper. Taken
    as they stand, they would have moved by .04 mm, which is what the two sets are apart.
    """
    edges = word_sets("tenon", FIT)[""]
    met = [("good", 3), ("slightly loose", 4), ("loose", 5)] * 4
    done = []
    for word, index in met:
        plan, middle = tenon(), (edges[index - 1] + edges[index]) / 2
        piece = cut(1, AT, said(plan, fit=word), [Reading("feeler", middle)])
        done.append(setup(plan, AT, piece))
    scale = History(done).scales["", FIT]
    assert scale.met == len(met)
    moved = [found - was for found, was in zip(scale.edges, usual_edges(FIT), strict=True)]
    assert max(map(abs, moved[2:5])) < 0.01, moved


@pytest.mark.parametrize("word", ["slightly tight", "good", "slightly loose"])
def test_the_number_of_a_fit_is_play_whatever_its_word(word: str) -> None:
    """A feeler that goes in beside it has found play; no feeler finds less than none."""
    plan = tenon()
    assert joint_of(plan).misfit_of(plan.family.said(FIT, word, 0.12)) == 0.12


def test_a_shoulder_that_shows_one_side_asks_for_no_piece_once_the_faces_are_settled(
    shop: Shop,
) -> None:
    """On a stop of coarse marks `closed` says the same of every further end."""
    shop.words("bit add wide --diameter 16 --angle 0 --cutting-length 25")
    shop.words("stock add pine --species pine --thickness 20 --width 45")
    shop.run("machine", "add", "table", "--part", "height=step 0.1", "--part", "stop=step 0.5")
    shop.words("start --joint half-lap --words-only")
    shop.words("cut proud, closed")
    found = shop.run("cut", "slightly proud, closed", "--json").document
    assert {aspect: by["way"] for aspect, by in found["settled_by"].items()} == {
        "faces": "nearest",
        "shoulder": "nearest",
    }
    assert found["status"] == "ready"
