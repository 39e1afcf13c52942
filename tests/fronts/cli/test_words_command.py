"""`fitlog words` and `fitlog bit show` from the shell: what is assumed, what the log has taught,
how it is said.

Edges of the assumed scale are common practice, no source. What is learned is checked against the
readings themselves: g = c / (2 tan(theta)), so a gap said with a word is a clearance. All numbers
are invented.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from shop import Shop, sentence
from terminal import on_terminal

D, THETA = 13.1, math.radians(9)  # of the shop's bit
GAP = 2 * math.tan(THETA)
ASSUMED = (-0.06, 0.0, 0.04, 0.10, 0.18, 0.30)
WORDS = ("very tight", "tight", "slightly tight", "good", "slightly loose", "loose", "very loose")
# A strict person: good from 0.075 to 0.125 mm of clearance, slightly loose to 0.20; what they read,
# in four set-ups.
READ = (
    (("good", 0.08), ("slightly loose", 0.13), ("good", 0.12), ("slightly tight", 0.05)),
    (("slightly tight", 0.07), ("good", 0.10), ("slightly loose", 0.18), ("loose", 0.22)),
    (("good", 0.11), ("slightly loose", 0.15), ("slightly tight", 0.06), ("good", 0.09)),
    (("slightly loose", 0.14), ("good", 0.12), ("loose", 0.24), ("slightly tight", 0.06)),
)


def log(shop: Shop, season: tuple[tuple[tuple[str, float], ...], ...] = READ) -> None:
    """Log set-ups of the fit alone, each word with its gap, and finish them."""
    for pieces in season:
        pitch = shop.json("start --only fit")["fixed"]["pitch"]
        for word, clearance in pieces:
            height = (
                2 * D - 0.14 - pitch - clearance
            ) / GAP  # bits run 0.07 under their printed size
            shop.words(f"cut {word} {clearance / GAP:.2f} --height {height:.2f}")
        shop.words("finish --as-it-is")


def edges(scale: Any) -> list[float]:
    """The edges of a scale's document, checked to join up."""
    words = scale["words"]
    assert tuple(w["word"] for w in words) == WORDS
    assert (
        words[0]["low"] is None
        and words[-1]["high"] is None
        and words[0]["low_sd"] is words[-1]["high_sd"] is None
    )
    assert [w["high"] for w in words[:-1]] == [w["low"] for w in words[1:]]
    assert [w["high_sd"] for w in words[:-1]] == [w["low_sd"] for w in words[1:]]
    return [w["high"] for w in words[:-1]]


def check_assumed(scale: Any) -> None:
    assert scale["learned"] is False
    assert edges(scale) == list(ASSUMED)
    assert {w["low_sd"] for w in scale["words"][1:]} == {0.05}
    low, high = scale["noise_interval90"]
    assert scale["noise"] == 0.025 and low < 0.025 < high
    assert math.sqrt(low * high) == pytest.approx(0.025, abs=1e-4)  # a factor either way
    assert (scale["aim"], scale["aim_many_tails"]) == ([0.04, 0.10], [0.08, 0.15])


# --- words: what is assumed -----------------------------------------------------------------------


def test_without_a_log_it_says_so_and_makes_none(shop: Shop) -> None:
    for args in (("words",), ("bit", "show", "marsh"), ("words", "--json")):
        result = shop.run(*args, code=1)
        if "--json" in args:
            assert result.document["error"]["code"] == "no-log"
        else:
            sentence(result.err)
    assert list(shop.home.iterdir()) == []


def test_the_assumed_scale(shop: Shop) -> None:
    shop.stocked()
    before = shop.everything()
    found = shop.json("words")
    assert set(found) == {"person", "others", "setups", "own", "fit", "seat"}
    assert (found["others"], found["setups"]) == ([], 0)
    check_assumed(found["fit"])
    assert (found["fit"]["met"], found["fit"]["missing"]) == (0, 8)
    assert [w["high"] for w in found["seat"]["words"][:-1]] == [-0.6, -0.2, -0.08, 0.08, 0.2, 0.6]
    text = shop.words("words").out
    assert f"as {found['person']} says it: assumed" in text and "8 still missing" in text
    assert (
        "below -0.06 mm" in text
        and "over 0.30 mm" in text
        and "0.04 to 0.10 mm" in text
        and "0.05 mm" in text
    )
    assert (
        "Words alone teach where your good settings lie" in text
        and "cannot teach where one word ends" in text
    )
    assert "seat" not in text.replace("settings", "")  # no reading met a word of it
    assert shop.everything() == before


def test_words_without_readings_teach_no_edges(shop: Shop) -> None:
    shop.stocked()
    for _ in range(3):
        shop.words("start --only fit")
        for word in ("tight", "slightly loose", "very loose", "good"):
            shop.words(f"cut {word}")
        shop.words("finish --as-it-is")
    found = shop.json("words")
    check_assumed(found["fit"])
    assert (found["setups"], found["fit"]["met"], found["fit"]["missing"]) == (3, 0, 8)
    # What they did teach is where the good window lies, through the bit.
    assert shop.json("bit show marsh")["cuts_like"]["diameter_sd"] < 0.03


