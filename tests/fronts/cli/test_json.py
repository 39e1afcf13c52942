"""The machine-readable interface: keys, types and codes that other programs rely on."""

from __future__ import annotations

import json
import math
from datetime import datetime
from typing import Any

import numpy as np
import pytest
from scipy.stats import norm
from shop import BIT, STOCK, Shop

NUMBER = (int, float)
SETTINGS = ("bit_height", "fence_offset", "socket_depth")
ASPECTS = ("fit", "centre", "seat")
KEYS = {
    "setup",
    "joint",
    "status",
    "in_play",
    "settled",
    "pieces",
    "fixed",
    "last",
    "settings",
    "moves",
    "chance_good",
    "window",
    "misfit",
    "pieces_left",
    "reasons",
    "notices",
    "cautions",
}
REVIEW_KEYS = {
    "setup",
    "bit",
    "stock",
    "pin_stock",
    "machine",
    "started",
    "finished",
    "status",
    "pieces",
    "settings",
    "first_moves",
}
STATUSES = ("tuning", "ready", "finished", "abandoned")


def number(value: Any) -> bool:
    """A JSON number, which true and false are not."""
    return isinstance(value, NUMBER) and not isinstance(value, bool)


def check_document(found: Any) -> None:
    """Every key there, every value of its type."""
    assert set(found) >= KEYS, KEYS - set(found)
    assert isinstance(found["setup"], int) and isinstance(found["pieces"], int)
    assert found["joint"] == "half-blind dovetail"
    assert found["status"] in STATUSES
    assert set(found["settled"]) <= set(found["in_play"]) <= set(ASPECTS)
    check_fixed(found["fixed"])
    check_settings(found["settings"])
    check_last(found)
    check_outlook(found)
    assert number(found["pieces_left"]) and found["pieces_left"] >= 0
    for group in ("reasons", "notices", "cautions"):
        for remark in found[group]:
            assert set(remark) == {"code", "aspect", "text"}
            assert remark["aspect"] in (None, *ASPECTS)
            assert (
                remark["text"]
                and remark["code"] == remark["code"].lower()
                and " " not in remark["code"]
            )


def check_fixed(found: Any) -> None:
    assert set(found) >= {"pitch", "board_width", "rabbet_depth", "rabbet_bit"}
    assert all(number(found[key]) for key in ("pitch", "board_width", "rabbet_depth"))
    assert found["rabbet_bit"] in ("same", "straight")


def check_settings(found: Any) -> None:
    assert set(found) == set(SETTINGS) and all(number(v) for v in found.values())


def check_last(found: Any) -> None:
    """`last` and `moves`: null before the first piece, full after it."""
    last, moves = found["last"], found["moves"]
    if found["pieces"] == 0:
        assert last is None and moves is None
        return
    assert set(last) == {"piece", "settings", "stated", "said"}
    assert isinstance(last["piece"], int) and set(last["stated"]) <= set(SETTINGS)
    check_settings(last["settings"])
    check_settings(moves)
    assert set(last["said"]) == {*ASPECTS, "faults"}
    assert all(last["said"][a] is None or isinstance(last["said"][a], str) for a in ASPECTS)
    assert isinstance(last["said"]["faults"], list)
    for name in SETTINGS:
        assert moves[name] == pytest.approx(
            found["settings"][name] - last["settings"][name], abs=1e-3
        )


def check_outlook(found: Any) -> None:
    """Chances, windows and misfits: null where not in play."""
    assert set(found["chance_good"]) == {*ASPECTS, "all"}
    assert set(found["window"]) == set(found["misfit"]) == set(ASPECTS)
    for aspect in ASPECTS:
        chance, misfit, window = (
            found["chance_good"][aspect],
            found["misfit"][aspect],
            found["window"][aspect],
        )
        if aspect not in found["in_play"]:
            assert chance is None and misfit is None
            continue
        assert number(chance) and 0 <= chance <= 1
        assert set(misfit) == {"mean", "sd", "interval90"} and misfit["sd"] > 0
        assert misfit["interval90"][0] < misfit["interval90"][1]
        assert window[0] < window[1]
    check_all(found)


