"""`fitlog rehearse`: the numbers are those of the simulated shop, the log stays as it is, and a
picture is whole or not there. The standard error is checked against statsmodels' cluster-robust
least squares.
"""

from __future__ import annotations

import errno
import os
import re
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Mapping
from math import radians, tan
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from building import BIT, STOCK, about, make_plan
from shop import Shop
from statsmodels.api import OLS
from tables import table
from terminal import ESCAPE, on_terminal

from fitlog import defaults
from fitlog.domain import Bit, Plan, Settings, SetUp, Stock
from fitlog.errors import Refused
from fitlog.families import joint_of
from fitlog.families.half_blind import geometry as half_blind
from fitlog.families.half_blind.names import ASPECTS
from fitlog.families.half_blind.shops import heights
from fitlog.render.rehearsal import bars
from fitlog.simulation import (
    METHODS,
    MOST,
    Advised,
    Comparison,
    Conditions,
    Habit,
    Notebook,
    Person,
    Tally,
    Truth,
    compare,
    plan_for,
    run,
    season_plans,
)
from fitlog.simulation.reckoning import opening
from fitlog.simulation.tally import clustered

NAMES = ["fitlog", "habit", "notebook"]
# The rivals' options as `rehearsal.tuned` states them for readings, written out once more.
SENSIBLE = {
    "by_degree": True,
    "uses_gap": True,
    "together": True,
    "uses_numbers": True,
    "marks": True,
}


@pytest.fixture
def stocked(shop: Shop) -> Shop:
    """A shop with one bit, one stock and one machine."""
    return shop.stocked(machine={"height-turn": "1.6", "fence-step": "0.05"})


def tally(seasons: list[list[int]]) -> Tally:
    flat = [n for season in seasons for n in season]
    return Tally(tuple(map(tuple, seasons)), flat.count(1), flat.count(MOST))


def made(tallies: Mapping[str, list[list[int]]]) -> Comparison:
    """A comparison that nobody ran."""
    seasons = next(iter(tallies.values()))
    plan = plan_for(BIT, STOCK, STOCK, None)
    return Comparison(
        plan,
        sum(map(len, seasons)),
        len(seasons[0]),
        1,
        {name: tally(s) for name, s in tallies.items()},
    )


# --- the numbers ----------------------------------------------------------------------------------


def test_the_numbers_are_those_of_a_direct_run(stocked: Shop) -> None:
    """Each shop has a seed of its own; the last season is shorter; a slip as often as assumed."""
    found = stocked.json("rehearse --setups 5 --in-a-row 3 --seed 4")
    shown = (
        stocked.json("bit list")["bits"][0],
        stocked.json("stock list")["stocks"][0],
        stocked.json("machine list"),
    )
    bit = Bit(**{k: shown[0][k] for k in ("name", "diameter", "angle", "cutting_length")})
    told = {k: v for k, v in shown[2]["machines"][0].items() if k != "retired"}
    stock = Stock(**{k: shown[1][k] for k in ("name", "species", "thickness", "width")})
    plan = plan_for(bit, stock, stock, table(**told))
    for name, make in (
        ("fitlog", Advised),
        ("habit", lambda: Habit({"fit": 0.3}, **SENSIBLE)),
        (
            "notebook",
            lambda: Notebook({"fit": 0.25}, **SENSIBLE, memory="mean of bit", start_bias=0.14),
        ),
    ):
        outcomes = []
        for seed, count in ((4_000_000, 3), (4_000_001, 2)):
            person = Person(seed, slip=defaults.SLIP)
            outcomes.append(run(Truth(seed), person, make(), season_plans(plan, seed, count)))
        pieces = [[o.pieces for o in season] for season in outcomes]
        flat = [n for season in pieces for n in season]
        given = found["methods"][name]
        assert given["counts"] == {str(k): n for k, n in sorted(Counter(flat).items())}, name
        assert given["first"]["mean"] == pytest.approx((pieces[0][0] + pieces[1][0]) / 2)
        assert given["later"]["mean"] == pytest.approx(
            (sum(flat) - pieces[0][0] - pieces[1][0]) / 3, abs=1e-4
        )
        assert (given["first"]["n"], given["later"]["n"]) == (2, 3)
        assert given["good_at_once"] == sum(o.first_good for season in outcomes for o in season) / 5
        assert given["over_3"] == sum(n > 3 for n in flat) / 5
        assert given["unsolved"] == given["given_up"] == 0
        assert given["inside"] == sum(o.within for season in outcomes for o in season) / 5


