"""`stops` for other boards and a whole batch, and `plan --like`, from the shell. Boards and bits
are invented.
"""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest
from pane import Pane
from shop import Shop, by_code

# A 13.1 mm bit of 9 degrees, elm 17 mm thick and 150 mm wide (see shop.py).


@pytest.fixture
def ready(shop: Shop) -> Shop:
    return shop.built(_make_ready)


def _make_ready(shop: Shop) -> None:
    shop.stocked(machine={"fence-step": "0.05"})
    shop.words("start --pitch 25 --tails 6")
    shop.words("cut good, centred, flush --fence 75.2")


@pytest.fixture
def steep(shop: Shop) -> Shop:
    """A set-up with a narrow mouth, which not every width takes."""
    return shop.built(_steep)


def _steep(shop: Shop) -> None:
    shop.stocked(machine={"fence-step": "0.05"})
    shop.words("bit add steep --diameter 13.1 --angle 14 --cutting-length 16")
    shop.words("start --bit steep --pitch 19.4 --tails 7")
    shop.words("cut good, centred, flush")


@pytest.fixture
def without_centre(shop: Shop) -> Shop:
    """A set-up that judges fit and seat alone."""
    return shop.built(_without_centre)


def _without_centre(shop: Shop) -> None:
    shop.stocked(machine={"fence-step": "0.05"})
    shop.words("start --pitch 25 --tails 6 --only fit,seat")
    shop.words("cut good, flush")


def face(job: Any) -> float:
    """What the scale shows with the bit's centre at the fence's face, mm."""
    return float(job["zero"] - job["layout"]["board_width"] / 2)


# --- other widths and thicknesses -----------------------------------------------------------------


@pytest.mark.parametrize("width", ["75", "100", "125", "225"])
def test_another_width_has_the_same_face_and_its_own_stops(ready: Shop, width: str) -> None:
    own, other = ready.json("stops"), ready.json(f"stops --width {width}")
    assert face(other) == pytest.approx(face(own), abs=1e-3)
    assert other["layout"]["tails"] == int(width) / 25 and other["layout"]["exact_half_pins"]
    assert other["settings"]["bit_height"] == own["settings"]["bit_height"]
    assert other["settings"]["socket_depth"] == own["settings"]["socket_depth"]
    half = (int(width) - 150) / 2
    assert other["settings"]["fence_offset"] == pytest.approx(75.2 + half)
    for stop in other["stops"]:
        assert stop["fence_exact"] == pytest.approx(face(own) + stop["from_edge"], abs=1e-3)
    assert other["rabbet"] == own["rabbet"] and other["zero_sd"] == own["zero_sd"]
    assert "no-new-piece" in by_code(other["notices"])
    assert "no-new-piece" not in by_code(own["notices"])


def test_the_set_ups_own_width_is_its_own_layout(ready: Shop) -> None:
    own, same = ready.json("stops"), ready.json("stops --width 150")
    assert same["stops"] == own["stops"] and same["layout"] == own["layout"]


def test_the_depth_goes_with_the_tail_boards_thickness(ready: Shop) -> None:
    own = ready.json("stops")["settings"]["socket_depth"]
    job = ready.json("stops --thickness 11.8,12.1")
    assert [one["socket_depth"] for one in job["depths"]] == pytest.approx([own - 5.2, own - 4.9])
    assert [one["sides"] for one in job["depths"]] == [["left"], ["right"]]
    repeated = ready.json("stops --thickness 11.8 --thickness 12.1")
    assert repeated == job
    one = ready.json("stops --thickness 20")["depths"]
    assert one == [
        {"thickness": 20, "socket_depth": pytest.approx(own + 3), "sides": ["left", "right"]}
    ]
    text = ready.words("stops --thickness 11.8,12.1 --why").out
    assert f"at {own - 5.2:.2f} mm for the left tail boards, 11.8 mm thick," in text
    rows = list(csv.DictReader(io.StringIO(ready.words("stops --thickness 11.8,12.1 --csv -").out)))
    pins = [row for row in rows if row["board"] == "pin"]
    assert [float(row["socket_depth_mm"]) for row in pins] == pytest.approx(
        [own - 5.2] * 6 + [own - 4.9] * 6
    )


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("--pin-thickness 5", "a lap of 2.4 mm, the least that holds, are more than a pin board"),
        ("--pin-thickness 17;5.1", "a pin board of 5.1 mm"),
        ("--thickness 9", "which must keep 3 mm"),
        ("--thickness 17;9", "a 9 mm tail board"),
        ("--width 15", "gives no tails and pins alike on a board 15 mm wide: 19.1 mm takes 1 tail"),
        ("--width 90 --tails 40", "40 tails"),
        ("--width 5", "the board width"),
        ("--thickness 300", "thickness"),
    ],
)
def test_what_the_set_up_cannot_cut_is_refused(ready: Shop, line: str, words: str) -> None:
    assert words in ready.refused("stops", *line.split())


