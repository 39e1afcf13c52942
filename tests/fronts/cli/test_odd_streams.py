"""Streams that are closed, full or odd, places that cannot be, a folder that is gone: one sentence,
the documented exit code, and the log is never blamed for what is not its fault.
"""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import forked
import pytest
from shop import Shop, sentence

pytestmark = pytest.mark.skipif(os.name != "posix", reason="streams as a POSIX shell gives them")
FULL = pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")


def in_shell(shop: Shop, line: str, **env: str) -> tuple[int, str, str]:
    """Run a line of sh in which $F is the command; return exit code and both streams.

    Commands whose streams go somewhere else are forked with them; sh runs what is more.
    """
    steps = line.split(" && ")
    if all(ONE.fullmatch(step) for step in steps):
        outs, errs = [], []
        for step in steps:
            code, out, err = redirected(shop, step, **env)
            outs.append(out)
            errs.append(err)
            if code:
                break
        return code, "".join(outs), "".join(errs)
    done = subprocess.run(
        ["/bin/sh", "-c", line.replace("$F", " ".join(shop.command()))],
        **as_user(shop, **env),
        capture_output=True,
    )
    assert "Traceback" not in done.stderr, done.stderr
    return done.returncode, done.stdout, done.stderr


ONE = re.compile(r"\$F( [^ &|;<>$]+)+( [12]?[<>] ?(&-|/dev/\w+))*")
REDIRECTION = re.compile(r" ([12]?)([<>]) ?(&-|/dev/\w+)")


def redirected(shop: Shop, line: str, **env: str) -> tuple[int, str, str]:
    """Run one command with redirections as sh would."""
    where = {int(n or way == ">"): to for n, way, to in REDIRECTION.findall(line)}
    opened = {n: Path(to).open("wb") for n, to in where.items() if to != "&-"}  # noqa: SIM115
    done = forked.run(
        shop.command(*REDIRECTION.sub("", line).split()[1:]),
        **as_user(shop, **env),
        stdout=opened.get(1, subprocess.PIPE),
        stderr=opened.get(2, subprocess.PIPE),
        closed=[n for n, to in where.items() if to == "&-"],
    )
    for stream in opened.values():
        stream.close()
    assert "Traceback" not in (done.stderr or ""), done.stderr
    return done.returncode, done.stdout or "", done.stderr or ""


def as_user(shop: Shop, **env: str) -> dict[str, Any]:
    """How a process is started in the shop."""
    return {
        "env": shop.environment(**env),
        "cwd": shop.home,
        "stdin": subprocess.DEVNULL,
        "text": True,
        "errors": "surrogateescape",
        "timeout": 60,
    }


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("$F cut <&-", 2),
        ("$F finish <&-", 1),
        ("$F undo <&-", 1),
        ("$F log import - --setup 1 <&-", 2),
        ("$F log import - <&-", 2),
    ],
)
def test_a_closed_standard_input_is_one_sentence(shop: Shop, line: str, code: int) -> None:
    shop.started("--tails 5")
    before = shop.everything()
    got, out, err = in_shell(shop, line)
    assert (got, out) == (code, "")
    sentence(err)
    assert shop.everything() == before


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("$F next >&-", 0),
        ("$F next <&- >&- 2>&-", 0),
        *((f"$F cut good {closed}", 0) for closed in (">&-", "2>&-", ">&- 2>&-", "<&-")),
        *((f"$F review {closed}", 0) for closed in (">&-", "2>&-", ">&- 2>&-", "<&-")),
        ("$F cut nonsense 2>&-", 2),
        ("$F show 99 2>&-", 1),
        pytest.param("$F cut nonsense 2>/dev/full", 2, marks=FULL),
        pytest.param("$F show 99 2>/dev/full", 1, marks=FULL),
        pytest.param("$F stops --csv - 2>/dev/full", 0, marks=FULL),
        pytest.param("$F show --json 99 2>/dev/full", 1, marks=FULL),
    ],
)
def test_standard_error_changes_no_exit_code(shop: Shop, line: str, code: int) -> None:
    assert in_shell(shop.started("--tails 5"), line)[0] == code


@FULL
@pytest.mark.parametrize(
    "line",
    [
        *("log export", "log export --csv", "next --json", "stops --csv -", "--help", "show"),
        *("next", "review", "review --json"),
    ],
)
def test_a_full_standard_output_is_no_fault_of_the_logs(shop: Shop, line: str) -> None:
    code, _, err = in_shell(shop.started("--tails 5"), f"$F {line} > /dev/full")
    assert code == 1 and "the answer could not be written out" in err
    sentence(err)


