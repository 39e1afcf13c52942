"""What others put into a log never reaches a terminal raw, and what is written is its owner's
alone.
"""

from __future__ import annotations

import json
import os
import re
import sqlite3
import stat
from contextlib import closing
from pathlib import Path

import pytest
from shop import Shop
from terminal import on_terminal
from unguarded import digested_anew

# Escapes of ECMA-48 in seven bits and in eight, a bell, DEL, and characters of Unicode 15 that turn
# text round or hide it.
HOSTILE = "a\x1b]0;owned\x07b\x1b[2Jc\x9b31md\x7fe\u202ef\u200bg\u2066h\ufeffi\u2028j"
# What the tool and the libraries that draw its tables may send: bold, colours, the cursor shown.
OWN = re.compile(r"\x1b\[[0-9;]*m|\x1b\[\?25[hl]")
COMMANDS = (
    "next",
    "show 1",
    "review",
    "words",
    "undo",
    "log where",
    "progress",
    "fault",
    "log health",
    "stops",
    "show 1 --json",
    "words --json",
    "log export --csv",
)
NAMED = ("bit list --all", "stock list", "machine list", "review", "start", "bit list --json")
TEXTS = (
    ("entry", "by"),
    ("entry", "machine"),
    ("trial_cut", "note"),
    ("trial_cut", "heard"),
    ("trial_cut", "scrap"),
)
NAMES = (
    ("bit", "name"),
    ("stock", "name"),
    ("machine", "name"),
    ("stock", "species"),
    ("setup", "joint"),
)


