"""Trial cuts out to a table and in from one as spreadsheets write it; what a spreadsheet would run
is made harmless.
"""

from __future__ import annotations

import csv
import io
import re
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shop import Shop

from fitlog.errors import NotUnderstood
from fitlog.exchange.cells import guarded, moment, unguarded
from fitlog.exchange.columns import Columns
from fitlog.exchange.cuts_out import csv_line, headers
from fitlog.exchange.sheet import read_sheet
from fitlog.families.half_blind.speech import SPEECH
from fitlog.service.reader.rows import Table, read_cuts

COLUMNS = Columns(SPEECH)
NOW = datetime(2031, 6, 1, tzinfo=UTC)
PLAIN = (
    "Date;Height (mm);Fence;DEPTH;Said;Note\r\n4.3.2031;9,5;75,2;12,5;slightly tight, gap far "
    "0,3;first\r\n"
)


def read(
    data: bytes, units: str = "mm", order: str | None = None
) -> tuple[list[Any], list[Any], int]:
    return read_cuts(read_sheet(data, COLUMNS), Table(units, columns=COLUMNS, order=order, now=NOW))


def one(data: bytes, **how: Any) -> Any:
    cuts, problems, _ = read(data, **how)
    assert not problems and len(cuts) == 1, problems
    return cuts[0]


@pytest.mark.parametrize(
    "data",
    [
        PLAIN.encode(),
        b"\xef\xbb\xbf" + PLAIN.encode(),
        PLAIN.encode("utf-16"),
        PLAIN.encode("utf-16-le"),
        PLAIN.encode("utf-16-be"),
        b"\xfe\xff" + PLAIN.encode("utf-16-be"),
        PLAIN.replace("\r\n", "\n").encode(),
        PLAIN.replace("\r\n", "\r").encode(),
        ("sep=;\r\n" + PLAIN).encode(),
        ("\r\n;;;;;\r\n" + PLAIN + "\r\n;;;;;\r\n\r\n").encode(),
        PLAIN.replace(";", "\t").encode(),
        b'note,said,depth,height,fence,date\n"first","slightly tight, gap far '
        b'0,3","12,5","9,5","75,2",2031-03-04\n',
        b"NOTE , Said,Socket Depth (cm),bit_height [mm],offset in mm,WHEN\n"
        b'first,"gap far 0.3 slightly-tight",1.25,9.5,75.2,2031-03-04\n',
    ],
)
def test_a_spreadsheets_ways_of_writing_it_are_read_alike(data: bytes) -> None:
    cut = one(data)
    assert {name: round(length.mm, 9) for name, length in cut.settings.items()} == {
        "bit_height": 9.5,
        "fence_offset": 75.2,
        "socket_depth": 12.5,
    }
    assert str(cut.verdict) == "slightly tight, gap far 0.30" and cut.note == "first"
    assert cut.at == datetime(2031, 3, 4, 12, tzinfo=UTC)


def test_another_encoding_is_read_where_it_is_named_and_else_refused_at_its_place() -> None:
    data = "said;note\r\nflush;ä\r\ngood;für Öl\r\n"
    sheet = read_sheet(data.encode("cp1252"), COLUMNS, "windows-1252")
    assert [line.cells["note"] for line in sheet.lines] == ["ä", "für Öl"]
    bad = data.encode().replace("für".encode(), "für".encode("cp1252"))
    with pytest.raises(NotUnderstood) as refused:  # one byte in a file that is UTF-8 else
        read_sheet(bad, COLUMNS)
    assert refused.value.code == "bad-encoding" and "--encoding" in refused.value.hint
    assert "line 3, column 7" in refused.value.message and "0xfc" in refused.value.message
    for name in ("hex", "nonsense", ""):
        with pytest.raises(NotUnderstood, match="--encoding cannot be"):
            read_sheet(data.encode(), COLUMNS, name)


def test_a_cell_of_endless_text_is_called_that() -> None:
    long = "said;note\ngood;a\ngood;" + "x" * 140_000 + "\n"
    with pytest.raises(NotUnderstood, match=r"cell of line 3 has more than 131,072 characters"):
        read_sheet(long.encode(), COLUMNS)


@pytest.mark.parametrize(
    "header",
    ["height (in)", "height in", "Height [inch]", 'HEIGHT (")', "bit height, inches", "height_in"],
)
def test_a_column_of_inches_is_inches(header: str) -> None:
    """The international inch, 25.4 mm exactly (NIST SP 811, appendix B)."""
    quoted = header.replace(chr(34), chr(34) * 2)
    data = f"{quoted}\tsaid\n0.5\tgood\n3/8\tgood\n12 mm\tgood\n".replace('("")', '(")')
    cuts, problems, _ = read(data.encode())
    assert not problems
    assert [cut.settings["bit_height"].mm for cut in cuts] == pytest.approx([12.7, 9.525, 12.0])