@pytest.mark.parametrize(
    "seasons", [[[2, 1, 1], [4, 3, 2], [3, 3]], [[1], [4], [2], [2]], [[1, 5, 2]]]
)
def test_the_standard_error_allows_for_what_a_season_shares(seasons: list[list[int]]) -> None:
    found = clustered(seasons)
    flat = [float(n) for season in seasons for n in season]
    groups = [i for i, season in enumerate(seasons) for _ in season]
    assert found.n == len(flat) and found.mean == pytest.approx(sum(flat) / len(flat))
    if len(seasons) == 1:
        assert found.se is None  # one shop tells nothing of others
        return
    fitted = OLS(flat, [1.0] * len(flat)).fit(cov_type="cluster", cov_kwds={"groups": groups})
    assert found.se == pytest.approx(fitted.bse[0], rel=1e-9)


def test_a_tally_counts() -> None:
    found = tally([[3, 1, 2], [5, 1, 30], [2]])
    assert (found.first, found.later) == ((3, 5, 2), (1, 2, 1, 30))
    assert found.counts == {1: 2, 2: 2, 3: 1, 5: 1, 30: 1}
    assert (found.good_at_once, found.over()) == (2 / 7, 2 / 7)
    assert found.shares(4) == [2 / 7, 2 / 7, 1 / 7, 2 / 7]
    parts = zip(found.shares(4, "first"), found.shares(4, "later"), strict=True)
    assert [a + b for a, b in parts] == pytest.approx(found.shares(4))
    assert tally([[2], [3]]).mean_later() == clustered([]) and clustered([]).mean is None


def test_every_method_meets_the_same_shops_and_each_set_up_is_told() -> None:
    """A method compared alone does as it did among others."""
    plan, told = plan_for(BIT, STOCK, STOCK, None, ("fit",)), []
    both = compare(plan, 5, 2, 9, done=lambda: told.append(1))
    assert len(told) == 3 * 5 and list(both.tallies) == NAMES
    assert [len(s) for s in both.tallies["habit"].seasons] == [2, 2, 1]
    alone = compare(plan, 5, 2, 9, {"notebook": METHODS["notebook"]})
    assert alone.tallies["notebook"] == both.tallies["notebook"]
    assert compare(plan, 5, 2, 9) == both
    # what the first set-ups are does not depend on how many follow
    longer = compare(plan, 6, 2, 9, {"habit": METHODS["habit"]})
    assert longer.tallies["habit"].seasons[:2] == both.tallies["habit"].seasons[:2]


class Refusing(Habit):
    """A way of working that refuses every first setting."""

    def first(self, plan: Plan) -> Settings:
        raise Refused("pitch-out-of-reach", "no height", "")

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        printed, first = opening(setup.plan, {}), setup.cuts[0].settings
        assert first["bit_height"] == pytest.approx(
            printed["bit_height"], abs=0.006
        )  # rounded to 0.01
        return super().after(setup)


def test_a_method_that_refuses_goes_on_from_the_printed_figures() -> None:
    plan = plan_for(BIT, STOCK, STOCK, None, ("fit",))
    found = compare(
        plan,
        2,
        2,
        1,
        {"habit": METHODS["habit"], "refusing": lambda: Refusing({"fit": 0.3}, **SENSIBLE)},
    )
    assert found.tallies["refusing"] == found.tallies["habit"]


def test_what_is_never_solved_counts_as_given_up() -> None:
    """A lift whose step is worth 2 mm of clearance finds no window of 0.06 mm but by chance."""
    coarse = table("coarse", height_step=4.0)
    found = compare(
        plan_for(BIT, STOCK, STOCK, coarse, ("fit",)), 4, 2, 1, {"habit": METHODS["habit"]}
    )
    (result,) = found.tallies.values()
    assert result.unsolved == result.counts[MOST] > 0


