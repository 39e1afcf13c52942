"""Every refusal is a text with its values by name, so that it can be told in another language."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from string import Formatter

import pytest
from shop import ROOT

from fitlog import texts
from fitlog.domain.family import listed
from fitlog.errors import nearest

PACKAGE = ROOT / "fitlog"
# The folders and files of the package whose refusals are such texts.
ROOMS = (
    *("log", "exchange", "newfile", "document.py", "domain", "advice", "estimator"),
    *("language", "service", "families", "simulation"),
)
REFUSALS = ("Refused", "NotUnderstood")
MAKERS = ("doubted", "_unread")  # they take a text and its values, and make the refusal
TAKEN = {"text"}  # `tell` has a parameter of that name


def complaints(source: str) -> Iterator[str]:
    """What is wrong with the refusals and the texts of a file, a sentence each."""
    tree = ast.parse(source)
    functions = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]
    for call in (node for node in ast.walk(tree) if isinstance(node, ast.Call)):
        name = getattr(call.func, "id", "")
        if name not in (*REFUSALS, *MAKERS, "tell"):
            continue
        around = [f for f in functions if f.lineno <= call.lineno <= (f.end_lineno or 0)]
        if any(f.name in MAKERS for f in around):
            continue
        top = [node for node in tree.body if not isinstance(node, ast.FunctionDef)]
        scope = ast.Module([*top, *around], [])
        given = {"tell": call.args[:1], "doubted": call.args[1:2], "_unread": call.args[:3]}.get(
            name, call.args[1:4]
        )
        found = [templates(node, scope) for node in given]
        if None in found:
            if name != "tell":  # what `tell` is given may come from a catalogue
                yield f"line {call.lineno}: a text is put together, or comes from elsewhere"
            continue
        named = {keyword.arg for keyword in call.keywords}
        holes = {hole for texts in found for text in texts or () for hole in holes_of(text)}
        if named & TAKEN:
            yield f"line {call.lineno}: no value may be called {named & TAKEN}"
        if None not in named and holes != named:
            yield f"line {call.lineno}: {holes ^ named} is only in the text, or only a value"


def templates(
    node: ast.expr, scope: ast.AST, through: frozenset[str] = frozenset()
) -> list[str] | None:
    """The texts that an expression may be: a constant, a choice of such, or a name of one; None for
    anything else, and for a name that is put from itself, which may have been put together.

    through: the names that led here.
    """
    match node:
        case ast.Constant(value=str(text)):
            return [text]
        case ast.IfExp(body=one, orelse=other):
            parts = [one, other]
        case ast.Name(id=name) if name not in through:
            through, parts = through | {name}, put(name, scope)
        case ast.Subscript(value=ast.Name(id=name)) if name not in through:
            through, parts = (
                through | {name},
                [
                    value
                    for made in put(name, scope)
                    if isinstance(made, ast.Dict)
                    for value in made.values
                ],
            )
        case _:
            return None
    found = [templates(part, scope, through) for part in parts]
    if not found or None in found:
        return None
    return [text for texts in found for text in texts or ()]


def put(name: str, scope: ast.AST) -> list[ast.expr]:
    """What is put into a name, at the top of a file or in the functions around a call."""
    found: list[ast.expr] = []
    for node in ast.iter_child_nodes(scope):
        for one in ast.walk(node) if isinstance(node, ast.FunctionDef) else [node]:
            match one:
                case ast.Assign(targets=targets, value=value):
                    into = targets
                case ast.AnnAssign(target=target, value=ast.expr() as value):
                    into = [target]
                case ast.NamedExpr(target=target, value=value):
                    into = [target]
                case ast.AugAssign(target=target):
                    into, value = [target], target  # from itself
                case _:
                    continue
            if any(isinstance(each, ast.Name) and each.id == name for each in into):
                found.append(value)
    return found


def holes_of(text: str) -> set[str]:
    """The names in braces of a text."""
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


@pytest.mark.parametrize("room", ROOMS)
def test_a_refusal_is_a_text_with_its_values_by_name(room: str) -> None:
    files = [p for p in (PACKAGE / room, *(PACKAGE / room).rglob("*.py")) if p.suffix]
    files = [path for path in files if not {"versions", "english"} & {*path.parts}]
    assert files
    assert not [
        f"{path.relative_to(PACKAGE)}: {wrong}"
        for path in files
        for wrong in complaints(path.read_text(encoding="utf-8"))
    ]


@pytest.mark.parametrize(
    ("source", "wrong"),
    [
        ('Refused("c", "no {name}", "take {other}", name=1, other=2)', 0),
        ('Refused("c", "no {name!r}" if x else "none", "{n:.2f}", name=1, n=2.0)', 0),
        ('T = {"a": "no {name}"}\nRefused("c", T[x], name=1)', 0),
        ('def f():\n    said = "no {name}"\n    raise Refused("c", said, name=1)', 0),
        ('Refused("c", "no {name}", **values)', 0),
        ('tell("no {name}", name=1)', 0),
        ('Refused("c", f"no {name}")', 1),
        ('NotUnderstood("c", "no", f"take {name}")', 1),
        ('Refused("c", "no", "--name {name}", "take {name}", name=1)', 0),
        ('Refused("c", "no", "", f"take {name}")', 1),
        ('Refused("c", "no", "", "take {name}")', 1),
        ('Refused("c", "no " + name)', 1),
        ('Refused("c", error.message)', 1),
        ('def f(hint):\n    return Refused("c", "no", hint)', 1),
        ('def f():\n    said = f"no {name}"\n    raise Refused("c", said)', 1),
        ('def f():\n    said = "no"\n    said = said if x else "none"\n    Refused("c", said)', 1),
        ('def f():\n    said = other\n    other = said\n    raise Refused("c", said)', 1),
        ('def f():\n    said = "no"\n    said += name\n    raise Refused("c", said)', 1),
        ('T = {"a": f"no {name}"}\nRefused("c", T[x], name=1)', 1),
        ('Refused("c", "no {name}")', 1),
        ('Refused("c", "no {name}", name=1, other=2)', 1),
        ('Refused("c", "no {text}", text=1)', 1),
        ('tell("no {name}", nmae=1)', 1),
        ('doubted("c", "no {name}", meant, {}, name=1)', 0),
        ('doubted("c", f"no {name}", meant, {})', 1),
        ('doubted("c", "no {name}", meant, {}, nmae=1)', 1),
    ],
)
def test_a_text_put_together_or_a_value_without_its_name_is_seen(source: str, wrong: int) -> None:
    assert len(list(complaints(source))) == wrong


def test_a_value_is_told_too_unless_it_is_to_be_typed(monkeypatch: pytest.MonkeyPatch) -> None:
    known = {"say {word}": "sag {word}", "gap": "Spalt", " or ": " oder "}
    monkeypatch.setattr(texts, "_texts", lambda: known)
    assert texts.tell("say {word}", word="gap") == "sag Spalt"
    assert texts.tell("say {word}", word=texts.AsTyped("gap")) == "sag gap"
    assert texts.tell("say {word}", word=listed(("gap",))) == "sag gap"
    assert listed(("fit", "gap")) == "fit oder gap"
    assert nearest("gaap", ("gap",)) == "did you mean gap?"
