"""The house: which part may know which, read from every import, those inside functions included."""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

from shop import ROOT

from fitlog.families.half_blind.names import HALF_BLIND
from fitlog.fronts.cli import COMMANDS

PACKAGE = ROOT / "fitlog"
FILES = sorted(PACKAGE.rglob("*.py"))
STDLIB = frozenset(sys.stdlib_module_names)
GROUND = ("texts", "errors", "domain", "defaults", "newfile", "language", "names")
PAGE = ("starlette", "uvicorn", "h11", "jinja2", "markupsafe", "segno")  # of fronts/page alone
# What each part may import: parts of fitlog, and libraries beside the standard one.
MAY: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    **dict.fromkeys(GROUND, (GROUND, ())),
    "texts": (("texts",), ()),
    "errors": (("texts",), ()),
    "domain": (("domain", "defaults", "errors", "texts"), ()),
    "names": (("names", "domain", "errors"), ()),
    "estimator": (("estimator", "defaults", "domain", "errors"), ("numpy", "scipy")),
    "families": (("families", "estimator", "advice", *GROUND), ("numpy",)),
    "advice": (("advice", "estimator", "families", *GROUND), ("numpy",)),
    "simulation": (("simulation", "advice", "estimator", "families", *GROUND), ("numpy",)),
    "log": (
        ("log", "domain", "errors", "names", "newfile", "texts"),
        ("sqlmodel", "sqlalchemy", "pydantic", "alembic", "psycopg"),
    ),
    "document": (("families", *GROUND), ()),
    "exchange": (("exchange", *GROUND), ()),
    "service": (
        (
            *("service", "advice", "estimator", "exchange", "families", "simulation", "log"),
            *("document", *GROUND),
        ),
        (),
    ),
    "render": (
        (
            *("render", "service", "advice", "fronts", "document", "families", "simulation"),
            *("log", *GROUND),
        ),
        ("rich", "matplotlib"),
    ),
    "shipped": ((), ()),
    "fronts": (
        (
            *("fronts", "render", "document", "exchange", "families", "simulation", "shipped"),
            *("log", "service", "__version__", *GROUND),
        ),
        ("typer", "rich", *PAGE),
    ),
    "cli": (("fronts",), ()),
    "__init__": ((), ()),
    "__main__": (("fronts",), ()),
}


@cache
def parsed(path: Path) -> ast.Module:
    """A file's syntax, read once for all the tests that look at it."""
    return ast.parse(path.read_text(encoding="utf-8"))


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    """All that is in a file, walked once."""
    return tuple(ast.walk(parsed(path)))


def part_of(path: Path) -> str:
    """The part of the house that a file belongs to."""
    return part_named(path.relative_to(PACKAGE).with_suffix("").parts)


def part_named(parts: Sequence[str]) -> str:
    """The part of a module below the package: what a family only declares lies on the ground."""
    return "names" if parts[0] == "families" and parts[-1] in ("names", "plan") else parts[0]


def imports(path: Path, root: Path = PACKAGE) -> Iterator[tuple[str, int]]:
    """Every module that a file imports, as an absolute name, with its line."""
    package = ["fitlog", *path.relative_to(root).parent.parts]
    for node in nodes(path):
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


def test_developers_draws_the_arrows_that_are_allowed() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    drawn = {
        part: set(known.split(", ")) - {"the ground alone"}
        for part, known in re.findall(r"^(\w+) +-> (.+)$", text, re.M)
    }
    beside = {*GROUND, "shipped", "__version__"}
    allowed = {part: set(known) - beside - {part} for part, (known, _) in MAY.items()}
    small = {*GROUND, "shipped", "cli", "__init__", "__main__"}
    assert drawn == {part: known for part, known in allowed.items() if part not in small}


def test_every_part_is_known() -> None:
    assert {part_of(path) for path in FILES} <= set(MAY)


def test_dependencies_point_one_way() -> None:
    for path in FILES:
        parts, libraries = MAY[part_of(path)]
        for name, line in imports(path):
            top, *rest = name.split(".")
            if top == "fitlog":
                target = part_named(rest) if rest else "__init__"
                assert target in parts, f"{path}:{line}: {part_of(path)} must not know {name}"
            else:
                assert top in STDLIB or top in libraries, (
                    f"{path}:{line}: {part_of(path)} must not need {name}"
                )
                assert top not in PAGE or "page" in path.parts, f"{path}:{line}: {name}"


