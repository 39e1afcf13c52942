"""A language that is English in brackets, made from the source: «Piece {n}» for "Piece {n}". What a
screen shows outside of them did not go through the language.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

from shop import ROOT
from typer.main import get_command

from fitlog.cli import app
from fitlog.domain.advice import Status

# What takes an English text and its values, with the first of its arguments that is one.
EXITS = {
    "tell": 0,
    "line": 0,
    "head": 0,
    "say": 0,
    "confirmed": 0,
    "table": 0,
    "Said": 0,
    "Limit": 0,
    "Taken": 2,
    "Clause": 0,
    "Doubt": 1,
    "positive": 0,
    "finite": 0,
    "optional_positive": 0,
    "board_size": 0,
    "clean_name": 0,
    "clean_text": 0,
    "within": 0,
    "parse_length": 1,
    "refuse_turns": 0,
    "believed": 1,
    "none_at_all": 0,
    "check_range": 3,
    "doubted": 1,
    "talk": 1,
    "counted": 1,
    "Refused": 1,
    "NotUnderstood": 1,
}
NO_TEXT = {"indent", "units"}  # what is named so is none
COUNTED = ("_NAMED", "_WHAT")  # lists of what is counted, one and, where it is odd, many
LANGUAGE = '''"""English in brackets."""

from . import english


def bracketed(told):
    """A sentence, in brackets."""
    return lambda *values, **named: f"«{{told(*values, **named)}}»"


SENTENCES = {{code: bracketed(told) for code, told in english.SENTENCES.items()}}
SHORT = {{code: told and bracketed(told) for code, told in english.SHORT.items()}}
NAMES: dict[str, str] = {{}}
TEXTS = {texts!r}
'''
OF_FAMILY = '''"""The family's own, in brackets."""

from ....language.brackets import bracketed
from .. import english
from ..faults.table import SYMPTOMS
from ..names import HALF_BLIND
from ..speech import SPEECH

_NAMES = {
    *(name for kind in HALF_BLIND.settings for name in (kind.noun, kind.part, *kind.ways)),
    *HALF_BLIND.aspects,
    *(kind.called for kind in HALF_BLIND.settings),
    *(kind.replace("_", " ") for kind in HALF_BLIND.readings),
    *(called for called, _ in SPEECH.numbers.values()),
    *SPEECH.remedies.values(),
    *SPEECH.when.values(),
    "many tails",
    *("Mark the boards", "Rabbet", "Tail boards", "Pin boards", "The fence"),
    *(text for symptom in SYMPTOMS for text in (symptom.title, symptom.size) if text),
}
SENTENCES = {code: bracketed(told) for code, told in english.SENTENCES.items()}
SHORT = {code: told and bracketed(told) for code, told in english.SHORT.items()}
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

    def measured(self, plan, settings, ruler):
        return {name: f"«{how}»" for name, how in super().measured(plan, settings, ruler).items()}

    def figures(self, plan, ruler):
        return tuple(f"«{figure}»" for figure in super().figures(plan, ruler))
'''


def of_language() -> str:
    """The module `language/brackets.py`."""
    texts = sorted({*written(), *helped(get_command(app)), *get_args(Status)})
    return LANGUAGE.format(texts={text: literally(text) for text in texts})


def literally(text: str) -> str:
    """A text whose own words are in brackets, and no value that is put into it."""
    parts = re.split(r"(\{[^{}]*\})", text)
    return "".join(part if i % 2 or not part else f"«{part}»" for i, part in enumerate(parts))


def written() -> Iterator[str]:
    """Every constant text that is given to one of EXITS, by the source."""
    for path in sorted((ROOT / "fitlog").rglob("*.py")):
        yield from of_file(path)


def of_file(path: Path) -> Iterator[str]:
    """The texts of one file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    put: dict[str, list[ast.expr]] = {}
    for each in ast.walk(tree):
        if isinstance(each, ast.Assign) and isinstance(each.targets[0], ast.Name):
            put.setdefault(each.targets[0].id, []).append(each.value)
    for call in ast.walk(tree):
        if not isinstance(call, ast.Call):
            continue
        name = getattr(call.func, "attr", getattr(call.func, "id", ""))
        if name not in EXITS:
            continue
        named = [k.value for k in call.keywords if k.arg not in NO_TEXT]
        told, named = (
            [text for part in parts for each in meant(part, put) for text in constants(each)]
            for parts in (call.args[EXITS[name] :], named)
        )
        yield from (text for text in (*told, *named) if re.search("[A-Za-z]", text))
        if name == "counted":  # many of a thing
            yield from (f"{text}s" for text in told)
    for node in (node for name in COUNTED for each in put.get(name, ()) for node in ast.walk(each)):
        if isinstance(node, ast.Constant):
            yield from (str(node.value), f"{node.value}s")


def meant(part: ast.expr, put: dict[str, list[ast.expr]]) -> list[ast.expr]:
    """What an argument may be: itself, or whatever is put into the name that it is, or is part of.

    put: what is put into each name of the file.
    """
    return put.get(getattr(getattr(part, "value", part), "id", ""), [part])


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
    while (less := re.sub("«[^«»]*»", " ", shown)) != shown:
        shown = less
    return shown
