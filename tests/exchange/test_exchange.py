"""The whole log out to JSON and in again: nothing lost, nothing doubled, all or nothing."""

from __future__ import annotations

import io
import json
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from bigshop import make
from logs import undigested
from shop import BIT, STOCK, Shop, make_shop

from fitlog.errors import NotUnderstood
from fitlog.exchange.document import lines, rows_of


def rows(db: Path) -> list[str]:
    """Every row of a log, whatever the order of its tables, as the database's own shell would write
    it.
    """
    with closing(sqlite3.connect(db)) as plain:
        return sorted(line for line in plain.iterdump() if line.startswith("INSERT"))


@pytest.fixture
def other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Shop]:
    """Another shop, whose commands name their log."""
    folder = tmp_path / "other"
    folder.mkdir()
    yield Shop(folder)


def on(shop: Shop, line: str, code: int = 0) -> Any:
    """Run a line at a shop's own log."""
    return shop.run(*line.split(), "--db", str(shop.db), code=code)


@pytest.fixture(scope="module")
def lives(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The logs of two shops, written once by the commands."""
    made = {}
    for name in ("whole", "next door"):
        folder = tmp_path_factory.mktemp(name.replace(" ", "-"))
        live(Shop(folder), name == "whole")
        made[name] = folder / "log.db"
    return made


def live(shop: Shop, whole: bool) -> None:
    """A bit of everything: a retired bit, sharpenings, undone and ended set-ups, readings,
    preferences; or a start of it.
    """
    shop.run("bit", "add", "marsh", *BIT, "--db", str(shop.db))
    shop.run("bit", "add", "moor", *BIT, "--db", str(shop.db))
    shop.run("stock", "add", "elm", *STOCK, "--db", str(shop.db))
    found = (
        "machine add corner --height-turn 1.6 --fence-step 0.05 --height-zero 0.5",
        "bit retire moor",
        "prefer --units inch",
        "prefer --units mm",
        "start --bit marsh --tails 5",
        "cut tight, gap far 0.5, proud 0.5 --mouth 9.1",
        "undo",
        "cut slightly loose 0.4, gap inside 0.3 --between-rods 3 5 --note after_lunch",
        "cut --same-piece flush",
        "cut good, centred, flush --walls 40 41 --scrap mdf",
        "finish",
        "bit sharpen marsh --diameter 13.05",
        "start --bit marsh --only fit",
        "cut loose",
        "use 1",
        "use 2",
    )
    for line in found if whole else (found[0], *found[2:7]):
        on(shop, line)


@pytest.fixture
def lived(lives: dict[str, Path]) -> Callable[..., None]:
    """Give a shop a copy of one of the logs."""

    def copy(shop: Shop, name: str = "whole") -> None:
        shop.db.write_bytes(lives[name].read_bytes())

    return copy


def test_an_empty_log_becomes_identical(
    shop: Shop, other: Shop, lived: Callable[..., None]
) -> None:
    lived(shop)
    file, second = str(shop.home / "out.json"), str(shop.home / "second.json")
    on(shop, f"log export {file}")
    before = rows(shop.db)
    told = on(other, f"log import {file} --json").document
    assert told["identical"] and told["left_out"] == [] and told["renamed"] == []
    assert rows(other.db) == rows(shop.db) == before
    on(other, f"log export {second}")
    assert Path(file).read_bytes() == Path(second).read_bytes()
    assert Path(file).read_bytes().isascii()


def test_a_large_log_round_trips(tmp_path: Path, shop: Shop) -> None:
    """More rows than a batch holds: 80 set-ups have some 1,800 entries, and as many advices."""
    make(shop.db, 80)
    on(shop, f"log export {tmp_path / 'a.json'}")
    copy = Shop(tmp_path / "copy")
    on(copy, f"log import {tmp_path / 'a.json'}")
    assert rows(copy.db) == rows(shop.db)
    told = on(copy, f"log import {tmp_path / 'a.json'} --json").document
    assert told["added"] == {} and rows(copy.db) == rows(shop.db)


def test_importing_twice_adds_nothing_and_a_grown_log_only_its_new_part(
    shop: Shop, other: Shop, lived: Callable[..., None]
) -> None:
    lived(shop)
    lived(other, "next door")
    file = str(shop.home / "out.json")
    on(shop, f"log export {file}")
    told = on(other, f"log import {file} --json").document
    assert told["added"]["entry"] == shop.entries() and told["current"] == 1
    assert told["renamed"] == [
        {"kind": "bit", "name": "marsh", "here": "marsh (2)"}
    ]  # sharpened there, never here
    once = rows(other.db)
    assert on(other, f"log import {file} --json").document["added"] == {}
    assert rows(other.db) == once
    on(shop, "cut good --setup 2")
    on(shop, "finish --setup 2")
    file = str(shop.home / "grown.json")
    on(shop, f"log export {file}")
    grown = on(other, f"log import {file} --json").document
    assert grown["added"] == {"entry": 2, "advice": 2}
    assert on(other, "review --json").document  # every set-up is still read
    assert on(other, "log health").code == 0
    after = rows(other.db)
    kept = {line for line in once if "sqlite_sequence" not in line}
    assert kept <= set(after) and on(other, f"log import {file} --json").document["added"] == {}
    assert rows(other.db) == after


def test_an_import_keeps_the_current_setup(
    shop: Shop, other: Shop, lived: Callable[..., None]
) -> None:
    lived(shop)
    lived(other, "next door")
    before = on(other, "next --json").document["setup"]
    on(shop, f"log export {shop.home / 'out.json'}")
    on(other, f"log import {shop.home / 'out.json'}")
    assert on(other, "next --json").document["setup"] == before


def test_names_that_clash_are_kept_apart_and_told(
    shop: Shop, other: Shop, lived: Callable[..., None]
) -> None:
    lived(shop)
    other.run(
        "bit",
        "add",
        "MARSH",
        "--diameter",
        "12.7",
        "--angle",
        "8",
        "--cutting-length",
        "14",
        "--db",
        str(other.db),
    )
    other.run(
        "stock",
        "add",
        "elm",
        "--species",
        "oak",
        "--thickness",
        "20",
        "--width",
        "120",
        "--db",
        str(other.db),
    )
    other.run("machine", "add", "corner", "--height-turn", "2", "--db", str(other.db))
    file = shop.home / "out.json"
    on(shop, f"log export {file}")
    told = on(other, f"log import {file} --json").document
    assert {(r["kind"], r["here"]) for r in told["renamed"]} == {
        ("bit", "marsh (2)"),
        ("stock", "elm (2)"),
        ("machine", "corner (2)"),
    }
    assert on(other, "review --json").document
    shown = other.run("bit", "show", "marsh (2)", "--json", "--db", str(other.db)).document
    assert shown["bit"]["diameter"] == 13.05 and shown["bit"]["sharpenings"] == 1
    assert (
        other.run("bit", "show", "marsh", "--json", "--db", str(other.db)).document["bit"][
            "diameter"
        ]
        == 12.7
    )
    names = [
        n
        for (n,) in sqlite3.connect(other.db).execute(
            "SELECT DISTINCT machine FROM entry WHERE machine IS NOT NULL"
        )
    ]
    assert names == ["corner (2)"]
    again = on(other, f"log import {file} --json").document
    assert again["added"] == {} and again["renamed"] == []


def test_copies_that_went_on_apart_keep_both_pieces(
    shop: Shop, other: Shop, lived: Callable[..., None]
) -> None:
    """The same set-up gets a second piece in each copy of the log: another number for the one that
    comes in.
    """
    lived(shop)
    file = shop.home / "out.json"
    on(shop, f"log export {file}")
    on(other, f"log import {file}")
    on(shop, "cut slightly loose --setup 2")
    on(other, "cut slightly tight --setup 2")
    on(other, "finish --setup 2 --as-it-is")
    on(shop, "finish --setup 2 --as-it-is")
    file = shop.home / "later.json"  # an export is never written over
    on(shop, f"log export {file}")
    told = on(other, f"log import {file} --json").document
    assert (
        told["added"]["entry"] == 1
        and len(told["left_out"]) == 1
        and "ended here by itself" in told["left_out"][0]
    )
    pieces = [cut["piece"] for cut in on(other, "show 2 --json").document["cuts"]]
    assert pieces == [1, 2, 3]
    assert on(other, f"log import {file} --json").document["added"] == {}


def test_a_renamed_and_sharpened_bit_is_the_same_bit(
    shop: Shop, other: Shop, lived: Callable[..., None]
) -> None:
    lived(shop)
    file = shop.home / "out.json"
    on(shop, f"log export {file}")
    on(other, f"log import {file}")
    on(other, "bit edit marsh --name fen")
    on(shop, "finish --setup 2 --as-it-is")
    on(shop, "bit sharpen marsh --diameter 13")
    file = shop.home / "later.json"  # an export is never written over
    on(shop, f"log export {file}")
    told = on(other, f"log import {file} --json").document
    assert told["added"] == {"entry": 1, "sharpening": 1, "advice": 1} and told["renamed"] == []
    assert on(other, "bit show fen --json").document["bit"]["diameter"] == 13.0


def test_a_dry_run_writes_nothing_and_makes_no_log(
    shop: Shop, other: Shop, lived: Callable[..., None]
) -> None:
    lived(shop)
    file = shop.home / "out.json"
    on(shop, f"log export {file}")
    told = on(other, f"log import {file} --dry-run")
    assert "Would add" in told.out and "Nothing was stored." in told.out and not other.db.exists()
    lived(other, "next door")
    before = rows(other.db)
    on(other, f"log import {file} --dry-run")
    assert rows(other.db) == before


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"bit_height": 13', '"bit_height": -13'),
        ('"word": "tight"', '"word": "snug"'),
        ('"angle": 9.0', '"angle": NaN'),
        ('"angle": 9.0', '"angle": 1e999'),
        ('"measured": 0', '"measured": 2'),
        ('"kind": "finish"', '"kind": "end"'),
        ('"note": "after_lunch"', '"note": "a\\u001b[2Jb"'),
        ('"note": "after_lunch"', '"note": "a\\u202eb"'),
        ('"note": "after_lunch"', '"note": "\\ud800"'),
        ('"by": ', '"by ": '),
        ('Z", "by"', '", "by"'),
        ('"piece": 1', '"piece": 0'),
        ('"setup": 2', '"setup": 9'),
        ('"retracted": 2', '"retracted": 99'),
        ('"bit_id": 1', '"bit_id": 7'),
        ('"value": "inch"', '"value": "cubit"'),
        ('], "count"', ', {"entry": []}], "count"'),
        ('"count": ', '"count": 1'),
        ('{"entry"', '{"order"'),
        ('"version": 3', '"version": 6'),
        ('"lengths": "mm"', '"lengths": "in"'),
        ('"angles": "degrees"', '"angles": "radians"'),
        ('"moments": "UTC"', '"moments": "CET"'),
        ('"moments": "UTC", ', ""),
        ('"fitlog": "log"', '"fitlog": "list"'),
        ('"rows": [', '"rows": [' + "[" * 100_000),
        ('"pitch": ', '"pitch": 9' + "9" * 5000),
        ('"pitch": ', '"pitches": '),
        ('"tails": ', '"tails": true, "more": '),
        ('"by_eye": false', '"by_eye": 0'),
        ('"rabbet_bit": "same"', '"rabbet_bit": "round"'),
        ('"settings": {', '"settings": {"lever": 1.0, '),
        ('"bit_height": 1', '"bit_height": 1e999, "x": 1'),
        ('"stated": ""', '"stated": "lever"'),
        ('"sizes": {}', '"sizes": {"length": 3.0}'),
        ('"sizes": {}', '"sizes": []'),
        ('"settings": {', '"settings": null, "more": {'),
        ('"diameter": 13.05', '"diameter": 500'),
    ],
)
def test_a_spoilt_export_is_refused_whole(
    shop: Shop, other: Shop, lived: Callable[..., None], old: str, new: str
) -> None:
    lived(shop)
    lived(other, "next door")
    file = shop.home / "out.json"
    on(shop, f"log export {file}")
    text = undigested(file.read_text())
    assert old in text
    file.write_text(text.replace(old, new, 1))
    before = rows(other.db)
    result = other.run("log", "import", str(file), "--db", str(other.db), code=None)
    assert (
        result.code in (1, 2) and result.err.startswith("fitlog: ") and result.err.count("\n") == 1
    ), result
    assert rows(other.db) == before


def test_a_cut_off_export_is_refused_at_any_place(
    shop: Shop, tmp_path: Path, lived: Callable[..., None]
) -> None:
    lived(shop)
    on(shop, f"log export {tmp_path / 'out.json'}")
    text = (tmp_path / "out.json").read_text()
    for end in range(0, len(text) - 1, 97):
        with pytest.raises(NotUnderstood):
            list(rows_of(io.StringIO(text[:end])))
    assert list(rows_of(io.StringIO(text)))


def test_any_white_space_is_read_and_the_standard_library_agrees(
    shop: Shop, tmp_path: Path, lived: Callable[..., None]
) -> None:
    """The document is plain JSON: Python's own reader, RFC 8259, is the oracle."""
    lived(shop)
    on(shop, f"log export {tmp_path / 'out.json'}")
    text = (tmp_path / "out.json").read_text()
    whole = json.loads(text)
    found = list(rows_of(io.StringIO(text)))
    assert [{kind: row} for kind, row in found] == whole["rows"] and whole["count"] == len(found)
    assert list(rows_of(io.StringIO(json.dumps(whole, indent=3)))) == found
    assert "".join(lines(found)) == text


def test_a_file_that_is_there_is_kept_unless_forced(
    shop: Shop, tmp_path: Path, lived: Callable[..., None]
) -> None:
    lived(shop)
    file = tmp_path / "out.json"
    file.write_text("mine")
    assert "--force" in shop.refused("log", "export", str(file))
    assert file.read_text() == "mine"
    on(shop, f"log export {file} --force")
    assert json.loads(file.read_text())["fitlog"] == "log"


def test_standard_output_and_input_serve(
    shop: Shop, tmp_path: Path, lived: Callable[..., None], monkeypatch: pytest.MonkeyPatch
) -> None:
    lived(shop)
    text = shop.process("log", "export").out
    assert json.loads(text)["fitlog"] == "log"
    made = make_shop(tmp_path, monkeypatch)
    assert json.loads(made.process("log", "export", "-").out) == json.loads(text)