def test_the_thickest_that_is_named_is_taken(ready: Shop) -> None:
    told = ready.refused("stops", "--pin-thickness", "5")
    least = told.partition("pin boards of ")[2].split()[0]
    job = ready.json(f"stops --pin-thickness {least}")
    lap = float(least) - job["settings"]["bit_height"]
    assert 2.4 <= lap < 2.42
    assert "The lap is then" in by_code(job["notices"])["other-lap"]


def test_a_width_that_misses_names_those_that_do_not(steep: Shop) -> None:
    told = steep.refused("stops", "--width", "76")
    sizes = [part.split()[-2] for part in told.split(" takes ")[:-1]]
    assert len(sizes) == 2
    for size in sizes:
        assert steep.json(f"stops --width {size}")["layout"]["wide_tails"] is False
    tails = told.partition("--tails ")[2].split()[0]
    assert steep.json(f"stops --width 76 --tails {tails}")["layout"]["wide_tails"]


def test_more_than_two_thicknesses_are_not_understood(ready: Shop) -> None:
    told = ready.refused("stops", "--thickness", "11.8,12.1,12.3", code=2)
    assert "3 sizes" in told and "one for each of the two boards of a box" in told


def test_the_centre_is_checked_where_it_was_never_settled(without_centre: Shop) -> None:
    job = without_centre.json("stops --width 100")
    told = by_code(job["notices"])
    assert "no-new-piece" not in told
    assert "Check the centre on one scrap 100 mm wide first" in told["check-centre"]
    assert f"one pass on end at {job['zero']:.2f} mm" in told["check-centre"]
    # the same width has the same middle
    assert "no-new-piece" in by_code(without_centre.json("stops --thickness 16")["notices"])


def test_two_laps_are_told_by_their_boards(ready: Shop) -> None:
    height = ready.json("stops")["settings"]["bit_height"]
    line = ("stops", "--pin-thickness", "17;12", "--boards", "front, back, 2 sides")
    told = by_code(ready.run(*line, "--json").document["notices"])["other-lap"]
    assert told == f"The lap is then {17 - height:.2f} mm (front) and {12 - height:.2f} mm (back)."


def test_many_tails_want_more_play_than_few(ready: Shop) -> None:
    """From 8 tails on the looser window is aimed at."""
    assert "more-play" not in by_code(ready.json("stops --width 175")["notices"])
    told = by_code(ready.json("stops --width 200")["notices"])["more-play"]
    assert told.startswith("8 tails want more play (0.08 mm to 0.15 mm)") and "--tails 8" in told


def test_nothing_is_promised_of_what_is_not_settled(shop: Shop) -> None:
    shop.stocked()
    shop.words("start --pitch 25 --tails 6")
    told = by_code(shop.json("stops --width 100")["notices"])
    assert "not-settled" in told and not {"no-new-piece", "check-centre"} & told.keys()


def test_a_finished_set_up_asks_whether_it_stands_as_it_did(ready: Shop) -> None:
    ready.words("finish")
    told = by_code(ready.json("stops --setup 1 --width 100")["notices"])
    assert "while the bit has not been out" in told["no-new-piece"]