# --- words: what is learned -----------------------------------------------------------------------


def test_enough_readings_teach_the_scale(shop: Shop) -> None:
    shop.stocked()
    log(shop, READ[:1])
    found = shop.json("words")["fit"]
    check_assumed(found)
    assert (found["met"], found["missing"]) == (4, 4)
    assert "4 words in finished set-ups met a reading, 4 still missing" in shop.words("words").out
    log(shop, READ[1:])
    found = shop.json("words")["fit"]
    assert (found["learned"], found["met"], found["missing"]) == (True, 16, 0)
    learned = edges(found)
    sds = [w["high_sd"] for w in found["words"][:-1]]
    said = [pair for pieces in READ for pair in pieces]
    for place in (2, 3, 4):
        below, above = WORDS[place : place + 2]
        last, first = max(c for w, c in said if w == below), min(c for w, c in said if w == above)
        assert last - 2 * sds[place] < learned[place] < first + 2 * sds[place]
        assert sds[place] < 0.03
    assert learned[2] > 0.05 and learned[3] > 0.105  # stricter than assumed
    assert sds[0] > 0.03 and sds[5] > 0.03  # where no reading came near
    assert found["aim"] == learned[2:4]
    assert found["aim_many_tails"] == pytest.approx(
        [learned[2] + 0.04, learned[3] + 0.05], abs=1e-9
    )
    text = shop.words("words").out
    assert "16 words in finished set-ups met a reading" in text
    assert "learned" in text and "missing" not in text and "edges shift alike" in text
    assert f"{learned[2]:.2f} to {learned[3]:.2f} mm, their own good" in text


def test_what_it_says_is_aimed_at_is_the_window_of_the_next_set_up(shop: Shop) -> None:
    shop.stocked()
    log(shop)
    found = shop.json("words")["fit"]
    assert shop.json("start --only fit")["window"]["fit"] == pytest.approx(found["aim"], abs=1e-4)
    shop.words("finish --abandon")
    assert shop.json("start --only fit --many-tails")["window"]["fit"] == pytest.approx(
        found["aim_many_tails"], abs=1e-4
    )
    shop.words("finish --abandon")
    shop.words("prefer --name Rook")  # an invented colleague, whose words nobody knows
    assert shop.json("start --only fit")["window"]["fit"] == [0.04, 0.10]


def test_another_person_is_left_alone(shop: Shop) -> None:
    shop.stocked()
    shop.words("prefer --name Wren")
    log(shop)
    own = shop.json("words")
    assert own["person"] == "Wren" and own["others"] == []
    shop.words("prefer --name Rook")
    found = shop.json("words")
    assert (found["person"], found["others"], found["setups"]) == ("Rook", ["Wren"], 4)
    check_assumed(found["fit"])
    assert found["fit"]["met"] == 0
    assert "Others in this log: Wren." in shop.words("words").out
    assert shop.json("words --person Wren") == own
    shop.words("start --only fit")
    shop.words("cut slightly loose 0.5")
    assert shop.json("words --person Wren") == {**own, "others": ["Rook"]}


def test_only_what_is_finished_and_stands_counts(shop: Shop) -> None:
    shop.stocked()
    log(shop, READ[:1])
    shop.words("undo")  # the finish
    assert shop.json("words")["fit"]["met"] == 0
    shop.words("finish --abandon")
    found = shop.json("words")
    assert (found["fit"]["met"], found["setups"]) == (0, 0)


def test_the_seat_is_shown_once_a_reading_met_it(shop: Shop) -> None:
    shop.stocked()
    shop.words("start --only seat")
    for step in ("proud 0.5", "slightly proud 0.2", "shy 0.4", "slightly shy 0.1", "proud 0.3"):
        shop.words(f"cut {step}")
    shop.words("finish --as-it-is")
    found = shop.json("words")
    assert (found["seat"]["met"], found["seat"]["missing"], found["fit"]["met"]) == (5, 3, 0)
    text = shop.words("words").out
    assert "The seat, as" in text and "very proud" in text and "3 still missing" in text
    shop.words("start --only seat")
    for step in ("very proud 0.7", "slightly proud 0.15", "shy 0.3", "proud 0.4"):
        shop.words(f"cut {step}")
    shop.words("finish --as-it-is")
    assert shop.json("words")["seat"]["learned"] is True


def test_an_unknown_person_is_refused(shop: Shop) -> None:
    shop.stocked()
    shop.words("prefer --name Wren")
    assert "leave --person out" in shop.refused("words", "--person", "Rook")
    log(shop, READ[:1])
    shop.words("prefer --name Rook")
    assert "did you mean Wren?" in shop.refused("words", "--person", "wren")
    assert "did you mean Wren?" in shop.refused("words", "--person", "Wr\x1b[31men")
    assert (
        shop.json("words --person Rook")["person"] == "Rook"
    )  # the one at work, without a cut yet