@pytest.fixture(scope="module")
def logged(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log with a set-up, two pieces and their notes."""
    made = Shop(tmp_path_factory.mktemp("plain"))
    for line in (
        "bit add marsh --diameter 13.1 --angle 9 --cutting-length 14",
        "stock add elm --species elm --thickness 17 --width 150",
        "machine add bench --height-turn 1.6",
        "start --only fit --tails 5",
        "cut slightly tight --note MARK --scrap MARK",
        "cut good --note MARK",
    ):
        made.run(*line.split(), "--db", str(made.db))
    return made.db


def spoilt(shop: Shop, logged: Path, columns: tuple[tuple[str, str], ...]) -> Shop:
    """Put the hostile text into columns of a log past the front door, as only the file's
    owner can.
    """
    shop.db.write_bytes(logged.read_bytes())
    with closing(sqlite3.connect(shop.db)) as plain:
        for (name,) in plain.execute(
            "SELECT name FROM sqlite_master WHERE type = 'trigger'"
        ).fetchall():
            plain.execute(f"DROP TRIGGER {name}")
        for table, column in columns:
            plain.execute(f"UPDATE {table} SET {column} = ?", (HOSTILE,))
        plain.commit()
    digested_anew(shop.db)
    return shop


@pytest.fixture
def hostile(shop: Shop, logged: Path) -> Shop:
    """A log whose people, notes and words were put in past the front door."""
    return spoilt(shop, logged, TEXTS)


def raw(text: str) -> list[str]:
    """What of a terminal's bytes is neither text, nor an end of line, nor of the tool's own."""
    return [
        c for c in re.sub(r"\r+\n", "\n", OWN.sub("", text)) if c != "\n" and not c.isprintable()
    ]


@pytest.mark.parametrize("line", [*COMMANDS, *(f"named: {line}" for line in NAMED)])
def test_no_command_sends_a_hostile_text_raw_to_a_terminal(
    shop: Shop, logged: Path, line: str
) -> None:
    """Names that no front door lets in are refused as they are read; people and notes are shown
    with escapes.
    """
    spoilt(shop, logged, NAMES if line.startswith("named: ") else TEXTS)
    args, columns = line.removeprefix("named: ").split(), 44 if len(line) % 2 else 130
    _, said = on_terminal(shop, *args, columns=columns, TERM="xterm", COLUMNS=str(columns))
    assert raw(said) == [], (line, said)
    assert "Traceback" not in said and len(said) > 10


def test_the_escape_is_shown_so_that_it_can_be_seen(hostile: Shop) -> None:
    assert r"\x1b]0;owned\x07b" in hostile.words("show 1").out
    assert hostile.json("show 1")["cuts"][0]["note"] == HOSTILE


def test_completion_leaves_such_names_out(shop: Shop, logged: Path) -> None:
    from fitlog.fronts.cli.options import names

    spoilt(shop, logged, ())
    assert names("bit") == ["marsh"]
    spoilt(shop, logged, NAMES)
    assert names("bit") == []


def test_exports_carry_no_control_character(hostile: Shop, tmp_path: Path) -> None:
    hostile.words(f"log export {tmp_path / 'a.json'}")
    hostile.words(f"log export --csv {tmp_path / 'a.csv'}")
    for name in ("a.json", "a.csv"):
        text = (tmp_path / name).read_text(encoding="utf-8")
        assert all(c.isprintable() or c in "\r\n" for c in text), name
    entries = [
        row["entry"]
        for row in json.loads((tmp_path / "a.json").read_text())["rows"]
        if "entry" in row
    ]
    assert {entry["by"] for entry in entries} == {HOSTILE}


@pytest.mark.parametrize("name", ["a.json", "a.csv"])
def test_imports_refuse_them_in_one_plain_sentence(
    hostile: Shop, tmp_path: Path, name: str
) -> None:
    file = tmp_path / name
    if name == "a.json":
        hostile.words(f"log export {file}")
    else:
        file.write_text(f"said;note;{HOSTILE}\ngood;{HOSTILE}\n{HOSTILE};x\n", encoding="utf-8")
    before = hostile.everything()
    result = hostile.run(
        "log", "import", str(file), *(() if name == "a.json" else ("--setup", "1")), code=1
    )
    assert raw(result.out + result.err) == [] and result.err.startswith("fitlog: ")
    assert hostile.everything() == before


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.mark.skipif(os.name != "posix", reason="other systems keep no such modes")
def test_files_are_their_owners_alone_whatever_the_umask(shop: Shop, tmp_path: Path) -> None:
    old = os.umask(0)
    try:
        deep = Shop(tmp_path / "new" / "folder")
        for line in (
            "bit add marsh --diameter 13.1 --angle 9 --cutting-length 14",
            "stock add elm --species elm --thickness 17 --width 150",
            "start --tails 5",
            "cut tight",
        ):
            deep.run(*line.split(), "--db", str(deep.db))
        made = [
            tmp_path / name
            for name in ("a.json", "a.csv", "stops.csv", "p.svg", "sheet.pdf", "b.backup")
        ]
        for line in (
            "log export a.json",
            "log export --csv a.csv",
            "stops --csv stops.csv",
            "progress --picture p.svg",
            "sheet --out sheet.pdf",
            "log backup b.backup",
        ):
            *words, file = line.split()
            deep.run(*words, str(tmp_path / file), "--db", str(deep.db))
    finally:
        os.umask(old)
    assert {path.name: oct(mode(path)) for path in (*made, deep.db)} == {
        path.name: "0o600" for path in (*made, deep.db)
    }
    assert [mode(folder) for folder in (deep.home, deep.home.parent)] == [0o700, 0o700]


@pytest.mark.skipif(os.name != "posix", reason="other systems keep no such modes")
def test_a_file_that_was_there_keeps_the_mode_it_was_given(shop: Shop, tmp_path: Path) -> None:
    shop.started("--tails 5")
    for name, line in (
        ("a.json", "log export --force"),
        ("stops.csv", "stops --force --csv"),
        ("p.svg", "progress --force --picture"),
    ):
        path = tmp_path / name
        path.touch()
        path.chmod(0o640)
        if name == "p.svg":
            shop.words("cut tight")
        shop.run(*line.split(), str(path))
        assert mode(path) == 0o640 and path.stat().st_size > 0, name
