"""`fitlog recover` from the shell: what it takes, what it refuses, what it says, in every unit.

Expected heights by hand from c = 2 D - P - 2 h tan(theta) with a measured bit, which has no assumed
shift: the window's middle is 0.07. The numbers are invented.
"""

from __future__ import annotations

import shlex
from math import radians, tan

import pytest
from shop import Shop, by_code

D, LIFT, PITCH = 13.1, 2 * tan(radians(9)), 23.0
RIGHT = (2 * D - PITCH - 0.07) / LIFT  # 9.88 mm
KEYS = {
    "bit",
    "stock",
    "pin_stock",
    "machine",
    "from",
    "pitch",
    "height",
    "height_sd",
    "interval90",
    "chance_good",
    "test_piece",
    "clearance",
    "window",
    "by_figures",
    "cut_at",
    "rods_angle",
    "diameter",
    "angle",
    "setups",
    "readings",
    "remembered",
    "start",
    "reasons",
    "notices",
    "cautions",
}
# A sample cut with a clearance of 0.07: m = P - D + c, t = D - c.
SAMPLE = f"--mouth {PITCH - D + 0.07:.2f} --tail-width {D - 0.07:.2f}"


@pytest.fixture
def bench(shop: Shop) -> Shop:
    """A measured bit, a stock, a table whose scale shows 2 mm too much."""
    return shop.built(_bench)


def _bench(shop: Shop) -> None:
    shop.stocked(machine={"height-turn": "1.5", "height-zero": "2"})
    shop.words(f"bit edit marsh --diameter {D} --measured")


def good(shop: Shop, start: str = "", said: str = "good, flush, centred") -> int:
    """A set-up that ended good at the first piece; return its number."""
    shop.words(f"start {start}")
    number = int(shop.json(f"cut {said}")["setup"])
    shop.words("finish")
    return number


def test_a_kept_sample_gives_the_height_on_the_users_scale(bench: Shop) -> None:
    before = bench.everything()
    told = bench.json(f"recover --pitch {PITCH} {SAMPLE}")
    assert set(told) == KEYS
    assert told["height"] == pytest.approx(RIGHT + 2, abs=0.03)
    low, high = told["interval90"]
    assert high - low == pytest.approx(2 * 1.6449 * told["height_sd"], abs=2e-4)
    assert low < told["height"] < high
    assert [r["kind"] for r in told["readings"]] == ["mouth", "tail_width"]
    assert told["readings"][1]["height_sd"] < told["by_figures"]["sd"]
    assert told["test_piece"] is (1 - told["chance_good"] > 1 / 5)
    assert {"unplug", "feed", "hands"} <= set(by_code(told["cautions"]))
    assert {"pitch-from", "bit-from", "height-from", "cut-at", "test-piece"} <= set(
        by_code(told["reasons"])
    )
    assert bench.everything() == before


def test_the_start_line_goes_on_with_the_same_height(bench: Shop) -> None:
    told = bench.json(f"recover {SAMPLE} --thickness 16 --spacer")
    assert told["pitch"] == pytest.approx(PITCH)
    words = shlex.split(told["start"])
    assert words[:2] == ["fitlog", "start"]
    started = bench.run(*words[1:], "--json").document
    assert started["settings"]["bit_height"] == pytest.approx(told["height"], abs=1e-4)
    assert started["fixed"]["pitch"] == pytest.approx(told["pitch"], abs=1e-4)


def test_the_start_line_repeats_what_the_set_up_was_for(bench: Shop) -> None:
    """Set-up 1 with all that a line can carry, then the same again from the line that recover
    prints.
    """
    number = good(
        bench,
        f"--pitch {PITCH} --width 246 --pin-thickness 16 --rabbet 6 --rabbet-bit straight --proud "
        "0.3 "
        "--tails 9 --spacer",
        "good, proud 0.3, centred",
    )
    line = bench.json(f"recover --from {number}")["start"]
    bench.run(*shlex.split(line)[1:])
    again = bench.json("cut good, proud 0.3, centred")
    assert again["fixed"] == bench.json("next")["fixed"]
    assert again["fixed"]["board_width"] == 246
    assert again["fixed"]["rabbet_depth"] == 6
    assert again["fixed"]["rabbet_bit"] == "straight"
    assert again["window"]["fit"] == [0.08, 0.15]
    assert again["window"]["seat"] == pytest.approx([0.15, 0.45])
    assert (
        bench.json(f"recover --from {again['setup']}")["start"]
        .split("--spacer")[0]
        .split("--height")[0]
        in line
    )


@pytest.mark.parametrize("units", ["mm", "inch", "fraction"])
def test_every_unit_gives_the_same_height_and_start_line(bench: Shop, units: str) -> None:
    plain = bench.json(f"recover --pitch {PITCH} {SAMPLE}")
    bench.words(f"prefer --units {units}")
    line = "recover --pitch 23.0mm --mouth 9.97mm --tail-width 13.03mm"
    told = bench.json(line)
    assert told["height"] == plain["height"]
    text = bench.words(line).out
    assert ("mm" in text.split("Why")[0]) is (units == "mm")
    started = bench.run(*shlex.split(told["start"])[1:], "--json").document
    assert started["settings"]["bit_height"] == pytest.approx(told["height"], abs=2e-4)


