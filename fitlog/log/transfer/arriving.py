"""Rows that come from outside: their columns and types checked, then rebuilt as values of the
domain, which refuse nonsense.

What passes here a front door of fitlog could have stored. Errors name the row by its number in the
file.
"""

from __future__ import annotations

import json
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

from ...domain import Bit, Machine, Stock, clean_name
from ...errors import FitlogError, Refused
from ...families.names import FAMILIES
from ...texts import tell
from .. import named, parts, rows
from ..migrations import earlier
from ..schema import ADVICE, ENTRY, KINDS
from .bulk import FIRST
from .digesting import MEASURED, PARTS, SAID, Chains, Values
from .typed import shown, values

_TABLES = {table.name: table for table in FIRST}
# What only the server says that stores the entry: in a file it would be somebody's claim, which no
# digest covers; no export has it.
_OURS = frozenset(("role",))
Shelf = dict[str, dict[int, Any]]


class Arrivals:
    """Checks rows one after another. `shelf`: the bits, stocks and machines met so far, by kind and
    number.
    """

    def __init__(self) -> None:
        self.shelf: Shelf = {"bit": {}, "stock": {}, "machine": {}}
        self.number = 0
        self._joints: dict[int, str] = {}  # of the set-ups that were started so far
        self._chains = Chains()

    def checked(self, kind: str, given: Values) -> Values:
        """Return the row as it may be stored; raises Refused "bad-row" for what the domain would
        refuse.
        """
        self.number += 1
        try:
            row = self._checked(kind, earlier.as_today(kind, given))
            if self._chains.hold(kind, given) is False:  # an older export has no digests
                raise Refused("bad-row", "it is not as it was written, or one before it is gone")
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
            kind=shown(kind),
            why=why,
        )

    def _checked(self, kind: str, given: Values) -> Values:
        if kind == "entry":
            return self._entry(given)
        if kind == "advice":
            row = values(ADVICE, given)
            _moment(row)
            if (joint := self._joints.get(row["setup"])) is not None:
                family = named.family_named(joint, row["settings"])
                row["settings"] = rows.members(named.settings_of(family, row["settings"]))
            if not isinstance(json.loads(row["document"], parse_constant=_no_constant), dict):
                raise ValueError
            return row
        if kind not in _TABLES:
            raise Refused("bad-row", "this kind is not known")
        row = values(_TABLES[kind], given)
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
        plain = {k: v for k, v in given.items() if part is None or k != part[0]}
        row = values(ENTRY, plain, _OURS)
        _moment(row)
        if row["kind"] not in KINDS:
            raise Refused(
                "bad-row", "{kind!r} is nothing that happens to a set-up", kind=shown(row["kind"])
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
        row[key] = values(table, within, known)
        if row["kind"] == "start":
            self._start(row[key])
            self._joints[row["setup"]] = row[key]["joint"]
        for name, of in (SAID, MEASURED) if row["kind"] == "cut" else ():
            row[key][name] = [values(of, one, frozenset(("cut",))) for one in lists[name]]
        if row["kind"] == "note":
            rows.to_note(
                _as_row({**row[key], "entry": row["id"], "by": row["by"], "at": row["at"]})
            )
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
            whole = rows.plan_values(plan, first)
            row.update({name: whole[name] for name in ("figures", "settings", "zeros")})
        if row["sharpenings"] < 0:
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
    whole = rows.cut_values(made)
    cut.update({name: whole[name] for name in ("settings", "stated", "advised", "sizes")})


def _item(kind: str, row: Values) -> Bit | Stock | Machine:
    if kind == "bit":
        return rows.to_bit(_as_row(row), 0)
    return rows.to_stock(_as_row(row)) if kind == "stock" else parts.to_machine(_as_row(row))


def _moment(row: Values) -> None:
    if rows.moment_text(rows.moment(row["at"])) != row["at"]:
        raise Refused(
            "bad-row", "{at!r} is no moment in UTC to the microsecond", at=shown(row["at"])
        )


def _as_row(row: Values) -> Any:
    return SimpleNamespace(**row)


def _no_constant(name: str) -> Any:
    raise ValueError(name)
