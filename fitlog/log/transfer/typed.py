"""The columns of a row that comes from outside, each value of its column's type."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from functools import cache
from typing import Any

from sqlalchemy import Boolean, Column, Integer, Table
from sqlalchemy.types import REAL

from ...domain import clean_name, clean_text
from ...errors import Refused
from ..columns import LONGEST, Members
from .digesting import Values

_ID_MOST = 2**62
_TEXTS = {
    "by": "the name",
    "login": "the login",
    "value": "the preference",
    "species": "the species",
    "scrap": "the scrap",
    "heard": "what was said",
    "note": "the note",
    "joint": "the joint",
}
_NAMES = {"name": "it", "machine": "the machine"}


def values(table: Table, given: Values, known: frozenset[str] = frozenset()) -> Values:
    """Return the columns of a row, each of its type; what an older export lacks is what an upgrade
    would give it.
    """
    wanted = _readers(table, known)
    if not given.keys() <= wanted.keys():
        strange = min(map(str, given.keys() - wanted.keys()))
        raise Refused("bad-row", "the column {name!r} is not known", name=shown(strange))
    return {name: read(given.get(name, usual)) for name, (read, usual) in wanted.items()}


@cache
def _readers(table: Table, known: frozenset[str]) -> dict[str, tuple[Callable[[Any], Any], Any]]:
    """Return for each column what reads its value, and what it usually is."""
    columns = (column for column in table.columns if column.name not in known)
    # Plain names: those of a column take long to be put aside and read again.
    return {str(column.name): (_reader(column), _usual(column)) for column in columns}


def _usual(column: Column[Any]) -> Any:
    """Return what a column holds where an older export lacks it; None without such a value."""
    usual = getattr(column.server_default, "arg", None)
    return usual if usual is None or isinstance(usual, str) else int(str(usual))


def _reader(column: Column[Any]) -> Callable[[Any], Any]:
    """Return a function that gives a value of its column's type, and refuses another."""
    name, nullable = column.name, bool(column.nullable)
    typed: Callable[[str, Any], Any]
    if isinstance(column.type, Members):
        typed = _object
    elif isinstance(column.type, REAL):
        typed = _real
    elif isinstance(column.type, Integer | Boolean):
        flag = isinstance(column.type, Boolean) or "IN (0, 1)" in _check(column)
        typed = (
            _flag if flag else _number if name in ("id", "entry") or column.foreign_keys else _whole
        )
    else:
        typed = _text

    def read(value: Any) -> Any:
        if value is not None:
            return typed(name, value)
        if nullable:
            return None
        raise Refused("bad-row", "{name} is missing", name=name)

    return read


def _real(name: str, value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise Refused("bad-row", "{name} is no number", name=name)
    return float(value)


def _object(name: str, value: Any) -> dict[str, Any]:
    if not isinstance(value, dict) or len(json.dumps(value)) > LONGEST:
        raise Refused(
            "bad-row", "{name} is no object of at most {most} characters", name=name, most=LONGEST
        )
    return value


def _flag(name: str, value: Any) -> int:
    if not isinstance(value, int) or value not in (0, 1):
        raise Refused("bad-row", "{name} is no yes (1) or no (0)", name=name)
    return int(value)


def _whole(name: str, value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or abs(value) > _ID_MOST:
        raise Refused("bad-row", "{name} is no whole number", name=name)
    return value


def _number(name: str, value: Any) -> int:
    if _whole(name, value) < 1:
        raise Refused("bad-row", "{name} is no number of a row", name=name)
    return int(value)


def _text(name: str, value: Any) -> str:
    if not isinstance(value, str):
        raise Refused("bad-row", "{name} is no text", name=name)
    value.encode()  # half a character is none
    if name in _TEXTS:
        return clean_text(_TEXTS[name], value)
    return clean_name(_NAMES[name], value) if name in _NAMES else value


def _check(column: Column[Any]) -> str:
    checks = (getattr(constraint, "sqltext", "") for constraint in column.constraints)
    return " ".join(str(check) for check in checks)


def shown(text: object) -> str:
    """Return the beginning of what a file holds, as a sentence can show it."""
    return ascii(str(text)[:40])[1:-1]
