"""Which boards are meant, as people say it: understood, or asked for in one sentence. Phrases are
invented; a box has a front, maybe a back, and two sides.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitlog.errors import FitlogError
from fitlog.families.half_blind.layouts.boards_said import boards_said
from fitlog.families.half_blind.layouts.corners import Boards

STEADY = settings(derandomize=True, deadline=None, database=None, max_examples=300)
TWO = Boards("front", "back", "side", 2)
ONE = Boards("front", "back", "side", 1)


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("front 2, back 2, side 4", TWO),
        ("drawer front 2, drawer back 2, sides 4", TWO),
        ("2 fronts, 2 backs, 4 sides", TWO),
        ("2 fronts 2 backs 4 sides", TWO),
        ("front 2 back 2 side 4", TWO),
        ("Fronts: 2; Backs: 2; Sides: 4", TWO),
        ("front x 2, back x2, side 4x", TWO),
        ("2x front, 2 x back, 4x side", TWO),
        ("front \u00d7 2, back \u00d7 2, side \u00d7 4", TWO),
        ("front=2, back=2, side=4", TWO),
        ("two fronts, two backs and four sides", TWO),
        ("sides 4, backs 2, fronts 2", TWO),
        ("front 2, rear 2, side 4", TWO),
        ("left side 2, right side 2, front 2, back 2", TWO),
        ("front, front, back, back, 4 sides", TWO),
        ("2 drawers", TWO),
        ("2drawers", TWO),
        ("drawers 2", TWO),
        ("front, back, 2 sides", ONE),
        ("front,back,2sides", ONE),
        ("a front, a back and two sides", ONE),
        ("the front & the back & two drawer sides", ONE),
        ("front, back, left side, right side", ONE),
        ("one drawer", ONE),
        ("drawer", ONE),
        ("front 2, side 4", Boards("front", None, "side", 2)),
        ("4 sides, 2 fronts", Boards("front", None, "side", 2)),
        ("back 1, side 2", Boards("back", None, "side", 1)),
        ("shelf 2 pin, side 2", Boards("shelf", "shelf", "side", 1)),
        ("shelves 2 pin, side 4", Boards("shelf", None, "side", 2)),
        ("top pin, bottom pin, 2 sides", Boards("top", "bottom", "side", 1)),
        ("pin boards 2, tail boards 2", Boards("pin board", "pin board", "tail board", 1)),
        ("lid 3 pin, wall 6 tail", Boards("lid", None, "wall", 3)),
        ("front 2, back 2, wall 4 tail", Boards("front", "back", "wall", 2)),
    ],
)
def test_what_is_understood(said: str, meant: Boards) -> None:
    assert boards_said(said) == meant


@pytest.mark.parametrize(
    ("said", "code", "words"),
    [
        ("", "bad-boards", 'say it like --boards "front 2, back 2, side 4"'),
        (",,", "bad-boards", "names no board"),
        ("7", "bad-boards", "names no board"),
        ("front 0, side 4", "bad-boards", "has no number of boards"),
        ("front 2.5, side 5", "bad-boards", "has no number of boards"),
        ("front 1/2, side 1", "bad-boards", "names no board"),
        ("front 900, side 1800", "bad-boards", "has no number of boards"),
        ("frnt 2, side 4", "bad-boards", "did you mean front? Else say frnt pin"),
        ("front 2, slide 4", "bad-boards", "did you mean side? Else say slide pin"),
        ("shelf 2, side 4", "bad-boards", "say shelf pin (it has the sockets) or shelf tail"),
        ("lid 2, sides 4", "bad-boards", "say lid pin"),
        ("front back 2, side 4", "bad-boards", "names several boards"),
        ("2 drawers, 1 side", "bad-boards", "names drawers and boards"),
        ("x" * 201, "bad-boards", "201 characters"),
        ("4 sides", "uneven-boards", "name the boards that they meet, too"),
        ("front 2, back 2", "uneven-boards", "names only one side of the joint"),
        ("front 2, back 2, side 3", "uneven-boards", '"front 2, back 2, side 4"'),
        ("front 2, side 2", "uneven-boards", '"front 2, side 4"'),
        ("front 2, back 1, side 4", "uneven-boards", '"front 2, back 2, side 4"'),
        ("front, back, left side 2", "uneven-boards", "left side 2"),
        ("front 2, back 2, side 4, shelf 2 pin", "uneven-boards", "one or two of pin boards"),
        ("front 2, side 2, wall 2 tail", "uneven-boards", "one kind of tail board"),
        ("99 drawers", "uneven-boards", "take up to 50 at a time"),
    ],
)
def test_what_is_asked_for(said: str, code: str, words: str) -> None:
    with pytest.raises(FitlogError) as told:
        boards_said(said)
    assert told.value.code == code and words in f"{told.value.message}: {told.value.hint}"


WORD = st.sampled_from(
    ["front", "backs", "side", "2", "4", "x", ",", "and", "pin", "tail", "shelf", "drawer", "a"]
)


@STEADY
@given(st.one_of(st.text(max_size=40), st.lists(WORD, max_size=9).map(" ".join)))
def test_whatever_is_said_makes_whole_boxes_or_is_refused(said: str) -> None:
    try:
        found = boards_said(said)
    except FitlogError as error:
        assert error.message and error.hint
        return
    tails = [end for end in found.ends if end.kind == "tail"]
    pins = [end for end in found.ends if end.kind == "pin"]
    assert [end.mark for end in tails] == [end.mark for end in pins]
    assert len({end.mark for end in pins}) == len(pins) == 2 * len(found.pins) * found.boxes
    assert len({end.board for end in tails}) == 2 * found.boxes


@STEADY
@given(st.integers(1, 50), st.sampled_from(["front", "lid pin"]), st.booleans())
def test_marks_are_of_one_corner_each(boxes: int, first: str, with_back: bool) -> None:
    second = f", back {boxes}" if with_back and first == "front" else ""
    found = boards_said(f"{first} {boxes}{second}, side {2 * boxes}")
    for end in found.ends:
        twins = [other for other in found.ends if other.mark == end.mark]
        assert {one.kind for one in twins} == {"tail", "pin"} and len(twins) == 2
        assert len({(one.edge, one.hand, one.box) for one in twins}) == 1
