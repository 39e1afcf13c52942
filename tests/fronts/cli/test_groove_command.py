"""`plan --groove` from the shell: what hides a bottom's groove, what would, every unit and both
widths of a terminal. Boards and bits are invented.
"""

from __future__ import annotations

import re

import pytest
from shop import Shop, by_code
from terminal import on_terminal

# A 13.1 mm bit of 9 degrees, elm 17 mm thick and 150 mm wide (see shop.py).


@pytest.fixture
def stocked(shop: Shop) -> Shop:
    return shop.stocked(machine={"fence-step": "0.05"})


def test_only_layouts_whose_tail_covers_it_are_kept(stocked: Shop) -> None:
    """Against plain arithmetic: a root begins half a bit past its slot, half-pins of n Q + 2 u."""
    document = stocked.json("plan --all --groove 6 --at 10")
    assert document["groove"] == {
        "width": 6.0,
        "at": 10.0,
        "depth": pytest.approx(17 / 3, abs=1e-4),
    }
    assert document["layouts"] and len(document["layouts"]) < len(
        stocked.json("plan --all")["layouts"]
    )
    for one in document["layouts"]:
        edge, found = (150 - one["tails"] * one["spacing"]) / 2, one["groove"]
        low = edge + (found["tail"] - 1) * one["spacing"] + 13.1 / 2
        assert found["below"] == pytest.approx(10 - low, abs=1e-3)
        assert found["above"] == pytest.approx(low + one["spacing"] - 13.1 - 16, abs=1e-3)
        assert min(found["below"], found["above"], found["ground"]) >= 1 - 1e-3
        assert found["missed_by"] == 0 and found["ground"] == pytest.approx(
            one["bit_height"] - 17 / 3, abs=1e-3
        )
    text = by_code(document["notices"])["groove-hidden"]
    assert "ends in the lowest tail" in text and "shows at no corner" in text


def test_where_none_hides_it_all_are_listed_with_what_they_miss(stocked: Shop) -> None:
    document = stocked.json("plan --all --groove 6 --at 1")
    every = stocked.json("plan --all")["layouts"]
    assert len(document["layouts"]) == len(every)
    misses = [one["groove"]["missed_by"] for one in document["layouts"]]
    assert min(misses) > 0
    text = by_code(document["notices"])["groove-shows"]
    assert f"of these, number {misses.index(min(misses)) + 1} comes nearest" in text
    first, last = map(float, re.search(r"raise it by (\S+) to (\S+) mm", text).groups())  # type: ignore[union-attr]
    for by in (first, last):
        hidden = stocked.json(f"plan --groove 6 --at {1 + by:.1f}")["layouts"]
        assert all(one["groove"]["missed_by"] == 0 for one in hidden)


def test_without_a_groove_nothing_is_said_of_one(stocked: Shop) -> None:
    document = stocked.json("plan")
    assert document["groove"] is None
    assert {one["groove"] for one in document["layouts"]} == {None}
    assert "groove" not in stocked.words("plan").out


def test_stops_tell_whether_their_layout_hides_it(stocked: Shop) -> None:
    """The same groove as `plan` has it, of the layout that the set-up's stops are for."""
    stocked.words("start --tails 5")
    for at in ("10", "1"):
        document = stocked.json(f"stops --groove 6 --at {at}")
        assert document["groove"] == {
            "width": 6.0,
            "at": float(at),
            "depth": pytest.approx(17 / 3, abs=1e-4),
        }
        assert "groove-hidden" in by_code(document["notices"]) or "groove-shows" in by_code(
            document["notices"]
        )
    assert stocked.json("stops")["groove"] is None
    assert "of these" not in stocked.words("stops --groove 6 --at 1").out
    assert "--groove WIDTH --at L" in stocked.refused("stops", "--groove", "6", code=2)


def test_it_is_drawn_and_has_a_column(stocked: Shop) -> None:
    hidden = stocked.words("plan --groove 6 --at 10").out
    assert "groove covered by" in hidden and ":::" in hidden and "lower edge at the left" in hidden
    shown = stocked.words("plan --groove 6 --at 1").out
    assert "groove missed by" in shown and "plug it at both ends of the pin boards" in shown
    assert "short of hiding the groove" in shown


@pytest.mark.parametrize("units", ["mm", "inch", "fraction"])
def test_it_is_asked_for_in_every_unit(stocked: Shop, units: str) -> None:
    stocked.words(f"prefer --units {units}")
    document = stocked.json("plan --groove 1/4 --at 3/8 --groove-depth 3/16")
    assert document["groove"] == {
        "width": pytest.approx(6.35),
        "at": pytest.approx(9.525),
        "depth": pytest.approx(4.7625),
    }
    text = stocked.words("plan --groove 1/4 --at 3/8 --groove-depth 3/16").out
    assert {"mm": "6.35 mm", "inch": "0.25 in", "fraction": "1/4 in wide, 3/8 in from"}[
        units
    ] in text
    assert ("mm" in text) == (units == "mm")


@pytest.mark.parametrize(
    ("line", "said", "code"),
    [
        ("--groove 6", "--groove WIDTH --at L", 2),
        ("--at 10", "--groove WIDTH --at L", 2),
        ("--groove-depth 5", "--groove WIDTH --at L", 2),
        ("--groove 6 --at -3", "from the lower edge must be a size above zero", 1),
        ("--groove 6 --at 0", "from the lower edge must be a size above zero", 1),
        ("--groove 0 --at 10", "the groove's width must be a size above zero", 1),
        ("--groove 145 --at 10", "the groove's width of 145 mm is beyond", 1),
        ("--groove 6 --at 146", "give --at up to 143 mm", 1),
        ("--groove 14 --at 5 --width 15", "give the groove's own width", 1),
        ("--groove 6 --at 10 --groove-depth 16", "give --groove-depth up to 14.6 mm", 1),
        ("--groove 6 --at up", "from the lower edge", 2),
    ],
)
def test_what_cannot_be_is_refused_with_a_way_on(
    stocked: Shop, line: str, said: str, code: int
) -> None:
    told = stocked.refused("plan", *line.split(), code=code)
    assert said in told and told.count("\n") <= 1


def test_a_groove_as_deep_as_the_tails_comes_out_of_the_lap(stocked: Shop) -> None:
    document = stocked.json("plan --groove 6 --at 10 --groove-depth 14")
    assert all(one["groove"]["ground"] < 1 for one in document["layouts"])
    text = by_code(document["notices"])["groove-shows"]
    deepest = float(re.search(r"at most (\S+) mm deep", text)[1])  # type: ignore[index]
    assert (
        stocked.json(f"plan --groove 6 --at 10 --groove-depth {deepest}")["layouts"][0]["groove"][
            "missed_by"
        ]
        == 0
    )


@pytest.mark.parametrize("columns", [80, 40])
def test_a_terminal_is_never_too_narrow_for_it(stocked: Shop, columns: int) -> None:
    for at in ("10", "1"):
        code, shown = on_terminal(
            stocked,
            "plan",
            "--groove",
            "6",
            "--at",
            at,
            columns=columns,
            NO_COLOR="1",
            PYTHONUTF8="1",
        )
        assert code == 0 and max(map(len, shown.splitlines())) <= columns
        assert "\u2591" in shown and "the groove" in " ".join(shown.split())
