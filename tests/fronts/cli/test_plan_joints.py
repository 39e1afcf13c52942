"""`plan --joint NAME`: what a maker decides before the first cut, and the start that takes it.

No outside source but where one is named; the shops are invented.
"""

from __future__ import annotations

import re
from typing import Any

import pytest
from shop import Shop, sentence

from fitlog.families.example import example_of
from fitlog.families.names import first_joint, joints

NINE = tuple(name for name in joints() if name != first_joint())
# What each is asked beside its example's stocks and machine.
ASKED = {
    "box": (),
    "box-steps": (),
    "sliding": ("side=900mm", "shelves=3", "clear-width=600mm"),
    "tenon": ("clear=400mm",),
    "tongue-groove": ("fills=1500mm",),
    "half-lap": ("outside-length=600mm", "outside-width=400mm"),
    "housing": ("sheet=17.6mm", "side=800mm", "shelves=3", "clear-width=500mm"),
    "rabbet": ("sheet=11.6mm", "outside-length=600mm", "outside-width=300mm"),
    "lock-mitre": ("outside-length=300mm",),
}


def stocked(shop: Shop, joint: str) -> list[str]:
    """Fill the catalogue for a joint; return the names that its example gives, without its bit."""
    made = example_of(joint)
    for line in made.BEFORE:
        shop.run(*line)
    named = zip(made.EXAMPLE, made.EXAMPLE[1:], strict=False)
    return [w for n, v in named for w in (n, v) if n in ("--stock", "--pin-stock", "--machine")]


def planned(shop: Shop, joint: str, *more: str) -> Any:
    names = stocked(shop, joint)
    given = [word for one in ASKED[joint] for word in ("--given", one)]
    return shop.run("plan", "--joint", joint, *names, *given, *more, "--json").document


@pytest.mark.parametrize("units", ["mm", "fraction"])
@pytest.mark.parametrize("joint", NINE)
def test_a_plan_ends_with_the_start_that_takes_it(shop: Shop, joint: str, units: str) -> None:
    names = stocked(shop, joint)
    shop.run("prefer", "--units", units)
    given = [word for one in ASKED[joint] for word in ("--given", one)]
    line = ("plan", "--joint", joint, *names, *given)
    shown = shop.run(*line).out
    assert shown.splitlines()[-1].startswith(f"Start it: fitlog start --joint {joint} --bit ")
    assert units == "mm" or not re.search(r"\bmm\b", shown.partition("Start it")[0])
    told = shop.run(*line, "--json").document
    begun = shop.run(*told["start"], "--json").document
    assert begun["setup"] == 1 and begun["joint"] == joint
    stops = shop.run("stops", "--json").document
    for name, length in stops.get("lengths", {}).items():
        called = {"shelf": "shelf, end to end", "rail": "rail, end to end"}.get(name)
        if called is not None:
            assert told["lengths"][called] == pytest.approx(length, abs=1e-3)


def test_fingers_end_alike_on_the_boards_below_and_above(shop: Shop) -> None:
    """W = q (2 w - c) + w - c with q + 1 fingers, and q (2 w - c) for opposite ends: the sled's own
    formula, checked by polygons elsewhere.
    """
    told = planned(shop, "box", "--width", "130")
    (first, *_), rows = told["widths"], told["widths"]
    finger = rows[2]["width"] - 6 * (rows[2]["width"] - rows[0]["width"])
    pitch = rows[2]["width"] - rows[0]["width"]
    for row in rows:
        whole = row["fingers"] * pitch
        assert row["width"] == pytest.approx(
            whole - pitch + finger if row["ends"] == "finger and finger" else whole, abs=2e-3
        )
        assert 0 <= row["trim"] < 0.5 and row["saw_to"] % 0.5 == pytest.approx(0, abs=1e-6)
    held = [row for row in rows if row["waste"] is not None]
    assert (
        max(row["saw_to"] for row in held)
        <= 130
        < min(row["saw_to"] for row in rows if row["waste"] is None)
    )
    assert {row["ends"] for row in rows if row["waste"] is None} == {r["ends"] for r in held}
    assert first["fingers"] == 6 and told["start"][-3:] == ["122.5", "--given", "fingers=7"]


def test_steps_take_the_board_as_it_is(shop: Shop) -> None:
    """The pitch that was planned gives, by the stops' own code, fingers that end at the edge."""
    told = planned(shop, "box-steps")
    best = told["pitches"][0]
    shop.run(*told["start"])
    stops = shop.json("stops")
    alike = next(w for w in stops["widths"] if w["ends"] == "alike" and w["fingers"] == 6)
    assert best["fingers"] == 6 and alike["width"] == pytest.approx(150, abs=0.05)
    assert stops["settings"]["second_pass"] == pytest.approx(best["second"], abs=0.05)


def test_a_pitch_that_was_said_stays(shop: Shop) -> None:
    told = planned(shop, "box-steps", "--pitch", "26")
    assert "pitches" not in told and "pitch=26" in told["start"]


def test_fingers_that_were_asked_are_planned(shop: Shop) -> None:
    told = planned(shop, "box-steps", "--tails", "5")
    assert told["pitches"][1]["fingers"] == 5 and "fingers=5" in told["start"]


def test_housings_lie_as_planned(shop: Shop) -> None:
    """The stops of the set-up that the plan starts have the plan's places."""
    told = planned(shop, "housing")
    shop.run(*told["start"])
    stops = shop.json("stops --tails 3")
    assert [p["near"] for p in stops["places"]] == [r["near_wall"] for r in told["housings"]]
    assert [p["fence"] for p in stops["places"]] == [r["fence"] for r in told["housings"]]
    last = 800 - told["housings"][-1]["near_wall"] - 17.6
    clear = [row["between"] for row in told["housings"]] + [last]
    assert max(clear) - min(clear) < 1.0