# --- a batch --------------------------------------------------------------------------------------

BATCH = ("stops", "--width", "100mm", "--boards", "front 2, back 2, side 4")


def test_the_batch_as_json_is_the_batch_as_csv(ready: Shop) -> None:
    job = ready.run(*BATCH, "--json").document
    order = job["schedule"]
    assert [step["work"] for step in order["steps"]] == ["rabbet", "edges", "slots", "sockets"]
    marks = {"FL1", "FR1", "BL1", "BR1", "FL2", "FR2", "BL2", "BR2"}
    for step in order["steps"]:
        assert {end["mark"] for end in step["ends"]} == marks
        edges = {end["mark"][:2]: end["edge"] for end in step["ends"]}
        assert edges == {"FL": "marked", "FR": "other", "BL": "other", "BR": "marked"}
    rows = list(csv.DictReader(io.StringIO(ready.run(*BATCH, "--csv", "-").out)))
    assert [int(row["pass"]) for row in rows] == list(range(1, len(rows) + 1))
    fences = {stop["stop"]: stop["fence"] for stop in job["stops"]}
    for step in order["steps"]:
        mine = [row for row in rows if int(row["step"]) == step["step"]]
        turns = 2 if step["both_edges"] else 1
        if step["work"] == "rabbet":
            assert len(mine) == 8 * len(job["rabbet"])
            assert {float(r["fence_set_mm"]) for r in mine} == {r["fence"] for r in job["rabbet"]}
            continue
        assert len(mine) == 8 * turns * len(step["stops"])
        for row in mine:
            assert float(row["fence_set_mm"]) == pytest.approx(fences[int(row["stop"])])
            depth = row["socket_depth_mm"]
            assert (float(depth) if depth else None) == step["socket_depth"]
        cut = {(row["mark"], row["board"], row["end"]) for row in mine}
        assert cut == {(end["mark"], end["board"], end["end"]) for end in step["ends"]}
    assert all(row["done"] == "[_]" for row in rows)


def test_a_batch_is_written_and_told(ready: Shop) -> None:
    target = ready.home / "batch.csv"
    assert "The stops are in" in ready.run(*BATCH, "--csv", str(target)).err
    assert target.read_bytes().startswith(b"pass,step,mark,board,end,edge_at_fence,")
    told = ready.run(*BATCH).out
    assert "FL1, FL2: front, left end; left side, front end" in told
    assert "marked: [_]FL1 [_]BR1 [_]FL2 [_]BR2  other: [_]FR1 [_]BL1 [_]FR2 [_]BL2" in told
    assert told.count("hold it in") == 1 and "never one off to reach a switch" in told
    assert "never the edge away from the fence, a climb cut" in told
    assert "Unplugged to set" in told and "square block" in told


@pytest.mark.parametrize(
    "line",
    [
        "stops --boards 2 drawers --width 100",
        "stops --width 100 2 drawers",
        "stops --boards front 2, back 2, side 4 --width 100",
    ],
)
def test_no_quotes_are_needed(ready: Shop, line: str) -> None:
    assert ready.json(line) == ready.run(*BATCH, "--json").document


def test_the_rows_are_those_of_the_order(ready: Shop) -> None:
    """What the sheet prints: a box, a mark, a board, an end, an edge and the stops' numbers."""
    from fitlog.families.boards import Batch
    from fitlog.families.half_blind.layouts.boards_said import boards_said
    from fitlog.families.half_blind.layouts.job import Job
    from fitlog.render.half_blind.schedule import HEADS, rows
    from fitlog.service.boards import for_sheet
    from fitlog.service.session import Session, opened

    with opened(str(ready.db), create=False) as (log, _):
        found, bench = Session(log, "wren").at(1)
        job = for_sheet(bench, found, None, Batch(boards=boards_said("front, back, 2 sides")))
    assert isinstance(job, Job) and job.schedule is not None
    told = rows(job.schedule)
    assert len(told) == 16 and {len(row) for row in told} == {len(HEADS)}
    assert told[0] == ("[_]", "FL", "side 1", "front", "inside face", "rabbet")
    assert told[4] == ("[_]", "FL", "side 1", "front", "marked, then turned", "1, both edges")
    assert told[8][5] == "2-6" and told[12] == ("[_]", "FL", "front 1", "left", "marked", "7-12")


