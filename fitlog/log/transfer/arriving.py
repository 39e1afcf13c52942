"""Rows that come from outside: their columns and types checked, then rebuilt as values of the
domain, which refuse nonsense.

What passes here a front door of fitlog could have stored. Errors name the row by its number in the
file.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from types import SimpleNamespace
from typing import Any

from sqlalchemy import Boolean, Column, Integer, Table
from sqlalchemy.types import REAL

from ...domain import Bit, Machine, Stock, clean_name, clean_text
from ...errors import FitlogError, Refused
from ...families.names import FAMILIES
from ...texts import tell
from .. import digests, named, parts, rows
from ..columns import LONGEST, Members
from ..migrations import earlier
from ..schema import ADVICE, ENTRY, KINDS
from .bulk import CHAINED, FIRST, MEASURED, PARTS, SAID, Values, said

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
_TABLES = {table.name: table for table in FIRST}
Shelf = dict[str, dict[int, Any]]


class Arrivals:
    """Checks rows one after another. `shelf`: the bits, stocks and machines met so far, by kind and
    number.
    """

    def __init__(self) -> None:
        self.shelf: Shelf = {"bit": {}, "stock": {}, "machine": {}}
        self.number = 0
        self._joints: dict[int, str] = {}  # of the set-ups that were started so far
        self._before = dict.fromkeys((table.name for table in CHAINED), "")

    def checked(self, kind: str, given: Values) -> Values:
        """Return the row as it may be stored; raises Refused "bad-row" for what the domain would
        refuse.
        """
        self.number += 1
        try:
            row = self._checked(kind, earlier.as_today(kind, given))
            self._vouched(kind, given)
            return row
        except FitlogError as error:
            raise self.refused(kind, error.message) from error
        except (
            KeyError,
            TypeError,
            ValueError,
            AttributeError,
            OverflowError,
            RecursionError,
        ) as error:
            why = tell("it makes no sense ({error})", error=type(error).__name__)
            raise self.refused(kind, why) from error

    def refused(self, kind: str, why: str) -> Refused:
        """Return the refusal of the row just looked at; why: a text of its own."""
        return Refused(
            "bad-row",
            "row {number} ({kind}): {why}",
            "correct the row, or export the log again where it came from",
            number=self.number,
            kind=_shown(kind),
            why=why,
        )

    def _vouched(self, kind: str, given: Values) -> None:
        """Refuse a row that its digest says is not the one that was exported, or not after the one
        before; one without a digest, of an older export, is taken.
        """
        digest = given.get("digest")
        if digest is not None:
            wanted = digests.chained(self._before.get(kind, ""), said(kind, given))
            if str(digest).removeprefix(digests.LATER) != wanted:
                raise Refused(
                    "bad-row", "it is not as it was written, or one before it is gone", ""
                )
        if kind in self._before:
            self._before[kind] = str(digest or "")

    def _checked(self, kind: str, given: Values) -> Values:
        if kind == "entry":
            return self._entry(given)
        if kind == "advice":
            row = _values(ADVICE, given)
            _moment(row)
            if (joint := self._joints.get(row["setup"])) is not None:
                family = named.family_named(joint, row["settings"])
                row["settings"] = rows.members(named.settings_of(family, row["settings"]))
            if not isinstance(json.loads(row["document"], parse_constant=_no_constant), dict):
                raise ValueError
            return row
        if kind not in _TABLES:
            raise Refused("bad-row", "this kind is not known")
        row = _values(_TABLES[kind], given)
        if kind in self.shelf:
            item = self.shelf[kind][row["id"]] = _item(kind, row)
            if isinstance(item, Machine):
                row["parts"] = parts.machine_parts(item)
        else:
            _moment(row)
        if kind == "sharpening":
            self._sharpening(row)
        return row

    def _sharpening(self, row: Values) -> None:
        bit = self.shelf["bit"][row["bit"]]
        for diameter in (row["diameter_before"], row["diameter_after"]):
            if diameter is not None:
                replace(bit, diameter=diameter)

    def _entry(self, given: Values) -> Values:
        part = PARTS.get(str(given.get("kind")))
        row = _values(ENTRY, {k: v for k, v in given.items() if part is None or k != part[0]})
        _moment(row)
        if row["kind"] not in KINDS:
            raise Refused(
                "bad-row", "{kind!r} is nothing that happens to a set-up", kind=_shown(row["kind"])
            )
        if part is None:
            return row
        key, table, known = part
        within = dict(given[key])
        lists = (
            {name: list(within.pop(name)) for name, _ in (SAID, MEASURED)}
            if row["kind"] == "cut"
            else {}
        )
        row[key] = _values(table, within, known)
        if row["kind"] == "start":
            self._start(row[key])
            self._joints[row["setup"]] = row[key]["joint"]
        for name, of in (SAID, MEASURED) if row["kind"] == "cut" else ():
            row[key][name] = [_values(of, one, frozenset(("cut",))) for one in lists[name]]
        joint = self._joints.get(row["setup"])
        if joint is not None and row["kind"] == "found":
            family = named.family_named(joint, row[key]["settings"])
            row[key]["settings"] = named.some_of(family, row[key]["settings"])
        elif joint is not None and row["kind"] == "cut":
            _cut(row, joint)
        return row

    def _start(self, row: Values) -> None:
        bit, tail, pin = (
            self.shelf["bit"][row["bit_id"]],
            *(self.shelf["stock"][row[k]] for k in ("stock_id", "pin_stock_id")),
        )
        machine = None if row["machine_id"] is None else self.shelf["machine"][row["machine_id"]]
        clean_name("the joint", row["joint"])
        plan = rows.to_plan(_as_row(row), bit, tail, pin, machine)
        first = named.settings_of(plan.family, row["settings"])
        if row["joint"] in FAMILIES:
            values = rows.plan_values(plan, first)
            row.update({name: values[name] for name in ("figures", "settings", "zeros")})
        if not 0 <= row["sharpenings"] < _ID_MOST:
            raise ValueError


def _cut(row: Values, joint: str) -> None:
    """Rebuild a trial cut as the log would, and as it would have been logged."""
    cut = row["cut"]
    said, measured = ([_as_row(one) for one in cut[name]] for name in ("verdicts", "readings"))
    around = {"entry": row["id"], **{name: row[name] for name in ("by", "at", "machine")}}
    made = rows.to_cut(_as_row({**cut, **around, "joint": joint}), said, measured)
    faults = [(v["aspect"], v["word"]) for v in cut["verdicts"] if v["aspect"] == named.FAULT]
    if made.piece < 1 or len(set(faults)) < len(faults):
        raise Refused("bad-row", "one aspect is judged twice, or its piece has no number")
    if made.end is not None and not 0 < made.end < made.piece:
        raise Refused("bad-row", "its end, of piece {end}, is no earlier one's", end=made.end)
    values = rows.cut_values(made)
    cut.update({name: values[name] for name in ("settings", "stated", "advised", "sizes")})


def _item(kind: str, row: Values) -> Bit | Stock | Machine:
    if kind == "bit":
        return rows.to_bit(_as_row(row), 0)
    return rows.to_stock(_as_row(row)) if kind == "stock" else parts.to_machine(_as_row(row))


def _values(table: Table, given: Values, known: frozenset[str] = frozenset()) -> Values:
    """Return the columns of a row, each of its type; what an older export lacks is what an upgrade
    would give it.
    """
    wanted = _readers(table, known)
    if not given.keys() <= wanted.keys():
        strange = min(map(str, given.keys() - wanted.keys()))
        raise Refused("bad-row", "the column {name!r} is not known", name=_shown(strange))
    return {name: read(given.get(name, usual)) for name, (read, usual) in wanted.items()}


@cache
def _readers(table: Table, known: frozenset[str]) -> dict[str, tuple[Callable[[Any], Any], Any]]:
    """Return for each column what reads its value, and what it usually is."""
    columns = (column for column in table.columns if column.name not in known)
    return {column.name: (_reader(column), _usual(column)) for column in columns}


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


def _moment(row: Values) -> None:
    if rows.moment_text(rows.moment(row["at"])) != row["at"]:
        raise Refused(
            "bad-row", "{at!r} is no moment in UTC to the microsecond", at=_shown(row["at"])
        )


def _as_row(values: Values) -> Any:
    return SimpleNamespace(**values)


def _shown(text: object) -> str:
    return ascii(str(text)[:40])[1:-1]


def _no_constant(name: str) -> Any:
    raise ValueError(name)
