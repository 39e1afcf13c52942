"""`plan` and `stops` from the shell: awkward boards, wrong words, every unit, CSV and JSON. Boards
and bits are invented.
"""

from __future__ import annotations

import csv
import io
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shop import Shop, by_code
from terminal import on_terminal

from fitlog.domain import Bit
from fitlog.families.half_blind.layouts.layout import wide_tails
from fitlog.render.half_blind.end import drawing

# A 13.1 mm bit of 9 degrees, elm 17 mm thick and 150 mm wide (see shop.py).


@pytest.fixture
def stocked(shop: Shop) -> Shop:
    return shop.stocked(machine={"fence-step": "0.05"})


def test_exact_half_pins_at_every_layout_alike(stocked: Shop) -> None:
    """W = n P: what the table calls exact is exact by plain division."""
    found = stocked.json("plan --alike --all")["layouts"]
    exact = [one for one in found if one["exact_half_pins"]]
    assert exact and all(
        one["pitch"] == pytest.approx(150 / one["tails"], abs=1e-3) for one in exact
    )
    for one in found:
        play = (
            2 * (13.1 - 0.07) - one["pitch"] - 2 * one["bit_height"] * math.tan(math.radians(9))
        )  # 0.07 under its mark
        assert play == pytest.approx(0.07, abs=1e-3)
        assert one["lap"] == pytest.approx(17 - one["bit_height"], abs=1e-3) and one["lap"] >= 2.4
        assert one["half_pin"][0] >= 3 and one["middle"] == ("tail" if one["tails"] % 2 else "pin")
        assert one["pin"] == pytest.approx(
            [one["pitch"] - 13.1, one["pitch"] - one["mouth"]], abs=2e-3
        )
    assert [one["points"] for one in found] == sorted(one["points"] for one in found)
    assert all(
        one["points"] == pytest.approx(sum(m["points"] for m in one["marks"]), abs=5e-3)
        for one in found
    )


def test_wide_tails_sit_a_whole_number_of_steps_apart(stocked: Shop) -> None:
    for one in stocked.json("plan --wide --all")["layouts"]:
        steps = (one["spacing"] - one["pitch"]) / 0.05
        assert steps == pytest.approx(round(steps), abs=0.01)
        assert all(
            p[-1] - p[0] == pytest.approx(one["spacing"] - one["pitch"], abs=1e-3)
            for p in one["passes"]
        )


@pytest.mark.parametrize(
    ("line", "key", "value"),
    [
        ("--tails 6", "tails", 6),
        ("--middle pin", "middle", "pin"),
        ("--pitch 22", "pitch", 22.0),
        ("--wide", "wide_tails", True),
    ],
)
def test_only_what_is_asked_for(stocked: Shop, line: str, key: str, value: Any) -> None:
    assert {one[key] for one in stocked.json(f"plan --all {line}")["layouts"]} == {value}


def test_a_least_half_pin_moves_the_outer_slots_in(stocked: Shop) -> None:
    for one in stocked.json("plan --all --half-pin 6")["layouts"]:
        assert one["half_pin"][0] >= 6 - 1e-3


def test_the_command_it_ends_with_opens_that_set_up(stocked: Shop) -> None:
    text = stocked.words("plan").out
    first = stocked.json("plan")["layouts"][0]
    command = text.splitlines()[-1].removeprefix("Go on with the first: fitlog ")
    document = stocked.json(command)
    assert document["fixed"]["pitch"] == pytest.approx(first["pitch"], abs=1e-3)
    job = stocked.json("stops")["layout"]
    assert {k: job[k] for k in ("tails", "wide_tails")} == {
        k: first[k] for k in ("tails", "wide_tails")
    }
    assert job["spacing"] == pytest.approx(first["spacing"], abs=1e-3)


@pytest.mark.parametrize("units", ["mm", "inch", "fraction"])
def test_the_command_is_right_in_every_unit(stocked: Shop, units: str) -> None:
    stocked.words(f"prefer --units {units}")
    command = (
        stocked.words("plan --tails 6")
        .out.splitlines()[-1]
        .removeprefix("Go on with the first: fitlog ")
    )
    pitch = stocked.json("plan --tails 6")["layouts"][0]["pitch"]
    assert stocked.json(command)["fixed"]["pitch"] == pytest.approx(pitch, abs=3e-3)