def test_an_export_to_a_reader_that_goes_away_is_no_error(shop: Shop) -> None:
    shop.started("--tails 5")
    for note in range(9):
        shop.run("cut", "good", "--same-piece" if note else "--note", *[] if note else ["n"])
    line = "($F log export; echo $? > code) | head -c 5"
    _, out, err = in_shell(shop, line)
    assert (out, err, (shop.home / "code").read_text()) == ('{"fit', "", "0\n")


@pytest.mark.parametrize(
    "place", ["UTC+25", "UTC-25", "XYZ+99:99:99", "No/Where", "", ":/dev/null"]
)
def test_a_place_that_cannot_be_shows_times_in_utc(shop: Shop, place: str) -> None:
    shop.started("--tails 5")
    line = "$F log where && $F log backup && $F cut tight && $F show && $F review"
    code, out, err = in_shell(shop, line, TZ=place)
    assert code == 0 and "Last written by" in out, err


@pytest.mark.parametrize(
    "env",
    [
        {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        {"COLUMNS": "99999999999999999999"},
        {"COLUMNS": "0", "LINES": "-3"},
        {"LOGNAME": "\udcff"},
        {"FITLOG_MACHINE": ""},
        *(
            pytest.param({"PYTHONIOENCODING": coding}, marks=pytest.mark.long)
            for coding in ("ascii", "latin-1")
        ),
    ],
)
def test_an_odd_environment_is_lived_with(shop: Shop, env: dict[str, str]) -> None:
    shop.started("--tails 5")
    shop.run("cut", "tight", "--note", "größe")
    code, out, err = in_shell(shop, "$F cut good && $F show && $F log where", **env)
    assert code == 0 and "Set-up 1" in out, err


def test_bytes_that_are_no_text_are_one_sentence(shop: Shop) -> None:
    shop.started("--tails 5")
    before = shop.everything()
    for line in ("cut \udcff", "cut tight --note \udcff", "show \udcff", "bit show \udcff"):
        code, out, err = in_shell(shop, f"$F {line}")
        assert code in (1, 2) and out == "", line
        sentence(err)
    long = shop.run("cut", "tight", "--note", "x" * 200_000, code=1)
    sentence(long.err)
    assert len(long.err) < 1000 and shop.everything() == before


def test_a_folder_that_is_gone_is_one_sentence(shop: Shop) -> None:
    """What names the log from its root works there still."""
    shop.started("--tails 5")
    gone = shop.home / "gone"
    gone.mkdir()
    assert in_shell(shop, "cd gone && rmdir ../gone; $F next")[0] == 0
    leave = "import os, fitlog.__main__ as f; os.rmdir(os.getcwd()); f.main()"
    for line in ("log export x", "log backup x", "stops --csv x", "log import x", "next --db x"):
        gone.mkdir()
        command, how = [sys.executable, "-c", leave, *line.split()], as_user(shop)
        done = forked.run(command, **{**how, "cwd": gone}, capture_output=True)
        assert done.returncode == 1 and done.stdout == "", line
        sentence(done.stderr)


def test_a_home_that_nobody_named_is_found_or_refused(shop: Shop) -> None:
    """Nothing of the real user's is touched: a name that is there already is asked for."""
    shop.started("--tails 5")
    code, _, err = in_shell(shop, "unset HOME XDG_CONFIG_HOME; $F next")
    assert code == 0, err


@pytest.mark.parametrize("end", [signal.SIGTERM, signal.SIGHUP])
def test_a_command_that_is_told_to_end_leaves_the_log_whole(shop: Shop, end: int) -> None:
    """Ended while it holds the log: nothing of its transaction is stored."""
    shop.started("--tails 5")
    before = shop.everything()
    program = (
        "import os, sys, signal\n"
        "from fitlog.log import entries\n"
        "real = entries.add\n"
        "def ended(*args, **named):\n"
        f"    real(*args, **named); signal.raise_signal({int(end)})\n"
        "    signal.pause()\n"
        "entries.add = ended\n"
        "sys.argv = ['fitlog', 'cut', 'tight']\n"
        "from fitlog.__main__ import main\n"
        "main()\n"
    )
    done = forked.run(
        [sys.executable, "-c", program], env=shop.environment(), capture_output=True, timeout=60
    )
    assert done.returncode == -end and shop.everything() == before
    shop.words("cut tight")
