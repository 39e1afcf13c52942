"""Nonsense, mishaps and interruptions: one sentence, the right exit code, and a log that is as it
was.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import closing
from pathlib import Path

import forked
import pytest
from logs import ordinary_user
from shop import BIT, ROOT, STOCK, Result, Shop, sentence
from terminal import ESCAPE, asked, on_terminal, shell_code

from fitlog.log import open_log

NONSENSE = (
    "nan",
    "inf",
    "-inf",
    "-1",
    "0",
    "1e400",
    "1e3",
    "twelve",
    "",
    "3/0",
    "1,2,3",
    "0x10",
    "9" * 60,
)
# The options that take a length, each with a command that is sound without it.
LENGTHS = {
    "bit add reed --angle 9 --cutting-length 14": ("--diameter",),
    "bit add reed --diameter 13.1 --angle 9": ("--cutting-length",),
    "bit add reed --diameter 13.1 --angle 9 --cutting-length 14": ("--neck",),
    "stock add yew --species yew --width 150": ("--thickness",),
    "stock add yew --species yew --thickness 17": ("--width",),
    "machine add mill": ("--height-step", "--height-turn", "--fence-step"),
    "start --bit spare": (
        "--pitch",
        "--height",
        "--width",
        "--thickness",
        "--pin-thickness",
        "--rabbet",
        "--scrap-width",
        "--scrap-thickness",
    ),
    "cut good": (
        "--height",
        "--fence",
        "--depth",
        "--pull-gap",
        "--mouth",
        "--tail-width",
        "--scrap-width",
        "--scrap-thickness",
    ),
}


@pytest.fixture
def busy(shop: Shop) -> Shop:
    """A shop with one piece cut in an open set-up, and a bit to spare."""
    return shop.built(_work)


def _work(shop: Shop) -> None:
    shop.started(machine={"height-turn": "1.6"})
    shop.run("bit", "add", "spare", *BIT)
    shop.words("cut tight, gap far 0.4")


@pytest.mark.parametrize(
    ("line", "option"), [(line, option) for line, options in LENGTHS.items() for option in options]
)
def test_no_length_is_nonsense(busy: Shop, line: str, option: str) -> None:
    before = busy.everything()
    for text in NONSENSE:
        result = busy.run(*line.split(), f"{option}={text}", code=None)
        assert result.code in (1, 2), (option, text, result)
        assert result.out == ""
        sentence(result.err)
        assert text[:20] in result.err or not text, (
            option,
            text,
            result.err,
        )  # the offending value is in it
    assert busy.everything() == before


@pytest.mark.parametrize("move", ["--up", "--down", "--out", "--in", "--deeper", "--shallower"])
def test_no_move_is_nonsense(busy: Shop, move: str) -> None:
    before = busy.everything()
    for text in NONSENSE:
        if text != "0":  # a move of nothing is a setting left alone
            result = busy.run("cut", "good", f"{move}={text}", code=None)
            assert result.code in (1, 2), (move, text, result)
            sentence(result.err)
    assert busy.everything() == before
    busy.run("cut", "good", f"{move}=0")


@pytest.mark.parametrize(
    ("pair", "code"),
    [
        (("--walls", "0", "60"), 1),
        (("--walls", "60", "0"), 1),
        (("--walls", "60", "nan"), 2),
        (("--between-rods", "0", "4"), 1),
        (("--over-rods", "4", "inf"), 2),
        (("--over-rods", "400", "20"), 1),
        (("--walls", "60"), 2),
    ],
)
def test_no_pair_of_readings_is_nonsense(busy: Shop, pair: tuple[str, ...], code: int) -> None:
    busy.refused("cut", "good", *pair, code=code)


@pytest.mark.parametrize(
    ("args", "meant"),
    [
        (
            (
                "bit",
                "add",
                "reed",
                "--diameter",
                "12.7in",
                "--angle",
                "9",
                "--cutting-length",
                "14",
            ),
            "12.7 mm",
        ),
        (
            ("bit", "add", "reed", "--diameter", "0.5", "--angle", "9", "--cutting-length", "14"),
            "0.5 in",
        ),
        (
            ("bit", "add", "reed", "--diameter", "13", "--angle", "9", "--cutting-length", "14 in"),
            "14 mm",
        ),
        (
            ("stock", "add", "yew", "--species", "yew", "--thickness", "17in", "--width", "150"),
            "17 mm",
        ),
        (("stock", "add", "yew", "--species", "yew", "--thickness", "17", "--width", "6"), "6 in"),
        (("start", "--bit", "spare", "--height", "9in"), "9 mm"),
        (("start", "--bit", "spare", "--pitch", "22.7in"), "22.7 mm"),
        (("start", "--bit", "spare", "--pitch", "0.89"), "0.89 in"),
        (("cut", "good", "--height", "12 in"), "12 mm"),
        (
            ("cut", "proud", "0.3in"),
            "0.3 mm",
        ),  # 7.62 mm: no joint that went together stands so proud
        (("cut", "proud", "3in"), "3 mm"),
        (("cut", "gap", "far", "0.5in"), "0.5 mm"),
    ],
)
def test_mm_and_inches_mixed_up(busy: Shop, args: tuple[str, ...], meant: str) -> None:
    assert f"did you mean {meant}?" in busy.refused(*args)


def test_a_height_in_inches_for_a_bit_long_enough_for_it_in_mm(busy: Shop) -> None:
    busy.words("bit add long --diameter 19 --angle 7 --cutting-length 20")
    busy.run(
        "stock", "add", "thick", "--species", "invented", "--thickness", "25", "--width", "150"
    )
    assert "did you mean 15 mm?" in busy.refused(
        "start", "--bit", "long", "--stock", "thick", "--height", "15 in"
    )


@pytest.mark.parametrize(
    ("angle", "code"),
    [("90", 1), ("nan", 2), ("inf", 2), ("-8", 1), ("0.14", 1), ("flat", 2)],
)
def test_no_angle_is_nonsense(busy: Shop, angle: str, code: int) -> None:
    told = busy.refused(
        "bit",
        "add",
        "reed",
        "--diameter",
        "13",
        f"--angle={angle}",
        "--cutting-length",
        "14",
        code=code,
    )
    assert "angle" in told
    busy.refused("bit", "edit", "spare", f"--angle={angle}", code=code)


@pytest.mark.parametrize(
    "args",
    [
        (
            "bit",
            "add",
            "reed",
            "--diameter",
            "6",
            "--angle",
            "30",
            "--cutting-length",
            "14",
        ),  # the flanks would meet
        (
            "bit",
            "add",
            "reed",
            "--diameter",
            "13",
            "--angle",
            "9",
            "--cutting-length",
            "14",
            "--neck",
            "13",
        ),
        ("bit", "edit", "spare", "--cutting-length", "60"),
        ("start", "--bit", "spare", "--height", "13", "--pin-thickness", "12"),  # no lap at all
        ("start", "--bit", "spare", "--pin-thickness", "3"),
        ("start", "--bit", "spare", "--pitch", "14"),
        ("start", "--bit", "spare", "--pitch", "26.2"),
        ("start", "--bit", "spare", "--rabbet", "16"),
        ("start", "--bit", "spare", "--rabbet", "1"),
        ("start", "--bit", "spare", "--proud", "9"),
        ("cut", "good", "--fence", "20"),
        ("cut", "good", "--depth", "40"),
        ("cut", "good", "--height", "13.95", "--fence", "200"),
        ("cut", "good", "--out", "30"),
    ],
)
def test_what_cannot_be_cut(busy: Shop, args: tuple[str, ...]) -> None:
    busy.refused(*args)


def test_a_height_that_leaves_no_lap_is_said_so(busy: Shop) -> None:
    assert "lap" in busy.refused(
        "start", "--bit", "spare", "--height", "13", "--pin-thickness", "12.5"
    )
    busy.words("finish --as-it-is")
    busy.words("start --bit spare --pin-thickness 13 --height 9")
    assert "lap" in busy.refused("cut", "good", "--height", "13.4")


def test_a_fence_read_to_the_far_edge_of_the_tip_is_recognised(busy: Shop) -> None:
    """A caliper takes the fence to the far edge of the tip: x + D / 2 = 75 + 6.55."""
    assert "75.00 mm" in busy.refused("cut", "good", "--fence", "81.55")


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        ("good tight", 1, "good"),
        ("flush proud", 1, "flush"),
        ("gap far gap near", 1, "gap near"),
        ("centred gap far", 1, "centred"),
        ("good good", 1, "twice"),
        ("gap flank gap flank", 1, "twice"),
        ("tight 0.4", 1, "pull-apart"),
        ("very centred", 2, "very"),
        ("slightly", 2, "slightly"),
        ("tihgt", 2, "did you mean tight?"),
        ("looose", 2, "did you mean loose?"),
        ("prowd", 2, "did you mean proud?"),
        ("0.3", 2, "0.3"),
        ("far 0.3", 2, "gap far"),
        ("proud -0.3", 2, "shy 0.3"),
        ("proud 0", 2, "flush"),
        ("proud nan", 2, "nan"),
        ("proud 1e9", 2, "1e9"),
        ("gap left", 2, "left"),
        ("shaved", 2, "shaved"),
        ("not good", 2, "not"),
        ("--hight 9 good", 2, "--hight"),
        ("good -x", 2, "-x"),
        ("flush 0.2", 2, "proud 0.2"),
        ("gap far 1/8turn", 2, "turns"),
        ("the", 2, "the"),
        (",", 2, ""),
    ],
)
def test_words_that_cannot_be_understood(busy: Shop, words: str, code: int, told: str) -> None:
    assert told in busy.refused("cut", *words.split(), code=code)


def test_a_cut_without_an_open_set_up(shop: Shop) -> None:
    shop.stocked()
    assert "fitlog start" in shop.refused("cut", "good")
    shop.words("start")
    shop.words("finish --abandon")
    assert "abandoned" in shop.refused("cut", "good")
    shop.words("undo")
    shop.words("undo --yes")
    shop.refused("cut", "good")
    shop.refused("cut", "good", "--setup", "1")


@pytest.mark.parametrize(
    "text", ["a\x07bell", "\x1b[31mred", "nul\x00", "rtl \u202e", "x" * 10_000, "line\x85break"]
)
def test_free_text_that_is_no_plain_text(busy: Shop, text: str) -> None:
    for args in (
        ("cut", "good", f"--note={text}"),
        ("cut", "good", f"--scrap={text}"),
        ("start", "--bit", "spare", f"--scrap={text}"),
        ("stock", "add", "yew", f"--species={text}", "--thickness", "17", "--width", "150"),
        ("bit", "add", text, *BIT),
        ("stock", "add", text, *STOCK),
        ("machine", "add", text),
        ("prefer", "--name", text),
        ("bit", "edit", "spare", "--name", text),
    ):
        if text == "line\x85break" and "--name" not in args and args[1] != "add":
            continue  # a line break inside free text becomes a space
        result = busy.run(*args, code=None)
        if text == "line\x85break" and result.code == 0:
            continue
        assert result.code in (1, 2), (args[:3], result)
        sentence(result.err)
        assert all(c.isprintable() for c in result.err.rstrip("\n"))
        assert len(result.err) < 400


@pytest.mark.parametrize(
    "words", ["x" * 10_000, "good " + "," * 5000, "\x1b[31m", "\x00", "gut\u202e"]
)
def test_words_of_any_length_and_kind(busy: Shop, words: str) -> None:
    result = busy.run("cut", *words.split(" "), code=None)
    if result.code == 0:
        return
    sentence(result.err)
    assert all(c.isprintable() for c in result.err.rstrip("\n")) and len(result.err) < 400


@pytest.mark.parametrize("name", ["", " ", "-x", "--db", "x" * 61, "a\nb"])
@pytest.mark.parametrize("kind", ["bit", "stock", "machine"])
def test_names_that_are_none(busy: Shop, kind: str, name: str) -> None:
    options = {"bit": BIT, "stock": STOCK, "machine": ()}[kind]
    result = busy.run(kind, "add", *options, "--", name, code=None)
    if name == "a\nb" and result.code == 0:
        assert any(item["name"] == "a b" for item in busy.json(f"{kind} list")[f"{kind}s"])
        return
    assert result.code in (1, 2), result
    sentence(result.err)


@pytest.mark.parametrize(
    "args",
    [
        ("--wobble",),
        ("nxt",),
        ("cut", "good", "--wobble"),
        ("bit", "nxt"),
        ("next", "extra"),
        ("use",),
        ("use", "x"),
        ("use", "1.5"),
        ("undo", "--piece", "one"),
        ("start", "--pitch"),
        ("bit", "add", "reed"),
        ("start", "--bit", "spare", "--rabbet-bit", "round"),
        ("prefer", "--units", "cubits"),
        ("start", "--bit", "spare", "--only", ""),
        ("review", "--since", "1999"),
        ("show", "x"),
    ],
)
def test_what_is_no_command_or_option(busy: Shop, args: tuple[str, ...]) -> None:
    busy.refused(*args, code=2)


@pytest.mark.parametrize("number", ["0", "-1", "99", "9" * 30])
def test_numbers_of_set_ups_and_pieces_that_are_not_there(busy: Shop, number: str) -> None:
    for args in (
        ("use", "--", number),
        ("next", f"--setup={number}"),
        ("undo", f"--piece={number}"),
        ("cut", "good", f"--setup={number}"),
        ("finish", f"--setup={number}"),
        ("show", "--", number),
    ):
        busy.refused(*args)


# The file of the log


def foreign(path: Path) -> None:
    """Another application's SQLite file."""
    with closing(sqlite3.connect(path)) as plain:
        plain.execute("CREATE TABLE birds (name)")
        plain.commit()