def test_several_bits_and_one_that_cannot(stocked: Shop) -> None:
    stocked.words("bit add broad --diameter 32 --angle 10 --cutting-length 20")
    document = stocked.json("plan --all")
    assert {one["bit"] for one in document["layouts"]} == {"marsh"}
    assert "broad was left out" in by_code(document["notices"])["bit-left-out"]
    assert "rabbet" in stocked.refused("plan", "--bit", "broad")


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (("--tails", "40"), "40 tails"),
        (("--pitch", "14"), "pitches within reach"),
        (("--width", "12"), "no layout"),
        (("--width", "5"), "the board width"),
        (("--tails", "0"), "0 tails"),
        (("--half-pin", "60"), "--half-pin"),
        (("--bit", "marshy"), "marsh"),
        (("--pin-thickness", "3"), "no bit height is possible"),
    ],
)
def test_what_cannot_be_is_refused_with_a_way_on(
    stocked: Shop, args: tuple[str, ...], words: str
) -> None:
    assert words in stocked.refused("plan", *args)


def test_wrong_words(stocked: Shop) -> None:
    assert "did you mean pin" in stocked.refused("plan", "--middle", "pni", code=2)
    assert "width" in stocked.refused("plan", "--width", "wide", code=2)
    assert "no bit" in stocked.refused("plan", "--bit", "nobody")


def test_boards_that_are_not_equally_dry(stocked: Shop) -> None:
    """1 % over flat-sawn maple: Wood Handbook table 13-5 (second decimal read), .00353 a
    per cent.
    """
    stocked.words(
        "stock add dry --species maple --thickness 17 --width 150 --moisture 7 --sawn flat"
    )
    stocked.words(
        "stock add damp --species maple --thickness 17 --width 150 --moisture 9 --sawn flat"
    )
    text = by_code(stocked.json("plan --stock dry --pin-stock damp")["notices"])["moisture-boards"]
    assert f"{150 * 0.00353 * 2:.2f} mm" in text
    assert stocked.json("plan --stock dry")["notices"] == []


@pytest.mark.parametrize("columns", [40, 80, 160])
def test_a_layout_is_one_paragraph_where_a_table_is_too_wide(stocked: Shop, columns: int) -> None:
    code, shown = on_terminal(stocked, "plan", columns=columns, NO_COLOR="1")
    assert code == 0 and max(map(len, shown.splitlines())) <= columns
    first = stocked.json("plan")["layouts"][0]
    flat = " ".join(shown.split())
    sizes = f"1. bit marsh, tails {first['tails']}, pitch {first['pitch']:.2f}"
    assert (sizes in flat) == ("Why in this order" not in flat) == (columns < 100)
    assert flat.count("For: ") == len(stocked.json("plan")["layouts"])