def test_the_preferred_unit_is_that_of_a_bare_number() -> None:
    assert one(b"height,said\n.5,good\n", units="inch").settings["bit_height"].mm == pytest.approx(
        12.7
    )
    assert one(b"height,said\n5/8in,good\n").settings["bit_height"].mm == pytest.approx(15.875)
    assert one(b"height (mm),said\n12,good\n", units="fraction").settings["bit_height"].mm == 12


def test_words_and_their_sizes_in_columns_of_their_own() -> None:
    head = b"fit;gap;center;extra width (mm);seat;step (in);gaps;mouth;walls\n"
    data = head + b"slightly loose;0,4;far;0,25;shy;1/64;gap inside 0.2;9;x\n"
    sheet = read_sheet(data, COLUMNS)
    cut = read_cuts(sheet, Table("mm", columns=COLUMNS, order=None, now=NOW))[0][0]
    assert sheet.unused == ("walls",)
    assert str(cut.verdict) == "slightly loose 0.40, gap far 0.25, shy 0.40, gap inside 0.20"
    assert cut.verdict.of("seat").size == pytest.approx(25.4 / 64) and [
        (r.kind, r.value) for r in cut.readings
    ] == [("mouth", 9.0)]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("4.3.2031;1.234,5;good", "decimal sign"),
        ("4.3.2031;1 234,5;good", "cannot be read"),
        ("4.3.2031;9,5;goood", "not known"),
        ("31.2.2031;9,5;good", "31.2.2031"),
        ("3/4/2031;9,5;good", "--dates"),
        ("4.3.2032;9,5;good", "yet to come"),
        ("4.3.2031;9,5", "says nothing"),
        ("4.3.2031;9,5;good;;more", "5 cells"),
        ("4.3.2031;5/8 mm;good", "fractions are inches"),
        ("4.3.2031;9,5 furlong;good", "unknown unit"),
        ("4.3.2031;9,5;tight 0,4", "pull-apart"),
        ("4.3.2031;9,5;good, tight", "both"),
        ("4.3.2031;1/4turn;good", "turns"),
        ("4.3.2031;=9+1;good", "cannot be read"),
        ("4.3.2031;9,5;go\x1bod", "word"),
    ],
)
def test_a_bad_line_is_named_with_what_is_wrong(line: str, told: str) -> None:
    cuts, problems, _ = read(
        f"Date;height (mm);said;note\n\n4.3.2031;9;good;\n{line}\n4.3.2031;9;good;\n".encode()
    )
    assert len(cuts) == 2 and {p.line for p in problems} == {4}
    assert any(told in f"{p.message}: {p.hint}" for p in problems), problems
    assert all(p.hint and p.message.isprintable() for p in problems)


def test_a_comma_before_three_digits_is_asked_about_where_others_have_points() -> None:
    cuts, problems, _ = read(b'fence,said\n75.2,good\n"1,075",good\n')
    assert len(cuts) == 1 and problems[0].line == 3 and "thousands" in problems[0].message


@pytest.mark.parametrize(
    ("day", "order", "found"),
    [
        ("2031-03-04 15:30Z", None, (2031, 3, 4, 15, 30)),
        ("2031-03-04T15:30:00+02:00", None, (2031, 3, 4, 13, 30)),
        ("4.3.2031", None, (2031, 3, 4, 12, 0)),
        ("3/4/2031", "mdy", (2031, 3, 4, 12, 0)),
        ("4/3/2031", "dmy", (2031, 3, 4, 12, 0)),
        ("25/3/2031", None, (2031, 3, 25, 12, 0)),
        ("3/25/2031", None, (2031, 3, 25, 12, 0)),
        ("3/3/2031", None, (2031, 3, 3, 12, 0)),
        ("2031-03-04T15:30:00.123456Z", None, (2031, 3, 4, 15, 30, 0, 123456)),
    ],
)
def test_days_as_people_write_them(day: str, order: str | None, found: tuple[int, ...]) -> None:
    """ISO 8601 as the standard library reads it; days with dots have the day first (common
    practice, no source).
    """
    assert moment(day, "", order) == datetime(*found, tzinfo=UTC)  # type: ignore[arg-type, misc]


@settings(max_examples=300, derandomize=True)
@given(st.text(st.sampled_from("='\"+-@ \t\r\n;,ab1\uff1d"), max_size=12))
def test_no_text_begins_a_formula_and_each_reads_back(text: str) -> None:
    safe = guarded(text)
    assert unguarded(safe) == text
    for start in re.split(r"[;\t\r\n]", safe):
        assert not re.match(r"['\"\s]*[=+\-@\uff1d]", start) or start.startswith("'")
    assert next(csv.reader(io.StringIO(csv_line([safe, "x"]), newline=""))) == [safe, "x"]


def test_every_header_that_we_write_is_read_again() -> None:
    unread = {name for name in headers(COLUMNS) if COLUMNS.meaning(name) is None}
    assert unread == {"entry"}


def lived(shop: Shop) -> Shop:
    return shop.built(_lived)


