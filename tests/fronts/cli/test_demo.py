"""The demo: invented, in a file of its own, and there in a checkout as well as in an installed
wheel.
"""

from __future__ import annotations

import importlib.util
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from shop import BIT, ROOT, Shop, sentence

from fitlog.log import open_log
from fitlog.shipped import shipped

DEMO = tomllib.loads((ROOT / "data" / "demo.toml").read_text(encoding="utf-8"))


def demo_file(shop: Shop) -> Path:
    """Where the demo's log went by itself."""
    (found,) = (shop.home / "home").rglob("demo.db")
    return found


def test_the_demo_ends_with_an_open_repeat_after_its_first_piece(shop: Shop) -> None:
    text = shop.words("demo").out
    with open_log(demo_file(shop), create=False) as log:
        newest, first = log.setups()
        assert (first.outcome, len(first.pieces())) == ("finished", len(DEMO["setups"][0]["cuts"]))
        assert (newest.outcome, len(newest.pieces())) == (None, 1)
        assert {s.plan.bit.name for s in log.setups()} == {DEMO["bit"]["name"]}
        assert {c.by for s in log.setups() for c in s.cuts} == {DEMO["by"]}
    assert "invented" in text and text.count("Set-up ") >= 6
    assert "set no machine by them" in text
    ending = text.replace("'", "").splitlines()[-1]
    assert ending.endswith(f"fitlog --db {demo_file(shop)} cut good, centred, flush")


def test_the_demo_teaches_that_the_second_set_up_starts_better(shop: Shop) -> None:
    answers = shop.json("demo")["answers"]
    openings = [a for a in answers if a["pieces"] == 0]
    assert len(openings) == 2
    assert openings[1]["chance_good"]["fit"] > openings[0]["chance_good"]["fit"]
    assert answers[-1]["status"] == "tuning" and answers[-1]["pieces"] == 1


def test_what_the_demo_suggests_works(shop: Shop) -> None:
    lines = [
        line.strip()
        for line in shop.words("demo").out.splitlines()
        if line.strip().startswith("fitlog --db")
    ]
    assert len(lines) == 1  # one command to go on with
    for line in lines:
        shop.run(*(word.strip("'") for word in line.removeprefix("fitlog ").split()))
    last = shop.json(f"next --db {demo_file(shop)}")
    assert last["setup"] == 2 and last["pieces"] == 2


def test_the_demo_leaves_the_users_logs_alone(shop: Shop) -> None:
    shop.started()
    shop.run("bit", "add", "mine", *BIT, env={"FITLOG_DB": ""})
    (default,) = (shop.home / "home").rglob("log.db")
    before = shop.everything(), default.read_bytes()
    shop.words("demo")
    assert (shop.everything(), default.read_bytes()) == before
    assert demo_file(shop) not in (shop.db, default)


def test_the_demo_needs_no_log_and_makes_none_but_its_own(shop: Shop) -> None:
    shop.words("demo")
    assert not shop.db.exists()
    assert not list(shop.home.rglob("log.db"))


def test_a_second_run_replaces_its_own_demo(shop: Shop) -> None:
    first = shop.json("demo")
    shop.run("--db", str(demo_file(shop)), "cut", "good, centred, flush")
    second = shop.json("demo")
    assert second == first
    with open_log(demo_file(shop), create=False) as log:
        assert len(log.setups()) == 2


def test_a_demo_played_with_for_an_evening_is_still_a_demo(shop: Shop) -> None:
    shop.words("demo")
    db = str(demo_file(shop))
    shop.run("--db", db, "cut", "good, centred, flush")
    shop.run("--db", db, "finish")
    shop.run("--db", db, "start")
    shop.run("--db", db, "cut", "tight")
    shop.words("demo")


def test_the_demo_refuses_a_log_of_somebodys_own(shop: Shop) -> None:
    shop.started().words("cut good")
    before = shop.db.read_bytes()
    told = shop.refused("demo", "--to", str(shop.db))
    assert str(shop.db) in told
    assert shop.db.read_bytes() == before


def test_the_demo_refuses_a_catalogue_without_set_ups(shop: Shop) -> None:
    """Bits and stocks that somebody typed in are somebody's own, set-up or not."""
    shop.stocked()
    shop.refused("demo", "--to", str(shop.db))
    assert shop.json("bit list")["bits"]


def test_the_demo_refuses_a_log_whose_owner_once_went_by_the_same_name(shop: Shop) -> None:
    """Nothing but the demo's own bit and stock is the demo's."""
    shop.run("prefer", "--name", DEMO["by"])
    shop.started().words("cut good")
    shop.refused("demo", "--to", str(shop.db))
    assert shop.json("next")["pieces"] == 1


def test_the_demo_refuses_a_log_whose_first_set_ups_were_taken_back(shop: Shop) -> None:
    shop.stocked()
    for _ in range(2):
        shop.words("start")
        shop.words("undo --yes")
    shop.words("start")
    shop.words("cut good")
    shop.refused("demo", "--to", str(shop.db))
    assert shop.json("next")["pieces"] == 1


def test_the_demo_refuses_what_is_no_log(shop: Shop) -> None:
    text = shop.home / "notes.txt"
    text.write_text("mine")
    for path in (text, shop.home):
        result = shop.run("demo", "--to", str(path), code=1)
        sentence(result.err)
    assert text.read_text() == "mine"


def test_the_demo_goes_where_it_is_told(shop: Shop) -> None:
    target = shop.home / "a folder" / "shown.db"
    shop.run("demo", "--to", str(target))
    assert shop.run("review", "--db", str(target), "--json").document["setups"][0]["setup"] == 2
    assert not list((shop.home).rglob("demo.db"))


def test_shipped_data_in_the_checkout() -> None:
    assert shipped("demo.toml").read_text(encoding="utf-8") == (
        ROOT / "data" / "demo.toml"
    ).read_text(encoding="utf-8")
    with pytest.raises(FileNotFoundError):
        shipped("nothing.toml")


@pytest.mark.skipif(
    importlib.util.find_spec("hatchling") is None, reason="hatchling builds the wheel"
)
def test_shipped_data_in_an_installed_wheel(shop: Shop) -> None:
    """Build the wheel, unpack it where nothing of the checkout is to be found, and run the demo
    from there.
    """
    wheels, place = shop.home / "wheels", shop.home / "site"
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(wheels)],
        cwd=ROOT,
        check=True,
        capture_output=True,
        timeout=120,
    )
    (wheel,) = wheels.glob("fitlog-*.whl")
    subprocess.run(
        [sys.executable, "-m", "zipfile", "-e", str(wheel), str(place)], check=True, timeout=60
    )
    assert (place / "fitlog" / "data" / "demo.toml").is_file()
    page = "fronts/page"  # with its templates, style and script
    assert {p.name for p in (place / "fitlog" / page).rglob("*.*") if p.suffix != ".py"} == {
        p.name for p in (ROOT / "fitlog" / page).rglob("*.*") if p.suffix not in (".py", ".pyc")
    }
    assert not (place / "data").exists() and not (place / "tests").exists()
    done = subprocess.run(
        [sys.executable, "-m", "fitlog", "demo", "--json"],
        env=shop.environment(PYTHONPATH=str(place)),
        cwd=shop.home,
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    where = subprocess.run(
        [sys.executable, "-c", "import fitlog; print(fitlog.__file__)"],
        env=shop.environment(PYTHONPATH=str(place)),
        cwd=shop.home,
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    ).stdout
    assert Path(where.strip()).is_relative_to(place)