def test_it_says_what_matters_first_and_how_to_go_on(bench: Shop) -> None:
    text = bench.words(f"recover --pitch {PITCH} {SAMPLE} --height 12.5").out
    head, _, rest = text.partition("\nWhy\n")
    assert "bit height" in head
    assert (
        "6 19/32 turns" in head
    )  # 9.88 mm from level with the table, 1.5 mm a turn, to the nearest 1/32
    assert "test piece" in head
    assert rest.splitlines()[-1].startswith("Go on with: fitlog start --bit marsh")
    assert "\nCare\n" in text
    assert "At the height you remember, 12.50 mm" in rest
    assert "moves with its moisture" in rest
    assert "\x1b" not in text


def test_a_finished_set_up_gives_pitch_boards_and_what_it_taught(bench: Shop) -> None:
    number = good(bench)
    shown = bench.json("next")
    told = bench.json(f"recover --from {number}")
    assert told["pitch"] == shown["fixed"]["pitch"]
    assert told["setups"] == 1
    assert told["height"] == pytest.approx(shown["settings"]["bit_height"], abs=0.1)
    assert (
        told["height_sd"]
        < bench.json(f"recover --pitch {told['pitch']} --pull-gap 0.22")["by_figures"]["sd"] + 1e-9
    )


def test_another_bit_takes_only_pitch_and_boards(bench: Shop) -> None:
    number = good(bench, f"--pitch {PITCH}")
    bench.run(
        "bit",
        "add",
        "fen",
        "--diameter",
        "13.2",
        "--angle",
        "10",
        "--cutting-length",
        "15",
        "--measured",
    )
    told = bench.json(f"recover --from {number} --bit fen {SAMPLE}")
    assert told["height"] == pytest.approx(
        (2 * 13.2 - PITCH - 0.07) / (2 * tan(radians(10))) + 2, abs=0.2
    )
    assert told["cut_at"] is None
    assert "marsh" in by_code(told["notices"])["other-bit"]
    assert told["setups"] == 0


def test_another_table_keeps_its_own_zero(bench: Shop) -> None:
    number = good(bench, f"--pitch {PITCH}")
    bench.run("machine", "add", "loft", "--height-step", "0.05")
    there = bench.json(f"recover --from {number} --machine loft")
    here = bench.json(f"recover --from {number}")
    assert "bench" in by_code(there["notices"])["other-machine"]
    assert there["height"] == pytest.approx(here["height"] - 2, abs=0.1)
    assert there["height_sd"] > here["height_sd"]
    assert there["height"] / 0.05 == pytest.approx(round(there["height"] / 0.05))


def test_a_pitch_out_of_reach_is_refused_with_one_that_works(bench: Shop) -> None:
    number = good(bench, f"--pitch {PITCH}")
    bench.run(
        "bit",
        "add",
        "wren",
        "--diameter",
        "9.6",
        "--angle",
        "8",
        "--cutting-length",
        "9",
        "--measured",
    )
    told = bench.refused("recover", "--from", str(number), "--bit", "wren")
    assert "below the table" in told
    pitch = told.rpartition("--pitch ")[2].strip()
    assert bench.json(f"recover --from {number} --bit wren --pitch {pitch}")["chance_good"] > 0


def test_a_set_up_that_did_not_end_good_says_what_it_lacks(bench: Shop) -> None:
    bench.words("start")
    assert "no piece yet" in bench.refused("recover", "--from", "1")
    bench.words("cut loose 0.5, flush")
    assert '"loose"' in bench.refused("recover", "--from", "1")
    bench.words("cut good")
    bench.words(f"recover --from 1 {SAMPLE}")  # ready, not finished: good enough
    bench.words("finish --abandon")
    bench.words("recover --from 1")
    bench.words("undo")
    bench.words("undo --piece 2")
    bench.words("undo --piece 1")
    bench.words("undo --yes")
    assert "undone" in bench.refused("recover", "--from", "1")


@pytest.mark.parametrize(
    ("line", "code", "word"),
    [
        ("recover", 2, "--from"),
        ("recover --pitch 23", 2, "--mouth"),
        ("recover --mouth 9.97", 1, "--pitch"),
        ("recover --pitch 23 --mouth 13.4", 1, "13.40 mm"),
        ("recover --pitch 23 --tail-width 14", 1, "--sample-bit"),
        ("recover --pitch 23 --mouth 9.97q", 2, '"q"'),
        ("recover --pitch 2.3 --mouth 9.97", 1, "2.3"),
        ("recover --pitch 23 --mouth 9.97 --bit mash", 1, "marsh"),
        ("recover --from 7", 1, "7"),
        ("recover --pitch 23 --mouth 9.97 --height 30", 1, "30"),
        ("recover --pitch 23 --over-rods 4", 2, "--over-rods"),
    ],
)
def test_what_cannot_be_meant_is_one_sentence(bench: Shop, line: str, code: int, word: str) -> None:
    assert word in bench.refused(*line.split(), code=code)


def test_a_sample_from_elsewhere_is_spoken_of(bench: Shop) -> None:
    told = bench.json(f"recover --pitch {PITCH} --mouth 9.5")
    assert told["readings"][0]["left_out"] is True
    assert "left out" in by_code(told["notices"])["heights-disagree"]
    assert told["height"] == pytest.approx(told["by_figures"]["mean"], abs=0.01)
    bench.words("bit sharpen marsh --diameter 13.0")
    assert "--from" in by_code(bench.json(f"recover --pitch 22.9 {SAMPLE}")["notices"])["sharpened"]


def test_json_of_a_refusal_is_one_document(bench: Shop) -> None:
    assert bench.words("recover --mouth 9.97 --json", 1).document["error"]["code"] == "no-pitch"
