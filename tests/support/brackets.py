"""A language that is English in brackets, made from the source: «Piece {n}» for "Piece {n}". What a
screen shows outside of them did not go through the language.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from shop import ROOT
from typer.main import get_command

from fitlog.cli import app

# What takes an English text and its values, with the first of its arguments that is one.
EXITS = {
    "tell": 0,
    "line": 0,
    "head": 0,
    "say": 0,
    "confirmed": 0,
    "table": 0,
    "Said": 0,
    "talk": 1,
    "counted": 1,
    "Refused": 1,
    "NotUnderstood": 1,
}
LANGUAGE = '''"""English in brackets."""

from . import english


def bracketed(told):
    """A sentence, in brackets."""
    return lambda *values, **named: f"«{{told(*values, **named)}}»"


SENTENCES = {{code: bracketed(told) for code, told in english.SENTENCES.items()}}
NAMES: dict[str, str] = {{}}
TEXTS = {texts!r}
'''
OF_FAMILY = '''"""The family's own, in brackets."""

from ....language.brackets import bracketed
from .. import english
from ..faults.table import SYMPTOMS
from ..names import HALF_BLIND

_NAMES = {
    *(name for kind in HALF_BLIND.settings for name in (kind.noun, kind.part, *kind.ways)),
    *HALF_BLIND.aspects,
    *("Mark the boards", "Rabbet", "Tail boards", "Pin boards", "The fence"),
    *(text for symptom in SYMPTOMS for text in (symptom.title, symptom.size) if text),
}
SENTENCES = {code: bracketed(told) for code, told in english.SENTENCES.items()}
NAMES = english.NAMES
TEXTS = {name: f"«{name}»" for name in _NAMES}
'''
SCREENS = '''"""The family's screens, in brackets."""

from ..english.screens import Own as English


class Own(English):
    """What the screens of `SHOWN` are made with."""

    def misfit(self, aspect):
        return f"«{super().misfit(aspect)}»"

    def teaching(self, ruler):
        return f"«{super().teaching(ruler)}»"
'''


def of_language() -> str:
    """The module `language/brackets.py`."""
    texts = sorted({*written(), *helped(get_command(app))})
    return LANGUAGE.format(texts={text: f"«{text}»" for text in texts})


def written() -> Iterator[str]:
    """Every constant text that is given to one of EXITS, by the source."""
    for path in sorted((ROOT / "fitlog").rglob("*.py")):
        yield from of_file(path)


def of_file(path: Path) -> Iterator[str]:
    """The texts of one file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    lists = {
        each.targets[0].id: each.value
        for each in ast.walk(tree)
        if isinstance(each, ast.Assign) and isinstance(each.targets[0], ast.Name)
    }
    for call in ast.walk(tree):
        if not isinstance(call, ast.Call):
            continue
        name = getattr(call.func, "attr", getattr(call.func, "id", ""))
        if name not in EXITS:
            continue
        given = [
            lists.get(getattr(getattr(a, "value", a), "id", ""), a)
            for a in call.args[EXITS[name] :]
        ]
        told = [text for part in given for text in constants(part)]
        named = [text for k in call.keywords if k.arg != "indent" for text in constants(k.value)]
        yield from (text for text in (*told, *named) if re.search("[A-Za-z]", text))
        if name == "counted":  # many of a thing
            yield from (f"{text}s" for text in told)


def constants(node: ast.expr) -> Iterator[str]:
    """The texts that an argument may be."""
    match node:
        case ast.Constant(value=str(text)):
            yield text
        case ast.IfExp(body=one, orelse=other):
            yield from (*constants(one), *constants(other))
        case (
            ast.Dict(values=parts)
            | ast.BoolOp(values=parts)
            | ast.List(elts=parts)
            | ast.Tuple(elts=parts)
        ):
            yield from (text for part in parts for text in constants(part))


def helped(command: Any) -> Iterator[str]:
    """The help of a command, of its options and of its own commands."""
    yield from (each.help for each in (command, *command.params) if getattr(each, "help", None))
    for part in getattr(command, "commands", {}).values():
        yield from helped(part)


def outside(shown: str) -> str:
    """What of a screen is in no brackets."""
    while (less := re.sub("«[^«»]*»", "", shown)) != shown:
        shown = less
    return shown
