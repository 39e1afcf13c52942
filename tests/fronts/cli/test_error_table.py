"""The table of errors in the README and the source say the same."""

from __future__ import annotations

import ast
import re
import signal

import errortable
import pytest
from shop import Shop

from fitlog import errors
from fitlog.fronts.bench.hung_up import HungUp
from fitlog.fronts.cli import shell

README = errortable.README.read_text(encoding="utf-8")
SECTION = errortable.section(README)
ROW = re.compile(r"^\| `([a-z0-9-]+)` \| ([12 or]+) \| (.+) \| (.+) \|$", re.MULTILINE)
ANY_CODE = re.compile(r"\b(?:Refused|NotUnderstood)\(\s*\"([a-z-]+)\"")


def in_table() -> dict[str, set[int]]:
    """The exit codes of every code in the README."""
    return {code: {int(e) for e in exits.split(" or ")} for code, exits, *_ in ROW.findall(SECTION)}


def in_source() -> dict[str, set[int]]:
    """The same by the syntax tree."""
    found: dict[str, set[int]] = {}
    for told in errortable.every():
        found.setdefault(told.code, set()).add(told.exit_code)
    return found


def test_every_error_of_the_source_is_in_the_readme_and_the_other_way_round() -> None:
    """A code that is missing here: python tests/support/errortable.py --write"""
    assert in_table() == in_source()
    assert len(in_source()) > 100


def test_every_row_says_when_and_what_to_do_once() -> None:
    rows = ROW.findall(SECTION)
    assert len(rows) == len({code for code, *_ in rows})
    for code, _, when, remedy in rows:
        assert when.strip() and remedy.strip(), code
        assert "{" not in when + remedy, code
        assert when.replace("...", "").strip(), code


def test_nothing_that_plain_text_shows_escapes_the_tree() -> None:
    """An independent look at the source: a regular expression over its text."""
    source = "\n".join(
        path.read_text(encoding="utf-8") for path in sorted(errortable.PACKAGE.rglob("*.py"))
    )
    written = set(ANY_CODE.findall(source))
    assert len(written) > 100 and written <= in_source().keys()


def test_codes_are_written_out_or_known() -> None:
    """No error takes its code from a variable, except those that pass on another's; what is made up
    is made of known parts.
    """
    strange = [
        told for told in errortable.every() if not re.fullmatch(r"[a-z][a-z0-9-]+", told.code)
    ]
    assert not strange
    kinds: set[str] = set()
    for path in errortable.PACKAGE.rglob("*.py"):
        for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(call, ast.Call) or ast.unparse(call).startswith("shelf.only("):
                continue  # what is handed to `_one` is seen there
            if getattr(call.func, "attr", "") == "only":
                shelf = call.func.value  # type: ignore[attr-defined]
            elif getattr(call.func, "id", "") == "_one":
                shelf = call.args[0]
            else:
                continue
            assert isinstance(shelf, ast.Attribute), ast.unparse(call)
            kinds.add(f"no-{shelf.attr.removesuffix('s')}")
    assert kinds == set(errortable.MADE["no-{kind}"])


def test_no_other_error_is_known_to_the_shell() -> None:
    assert {kind.__name__ for kind in errors.FitlogError.__subclasses__()} == set(errortable.EXITS)
    assert not any(kind.__subclasses__() for kind in errors.FitlogError.__subclasses__())
    assert {
        kind.__name__: kind.exit_code for kind in errors.FitlogError.__subclasses__()
    } == errortable.EXITS


def test_exit_codes_of_the_shell_are_in_the_readme() -> None:
    """128 and the number of the signal, as POSIX shells do: SIGHUP 1, SIGINT 2, SIGTERM 15."""
    said = {int(code) for code in re.findall(r"^\| (\d+) \| ", SECTION, re.MULTILINE)}
    assert said == {
        0,
        errors.REFUSED,
        errors.NOT_UNDERSTOOD,
        shell.INTERRUPTED,
        128 + signal.SIGHUP,
        128 + signal.SIGTERM,
    }
    assert (
        shell.INTERRUPTED == 128 + signal.SIGINT and HungUp(signal.SIGHUP).number == signal.SIGHUP
    )


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("next", "no-log"),
        ("cut twelve", "no-log"),
        ("nonsense", "usage"),
        ("next --nonsense", "usage"),
    ],
)
def test_an_error_met_is_the_one_in_the_table(shop: Shop, line: str, code: str) -> None:
    (exit_code,) = in_table()[code]
    assert shop.words(f"{line} --json", code=exit_code).document["error"]["code"] == code


def test_rewriting_the_section_changes_nothing_else() -> None:
    for rest in ("", "\n## The log\n\nOne file.\n"):
        around = f"# A\n\ntext\n\n{errortable.HEADING}\n\nSTALE\n{rest}"
        new = errortable.written(around)
        assert (
            new.startswith("# A\n\ntext\n\n")
            and new.endswith(rest)
            and errortable.table() in new
            and "STALE" not in new
        )
        assert errortable.written(new) == new
    assert errortable.written("# A\n") == f"# A\n\n{errortable.table()}"
