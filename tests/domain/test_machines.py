"""A machine by its parts: what is not known is not there, and what cannot be is refused.

The sentences are promises of the tool itself. Searched by hypothesis, derandomized.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tables import table

from fitlog.domain import Machine, Pack, Part, Shim, adjuster, pack_of
from fitlog.errors import Refused

STEADY = {"derandomize": True, "deadline": None, "database": None}
NAMES = st.sampled_from(["paper", "tape", "thick block", "brass shim", "x", "one"])
PACKS = st.builds(
    Pack,
    st.lists(
        st.builds(Shim, NAMES, st.floats(1e-3, 200.0), st.integers(1, 3)),
        min_size=1,
        max_size=3,
        unique_by=lambda shim: shim.name,
    ).map(tuple),
    st.none() | st.integers(1, 4),
)
PAPERS = pack_of("paper 0.1 x4, tape 0.13", float)


@settings(max_examples=300, **STEADY)
@given(PACKS)
def test_a_pack_reads_as_it_is_written(pack: Pack) -> None:
    assert pack_of(pack.text(), float) == pack
    in_words = pack.text(lambda mm: f"{mm!r} mm")
    assert pack_of(in_words, lambda text: float(text.removesuffix(" mm"))) == pack


def test_a_part_of_which_nothing_is_known_is_none() -> None:
    assert Machine("any", {"key": Part()}) == Machine("any") == table("any", key_step=None)
    assert Machine("any").part("key") == Part()
    assert Machine("any", {"a": Part(0.1), "b": Part(0.2)}) == Machine(
        "any", {"b": Part(0.2), "a": Part(0.1)}
    )


def test_a_change_leaves_what_it_does_not_name() -> None:
    made = table("any", height_step=0.1, backlash=0.2, fence_zero=0.3)
    changed = made.with_parts({"height": {"step": 0.2}, "key": Part(pack=PAPERS)})
    assert changed == Machine(
        "any",
        {
            "height": Part(0.2, backlash=0.2),
            "fence": Part(zero=0.3),
            "key": Part(pack=PAPERS),
        },
    )
    assert changed.with_parts({"key": Part(), "height": {"step": 0.1}}) == made


def test_steps_and_stacks_take_each_others_place_and_a_zero_stays() -> None:
    part = Part(zero=0.2, pack=PAPERS)
    assert part.changed({"between": False}) == part
    assert part.changed({"step": 0.1}) == Part(0.1, zero=0.2)
    assert part.changed({"turn": 1.5}).changed({"pack": PAPERS}) == part


@pytest.mark.parametrize(
    ("told", "message"),
    [
        ({"height_step": 9.0}, "the height step of 9 mm is more than 5 mm"),
        ({"height_turn": 60.0}, "the travel per turn of 60 mm is more than 50 mm"),
        ({"fence_step": 9.0}, "the fence step of 9 mm is more than 5 mm"),
        ({"depth_step": 9.0}, "the depth step of 9 mm is more than 5 mm"),
        ({"backlash": 7.0}, "a backlash of 7 mm is not a lift's"),
        ({"key_backlash": 7.0}, "a backlash of 7 mm is not a key's"),
        ({"key_pack": PAPERS, "key_step": 0.1}, "by stacks and by steps or turns at once"),
        ({"key_pack": Pack((Shim("no 7", 0.1),))}, "stacked for the key cannot be written down"),
        ({"key_pack": Pack((Shim("red, thin", 0.1),))}, "cannot be written down"),
        ({"key_pack": Pack((Shim("one of a kind", 0.1),))}, "cannot be written down"),
    ],
)
def test_what_no_machine_is_like_is_refused(told: dict[str, Any], message: str) -> None:
    with pytest.raises(Refused) as caught:
        table("any", **told)
    assert message in caught.value.message and caught.value.hint


def test_a_part_that_is_stacked_is_set_by_its_stacks() -> None:
    """Shown on the user's scale, nothing stacked is 0; zero: what the scale shows more."""
    found = adjuster(Machine("any", {"key": Part(zero=-8.0, pack=PAPERS)}), "key")
    assert found.kind == "set" and found.nearest(8.31) == 8.3
    assert found.made_of(8.33) == ("paper", "paper", "tape")
    assert next(iter(found.within(0.0, 9.0))) == 8.0
    bare = Machine("any", {"key": Part(pack=PAPERS)})
    assert adjuster(bare, "key").below(0.05) == 0.0
    assert adjuster(bare, "key", positive=True).below(0.05) == 0.1


@pytest.mark.parametrize(
    ("dial", "parts"), [(None, 32), (8, 32), (10, 40), (12, 48), (20, 40), (32, 32), (60, 60)]
)
def test_a_lift_is_set_by_its_dial(dial: int | None, parts: int) -> None:
    """Divisions too wide for a hand's 32nds are halved or quartered by eye."""
    lift = Part(turn=1.5, dial=dial)
    assert lift.turn_parts == parts
    can = adjuster(Machine("table", {"height": lift}), "height", 10.0)
    assert can.step == pytest.approx(1.5 / parts) and can.nearest(10.0) == 10.0


@pytest.mark.parametrize(
    ("part", "said"),
    [
        ({"turn": 1.5, "dial": 7}, "a dial of 7 divisions"),
        ({"turn": 1.5, "dial": 501}, "a dial of 501 divisions"),
        ({"dial": 60}, "without the travel per turn"),
    ],
)
def test_what_no_dial_is_is_refused(part: dict[str, Any], said: str) -> None:
    with pytest.raises(Refused, match=said):
        Machine("table", {"height": Part(**part)})