@pytest.mark.parametrize(
    ("bit", "thick"),
    [
        (BIT, 17.0),
        (BIT, 12.0),
        (Bit("small", 9.4, 8.0, 13.0), 16.0),
        (Bit("wide", 12.4, 14.0, 15.0), 20.0),
    ],
)
def test_a_seasons_heights_lie_well_inside_the_limits(bit: Bit, thick: float) -> None:
    """The height really needed: two and a half of its standard uncertainties (JCGM 100, 5.1.2) from
    any limit.
    """
    stock = Stock("board", "ash", thick, 150.0)
    plan = plan_for(bit, stock, stock, None)
    low, high = heights(plan, 1.0, {})
    joint = joint_of(plan)
    terms = joint.terms("fit", about((low + high) / 2))
    per_mm = 2 * tan(radians(bit.angle))
    room = 2.5 * sum((t.factor * t.sd) ** 2 for t in terms) ** 0.5 / per_mm
    limit = joint.limit("bit_height", about(8.0))
    assert (
        low < high <= limit.high - 0.98 * room and low >= limit.low + 0.98 * room
    )  # the sd changes a little with height
    plans = season_plans(plan, 3, 40)
    assert (
        len({p.pitch for p in plans}) > 3
        and plans == season_plans(plan, 3, 40)
        and plans[:4] == season_plans(plan, 3, 4)
    )
    assert season_plans(plan, 3, 4, Conditions(repeats=True)) == [plans[0]] * 4
    mean = sum(t.factor * t.mean for t in terms)
    for made_plan in plans:
        assert made_plan.pitch == round(made_plan.pitch, 1)
        needed = half_blind.height_for(0.07 - mean, bit.diameter, made_plan.pitch, bit.theta)
        assert (
            low - 0.05 / per_mm - 0.02 <= needed <= high + 0.05 / per_mm + 0.02
        )  # pitch to 0.1; the height's own tolerance


def test_the_plan_is_the_one_that_start_takes(stocked: Shop) -> None:
    shown = stocked.json("start")["fixed"]
    bit, stock = Bit("marsh", 13.1, 9.0, 14.0), Stock("elm", "elm (invented)", 17.0, 150.0)
    plan = plan_for(bit, stock, stock, None)
    assert (plan.pitch, plan.rabbet_depth, plan.board_width) == (
        shown["pitch"],
        shown["rabbet_depth"],
        shown["board_width"],
    )


USUAL = {
    "sds": 1.0,
    "slips": 0.02,
    "swaps": 0.0,
    "readings": 0.0,
    "fence_zero_off": 0.0,
    "height_zero_off": 0.0,
    "edges_off": 0.0,
    "repeats": False,
}


# --- the command ----------------------------------------------------------------------------------


def test_the_json(stocked: Shop) -> None:
    stocked.run(
        "stock", "add", "yew", "--species", "yew (invented)", "--thickness", "15", "--width", "120"
    )
    line = (
        "rehearse --stock elm --pin-stock yew --setups 4 --in-a-row 2 --only seat,fit --words-only"
    )
    found = stocked.json(line)
    methods = found.pop("methods")
    assert "simulation" in found.pop("note")
    assert found == {
        "setups": 4,
        "in_a_row": 2,
        "seed": 1,
        "bit": "marsh",
        "stock": "elm",
        "pin_stock": "yew",
        "machine": "bench",
        "in_play": ["fit", "seat"],
        "words_only": True,
        "conditions": USUAL,
    }
    assert list(methods) == NAMES
    for method in methods.values():
        assert set(method) == {
            "first",
            "later",
            "good_at_once",
            "over_3",
            "unsolved",
            "counts",
            "inside",
            "given_up",
        }
        assert all(set(method[part]) == {"mean", "se", "n"} for part in ("first", "later"))
        assert sum(method["counts"].values()) == 4
    alone = stocked.json("rehearse --stock elm --setups 1 --only fit")["methods"]["fitlog"]
    assert alone["later"] == {"mean": None, "se": None, "n": 0} and alone["first"]["se"] is None


CONDITIONS = (
    ("--slips 30%", "slips", 0.3, "slips 30 %"),
    ("--swaps 40", "swaps", 0.4, "swapped sides 40 %"),
    ("--sds 2.5", "sds", 2.5, "2.5 times the assumed"),
    ("--readings 0.2mm", "readings", 0.2, "readings to 0.2 mm"),
    ("--readings none", "readings", None, "nothing is read"),
    (
        *("--readings none --fence-zero-off -1.5mm", "fence_zero_off", -1.5),
        "fence zero -1.5 mm off",
    ),
    ("--height-zero-off 0.4mm", "height_zero_off", 0.4, "height zero 0.4 mm off"),
    ("--edges-off 0.05mm", "edges_off", 0.05, "words 0.05 mm off"),
    ("--repeats", "repeats", True, "the same joint on another day, the fence taken off"),
)