def module(path: Path) -> str:
    """The dotted name that a file is imported by."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {module(path): path for path in FILES}


def needed(path: Path) -> Iterator[str]:
    """Every file of the house that a file imports, wherever the import stands in it."""
    package = ["fitlog", *path.relative_to(PACKAGE).parent.parts]
    for node in nodes(path):
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            from_ = ".".join([*base, *([node.module] if node.module else [])])
            whole = (f"{from_}.{alias.name}" for alias in node.names)
            names = [name if name in MODULES else from_ for name in whole]
        yield from (name for name in names if name in MODULES and name != module(path))


def cycles(edges: dict[str, set[str]]) -> list[list[str]]:
    """The sets of names that reach one another (Tarjan 1972), each in order."""
    number: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    found: list[list[str]] = []

    def visit(name: str) -> None:
        number[name] = low[name] = len(number)
        stack.append(name)
        for other in sorted(edges[name]):
            if other not in number:
                visit(other)
            if other in stack:
                low[name] = min(low[name], low[other])
        if low[name] == number[name]:
            at = stack.index(name)
            if len(stack) - at > 1 or name in edges[name]:
                found.append(sorted(stack[at:]))
            del stack[at:]

    for name in edges:
        if name not in number:
            visit(name)
    return found


def test_a_cycle_is_found() -> None:
    edges = {"a": {"b"}, "b": {"c", "d"}, "c": {"a"}, "d": {"e"}, "e": set[str](), "f": {"f"}}
    assert cycles(edges) == [["a", "b", "c"], ["f"]]
    assert cycles({"a": {"b", "c"}, "b": {"c"}, "c": set()}) == []


def test_no_file_needs_itself_round_about() -> None:
    """An import inside a function or for a type alone is a need, too."""
    edges = {name: set(needed(path)) for name, path in MODULES.items()}
    assert "fitlog.log.sqlite.files" in edges["fitlog.log.opening"]  # lazy
    assert cycles(edges) == []


def test_nobody_imports_click() -> None:
    """typer brings a copy of its own: the click of the shop's Python may be another or none."""
    for path in FILES:
        for name, line in imports(path):
            assert name.split(".")[0] != "click" and "_click" not in name, f"{path}:{line}"


