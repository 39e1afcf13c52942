"""A refusal's texts are constants, since English is their key; what they name is among the
values."""

from __future__ import annotations

import ast
from pathlib import Path
from string import Formatter

import pytest

import fitlog

HOUSE = Path(fitlog.__file__).parent
ROOMS = ("domain", "advice", "estimator")


def _refusals(path: Path) -> list[ast.Call]:
    """Return the calls in a file that make a refusal."""
    return [
        node
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in ("Refused", "NotUnderstood")
    ]


def _names(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


def wrong(call: ast.Call) -> str:
    """Return what is wrong with the texts of a refusal; "" for nothing."""
    texts = call.args[1:]
    if any(isinstance(text, ast.JoinedStr | ast.BinOp) for text in texts):
        return "a text is put together"
    given = {keyword.arg for keyword in call.keywords}
    if not given or None in given:
        return ""
    if not all(isinstance(text, ast.Constant) for text in texts):
        return "" if any(isinstance(text, ast.IfExp) for text in texts) else "no constant text"
    named = set().union(*(_names(text.value) for text in texts if isinstance(text, ast.Constant)))
    return "" if named == given else f"named {sorted(named)}, given {sorted(map(str, given))}"


@pytest.mark.parametrize("room", ROOMS)
def test_refusals_have_constant_texts_with_values_by_name(room: str) -> None:
    found = {
        f"{path.relative_to(HOUSE)}:{call.lineno}": told
        for path in sorted((HOUSE / room).rglob("*.py"))
        for call in _refusals(path)
        if (told := wrong(call))
    }
    assert not found


@pytest.mark.parametrize(
    "source",
    [
        'Refused("a", f"b {c}")',
        'Refused("a", "b " + c)',
        'Refused("a", "{b}", c=1)',
        'Refused("a", b, b=1)',
        'Refused("a", "b", c=1)',
    ],
)
def test_a_text_that_is_put_together_is_found(source: str) -> None:
    call = ast.parse(source, mode="eval").body
    assert isinstance(call, ast.Call) and wrong(call)