# --- how it is shown ------------------------------------------------------------------------------


@pytest.mark.parametrize("units", ["inch", "fraction"])
def test_in_inches_it_speaks_in_thousandths(shop: Shop, units: str) -> None:
    shop.stocked().words(f"prefer --units {units}")
    text = shop.words("words").out
    assert (
        "below -2.4 thou" in text and "1.6 to 3.9 thou" in text and "over 11.8 thou" in text
    )  # 0.06, 0.04, 0.10, 0.30 mm
    assert "2.0 thou" in text and "1.0 thou" in text and " mm" not in text
    shown = shop.words("bit show marsh").out.splitlines()[-1]
    assert "0.5130 +- 0.0012 in" in shown and "mm" not in shown  # 13.03 and 0.03 mm
    assert shop.json("words")["fit"]["words"][0]["high"] == -0.06


@pytest.mark.parametrize("units", ["mm", "fraction"])
def test_on_a_narrow_terminal(shop: Shop, units: str) -> None:
    log(shop.stocked())
    shop.words(f"prefer --units {units}")
    shop.run("prefer", "--name", "Rook of the far invented bench")
    for line in ("words", "bit show marsh", "words --help"):
        code, shown = on_terminal(shop, *line.split(), NO_COLOR="1")
        assert code == 0 and "\x1b" not in shown
        if "--help" not in line:
            assert not [text for text in shown.splitlines() if len(text) > 40], shown
    code, shown = on_terminal(shop, "words", columns=100, NO_COLOR="1")
    assert code == 0 and all(len(text) <= 100 for text in shown.splitlines())


def test_a_login_with_control_characters_cannot_paint(shop: Shop) -> None:
    shop.stocked()
    result = shop.run("words", env={"LOGNAME": "wr\x1b[31men\x07"})
    assert (
        "\x1b" not in result.out and "\x07" not in result.out and "wr\\x1b[31men\\x07" in result.out
    )
    assert (
        shop.run("words", "--json", env={"LOGNAME": "wr\x1b[31men"}).document["person"]
        == "wr\x1b[31men"
    )


# --- bit show -------------------------------------------------------------------------------------


def test_bit_show_says_what_is_assumed(shop: Shop) -> None:
    shop.stocked()
    found = shop.json("bit show marsh")
    assert set(found) == {"bit", "cuts_like", "wear"} and found["wear"]["joints"] == 0
    assert found["cuts_like"] == {
        "diameter": 13.03,
        "diameter_sd": 0.03,
        "angle": 9.0,
        "angle_sd": 0.15,
        "setups": 0,
        "since_sharpening": 0,
    }
    text = shop.words("bit show marsh").out
    assert (
        "Sold as 13.1 mm and 9 deg; cuts like 13.03 +- 0.03 mm and 9.00 +- 0.15 deg, assumed"
        in text
    )
    assert "one standard deviation" in text
    shop.words("bit edit marsh --diameter 12.98 --measured")
    assert (
        "Measured as 12.98 mm and 9 deg; cuts like 12.980 +- 0.020 mm"
        in shop.words("bit show marsh").out
    )
    assert "cuts like" not in shop.words("bit list").out
    assert set(shop.json("bit list")) == {"bits"}


def test_bit_show_says_what_set_ups_taught(shop: Shop) -> None:
    shop.stocked()
    log(shop, READ[:1])
    shop.words("start --only fit")
    shop.words("cut good --mouth 9.2")  # still open: not heard yet
    one = shop.json("bit show marsh")["cuts_like"]
    assert one["setups"] == 1 and one["diameter_sd"] < 0.03 and one["angle_sd"] < 0.15
    assert "from 1 finished set-up." in shop.words("bit show marsh").out
    shop.words("finish --as-it-is")
    assert shop.json("bit show marsh")["cuts_like"]["setups"] == 2


def test_after_a_sharpening_the_diameter_is_assumed_again_and_the_angle_is_not(shop: Shop) -> None:
    shop.stocked()
    log(shop, READ[:2])
    before = shop.json("bit show marsh")["cuts_like"]
    shop.words("bit sharpen marsh")
    found = shop.json("bit show marsh")["cuts_like"]
    assert (found["diameter"], found["diameter_sd"]) == (
        pytest.approx(12.93),
        0.0698,
    )  # 0.17 below the old figure
    assert (found["angle"], found["angle_sd"], found["setups"]) == (
        before["angle"],
        before["angle_sd"],
        2,
    )
    text = shop.words("bit show marsh").out
    assert "Before it was sharpened 13.1 mm" in text
    assert (
        "the diameter assumed, since nothing was finished after the sharpening; the angle from 2 "
        "finished set-ups" in text
    )
    log(shop, READ[2:3])
    text = shop.words("bit show marsh").out
    assert (
        "the diameter from 1 finished set-up after the sharpening, the angle from 3 finished "
        "set-ups" in text
    )