def check_all(found: Any) -> None:
    """Chance that the next piece settles all that is open, by word or by number.

    A number settles centre and seat whatever it is, unless it is a slip (2 %) or its sides are
    swapped (1 %); the fit's must lie inside its window, which is as likely as twice its word at the
    most, word and gap being off by about as much.
    """
    together = found["chance_good"]["all"]
    open_ = [a for a in found["in_play"] if a not in found["settled"]] or found[
        "in_play"
    ]  # what is settled stays so
    good = {a: found["chance_good"][a] for a in open_}
    assert number(together) and 0 <= together <= 1
    assert (
        together
        <= min(2 * good[a] if a == "fit" else max(good[a], 0.98 * 0.99) for a in open_) + 1e-3
    )
    if not {"fit", "seat"} <= set(open_):  # those two hang together
        assert together >= math.prod(good.values()) - 1e-3


def test_the_document_of_every_command_of_a_set_up(shop: Shop) -> None:
    shop.stocked()
    keys = set()
    for line, status in (
        ("start", "tuning"),
        ("next", "tuning"),
        ("cut tight, gap far 0.4, proud 0.3, gap flank 0.1", "tuning"),
        ("cut gap", "tuning"),
        ("undo", "tuning"),
        ("cut --pull-gap 0.4", "tuning"),
        ("cut good, centred, flush", "ready"),
        ("next", "ready"),
        ("finish", "finished"),
        ("next", "finished"),
        ("undo", "ready"),
        ("finish --abandon", "abandoned"),
        ("next", "abandoned"),
        ("use 1", "abandoned"),
    ):
        found = shop.json(line)
        check_document(found)
        assert found["status"] == status, line
        keys.add(tuple(found))
    assert len(keys) == 1  # the same keys in the same order, whatever the command


@pytest.mark.parametrize("only", ["fit", "centre", "seat", "fit,centre", "centre,seat", "fit,seat"])
def test_what_is_not_in_play_is_null(shop: Shop, only: str) -> None:
    shop.stocked()
    aspects = only.split(",")
    start = shop.json(f"start --only {only}")
    check_document(start)
    for line in (
        "cut tight, gap far 0.4, proud 0.3",
        "cut good, gap near",
        "next",
        "undo",
        "finish --abandon",
    ):
        found = shop.json(line)
        check_document(found)
        assert found["in_play"] == aspects
        for aspect, setting in zip(ASPECTS, SETTINGS, strict=True):
            if aspect not in aspects:  # keeps its last or start value
                assert found["settings"][setting] == start["settings"][setting]
                assert aspect not in [r["aspect"] for r in found["reasons"]]


def test_an_undone_start_still_has_a_known_status(shop: Shop) -> None:
    """The interface names four states: tuning, ready, finished, abandoned."""
    check_document(shop.started().json("undo --yes"))


def test_the_documented_example(shop: Shop) -> None:
    """Source: the project's own worked example (bit 12.7 at 8 deg, measured, pitch 22.7, board 160
    x 16, one piece).
    """
    shop.words("bit add half --diameter 12.7 --angle 8 --cutting-length 14 --measured")
    shop.run(
        "stock", "add", "board", "--species", "invented", "--thickness", "16", "--width", "160"
    )
    shop.words("start --pitch 22.7")
    found = shop.json(
        "cut slightly tight, gap far 0.4, proud 0.3 --height 9.35 --fence 80.2 --depth 10.31"
    )
    assert found["fixed"] == {
        "pitch": 22.7,
        "board_width": 160.0,
        "rabbet_depth": 6.35,
        "rabbet_bit": "same",
    }
    assert found["last"]["said"] == {
        "fit": "slightly tight",
        "centre": "gap far 0.40",
        "seat": "proud 0.30",
        "faults": [],
    }
    assert found["last"]["settings"] == {
        "bit_height": 9.35,
        "fence_offset": 80.2,
        "socket_depth": 10.31,
    }
    fit, mean, sd, interval, settled = example_by_hand(found["settings"]["bit_height"])
    all_ = (
        settled * 0.98 * 0.99
    )  # the seat read with a rule is then settled whatever it is, but for a slip or a swapped side
    assert found["chance_good"] == pytest.approx(
        {"fit": fit, "centre": 0.92, "seat": 0.84, "all": all_}, abs=0.03
    )
    assert found["chance_good"]["fit"] == pytest.approx(fit, abs=0.005)
    assert found["chance_good"]["all"] == pytest.approx(all_, abs=0.005)
    assert found["settled_by"]["centre"] == {
        "way": "figures",
        "chance": pytest.approx(0.995, abs=0.005),
        "piece": None,
    }
    left = (
        found["pieces_left"] - 1
    )  # what comes after a next piece that does not settle all, hardly ever more than two
    assert 1 - all_ <= left <= 2 * (1 - all_)
    assert found["moves"]["bit_height"] == pytest.approx(-0.18, abs=0.03)
    assert found["settings"]["fence_offset"] == pytest.approx(80.0, abs=1e-9)
    assert found["moves"]["socket_depth"] == pytest.approx(-0.04, abs=0.06)
    assert found["window"] == {"fit": [0.04, 0.10], "centre": [-0.05, 0.05], "seat": [-0.15, 0.15]}
    fit = found["misfit"]["fit"]
    assert (fit["mean"], fit["sd"]) == pytest.approx((mean, sd), abs=0.002)
    assert fit["interval90"] == pytest.approx(interval, abs=0.002)