def test_the_maths_never_meets_the_log() -> None:
    """The arrows again, followed through: nothing that the maths reaches, at any distance, is the
    log or the shell.
    """
    reached = {
        part: {
            part_named(n.split(".")[1:])
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


def test_only_the_shell_prints() -> None:
    for path in [p for p in FILES if part_of(p) not in ("fronts", "render", "__main__")]:
        for node in nodes(path):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                assert node.func.id not in ("print", "input"), f"{path}:{node.lineno}"
        text = path.read_text(encoding="utf-8")
        assert "sys.stdout" not in text and "sys.stderr" not in text, path


# Under 300 lines at 128 columns, over it at 100: none of these may grow, and none be added.
STILL_LONG = {
    "log/transfer/merging.py": 317,
    "service/bench.py": 375,
}


def test_no_file_that_was_cut_short_is_still_called_long() -> None:
    for name in STILL_LONG:
        assert len((PACKAGE / name).read_text(encoding="utf-8").splitlines()) > 300, name


def test_files_and_functions_stay_short() -> None:
    """At 100 columns; of a command the options, which are its signature, are not counted."""
    for path in FILES:
        text = path.read_text(encoding="utf-8")
        assert len(text.splitlines()) <= STILL_LONG.get(named(path), 300), path
        for node in nodes(path):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and node.end_lineno:
                length = node.end_lineno - node.body[0].lineno + 1
                assert length <= 50, f"{path}: {node.name} has {length} lines"


def test_what_is_public_says_what_it_is() -> None:
    """A protocol documents the methods of the classes that keep it."""
    for path in FILES:
        tree = parsed(path)
        assert ast.get_docstring(tree) or not tree.body, f"{path} has no docstring"
        for node in tree.body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
                assert ast.get_docstring(node), f"{path}: {node.name} has no docstring"


def test_no_path_of_a_developers_machine_is_in_the_package() -> None:
    for path in [*FILES, *(ROOT / "data").iterdir()]:
        text = path.read_bytes().decode("utf-8", "replace")
        assert not [
            word for word in ("/home/", "/root/", "/tmp/", "/work/", "C:\\Users") if word in text
        ], path


# What the half-blind dovetail alone has, by its own declaration: settings, aspects, places of gaps,
# readings.
ITS_OWN = {*HALF_BLIND.names, *HALF_BLIND.aspects, *HALF_BLIND.faults[:-1], *HALF_BLIND.readings}
# Who may name them: the families, the words of the language, the layouts of old logs; that family's
# own screens and drawings.
AT_HOME = ("families/", "language/", "log/migrations/", "render/half_blind/")
# A file elsewhere that may say one word, with its reason.
SAYS = {
    # The share of simulated boards that come out inside all windows: a key of the stable JSON and
    # the column's head, no place of a gap.
    "render/documents/rehearsal.py": {"inside"},
    "render/rehearsal.py": {"inside"},
}


def spoken(tree: ast.Module) -> Iterator[str]:
    """Every name and every string constant of a file, docstrings left out."""
    docstrings = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        match node:
            case ast.Constant(value=str(text)) if id(node) not in docstrings:
                yield text
            case ast.Name(id=name) | ast.Attribute(attr=name) | ast.arg(arg=name):
                yield name
            case ast.keyword(arg=str(name)):
                yield name
            case ast.FunctionDef(name=name) | ast.ClassDef(name=name):
                yield name
            case ast.alias(name=name, asname=other):
                yield from (name, other or name)


def test_what_is_spoken_is_heard() -> None:
    source = '''
"""fit"""
def mouth(seat, *, centre=flank): "walls"
from a import baseline as inside
a.bit_height(fence_offset="socket_depth", **{"over_rods": [f"{x} fit"]})
'''
    heard = set(spoken(ast.parse(source)))
    assert heard & ITS_OWN == {
        *("mouth", "seat", "centre", "flank", "baseline", "inside", "bit_height", "fence_offset"),
        *("socket_depth", "over_rods"),
    }


ELSEWHERE = [path for path in FILES if not named(path).startswith(AT_HOME)]


def test_a_family_is_named_in_its_own_room_alone() -> None:
    for path in ELSEWHERE:
        words = set(spoken(parsed(path)))
        assert words & ITS_OWN == SAYS.get(named(path), set()), path
        assert not words & {"half_blind", "dovetail", HALF_BLIND.name}, path
        at_it = [line for name, line in imports(path) if "half_blind" in name.split(".")]
        assert not at_it, path


TESTS = ROOT / "tests"
BESIDE = ("support", "oracles", "benchmarks")


def test_the_tests_mirror_the_tree() -> None:
    """A test of fitlog/a/b lies in tests/a/b; what the tests share lies beside them."""
    for path in TESTS.rglob("test_*.py"):
        folder = path.parent.relative_to(TESTS)
        assert folder.parts[:1] in [(name,) for name in BESIDE] or (PACKAGE / folder).is_dir(), path


def test_no_test_imports_a_test() -> None:
    for path in TESTS.rglob("*.py"):
        names = [name for name, _ in imports(path, TESTS)]
        assert not [name for name in names if name.split(".")[-1].startswith("test_")], path


CLI = PACKAGE / "fronts" / "cli"


def commands() -> Iterator[tuple[str, ast.FunctionDef]]:
    """Every command: registered by a decorator, or a value of the table of commands."""
    listed = {made.split(".")[1] for made in COMMANDS.values()}
    for path in sorted(CLI.glob("*.py")):
        for node in nodes(path):
            if not isinstance(node, ast.FunctionDef):
                continue
            made_by = {ast.unparse(one).split("(")[0] for one in node.decorator_list}
            if node.name in listed or any(name.endswith("app.command") for name in made_by):
                yield f"{path.name} {node.name}", node


def test_a_command_reads_calls_and_shows() -> None:
    """At most 25 lines beside its options and its help: rules are the reader's and the use
    cases'.
    """
    found = dict(commands())
    assert len(found) > 40
    for name, node in found.items():
        body = node.body[1:] if ast.get_docstring(node) else node.body
        first = node.body[0].end_lineno or 0 if body is not node.body else body[0].lineno - 1
        assert (node.end_lineno or 0) - first <= 25, name


def test_fronts_see_no_log_and_read_no_text() -> None:
    """What looks after the log's own file is the log's; all else is a use case. Only the reader
    turns text into values.
    """
    fronts = [path for path in FILES if part_of(path) == "fronts"]
    seen = {path.name for path in fronts for n, _ in imports(path) if n.startswith("fitlog.log")}
    assert seen == {"log.py", "roles.py"}
    readers = ("parse_length", "parse_phrases", "check_range")
    for path in fronts:
        text = path.read_text(encoding="utf-8")
        assert not [word for word in (*readers, "locals()") if word in text], path