@pytest.mark.parametrize(("columns", "most"), [(80, 43), (40, 83)])
@pytest.mark.parametrize("units", ["mm", "fraction"])
def test_a_batch_at_a_terminal(ready: Shop, units: str, columns: int, most: int) -> None:
    """Every row fits, and no box is torn from its mark."""
    ready.words(f"prefer --units {units}")
    with Pane(ready, *BATCH, "--thickness", "16mm;17mm", columns=columns, rows=100) as pane:
        pane.ended()
    shown = pane.text
    assert "marked: [_]" in shown.splitlines()[-1] or "other: [_]" in shown.rstrip()
    assert shown.count("[_]FL1") == shown.count("[_]BR2") == 4
    assert len([row for row in shown.splitlines() if row.strip()]) <= most


def test_the_stops_alone_say_every_caution_and_what_is_set_last(ready: Shop) -> None:
    """Without boards each standing caution comes before the steps, with --why each reason, too."""
    job = ready.json("stops")
    told, whole = ready.words("stops").out, ready.words("stops --why").out
    for caution in job["cautions"]:
        assert caution["text"] in told and caution["text"] in whole
    for steps in job["steps"].values():
        assert all(step in whole for step in steps)
    last = told.rstrip().splitlines()[-1]
    assert last.startswith("4) Pin boards flat, inside face down, stops 7 to 12: ")
    assert all(f"{stop['fence']:.2f}" in told for stop in job["stops"])


# --- plan --like ----------------------------------------------------------------------------------


def test_which_widths_take_a_set_up(steep: Shop) -> None:
    found = steep.json("plan --like 1 --width 97;76 --width 150")
    assert [one["board_width"] for one in found["widths"]] == [97, 76, 150]
    assert found["pitch"] == 19.4 and found["setup"] == 1
    whole, missed, own = found["widths"]
    assert whole["misses"] is None and own["misses"] is None
    assert not whole["layouts"][0]["wide_tails"] and missed["layouts"][0]["wide_tails"]
    near = missed["misses"]
    assert near["narrower"] == {"width": pytest.approx(75.7, abs=0.3), "tails": 3}
    assert near["wider"] == {"width": pytest.approx(77.3, abs=0.3), "tails": 4}
    for one in found["widths"]:
        for each in one["layouts"]:
            job = steep.json(f"stops --width {one['board_width']} --tails {each['tails']}")
            assert job["layout"] == each
    text = steep.words("plan --like 1 --width 97 --width 76").out
    assert "97 mm: 5 tails like the pins, half-pins" in text
    assert "76 mm: not with tails and pins alike;" in text and "takes 3" in text
    command = text.splitlines()[-1].partition("fitlog ")[2]
    assert steep.json(command)["layout"] == whole["layouts"][0]
    shown = len(text.splitlines())
    assert len(steep.words("plan --like 1 --width 97 --width 76 --all").out.splitlines()) > shown


def test_its_own_width_where_none_is_named(ready: Shop) -> None:
    (one,) = ready.json("plan --like 1")["widths"]
    assert one["board_width"] == 150


@pytest.mark.parametrize("more", ["--bit marsh", "--pitch 25", "--thickness 17", "--wide"])
def test_a_set_up_says_the_rest_itself(ready: Shop, more: str) -> None:
    told = ready.refused("plan", "--like", "1", *more.split(), code=2)
    assert "give --width alone beside it" in told


def test_several_widths_are_for_a_set_up(ready: Shop) -> None:
    told = ready.refused("plan", "--width", "90", "--width", "140", code=2)
    assert "--like N" in told