def example_by_hand(height: float) -> tuple[float, float, float, list[float], float]:
    """Chance that the example's next piece is called good at a height; mean, sd and 90 % interval
    of the first one's clearance; chance that its word or a gap read by a feeler (0.05) settles it,
    both of one piece that varies by 0.03 of height.

    From the model's statement, with scipy's normal law.

    Clearance 2 D - P - 2 h tan(theta), D +- 0.02 (measured), theta +- 0.15 deg, P +- 0.05, h +-
    0.05, wood +- 0.03, day +- 0.025, the scale of all that log-normal by 0.4 (three points), with
    chance 0.02 off by another 0.4. "slightly tight" is 0 to 0.04, with chance 0.01 (and 0.01 for
    all words) meant as "slightly loose", 0.10 to 0.18, with 0.02 any of 7.
    """
    theta, at = math.radians(8), 9.35
    slope = 2 * math.tan(theta)
    lean = 2 * at / math.cos(theta) ** 2 * math.radians(0.15)
    sd = math.sqrt((2 * 0.02) ** 2 + lean**2 + 0.05**2 + (slope * 0.05) ** 2 + 0.03**2 + 0.025**2)
    nominal, noise = 2 * 12.7 - 22.7 - slope * at, math.hypot(0.025, slope * 0.03)
    c = np.linspace(nominal - 4, nominal + 4, 200001)
    times = math.exp(0.4 * math.sqrt(3))
    scales = ((1 / 6, sd / times), (2 / 3, sd), (1 / 6, sd * times))
    prior = sum(chance * norm.pdf(c, nominal, one) for chance, one in scales)
    far = norm.pdf(
        c, nominal, math.hypot(math.sqrt(sum(chance * one**2 for chance, one in scales)), 0.4)
    )
    tight, loose = (
        norm.cdf((high - c) / noise) - norm.cdf((low - c) / noise)
        for low, high in ((0.0, 0.04), (0.10, 0.18))
    )
    meant, turned = (0.98 * ((1 - w) * tight + w * loose) + 0.02 / 7 for w in (0.01, 0.99))
    weight = (0.97 * prior + 0.02 * far) * meant + 0.01 * prior * turned
    there = c + slope * (at - height)
    good = 0.98 * (norm.cdf((0.10 - there) / noise) - norm.cdf((0.04 - there) / noise)) + 0.02 / 7
    weight = weight / weight.sum()
    z = np.linspace(-5, 5, 41)
    piece = there[::20][None, :] + slope * 0.03 * z[:, None]
    said, read = (
        norm.cdf((0.10 - piece) / one) - norm.cdf((0.04 - piece) / one)
        for one in (0.025, slope * 0.05)
    )
    shares = norm.pdf(z) / norm.pdf(z).sum()
    either = (
        0.98 * float(shares @ (1 - (1 - said) * (1 - read)) @ (weight[::20] / weight[::20].sum()))
        + 0.02 / 7
    )
    mean = float(weight @ c)
    ends = [float(c[np.searchsorted(np.cumsum(weight), chance)]) for chance in (0.05, 0.95)]
    return float(weight @ good), mean, math.sqrt(float(weight @ (c - mean) ** 2)), ends, either


def test_the_documented_example_without_a_stated_fence_and_depth(shop: Shop) -> None:
    """What was not said was as advised, and `stated` names the rest."""
    shop.words("bit add half --diameter 12.7 --angle 8 --cutting-length 14 --measured")
    shop.run(
        "stock", "add", "board", "--species", "invented", "--thickness", "16", "--width", "160"
    )
    first = shop.json("start --pitch 22.7")
    found = shop.json("cut slightly tight --height 9.35")
    assert found["last"]["stated"] == ["bit_height"]
    assert found["last"]["settings"] == {**first["settings"], "bit_height": 9.35}
    assert found["last"]["said"] == {
        "fit": "slightly tight",
        "centre": None,
        "seat": None,
        "faults": [],
    }