def test_a_size_that_a_family_does_not_choose_by_is_refused(
    stocked: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fitlog.families.half_blind.boards.SIZES", {})
    told = stocked.refused("plan", "--half-pin", "4")
    assert "the half-blind dovetail are not chosen by --half-pin: leave --half-pin out" in told


# --- stops ----------------------------------------------------------------------------------------


@pytest.fixture
def ready(shop: Shop) -> Shop:
    return shop.built(_make_ready)


def _make_ready(shop: Shop) -> None:
    shop.stocked(machine={"fence-step": "0.05"})
    shop.words("start --pitch 25 --tails 6")
    shop.words("cut good, centred, flush --fence 75.2")


def test_stops_from_the_set_ups_own_zero(ready: Shop) -> None:
    job = ready.json("stops")
    assert job["status"] == "ready" and job["settings"]["fence_offset"] == 75.2
    face = job["zero"] - 75  # what the scale shows with the bit's centre at the fence's face
    assert 0.15 <= face <= 0.25  # the setting, less what its own cut says it is off, 0.05 at most

    def dialled(positions: list[float]) -> list[float]:
        return [round((face + at) / 0.05) * 0.05 for at in positions]

    tails = [s["fence"] for s in job["stops"] if s["board"] == "tail"]
    pins = [s["fence"] for s in job["stops"] if s["board"] == "pin"]
    assert tails == pytest.approx(dialled([25.0 * k for k in range(6)]))
    assert pins == pytest.approx(dialled([12.5 + 25 * k for k in range(6)]))
    assert job["stops"][0]["edges"] == "both" and {s["edges"] for s in job["stops"][1:]} == {
        "as marked"
    }
    assert [r["takes"] for r in job["rabbet"]] == pytest.approx([1, 3, 2.55])
    # A rabbet half the bit deep has its centre at the fence's face: the same fence position as an
    # open edge's.
    assert [r["fence"] for r in job["rabbet"]] == pytest.approx(dialled([1 - 6.55, 4 - 6.55, 0]))
    assert job["rabbet"][-1]["fence"] == tails[0]


def test_a_scale_of_its_own_and_scrap_of_another_width(stocked: Shop) -> None:
    stocked.words("machine edit bench --fence-zero 3")
    stocked.words("start --pitch 25 --tails 6 --scrap pine --scrap-width 120")
    stocked.words("cut good, centred, flush --fence 63.1")  # 60.1 from fence to centre
    job = stocked.json("stops")
    assert job["settings"]["fence_offset"] == pytest.approx(78.1)
    assert job["zero"] == pytest.approx(78.1, abs=0.05) and job["stops"][0][
        "fence_exact"
    ] == pytest.approx(job["zero"] - 75)
    assert job["rabbet"][-1]["fence"] == job["stops"][0]["fence"]


def test_what_is_not_settled_says_so(stocked: Shop) -> None:
    stocked.words("start --pitch 25 --tails 6")
    assert "not-settled" in by_code(stocked.json("stops")["notices"])


def codes(job: Any) -> set[str]:
    return {remark["code"] for remark in job["notices"]}


def test_what_speaks_against_real_boards(stocked: Shop) -> None:
    stocked.words("start --pitch 25 --tails 6")
    stocked.words("cut tight, gap far 0.3, flush --fence 75.2")
    assert {"not-settled"} <= codes(stocked.json("stops"))
    stocked.words("cut good, centred, flush --walls 50 50")
    assert not codes(stocked.json("stops")) & {"not-settled", "centre-unsure"}
    stocked.words("finish --abandon")
    assert "abandoned-setup" in codes(stocked.json("stops"))


def test_a_centred_word_that_the_figures_doubt(stocked: Shop) -> None:
    stocked.words("start --pitch 25 --tails 6")
    stocked.words("cut good, centred, flush --fence 72")
    job = stocked.json("stops")
    assert "doubted" in codes(job)
    error = stocked.json("next")["misfit"]["centre"]["mean"]
    assert error < -1 and job["zero"] == pytest.approx(
        72 - error, abs=2e-4
    )  # the whole of what the log knows


def test_the_last_tails_play_is_of_the_fence_as_it_is_set_now(stocked: Shop) -> None:
    """By hand: e is half the extra width, 0.15 at 75.20; the next setting is some way in from
    there, and so is e.
    """
    stocked.words("start --pitch 25 --tails 6")
    advice = stocked.json("cut good, gap far 0.3, flush --fence 75.2")
    moved = advice["settings"]["fence_offset"] - 75.2
    rest = advice["misfit"]["centre"]["mean"] + moved
    assert moved < -0.05 and stocked.json("stops")["zero"] == pytest.approx(
        75.2 + moved - rest, abs=2e-4
    )


def test_far_stops_are_pointed_out(stocked: Shop) -> None:
    stocked.words("start --pitch 25 --width 600 --tails 24")
    assert "far-stops" in codes(stocked.json("stops"))


@pytest.mark.parametrize(
    "width",
    ["137.3", *(pytest.param(width, marks=pytest.mark.long) for width in ("150", "163", "205"))],
)
def test_every_planned_layout_is_the_one_its_stops_cut(stocked: Shop, width: str) -> None:
    for one in stocked.json(f"plan --width {width} --all")["layouts"]:
        spacing = ["--spacing", str(one["spacing"])] if one["wide_tails"] else []
        stocked.run(
            "start",
            "--width",
            width,
            "--pitch",
            str(one["pitch"]),
            "--tails",
            str(one["tails"]),
            *spacing,
        )
        job = stocked.json("stops")["layout"]
        assert job["tails"] == one["tails"] and job["wide_tails"] == one["wide_tails"]
        flat, wanted = ([at for passes in x["passes"] for at in passes] for x in (job, one))
        assert flat == pytest.approx(wanted, abs=0.02)
        stocked.words("finish --abandon")


def test_csv_is_what_the_screen_says(ready: Shop, tmp_path: Path) -> None:
    text = ready.words("stops --csv -").out
    rows = list(csv.DictReader(io.StringIO(text)))
    stops = ready.json("stops")["stops"]
    assert [float(r["fence_set_mm"]) for r in rows] == pytest.approx([s["fence"] for s in stops])
    assert [float(r["fence_set_in"]) * 25.4 for r in rows] == pytest.approx(
        [s["fence"] for s in stops], abs=2e-4
    )
    ready.run("stops", "--csv", str(tmp_path / "stops.csv"))
    assert (tmp_path / "stops.csv").read_bytes().decode() == text.replace("\n", "\r\n").replace(
        "\r\r\n", "\r\n"
    )
    assert (
        "could not be written"
        in ready.run("stops", "--csv", str(tmp_path / "no" / "x.csv"), code=1).err
    )


def test_tails_that_do_not_fit_and_tails_nobody_said(stocked: Shop) -> None:
    stocked.words("start --pitch 22 --width 163")
    assert stocked.json("stops")["layout"]["tails"] == 7  # 4.5 mm to spare at each edge
    assert "50 tails" in stocked.refused("stops", "--tails", "50")
    assert "no board has 0 tails" in stocked.refused("stops", "--tails", "0")
    assert stocked.json("stops --tails 4")["layout"]["wide_tails"]


def test_a_pitch_that_leaves_no_half_pins(stocked: Shop) -> None:
    """One tail on 18 mm: (18 - 13.1) / 2 = 2.45 mm at the thinnest."""
    stocked.words("start --pitch 22 --width 18 --only fit,seat --yes")
    assert "--tails" in stocked.refused("stops")


def test_an_undone_set_up_has_no_stops(ready: Shop) -> None:
    ready.words("undo")
    ready.words("undo --yes")
    assert "was undone" in ready.refused("stops", "--setup", "1")


@settings(derandomize=True, deadline=None, database=None, max_examples=150)
@given(
    st.floats(60, 600), st.integers(1, 12), st.integers(75, 140), st.booleans(), st.floats(14, 30)
)
def test_the_drawing_is_to_scale_and_no_wider_than_asked(
    width: float, tails: int, columns: int, blocks: bool, thickness: float
) -> None:
    """Against plain arithmetic: each row's share of wood is that of the pins at its level."""
    layout = wide_tails(
        Bit("invented", 13.1, 9.0, 14.0), 11.0, max(width, 22.5 * tails), tails, 22.5
    )
    rows = drawing(layout, thickness, columns, blocks=blocks)
    assert max(map(len, rows)) <= min(columns, 100)
    inner = rows if blocks else [row[1:-1] for row in rows[1:-1]]
    assert len({len(row) for row in inner}) == 1
    assert inner[0].strip("#\u2588\u2580") == ""  # the lap
    ground = inner[-1].translate(
        {0x2580: " ", 0x2584: "#", 0x2588: "#"}
    )  # the lower half: nearest the inside face
    assert ground[0] == ground[-1] == "#" and len(ground.split()) == tails + 1
    level = thickness / len(inner) * (0.25 if blocks else 0.75)
    wood = tails * (22.5 - layout.mouth - 2 * level * math.tan(math.radians(9)))
    assert ground.count("#") / len(ground) == pytest.approx(
        wood / layout.width, abs=1.1 * tails / len(ground)
    )


@pytest.mark.parametrize(
    ("line", "most"),
    [("--pitch 25", 6), ("--pitch 22.6", 7), ("--pitch 22.6 --spacing 29", 5)],
)
def test_start_refuses_more_tails_than_fit_and_names_the_number_that_does(
    shop: Shop, line: str, most: int
) -> None:
    """The board is 150 mm wide; one tail more than is named is refused, the named number taken."""
    shop.stocked()
    told = shop.refused("start", *line.split(), "--tails", "50")
    assert f"take up to {most} tails" in told
    shop.refused("start", *line.split(), "--tails", str(most + 1))
    shop.words(f"start {line} --tails {most}")
    assert shop.json("stops")["layout"]["tails"] == most
