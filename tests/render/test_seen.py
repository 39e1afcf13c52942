"""The drawings that are touched where a joint is wrong: each family's places are its own symptoms,
and none hides another under a thumb.
"""

from __future__ import annotations

from itertools import combinations
from math import dist

import pytest

from fitlog.families.faults import faults_of
from fitlog.families.names import FAMILIES
from fitlog.render.seen import Drawing, seen

THUMB = 80  # pixels of the smallest phone, a unit of the drawing each: 15 mm
DISC = 24  # what is seen of it


def drawing(joint: str) -> Drawing:
    found = seen(joint)
    assert found is not None
    return found


@pytest.mark.parametrize("joint", FAMILIES)
def test_every_place_is_a_symptom_of_its_family(joint: str) -> None:
    codes = [place.code for place in drawing(joint).places]
    known = {one.code for one in faults_of(joint).looked_for(None, None, (), "mm").list}
    assert set(codes) <= known and len(set(codes)) == len(codes) >= 4
    assert [place.number for place in drawing(joint).places] == list(range(1, len(codes) + 1))


@pytest.mark.parametrize("joint", FAMILIES)
def test_places_lie_in_the_drawing_and_apart(joint: str) -> None:
    made = drawing(joint)
    for place in made.places:
        assert DISC <= place.at[0] <= made.width - DISC
        assert DISC <= place.at[1] <= made.height - DISC
        assert 0 <= place.on[0] <= made.width and 0 <= place.on[1] <= made.height
    assert all(dist(a.at, b.at) >= THUMB for a, b in combinations(made.places, 2))
    corners = [corner for points, _ in made.outlines for corner in points]
    assert all(0 <= x <= made.width and 0 <= y <= made.height for x, y in corners)