def test_sockets_leave_wood_between_them(shop: Shop) -> None:
    rows = planned(shop, "sliding")["sockets"]
    middles = [row["middle"] for row in rows]
    assert [row["near_face"] + 9 for row in rows] == middles
    assert rows[1]["wood"] == pytest.approx(middles[1] - middles[0] - 12.7)
    assert rows[0]["wood"] == pytest.approx(middles[0] - 6.35)
    assert 900 - middles[-1] == pytest.approx(middles[0], abs=1.0)


def test_the_bit_nearest_to_a_third_is_taken(shop: Shop) -> None:
    """A third of the thickness: common practice, no source."""
    shop.words("bit add thin --diameter 6.35 --angle 0 --cutting-length 25")
    shop.words("bit add dove --diameter 12.7 --angle 14 --cutting-length 12")
    told = planned(shop, "tenon")
    assert [row["bit"] for row in told["bits"]] == ["thin", "plain"] and told["bit"] == "thin"
    assert [*told["left_out"]] == ["dove"]
    assert told["lengths"]["rail, end to end"] == pytest.approx(
        told["lengths"]["rail, shoulder to shoulder"] + 2 * told["lengths"]["tenon"]
    )
    named = shop.json("plan --joint tenon --bit plain")
    assert named["bit"] == "plain" and len(named["bits"]) == 1


def test_boards_fill_a_floor(shop: Shop) -> None:
    told = planned(shop, "tongue-groove")
    alike, whole = told["boards"]
    assert alike["boards"] * alike["covers"] == pytest.approx(1500, abs=0.01)
    assert (whole["boards"] - 1) * whole["covers"] + whole["last"] == pytest.approx(1500, abs=0.01)
    shop.run(*told["start"])
    board = dict(shop.json("stops")["lengths"])["board"]
    assert board == pytest.approx(told["lengths"]["board, its tongue included"], abs=0.01)
    assert 0 <= alike["width"] - board < 0.5


def test_room_to_move_is_the_woods_own(shop: Shop) -> None:
    """Flat-sawn red oak moves 0.00369 of its width for each % (Wood Handbook, table 13-5)."""
    shop.words("stock add red --species red-oak --thickness 18 --width 105.05 --sawn flat")
    names = stocked(shop, "tongue-groove")
    line = [w for w in names if w not in ("--stock", "oak")]
    line += ["--stock", "red", "--given", "covers=100"]
    told = shop.run("plan", "--joint", "tongue-groove", *line, "--json").document
    assert any("moves 1.48 mm" in note for note in told["notes"])


@pytest.mark.parametrize(
    ("joint", "rows"),
    [
        ("half-lap", [("long part", 2, 600.0), ("short part", 2, 400.0)]),
        ("lock-mitre", [("flat", 2, 300.0)]),
    ],
)
def test_parts_go_from_outside_to_outside(
    shop: Shop, joint: str, rows: list[tuple[str, int, float]]
) -> None:
    told = planned(shop, joint)
    assert [(p["part"], p["count"], p["length"]) for p in told["parts"]] == rows


def test_a_mate_ends_at_the_rabbets_floor(shop: Shop) -> None:
    told = planned(shop, "rabbet")
    left = told["lengths"]["left under the rabbet"]
    side, mate = told["parts"]
    assert (side["length"], side["count"]) == (600.0, 2)
    assert mate["length"] == pytest.approx(300.0 - 2 * left)
    assert left == pytest.approx(20.0 - 9.95)


@pytest.mark.parametrize(
    ("joint", "more", "hint"),
    [
        ("sliding", "", "--given side=L"),
        ("housing", "", "--given side=L"),
        ("half-lap", "", "--given outside-length=L"),
        ("rabbet", "", "--given outside-length=L"),
        ("lock-mitre", "", "--given outside-length=L"),
        ("sliding", "--given side=900mm --given shelves=45", "--given shelves=N"),
        ("sliding", "--given side=900mm --given shelves=90", "1 to 50"),
        ("half-lap", "--tails 4", "leave --tails out"),
        ("box", "--groove 6 --at 10", "leave --groove out"),
        ("box", "--middle pin", "leave --middle out"),
        ("tenon", "--pitch 20", "leave --pitch out"),
    ],
)
def test_what_cannot_be_planned_is_refused_in_one_sentence(
    shop: Shop, joint: str, more: str, hint: str
) -> None:
    names = stocked(shop, joint)
    told = shop.refused("plan", "--joint", joint, *names, *more.split())
    sentence(told)
    assert hint in told


@pytest.mark.parametrize(
    "line",
    [
        "plan --joint nothing",
        "plan --joint box --given side=900",
        "plan --joint sliding --given shelves=two",
        "plan --given side=900",
        "plan --like 1 --joint box",
    ],
)
def test_what_means_nothing_exits_with_2(shop: Shop, line: str) -> None:
    stocked(shop, "sliding")
    shop.words("start --joint sliding --bit wren --stock ash")
    sentence(shop.refused(*line.split(), code=2))


def test_a_bit_is_named_where_several_would_do(shop: Shop) -> None:
    names = stocked(shop, "half-lap")
    shop.words("bit add broad --diameter 19.05 --angle 0 --cutting-length 25")
    line = ("plan", "--joint", "half-lap", *names, "--given", "outside-length=600mm")
    assert "--bit" in shop.refused(*line)
    shop.run(*line, "--bit", "broad")