COMMANDS = [
    ("next",),
    ("review",),
    ("bit", "add", "reed", *BIT),
    ("cut", "good"),
    ("prefer", "--units", "mm"),
    ("undo", "--yes"),
]


@pytest.mark.parametrize("command", COMMANDS)
def test_files_that_are_no_log(shop: Shop, command: tuple[str, ...]) -> None:
    shop.stocked()
    text, other = shop.home / "notes.txt", shop.home / "birds.db"
    text.write_text("nothing of fitlog\n" * 100)
    foreign(other)
    before = other.read_bytes()
    for path in (shop.home, text, other, text / "below.db"):
        told = shop.refused(*command, "--db", str(path))
        assert str(path) in told
    assert other.read_bytes() == before and text.read_text() == "nothing of fitlog\n" * 100


@pytest.mark.parametrize("command", COMMANDS)
def test_a_log_of_a_newer_version(busy: Shop, command: tuple[str, ...]) -> None:
    with closing(sqlite3.connect(busy.db)) as plain:
        plain.execute("PRAGMA user_version = 99")
    assert "newer" in busy.refused(*command)


def test_a_damaged_log(busy: Shop) -> None:
    with open_log(busy.db, create=False):
        pass
    content = bytearray(busy.db.read_bytes())
    content[4096:] = bytes(random.Random(5).randbytes(len(content) - 4096))
    busy.db.write_bytes(content)
    for ending in ("-wal", "-shm"):
        Path(f"{busy.db}{ending}").unlink(missing_ok=True)
    for command in COMMANDS:
        result = busy.run(*command, code=1)
        sentence(result.err)


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that every user may pass (pytest's own are closed to others)."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


def test_a_log_without_permission(open_folder: Path) -> None:
    shop = Shop(open_folder)
    db = ("--db", str(shop.db))
    shop.run("bit", "add", "marsh", *BIT, *db)
    shop.run("stock", "add", "elm", *STOCK, *db)
    shop.run("start", *db)
    before = shop.entries()
    for mode, readable in ((0o444, True), (0, False)):
        shop.db.chmod(mode)
        for command in COMMANDS:
            reads = readable and command in (("next",), ("review",))
            with ordinary_user():
                result = shop.run(*command, *db, code=0 if reads else 1)
            if not reads:
                sentence(result.err)
                assert str(shop.db) in result.err
    shop.db.chmod(0o644)
    assert shop.entries() == before


def test_a_log_that_another_program_keeps_locked(
    busy: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fitlog.log.engine.BUSY_SECONDS", 0.1)
    before = busy.entries()
    with closing(sqlite3.connect(busy.db, isolation_level=None)) as plain:
        plain.execute("BEGIN IMMEDIATE")
        assert "locked" in busy.run("cut", "good", code=1).err
        assert "Unplugged, set:" in busy.run("next").out  # reading goes on
        plain.execute("ROLLBACK")
    assert busy.entries() == before


# Interrupted, closed and narrow


def healthy(shop: Shop) -> int:
    """Check the log from outside and inside; return the number of pieces of its only set-up."""
    with closing(sqlite3.connect(shop.db)) as plain:
        assert plain.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert plain.execute("PRAGMA foreign_key_check").fetchall() == []
    with open_log(shop.db, create=False) as log:
        return sum(len(setup.pieces()) for setup in log.setups())


def took(args: Sequence[str], shop: Shop) -> float:
    """Seconds that a command takes."""
    began = time.monotonic()
    subprocess.run(args, env=shop.environment(), capture_output=True, check=True, timeout=60)
    return time.monotonic() - began


@pytest.mark.parametrize("tries", [4, pytest.param(12, marks=pytest.mark.long)])
def test_control_c_at_any_moment_of_a_cut(shop: Shop, tries: int) -> None:
    """Random moments, seeded, from fitlog's first line on: nothing half written, and what was
    answered is kept.
    """
    shop.started()
    start_up = max(took([sys.executable, "-c", "import typer"], shop) for _ in range(3))
    whole = took(shop.command("cut", "tight"), shop)
    moments = random.Random(20310305)
    pieces, codes = healthy(shop), []
    for _ in range(tries):
        running = subprocess.Popen(
            shop.command("cut", "slightly", "tight"),
            env=shop.environment(),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        time.sleep(moments.uniform(start_up, whole))
        running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=60)
        code = shell_code(running.returncode)
        codes.append(code)
        now = healthy(shop)
        assert now - pieces in (0, 1)
        assert (
            now - pieces == 1 or "Set-up 1" not in out
        )  # an answer that was printed is in the log
        assert "Traceback" not in err, err
        assert code in (0, 130), (code, out, err)
        pieces = now
    assert 130 in codes  # at least one came in time to interrupt something


@pytest.mark.parametrize("module", ["typer", "sqlmodel", "sqlalchemy", "numpy", "scipy"])
def test_control_c_while_modules_load(busy: Shop, module: str) -> None:
    """The same moment every time: a module that interrupts while it is read."""
    (busy.home / "early").mkdir()
    (busy.home / "early" / f"{module}.py").write_text("raise KeyboardInterrupt\n")
    before = busy.entries()
    done = subprocess.run(
        busy.command("cut", "good"),
        env=busy.environment(PYTHONPATH=f"{busy.home / 'early'}{os.pathsep}{ROOT}"),
        cwd=busy.home,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert shell_code(done.returncode) == 130 and "Traceback" not in done.stderr, done.stderr
    assert busy.entries() - before in (0, 1)
    healthy(busy)


@pytest.mark.parametrize("line", ["next", "--help", "review", "bit list", "show", "review --json"])
def test_a_reader_that_went_away_is_no_error(busy: Shop, line: str) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = forked.run(
        busy.command(*line.split()),
        env=busy.environment(),
        stdout=writing,
        stderr=subprocess.PIPE,
        text=True,
        timeout=60,
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (0, "")


def shell(shop: Shop, line: str) -> Result:
    """Run a line of a shell."""
    done = subprocess.run(
        ["/bin/sh", "-c", line], env=shop.environment(), capture_output=True, text=True, timeout=60
    )
    return Result(done.returncode, done.stdout, done.stderr)


def test_a_pipe_into_head(busy: Shop) -> None:
    assert shell(busy, f"'{sys.executable}' -m fitlog next | head -n 1").err == ""


def test_streams_that_are_closed_from_the_start(busy: Shop) -> None:
    """Of a Python that starts without them; each closed by itself: `test_odd_streams`."""
    before = busy.entries()
    result = shell(busy, f"'{sys.executable}' -m fitlog cut good <&- >&- 2>&-")
    assert result.code == 0 and busy.entries() == before + 1


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_full_disk_behind_standard_output(busy: Shop) -> None:
    """The answer of a cut is lost, its row is on disk; of other commands: `test_odd_streams`."""
    before = busy.entries()
    result = shell(busy, f"'{sys.executable}' -m fitlog cut good > /dev/full")
    assert "Traceback" not in result.err, result
    assert result.code == 0 and busy.entries() == before + 1


def test_a_terminal_that_knows_only_ascii(shop: Shop) -> None:
    shop.stocked()
    shop.run("stock", "add", "érable \u7af9", *STOCK)
    for args in (
        ("stock", "list"),
        ("stock", "show", "érable \u7af9"),
        ("stock", "list", "--json"),
        ("start", "--stock", "érable \u7af9"),
        ("review",),
        (
            "stock",
            "show",
            "érabl",
        ),
    ):
        code, shown = on_terminal(shop, *args, columns=100, PYTHONIOENCODING="ascii")
        assert code == (1 if args[-1] == "érabl" else 0), shown
        assert shown.isascii() and "Traceback" not in shown
    assert "\\xe9rable" in shop.process("stock", "list", PYTHONIOENCODING="ascii").out


@pytest.mark.parametrize("units", ["mm", "fraction"])
def test_a_narrow_terminal(busy: Shop, units: str) -> None:
    busy.words(f"prefer --units {units}")
    busy.words("finish --abandon")
    for line in (
        "bit list",
        "machine list",
        "stock list",
        "start --bit spare",
        "cut a bit loose 1/32in, gap far 0.4mm",
        "next",
        "review",
        "show",
        "prefer",
    ):
        code, shown = on_terminal(busy, *line.split(), NO_COLOR="1")
        assert code == 0 and "\x1b" not in shown, (line, shown)
        too_long = [text for text in shown.splitlines() if len(text) > 40]
        assert not too_long, (line, too_long)


def test_a_wide_terminal_has_tables_and_no_colour_when_asked(busy: Shop) -> None:
    for columns in (80, 120):
        for line in ("review", "next", "show", "bit list"):
            code, plain = on_terminal(busy, *line.split(), columns=columns, NO_COLOR="1")
            assert code == 0 and "\x1b" not in plain
            assert all(len(text) <= columns for text in plain.splitlines()), line
            code, shown = on_terminal(busy, *line.split(), columns=columns)
            assert code == 0 and ESCAPE.sub("", shown) == plain


def test_a_cut_without_words_asks_on_a_terminal(busy: Shop) -> None:
    before = busy.json("next")["pieces"]
    code, shown = asked(busy, "cut", typed="slightly tight, flush\n")
    assert code == 0 and "How is it?" in shown
    found = busy.json("next")
    assert found["pieces"] == before + 1 and found["last"]["said"]["fit"] == "slightly tight"
    code, shown = asked(busy, "cut", typed="^C")
    assert code == 130 and "Traceback" not in shown
    code, shown = asked(busy, "cut", typed="\x04")
    assert code in (1, 2, 130) and "Traceback" not in shown
    assert busy.json("next")["pieces"] == before + 1


YEW, MILL = (
    "stock add yew --species yew --width 6in --yes --thickness",
    "machine add mill --height-step",
)


@pytest.mark.parametrize(
    ("units", "line", "ends"),
    [
        # mm: 3 to 60 and 0.001 to 2, rounded inwards, for outwards they would be refused again
        ("inch", YEW, ("0.1182 in", "2.3622 in")),
        ("inch", MILL, ("0.0001 in", "0.0787 in")),
        ("fraction", YEW, ("1/8 in (0.1182)", "2 23/64 in (2.3622)")),
        ("fraction", MILL, ("0.1 thou", "5/64 in (0.0787)")),
    ],
)
def test_limits_told_in_inches_are_taken_where_they_are_typed_back(
    shop: Shop, units: str, line: str, ends: tuple[str, str]
) -> None:
    shop.words(f"prefer --units {units}")
    for n, (wrong, told) in enumerate(zip(("0.00001in", "99in"), ends, strict=True)):
        message = shop.refused(*line.split(), wrong)
        assert message.endswith(f" between {ends[0]} and {ends[1]}\n"), message
        kind, verb, name, *more = line.split()
        shop.run(kind, verb, f"{name}-{n}", *more, told)


def test_limits_are_told_in_mm_to_whoever_reads_mm(shop: Shop) -> None:
    shop.stocked()
    message = shop.refused("machine", "add", "mill", "--height-step", "9in")
    assert message.endswith("give the height step between 0.001 and 2 mm\n")