@pytest.mark.parametrize(
    "conditions",
    [CONDITIONS[3:6], pytest.param(CONDITIONS[:3] + CONDITIONS[6:], marks=pytest.mark.long)],
)
def test_the_conditions_reach_the_shop(
    stocked: Shop, conditions: tuple[tuple[str, str, object, str], ...]
) -> None:
    """Every option changes what comes, and is told in the text where the shop is not the usual one.

    Where the fence's zero lies costs pieces only where the walls beside the slot are not read: else
    they tell it at once.
    """
    line = "rehearse --setups 8 --in-a-row 4 --only fit,centre,seat"
    short = "rehearse --setups 1 --only fit"
    usual, in_words = stocked.json(line), stocked.json(f"{line} --readings none")
    for option, key, value, said in conditions:
        found, words = stocked.json(f"{line} {option}"), "--readings none" in option
        assert found["conditions"] == {**USUAL, **({"readings": None} if words else {}), key: value}
        if option != "--readings none":
            assert found["methods"] != in_words["methods"], option
        if option == "--readings none" or not words:
            assert found["methods"] != usual["methods"], option
        assert found["words_only"] is words
        assert said in re.sub(r"\s+", " ", stocked.words(f"{short} {option}").out)
    assert "The shop:" not in stocked.words(short).out


def test_the_share_inside_is_shown(stocked: Shop) -> None:
    line = "rehearse --setups 8 --in-a-row 2 --only fit"
    found, text = stocked.json(line)["methods"], stocked.words(line).out
    for name in NAMES:
        (row,) = [r for r in text.splitlines() if r.startswith(f"{name}  ")]
        assert row.split()[-1] == f"{found[name]['inside']:.0%}"
    assert len({found[name]["inside"] for name in NAMES}) > 1


def test_the_seed_decides_and_the_log_stays(stocked: Shop) -> None:
    stocked.words("start")
    stocked.words("cut tight, gap far 0.4")
    before = stocked.everything()
    texts = [
        stocked.words(f"rehearse --setups 6 --in-a-row 3 --only fit --seed {n}").out
        for n in (1, 1, 2)
    ]
    assert texts[0] == texts[1] != texts[2]
    assert stocked.everything() == before


def test_without_a_log_or_a_catalogue_it_is_refused_like_start(shop: Shop) -> None:
    assert shop.refused("rehearse") == shop.refused("start")
    assert list(shop.home.iterdir()) == []
    shop.run("prefer", "--units", "mm")
    assert "fitlog bit add" in shop.refused("rehearse")
    shop.run("bit", "add", "marsh", "--diameter", "13.1", "--angle", "9", "--cutting-length", "14")
    assert "fitlog stock add" in shop.refused("rehearse")


@pytest.mark.parametrize(
    ("line", "code", "parts"),
    [
        ("--setups 0", 1, ("--setups", "0", "1 to 100000")),
        ("--setups 100001", 1, ("100001", "1 to 100000")),
        ("--setups -3", 1, ("-3",)),
        ("--in-a-row 0", 1, ("--in-a-row", "1 to 60")),
        ("--in-a-row 61", 1, ("61", "1 to 60")),
        ("--only sea", 2, ("'sea'", "did you mean seat?")),
        ("--only ,", 2, ("fit,centre,seat",)),
        ("--setups ten", 2, ("--setups",)),
        ("--seed x", 2, ("--seed",)),
        ("--bit mars", 1, ("did you mean marsh?",)),
        ("--slips 51", 1, ("--slips", "51 %", "0 to 50 %")),
        ("--swaps -1", 1, ("--swaps", "-1 %")),
        ("--slips much", 2, ("--slips", '"much"')),
        ("--sds 6", 1, ("--sds", "6", "0 to 5")),
        ("--sds nan", 1, ("--sds", "nan")),
        ("--readings 2mm", 1, ("--readings", "2mm")),
        ("--readings no", 2, ("--readings", "or none", '"no"')),
        ("--edges-off 1mm", 1, ("--edges-off", "1mm")),
        ("--edges-off -0.1mm", 1, ("--edges-off", "-0.1mm")),
        ("--fence-zero-off 9mm", 1, ("--fence-zero-off", "9mm")),
        ("--height-zero-off x", 2, ("--height-zero-off", '"x"')),
        ("--machine benk", 1, ("did you mean bench?",)),
        ("--pin-stock el", 1, ("did you mean elm?",)),
    ],
)
def test_nonsense_is_one_sentence(
    stocked: Shop, line: str, code: int, parts: tuple[str, ...]
) -> None:
    told = stocked.refused("rehearse", *line.split(), code=code)
    assert all(part in told for part in parts), told


