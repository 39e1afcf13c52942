"""The README's session and commands are what the program really does."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from typer.testing import CliRunner

from fitlog.cli import app
from fitlog.fronts.cli import COMMANDS

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


def session() -> list[tuple[str, list[str]]]:
    """Commands of the console block with the lines printed under each."""
    block = re.search(r"```console\n(.*?)```", README, re.S)
    assert block is not None
    parts = re.split(r"^\$ fitlog (.*)$", block.group(1), flags=re.M)[1:]
    return [(parts[i], parts[i + 1].strip("\n").split("\n")) for i in range(0, len(parts), 2)]


def matches(shown: list[str], real: list[str]) -> bool:
    """Whether `shown` is `real` with some runs of lines left out as `...`."""
    text = "\n".join(".*" if line == "..." else re.escape(line) for line in shown)
    return re.fullmatch(text, "\n".join(real), re.S) is not None


def test_the_session_is_real(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FITLOG_DB", str(tmp_path / "log.db"))
    commands = session()
    assert len(commands) >= 6
    for command, shown in commands:
        result = CliRunner().invoke(app, shlex.split(command))
        assert result.exit_code == 0, (command, result.output)
        assert matches(shown, result.stdout.strip("\n").split("\n")), (command, result.stdout)


def test_what_is_left_out_is_the_only_freedom() -> None:
    assert matches(["a", "...", "d"], ["a", "b", "c", "d"])
    assert not matches(["a", "...", "e"], ["a", "b", "c", "d"])
    assert not matches(["a", "b"], ["a", "b", "c"])


def test_ci_runs_the_command_that_the_readme_prints() -> None:
    lines = [line for line in README.splitlines() if "'.[test]'" in line]
    assert len(lines) == 1
    run = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "grep -m1 \"'\\.\\[test\\]'\" README.md" in run
    assert ".venv/bin/pytest -n auto -m 'long or browser'\n" in run  # what that command leaves out


def test_every_command_named_in_the_readme_exists() -> None:
    named = set(re.findall(r"fitlog ([a-z]+)", README))
    known = set(COMMANDS)
    assert named - known <= {"assumes", "logs", "prints"}, named - known
    assert {
        "start",
        "cut",
        "finish",
        "undo",
        "review",
        "show",
        "demo",
        "prefer",
        "words",
        "rehearse",
    } <= named