def test_settings_are_rounded_to_the_machines_steps_or_a_hundredth(shop: Shop) -> None:
    shop.started("--pitch 22.63 --width 151.37")
    for line in (
        "next",
        "cut tight, gap far 0.37, proud 0.43 --height 12.013",
        "cut loose 0.9, gap near 0.33",
    ):
        for value in shop.json(line)["settings"].values():
            assert value == round(value, 2)
    shop.words("finish --abandon")
    shop.run("machine", "add", "bench", "--height-step", "0.04", "--fence-step", "0.05")
    for line in (
        "start --pitch 22.63 --width 151.37",
        "cut tight, gap far 0.37 --height 12.013",
        "cut loose 0.9, gap near 0.33",
    ):
        settings = shop.json(line)["settings"]
        for name, step in (("bit_height", 0.04), ("fence_offset", 0.05), ("socket_depth", 0.01)):
            assert settings[name] / step == pytest.approx(round(settings[name] / step), abs=1e-6), (
                line,
                name,
            )


def test_review_document(shop: Shop) -> None:
    assert shop.json("review", code=1)["error"]["code"] == "no-log"
    shop.stocked(machine={"height-step": "0.01"})
    assert shop.json("review") == {"setups": []}
    shop.words("start")
    shop.words("cut good, centred, flush")
    shop.words("start")
    document = shop.json("review")
    assert set(document) == {"setups"}
    newest, oldest = document["setups"]
    for row in (newest, oldest):
        assert set(row) >= REVIEW_KEYS
        assert row["bit"] == "marsh" and row["machine"] == "bench"
        assert datetime.fromisoformat(row["started"]).utcoffset() is not None
    assert (newest["setup"], newest["status"], newest["finished"]) == (2, "tuning", None)
    assert (newest["settings"], newest["first_moves"], newest["pieces"]) == (None, None, 0)
    assert (oldest["setup"], oldest["status"], oldest["pieces"]) == (1, "finished", 1)
    assert datetime.fromisoformat(oldest["finished"]) >= datetime.fromisoformat(oldest["started"])
    check_settings(oldest["settings"])
    check_settings(oldest["first_moves"])


def test_every_command_prints_one_document(shop: Shop) -> None:
    lines = (
        "bit list",
        "bit add marsh --diameter 13.1 --angle 9 --cutting-length 14",
        "bit list --all",
        "bit show marsh",
        "bit edit marsh --measured",
        "bit sharpen marsh",
        "stock add elm --species elm --thickness 17 --width 150",
        "stock list",
        "stock show elm",
        "stock edit elm --width 155",
        "machine add bench --height-turn 1.6",
        "machine list",
        "machine show bench",
        "machine edit bench --backlash 0.1",
        "prefer --units inch",
        "prefer --units mm",
        "prefer",
        "review",
        "start",
        "next",
        "cut tight --note stiff",
        "cut --same-piece gap near",
        "cut gap",
        "undo",
        "undo --piece 1",
        "cut good, centred, flush",
        "start",
        "cut good, centred, flush",
        "finish",
        "finish",
        "use 1",
        "review --bit marsh --stock elm",
        "show",
        "show 2",
        "bit retire marsh",
        "bit edit marsh --restore",
        "stock retire elm",
        "machine retire bench",
        "bit add reed --diameter 13.1 --angle 9 --cutting-length 14",
        "bit remove reed",
    )
    for line in lines:
        result = shop.run(*line.split(), "--json", code=None)
        if line == "bit list" and not shop.db.exists():
            assert result.code == 1
        else:
            assert result.code == 0, (line, result.out, result.err)
        assert isinstance(json.loads(result.out), dict), line
        assert result.out.count("\n") == 1, line
        assert not result.err.startswith("fitlog: "), line


def test_the_demo_prints_one_document(shop: Shop) -> None:
    result = shop.words("demo --json")
    for answer in result.document["answers"]:
        check_document(answer)


