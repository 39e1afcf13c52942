"""The table of errors that `fitlog errors` shows and the source say the same."""

from __future__ import annotations

import ast
import json
import re
import signal

import errortable
import pytest
from shop import Shop

from fitlog import errors
from fitlog.fronts.bench.hung_up import HungUp
from fitlog.fronts.cli import shell

ROWS = json.loads(errortable.DATA.read_text(encoding="utf-8"))
README = (errortable.ROOT / "README.md").read_text(encoding="utf-8")
ANY_CODE = re.compile(r"\b(?:Refused|NotUnderstood)\(\s*\"([a-z-]+)\"")


def in_table() -> dict[str, set[int]]:
    """The exit codes of every code in the table."""
    return {row["code"]: {*row["exit"]} for row in ROWS}


def in_source() -> dict[str, set[int]]:
    """The same by the syntax tree."""
    found: dict[str, set[int]] = {}
    for told in errortable.every():
        found.setdefault(told.code, set()).add(told.exit_code)
    return found


def test_every_error_of_the_source_is_in_the_table_and_the_other_way_round() -> None:
    """A code that is missing here: python tests/support/errortable.py --write"""
    assert errortable.rows() == ROWS
    assert in_table() == in_source()
    assert len(in_source()) > 100


def test_every_row_says_when_and_what_to_do_once() -> None:
    assert len(ROWS) == len(in_table())
    for row in ROWS:
        code, when, remedy = row["code"], row["when"], row["remedy"]
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
    said = {int(code) for code in re.findall(r"^\| (\d+) \| ", README, re.MULTILINE)}
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


def test_errors_shows_the_table_and_one_row_of_it(shop: Shop) -> None:
    """Without a log: who meets a refusal may have none."""
    assert shop.words("errors --json").document == {"errors": ROWS}
    every = shop.words("errors").out
    assert all(f"{row['code']} (" in every for row in ROWS)
    one = shop.words("errors no-lap")
    assert (
        "no-lap (exit 1): a bit height that leaves no lap" in one.out and "no-room" not in one.out
    )
    assert shop.words("errors no-lap --json").document["errors"] == [
        row for row in ROWS if row["code"] == "no-lap"
    ]
    assert "unknown-error" in shop.words("errors nolap --json", code=2).out