def test_boards_that_allow_no_joint_are_refused_as_start_refuses_them(stocked: Shop) -> None:
    stocked.run("stock", "add", "thin", "--species", "ash", "--thickness", "8", "--width", "120")
    assert stocked.refused("rehearse", "--stock", "thin") == stocked.refused(
        "start", "--stock", "thin"
    )


def test_the_text(stocked: Shop) -> None:
    """In a pipe: plain, silent while it works, the same numbers as the JSON, and said to be a
    simulation at the end.
    """
    line = "rehearse --setups 6 --in-a-row 3 --only fit"
    done = stocked.process(*line.split())
    assert done.err == "" and done.out.isascii() and "\x1b" not in done.out and "\r" not in done.out
    found = stocked.json(line)["methods"]
    for name in NAMES:
        (row,) = [text for text in done.out.splitlines() if text.startswith(f"{name}  ")]
        first, later = found[name]["first"], found[name]["later"]
        assert (
            f"{first['mean']:.2f} +- {first['se']:.2f}  {later['mean']:.2f} +- {later['se']:.2f}"
            in row
        )
        assert f"{found[name]['good_at_once']:.0%}" in row
    assert (
        "marsh, elm, bench" in done.out
        and "6 set-ups in 2 invented shops, 3 in a row in each (seed 1)" in done.out
    )
    assert "until fit is believed settled" in done.out and "steps of 0.3 mm" in done.out
    assert (
        done.out.splitlines()[-1].startswith("A simulation")
        and "not a promise" in done.out.splitlines()[-1]
    )
    inches = stocked.words("prefer --units inch") and stocked.words(
        "rehearse --setups 2 --only centre"
    )
    assert "steps of 0.012 in" in inches.out and "up to 2 in a row" in inches.out


@pytest.mark.parametrize(
    ("columns", "coding", "block"), [(40, "utf-8", "\u2588"), (100, "ascii", "#")]
)
def test_on_a_terminal(stocked: Shop, columns: int, coding: str, block: str) -> None:
    """The progress and the text keep to its width; blocks where they can be written, # where they
    cannot.
    """
    line = ["rehearse", "--setups", "2", "--only", "fit"]
    code, shown = on_terminal(
        stocked, *line, columns=columns, PYTHONIOENCODING=coding, NO_COLOR="1"
    )
    assert code == 0
    rows = [part for text in ESCAPE.sub("", shown).splitlines() for part in text.split("\r")]
    assert all(len(row) <= columns for row in rows), rows
    assert any("rehearsing" in row for row in rows)
    after = ESCAPE.sub("", shown[shown.rindex("\x1b[2K") :])  # what stays: the bar is wiped away
    assert "rehearsing" not in after and "Rehearsal with" in after
    assert block in after and (coding == "utf-8" or after.isascii())


@pytest.mark.parametrize("width", [40, 41, 59, 60, 80, 120])
@pytest.mark.parametrize("blocks", [True, False])
def test_bars(width: int, blocks: bool) -> None:
    """One row for 1, 2, ... 9 and 10 or more pieces; the longest bar fills its column, the others
    in proportion.
    """
    found = made(
        {"fitlog": [[1, 2], [2, 2]], "habit": [[4, 7], [12, 30]], "notebook": [[3, 1], [2, 9]]}
    )
    head, *rows = bars(found, width, blocks=blocks)
    assert head.split()[-3:] == NAMES
    assert [row.split()[0] for row in rows] == [*map(str, range(1, 10)), "10+"]
    assert all(len(row) < width for row in (head, *rows))
    places = [head.index(name) for name in NAMES]
    bar = {"#": 1.0} if not blocks else {chr(0x2588 + i): 1 - i / 8 for i in range(8)}

    def cell(row: int, column: int) -> tuple[str, float]:
        end = places[column + 1] if column < 2 else width
        text = rows[row].ljust(width)[places[column] : end].split()
        return text[0], sum(bar[c] for c in "".join(text[1:]))

    full = cell(1, 0)[1]
    assert full == max(cell(row, column)[1] for row in range(10) for column in range(3)) >= 4
    assert [cell(row, 0)[0] for row in range(3)] == ["25%", "75%", "-"]
    assert (cell(9, 1)[0], cell(3, 1)[0], cell(2, 1)[0]) == ("50%", "25%", "-")
    for row, column, share in ((0, 0, 25), (9, 1, 50), (3, 1, 25), (8, 2, 25)):
        assert cell(row, column)[1] == pytest.approx(
            full * share / 75, abs=0.0625 if blocks else 0.5
        )
    assert cell(2, 0)[1] == 0.0


