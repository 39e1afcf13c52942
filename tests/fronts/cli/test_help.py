"""Help is there for every command, shows how, and costs nothing."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from typing import Any

import pytest
import typer
from shop import Shop

from fitlog.cli import app

PAGE = ("starlette", "uvicorn", "h11", "jinja2", "segno", "anyio")
HEAVY = ("numpy", "scipy", "sqlalchemy", "sqlmodel", "rich", "matplotlib", *PAGE)


def commands(group: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Every command of the tree with its path."""
    for name, command in group.commands.items():
        if hasattr(command, "commands"):
            yield from commands(command, (*path, name))
        else:
            yield (*path, name), command


TREE = dict(commands(typer.main.get_command(app)))


def test_the_stable_commands_are_there() -> None:
    promised = {("bit", "add"), ("stock", "add"), ("machine", "add")}
    promised |= {(name,) for name in ("start", "cut", "next", "undo", "finish", "use", "review")}
    assert promised <= set(TREE)


@pytest.mark.parametrize(
    ("path", "options"),
    [
        ("bit add", "--diameter --angle --cutting-length --measured"),
        ("stock add", "--species --thickness --width"),
        ("machine add", "--height-step --height-turn --fence-step --backlash"),
        (
            "start",
            "--bit --stock --pin-stock --machine --pitch --height --width --thickness "
            "--pin-thickness --rabbet --rabbet-bit "
            "--proud --only --words-only --scrap --scrap-width --scrap-thickness",
        ),
        ("cut", "--height --fence --depth --up --down --out --in --deeper --shallower --setup"),
        ("finish", "--abandon --setup"),
        ("undo", "--piece --setup"),
        ("next", "--setup"),
        ("review", "--bit --stock"),
    ],
)
def test_the_stable_options_are_there(path: str, options: str) -> None:
    known = {name for parameter in TREE[tuple(path.split())].params for name in parameter.opts}
    assert set(options.split()) <= known


@pytest.mark.parametrize("path", TREE, ids=" ".join)
def test_every_command_has_help_with_an_example(shop: Shop, path: tuple[str, ...]) -> None:
    text = shop.run(*path, "--help").out
    assert "Example" in text
    shown = [line.split() for line in text.splitlines() if line.strip().startswith("fitlog ")]
    assert any(tuple(words[1 : 1 + len(path)]) == path for words in shown), (
        "no example of the command itself"
    )
    assert "\x1b" not in text and text.isascii()


@pytest.mark.parametrize("path", TREE, ids=" ".join)
def test_every_option_is_explained(path: tuple[str, ...]) -> None:
    bare = [p.name for p in TREE[path].params if not getattr(p, "help", None) and p.name != "help"]
    assert not bare


@pytest.mark.parametrize("path", TREE, ids=" ".join)
def test_every_command_speaks_json_and_names_its_log(path: tuple[str, ...]) -> None:
    known = {name for parameter in TREE[path].params for name in parameter.opts}
    assert "--json" in known
    assert "--db" in known or path in (
        ("demo",),
        ("errors",),
        ("joints",),
        ("page", "phones"),
    )  # which have a log of their own, or none


def test_the_root_tells_the_exit_codes_and_a_first_evening(shop: Shop) -> None:
    text = shop.run("--help").out
    assert all(
        f"fitlog {name}" in text for name in ("bit add", "stock add", "start", "cut", "finish")
    )
    assert "Exit codes: 0 done; 1 refused" in text
    assert shop.run().out == text  # nothing asked: the same help


def test_the_first_evening_works_as_printed(shop: Shop) -> None:
    lines = [
        line.strip()
        for line in shop.run("--help").out.splitlines()
        if line.strip().startswith("fitlog ")
    ]
    assert len(lines) >= 5
    for line in lines:
        shop.words(line.removeprefix("fitlog "))


LOADED = """
import sys
sys.argv[1:] = {args!r}
from fitlog.fronts.cli import main
try:
    main()
except SystemExit as left:
    assert left.code in (0, None), left.code
print("LOADED", *sorted({{name.split(".")[0] for name in sys.modules}}))
"""


@pytest.mark.parametrize(
    "args",
    [
        ["--help"],
        ["cut", "--help"],
        ["rehearse", "--help"],
        ["bit", "add", "--help"],
        ["--version"],
        [],
    ],
    ids=" ".join,
)
def test_help_loads_nothing_heavy(shop: Shop, args: list[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-c", LOADED.format(args=args)],
        env=shop.environment(),
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    loaded = done.stdout.rsplit("LOADED", 1)[1].split()
    assert "typer" in loaded
    assert not set(loaded) & set(HEAVY)


def test_a_command_in_a_pipe_loads_no_slow_extras(shop: Shop) -> None:
    """scipy.stats and matplotlib each cost more than all the rest together."""
    shop.started()
    code = LOADED.format(args=["next"]).replace('name.split(".")[0]', "name")
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=shop.environment(),
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    loaded = done.stdout.rsplit("LOADED", 1)[1].split()
    assert "sqlalchemy" in loaded
    assert not set(loaded) & {"scipy.stats", "scipy.optimize", "matplotlib", "alembic", *PAGE}


@pytest.mark.parametrize("what", ["bit", "stock", "machine"])
def test_a_process_of_its_own_knows_all_that_the_catalogue_can_do(what: str) -> None:
    """A command's module is imported when it is called: by the one that has all of a group."""
    told = subprocess.run(
        [sys.executable, "-m", "fitlog", what, "--help"],
        capture_output=True,
        text=True,
        check=True,
        env=os.environ | {"COLUMNS": "100"},
    ).stdout
    assert all(f"\n  {verb} " in told for verb in ("add", "edit", "list", "show", "retire"))