REFUSALS = [
    ("bit show mash", 1, "unknown-name"),
    ("bit add marsh --diameter 13.1 --angle 9 --cutting-length 14", 1, "name-taken"),
    ("bit remove marsh", 1, "in-use"),
    ("bit edit marsh", 2, "nothing-to-change"),
    ("start", 1, "still-tuning"),
    ("start --only everything", 2, "bad-choice"),
    ("start --rabbet-bit round", 2, "bad-choice"),
    ("use 9", 1, "unknown-setup"),
    ("undo --piece 7", 1, "unknown-piece"),
    ("cut", 2, "nothing-said"),
    ("cut tihgt", 2, "unknown-word"),
    ("cut good tight", 1, "contradiction"),
    ("cut very", 2, "dangling-degree"),
    ("cut 0.3", 2, "stray-number"),
    ("cut good --height tall", 2, "bad-length"),
    ("cut good --height 99", 1, "absurd-size"),
    ("cut good --up 1 --down 1", 1, "two-settings"),
    ("cut good --wobble", 2, "unknown-option"),
    ("prefer --units furlongs", 2, "unknown-units"),
    ("start --width 0", 1, "bad-size"),
    ("demo --to .", 1, "log-is-folder"),
    ("nxt", 2, "usage"),
    ("next --wobble", 2, "usage"),
    ("start --pitch", 2, "usage"),
    ("use", 2, "usage"),
    ("use first", 2, "usage"),
    ("bit wobble", 2, "usage"),
    ("bit add", 2, "usage"),
    ("undo --piece x", 2, "usage"),
    ("next 3", 2, "usage"),
    ("stock add elm", 2, "usage"),
    ("--wobble", 2, "usage"),
]


@pytest.mark.parametrize(("line", "exit_code", "code"), REFUSALS)
def test_a_refusal_is_one_document_with_code_message_and_hint(
    shop: Shop, line: str, exit_code: int, code: str
) -> None:
    shop.started()
    before = shop.everything()
    # --json goes first where the command ends in an option that still wants its value
    first, *rest = line.split()
    args = [first, "--json", *rest] if line == "start --pitch" else [first, *rest, "--json"]
    result = shop.run(*args, code=exit_code)
    document = json.loads(result.out)
    assert set(document) == {"error"}
    choices = document["error"].pop("choices", None)  # what was likely meant by a slip
    assert choices == (["tight"] if "tihgt" in line else None)
    assert set(document["error"]) == {"code", "message", "hint"}
    assert all(isinstance(value, str) for value in document["error"].values())
    assert document["error"]["code"] == code
    assert (
        document["error"]["message"]
        and document["error"]["hint"]
        and "\n" not in result.out.rstrip("\n")
    )
    assert result.err == ""
    assert shop.everything() == before


def test_the_same_refusal_without_json_is_a_sentence(shop: Shop) -> None:
    shop.stocked()
    document = shop.json("bit show mash", code=1)["error"]
    told = shop.refused("bit", "show", "mash")
    assert told == f"fitlog: {document['message']}: {document['hint']}\n"


def test_refusals_of_a_process(shop: Shop) -> None:
    for args, code in (
        (("nxt",), 2),
        (("next", "--wobble"), 2),
        (("next",), 1),
        (("bit", "add"), 2),
        (("cut", "tihgt"), 1),
    ):
        document = shop.process(*args, "--json", code=code).document
        assert set(document["error"]) == {"code", "message", "hint"}


def test_talk_stays_off_standard_output(shop: Shop) -> None:
    shop.stocked()
    shop.words("start")
    shop.words("cut good, centred, flush")
    again = shop.words("start --json")
    assert "finished" in again.err and again.document["setup"] == 2
    assert "Taken back" in shop.words("undo --yes --json").err


def test_lengths_are_mm_whatever_the_preference(shop: Shop) -> None:
    shop.started("--pitch 22.6")
    shop.words("cut loose 1.1, gap far 0.4")
    metric = shop.json("next")
    shop.words("prefer --units inch")
    inches = shop.json("next")
    for key in KEYS - {"reasons", "notices", "cautions"}:
        assert inches[key] == metric[key], key
    assert " in" in inches["reasons"][0]["text"]


def test_names_with_letters_beyond_ascii_survive(shop: Shop) -> None:
    shop.run("bit", "add", "Käfer \u7af9", *BIT)
    shop.run("stock", "add", "érable", *STOCK)
    assert shop.json("bit list")["bits"][0]["name"] == "Käfer \u7af9"
    shop.words("start")
    assert shop.json("review")["setups"][0]["stock"] == "érable"