def test_a_share_that_is_hardly_there_is_still_seen() -> None:
    few = {name: [[2]] * 300 + [[6]] for name in NAMES}
    _, *rows = bars(made(few), 80, blocks=False)
    assert rows[5].split()[1:3] == ["<1%", "#"] and rows[1].split()[1] == ">99%"
    assert bars(made(few), 80, blocks=True)[6].split()[2] == "\u258f"


def test_control_c(stocked: Shop) -> None:
    target = stocked.home / "pieces.png"
    before = stocked.everything()
    running = subprocess.Popen(
        stocked.command("rehearse", "--setups", "100000", "--picture", str(target)),
        env=stocked.environment(),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    time.sleep(2.5)
    running.send_signal(signal.SIGINT)
    out, err = running.communicate(timeout=60)
    assert running.returncode == 130 and "Traceback" not in err and out == ""
    assert (
        not [path for path in stocked.home.iterdir() if path.suffix == ".png"]
        and stocked.everything() == before
    )


# --- the picture ----------------------------------------------------------------------------------

LINE = ("rehearse", "--setups", "2", "--only", "fit", "--picture")


def test_pictures_are_made_and_stay_the_same(stocked: Shop) -> None:
    stocked.words("bit edit marsh --name m$x^2$<&>")  # no formula, no tag
    starts = {
        ".svg": b"<?xml",
        ".PNG": b"\x89PNG\r\n\x1a\n",
        ".pdf": b"%PDF-",
    }  # their own specifications' first bytes
    for ending, start in starts.items():
        target = stocked.home / f"pieces{ending}"
        target.write_bytes(b"older")
        assert "--force" in stocked.refused(*LINE, str(target)) and target.read_bytes() == b"older"
        done = stocked.run(*LINE, str(target), "--force")
        assert done.err == f"The picture is in {target}.\n" and "Rehearsal" in done.out
        drawn = target.read_bytes()
        assert drawn.startswith(start) and len(drawn) > 2000
        if ending != ".PNG":  # the two that could carry a date or a random name
            stocked.run(*LINE, str(target), "--force", "--json")
            assert target.read_bytes() == drawn
    root = ElementTree.parse(stocked.home / "pieces.svg").getroot()
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    titles = [e.text for e in root.iter() if e.tag.endswith("title")]
    assert any("Simulated" in t and "m$x^2$<&>" in t and "elm" in t for t in titles if t)
    kept = {"pieces.svg", "pieces.PNG", "pieces.pdf", "log.db"}
    assert {p.name for p in stocked.home.iterdir() if p.is_file()} - {
        "log.db-wal",
        "log.db-shm",
    } == kept


def test_a_picture_says_what_it_is() -> None:
    from fitlog.render import pictures

    figure = pictures._figure(made({"fitlog": [[1, 2], [2, 2]], "habit": [[4, 7], [12, 30]]}))
    title = re.sub(r"\s+", " ", figure.get_suptitle())
    assert "simulation with invented seeds" in title and BIT.name in title and STOCK.name in title
    first, second = figure.axes
    assert (
        first.get_title("left") == "fitlog: first 1.50 \u00b1 0.50, later 2.00 \u00b1 0.00 pieces"
    )
    below = figure.legends[0]
    assert second.get_xlabel() and figure.get_supylabel()
    assert "not a promise" in below.get_title().get_text()
    assert [text.get_text() for text in below.get_texts()] == [
        "later ones: on other days",
        "first set-up with a bit",
    ]
    assert [t.get_text() for t in second.get_xticklabels()] == [*map(str, range(1, 10)), "10+"]
    heights_of: dict[int, float] = {}
    for patch in first.patches:
        place = round(patch.get_x() + patch.get_width() / 2)
        heights_of[place] = heights_of.get(place, 0) + patch.get_height()
    assert heights_of == {1: 25.0, 2: 75.0}


def test_no_bar_lies_under_the_legend() -> None:
    """Bars that reach into every corner: all boxes as the drawing library measures them."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    from fitlog.render import pictures
    from fitlog.render.canvas import quiet

    with quiet():
        figure = pictures._figure(made({"fitlog": [[12, 12]] * 9, "habit": [[1, 12]] * 9}))
        renderer = FigureCanvasAgg(figure).get_renderer()
        figure.draw(renderer)
        legend = figure.legends[0].get_window_extent(renderer)
        bars = [bar.get_window_extent(renderer) for axes in figure.axes for bar in axes.patches]
        texts = [axes.get_tightbbox(renderer) for axes in figure.axes]
    assert len(bars) >= 4 and legend.width > 100
    assert not [box for box in (*bars, *texts) if box.overlaps(legend)]
    assert figure.bbox.contains(*legend.min) and figure.bbox.contains(*legend.max)


@pytest.mark.parametrize(
    "name", ["pieces.jpg", "pieces", "nowhere/pieces.png", "folder.png", "log.db/pieces.svg"]
)
def test_a_picture_that_cannot_be_is_refused_before_any_work(
    stocked: Shop, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*args: Any, **kwargs: Any) -> None:
        raise AssertionError("it worked first")

    monkeypatch.setattr("fitlog.simulation.compare", never)
    (stocked.home / "folder.png").mkdir()
    files = sorted(stocked.home.iterdir())
    told = stocked.refused(*LINE, str(stocked.home / name))
    assert name in told and sorted(stocked.home.iterdir()) == files


def test_a_disk_that_fills_up_leaves_the_old_picture(
    stocked: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    def half(self: Any, path: Path, **kwargs: Any) -> None:
        path.write_bytes(b"half")
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("matplotlib.figure.Figure.savefig", half)
    target = stocked.home / "pieces.png"
    target.write_bytes(b"older")
    files = sorted(stocked.home.iterdir())
    told = stocked.refused(*LINE, str(target), "--force")
    assert (
        "No space left" in told
        and target.read_bytes() == b"older"
        and sorted(stocked.home.iterdir()) == files
    )


def test_without_matplotlib_there_is_a_remedy(
    stocked: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(
        sys.modules, "matplotlib", None
    )  # the import system's own way of saying: not there
    monkeypatch.setitem(sys.modules, "matplotlib.figure", None)
    told = stocked.refused(*LINE, str(stocked.home / "pieces.png"))
    assert "not installed" in told and "pip install '.[pictures]'" in told
    stocked.run(*LINE[:-1])  # without a picture it is not needed


def test_a_setting_that_matplotlib_cannot_live_with_is_one_sentence(stocked: Shop) -> None:
    told = stocked.process(
        *LINE, str(stocked.home / "pieces.png"), code=1, MPLBACKEND="nonsense"
    ).err
    assert told.startswith("fitlog: a picture needs matplotlib") and told.count("\n") == 1


def test_a_rehearsal_without_a_picture_loads_no_matplotlib(stocked: Shop) -> None:
    code = (
        "import sys; sys.argv[1:] = ['rehearse', '--setups', '1', '--only', 'fit']\n"
        "from fitlog.fronts.cli import main\n"
        "try: main()\n"
        "except SystemExit as left: print(left.code, 'matplotlib' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=stocked.environment(),
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.stdout.splitlines()[-1] == "0 False", done.stderr


def test_aspects_left_out_are_not_simulated() -> None:
    """The fence cannot hold up a set-up that only asks for the fit."""
    plans, mute = (
        (make_plan(in_play=("fit",)), make_plan(in_play=ASPECTS)),
        Conditions(readings=None),
    )
    alone, whole = (
        compare(p, 6, 3, 2, {"habit": METHODS["habit"]}, conditions=mute) for p in plans
    )
    assert sum(alone.tallies["habit"].first) < sum(whole.tallies["habit"].first)