def _lived(shop: Shop) -> None:
    shop.started(
        "--pitch 22.6", machine={"height-turn": "1.6", "height-zero": "0.5", "fence-zero": "-1"}
    )
    shop.run("cut", "tight,", "gap", "far", "0.5", "--note", "=1+1 @home", "--mouth", "9.1")
    shop.run(
        "cut",
        "slightly",
        "loose",
        "0.4",
        "gap",
        "inside",
        "0.3",
        "--between-rods",
        "3",
        "5",
        "--note",
        "-2 \"x\", 'y'; =z",
    )
    shop.run("cut", "--same-piece", "flush", "--scrap", "mdf")
    shop.words("cut good --walls 40 41")
    shop.words("undo")


def test_out_and_in_again_gives_the_same_cuts(shop: Shop, tmp_path: Path) -> None:
    lived(shop)
    file = tmp_path / "cuts.csv"
    shop.words(f"log export --csv {file}")
    assert shop.run("log", "import", str(file), "--setup", "1").out.count("in the log already") == 1
    before = shop.json("show 1")["cuts"]
    shop.words("finish --abandon")
    told = shop.json(f"log import {file} --bit marsh --stock elm")
    assert (told["setup"], told["started"], told["logged"], told["taken_back"]) == (2, True, 3, 1)
    after = shop.json("show 2")["cuts"]
    for old, new in zip([cut for cut in before if not cut["retracted"]], after, strict=True):
        for key in ("piece", "settings", "said", "readings", "note", "at", "by", "scrap"):
            assert old.get(key) == new.get(key), key
    assert shop.json(f"log import {file} --bit marsh --stock elm")["known"] == 3
    cells = list(csv.reader(file.read_text(encoding="utf-8").splitlines()))
    assert not [
        cell
        for row in cells[1:]
        for cell in row
        if re.match(r"['\"\s]*[=+@-]", cell) and not cell.startswith("'")
    ]


def test_a_dry_run_tells_all_and_logs_nothing(shop: Shop, tmp_path: Path) -> None:
    lived(shop)
    file = tmp_path / "t.csv"
    file.write_text("height;said\n9,9;good\n200;good\n9;snug\n")
    before = shop.everything()
    told = shop.json(f"log import {file} --setup 1 --dry-run", 1)
    assert (
        [p["line"] for p in told["problems"]] == [3, 4]
        and [c["line"] for c in told["cuts"]] == [2]
        and told["logged"] == 0
    )
    result = shop.run("log", "import", str(file), "--setup", "1", code=1)
    assert "Line 3: " in result.out and "Line 4: " in result.out and "--skip-bad" in result.err
    assert shop.everything() == before
    shop.run("log", "import", str(file), "--setup", "1", "--skip-bad")
    assert (
        shop.entries()
        == len([line for line in before if line.startswith('INSERT INTO "entry"')]) + 1
    )
    assert shop.json("show 1")["cuts"][-1]["settings"]["bit_height"] == 9.9  # as the scale reads


def test_without_dates_the_same_lines_are_asked_about(shop: Shop, tmp_path: Path) -> None:
    lived(shop)
    file = tmp_path / "t.csv"
    file.write_text("height;said\n9,9;good\n9,9;good\n")
    shop.words("cut good --height 9.9")  # as somebody typed it
    assert "--again" in shop.refused("log", "import", str(file), "--setup", "1")
    assert shop.json(f"log import {file} --setup 1 --again")["logged"] == 2


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", 2),
        (b'""', 2),
        (b"\0\1\2", 2),
        (b"a,b\n1,2\n", 2),
        (b"said,words\ngood,good\n", 2),
        (b'said\n"good\n', 2),
        (b"\x81\x8d\n", 2),
        (b"said\ngood\n" * 1, 0),
        (b"said\n" + b"good\n" * 20_001, 1),
    ],
)
def test_what_is_no_table_is_refused(shop: Shop, tmp_path: Path, data: bytes, code: int) -> None:
    shop.started()
    file = tmp_path / "t.csv"
    file.write_bytes(data)
    if code:
        shop.refused("log", "import", str(file), "--setup", "1", code=code)
    else:
        shop.run("log", "import", str(file), "--setup", "1")


def test_a_table_wants_to_know_where_it_belongs(shop: Shop, tmp_path: Path) -> None:
    lived(shop)
    file = tmp_path / "t.csv"
    file.write_text("said\ngood\n")
    assert "--setup" in shop.refused("log", "import", str(file), code=2)
    assert "still open" in shop.refused("log", "import", str(file), "--bit", "marsh")
    assert "leave" in shop.refused(
        "log", "import", str(file), "--bit", "marsh", "--setup", "1", code=2
    )
    shop.refused("log", "import", str(file), "--setup", "7")
    shop.refused("log", "import", str(tmp_path / "none.csv"), "--setup", "1")
    shop.words("finish --as-it-is")
    shop.refused("log", "import", str(file), "--setup", "1")
