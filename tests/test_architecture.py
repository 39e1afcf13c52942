"""The house: which part may know which, read from every import, those inside functions included."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from shop import ROOT

PACKAGE = ROOT / "fitlog"
FILES = sorted(PACKAGE.rglob("*.py"))
STDLIB = frozenset(sys.stdlib_module_names)
GROUND = ("errors", "domain", "defaults", "newfile", "language")
# What each part may import: parts of fitlog, and libraries beside the standard one.
MAY: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    **dict.fromkeys(GROUND, (GROUND, ())),
    "estimator": (("estimator", "defaults", "domain", "errors"), ("numpy", "scipy")),
    "families": (("families", "estimator", "advice", *GROUND), ("numpy",)),
    "advice": (("advice", "estimator", "families", *GROUND), ("numpy",)),
    "simulation": (("simulation", "advice", "estimator", "families", *GROUND), ("numpy",)),
    "log": (
        ("log", "domain", "errors", "newfile"),
        ("sqlmodel", "sqlalchemy", "pydantic", "alembic", "psycopg"),
    ),
    "document": (("log", "families", *GROUND), ()),
    "exchange": (("exchange", *GROUND), ()),
    "service": (
        ("service", "advice", "estimator", "exchange", "families", "log", "document", *GROUND),
        (),
    ),
    "render": (
        ("render", "advice", "fronts", "document", "families", "simulation", "log", *GROUND),
        ("rich", "matplotlib"),
    ),
    "shipped": ((), ()),
    "fronts": (
        (
            *("fronts", "render", "document", "exchange", "families", "simulation", "shipped"),
            *("log", "service", "__version__", *GROUND),
        ),
        ("typer", "rich"),
    ),
    "cli": (("fronts",), ()),
    "__init__": ((), ()),
    "__main__": (("fronts",), ()),
}


def part_of(path: Path) -> str:
    """The part of the house that a file belongs to."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imports(path: Path) -> Iterator[tuple[str, int]]:
    """Every module that a file imports, as an absolute name, with its line."""
    package = ["fitlog", *path.relative_to(PACKAGE).parent.parts]
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            name = ".".join([*base, *([node.module] if node.module else [])])
            if name == "fitlog":  # from . import x, from .. import x
                yield from ((f"fitlog.{alias.name}", node.lineno) for alias in node.names)
            else:
                yield name, node.lineno


def named(path: Path) -> str:
    return str(path.relative_to(PACKAGE))


def test_every_part_is_known() -> None:
    assert {part_of(path) for path in FILES} <= set(MAY)


@pytest.mark.parametrize("path", FILES, ids=named)
def test_dependencies_point_one_way(path: Path) -> None:
    parts, libraries = MAY[part_of(path)]
    for name, line in imports(path):
        top, *rest = name.split(".")
        if top == "fitlog":
            target = rest[0] if rest else "__init__"
            assert target in parts, f"line {line}: {part_of(path)} must not know {name}"
        else:
            assert top in STDLIB or top in libraries, (
                f"line {line}: {part_of(path)} must not need {name}"
            )


@pytest.mark.parametrize("path", FILES, ids=named)
def test_nobody_imports_click(path: Path) -> None:
    """typer brings a copy of its own: the click of the shop's Python may be another or none."""
    assert not [
        line for name, line in imports(path) if name.split(".")[0] == "click" or "_click" in name
    ]


def test_the_maths_never_meets_the_log() -> None:
    """The arrows again, followed through: nothing that the maths reaches, at any distance, is the
    log or the shell.
    """
    reached = {
        part: {
            n.split(".")[1]
            for p in FILES
            if part_of(p) == part
            for n, _ in imports(p)
            if n.startswith("fitlog.")
        }
        for part in MAY
    }

    def closure(part: str, seen: frozenset[str] = frozenset()) -> frozenset[str]:
        for other in reached.get(part, set()) - seen - {part}:
            seen = closure(other, seen | {other})
        return seen

    for part in ("families", "estimator", "advice", "simulation"):
        assert not closure(part) & {"log", "service", "document", "render", "fronts"}, part
    assert not closure("log") & {
        *("families", "estimator", "advice", "service", "render", "fronts"),
    }
    for part in GROUND:
        assert closure(part) <= set(GROUND), part
    assert not closure("service") & {"fronts", "render"}


@pytest.mark.parametrize(
    "path", [p for p in FILES if part_of(p) not in ("fronts", "render", "__main__")], ids=named
)
def test_only_the_shell_prints(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    calls = [n for n in ast.walk(tree) if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)]
    assert not [n.lineno for n in calls if n.func.id in ("print", "input")]  # type: ignore[attr-defined]
    assert "sys.stdout" not in path.read_text(
        encoding="utf-8"
    ) and "sys.stderr" not in path.read_text(encoding="utf-8")


@pytest.mark.parametrize("path", FILES, ids=named)
def test_files_and_functions_stay_short(path: Path) -> None:
    """At 100 columns; of a command the options, which are its signature, are not counted."""
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 380
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and node.end_lineno:
            length = node.end_lineno - node.body[0].lineno + 1
            assert length <= 60, f"{node.name} has {length} lines"


@pytest.mark.parametrize("path", FILES, ids=named)
def test_what_is_public_says_what_it_is(path: Path) -> None:
    """A protocol documents the methods of the classes that keep it."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert ast.get_docstring(tree) or not tree.body, "the module has no docstring"
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            assert ast.get_docstring(node), f"{node.name} has no docstring"


def test_no_path_of_a_developers_machine_is_in_the_package() -> None:
    for path in [*FILES, *(ROOT / "data").iterdir()]:
        text = path.read_bytes().decode("utf-8", "replace")
        assert not [
            word for word in ("/home/", "/root/", "/tmp/", "/work/", "C:\\Users") if word in text
        ], path
