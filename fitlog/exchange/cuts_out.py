"""Trial cuts as CSV (RFC 4180), a row a cut: settings as true lengths in mm, in columns that the
import knows again.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from ..domain import SetUp, TrialCut, Verdict
from ..domain.family import Family
from ..language.units import shown
from .cells import digits, guarded
from .columns import Columns

_TEXT_LIMIT = 10_000


def csv_line(cells: Sequence[str]) -> str:
    """Return a row as a line of CSV with its end of line."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerow(cells)
    return out.getvalue()


def headers(table: Columns) -> list[str]:
    """Return the headers of a family's trial cuts, in the order of the cells of `csv_row`."""
    family = table.speech.family
    keys = [
        *map(table.true, family.names),
        *(key for aspect in family.aspects for key in (table.word(aspect), table.size(aspect))),
        "faults",
        *(key for kind in table.kinds for key in _in_order(family, kind, table.numbers(kind))),
        *("heard", "note", "scrap", "scrap_width", "scrap_thickness"),
        *(("recut_of",) if family.recuts else ()),
        *("after", "taken_back"),
    ]
    shop = ("set-up", "bit", "stock", "pin stock", "piece", "date", "who", "machine")
    return [*shop, *map(table.head, keys), "entry"]


def csv_row(cut: TrialCut, setup: SetUp, taken_back: bool, table: Columns) -> list[str]:
    """Return the cells of a trial cut, one for each of the `headers`."""
    plan = setup.plan
    said = map(cut.verdict.of, plan.family.aspects)
    pairs = [(one.word, _mm(one.size)) if one else ("", "") for one in said]
    return [
        str(setup.number),
        text(plan.bit.name),
        text(plan.stock.name),
        text(plan.pin_stock.name),
        str(cut.piece),
        cut.at.isoformat(timespec="microseconds").replace("+00:00", "Z") if cut.at else "",
        text(cut.by),
        text(cut.machine or ""),
        *map(_mm, cut.settings.lengths),
        *(cell for pair in pairs for cell in pair),
        _faults(cut.verdict),
        *_readings(cut, table),
        text(cut.heard),
        text(cut.note),
        text(cut.scrap),
        _mm(cut.sizes.get("width")),
        _mm(cut.sizes.get("thickness")),
        *([str(cut.end or "")] if plan.family.recuts else []),
        str(cut.after or ""),
        "yes" if taken_back else "no",
        str(cut.entry),
    ]


def text(value: str) -> str:
    """Return a user's text for a cell: no control characters, and nothing that a spreadsheet would
    run.
    """
    return guarded(shown(value, _TEXT_LIMIT))


def _mm(value: float | None) -> str:
    """Return a length with all its digits: what is read back is the same number."""
    return "" if value is None else digits(value)


def _faults(verdict: Verdict) -> str:
    named = (("gap" if f.place == "unplaced" else f"gap {f.place}", f.size) for f in verdict.faults)
    return ", ".join(name if size is None else f"{name} {digits(size)} mm" for name, size in named)


def _readings(cut: TrialCut, table: Columns) -> list[str]:
    """Return the cells of the readings; of several of one kind the last, which is the
    one to go by.
    """
    by_kind = {reading.kind: reading for reading in cut.readings}
    cells: list[str] = []
    for kind in table.kinds:
        found = by_kind.get(kind)
        numbers = (found.value, found.rod or found.other) if found else (None, None)
        texts = tuple(map(_mm, numbers[: len(table.numbers(kind))]))
        cells += _in_order(cut.settings.family, kind, texts)
    return cells


def _in_order(family: Family, kind: str, cells: tuple[str, ...]) -> tuple[str, ...]:
    """Rods stand before what is measured with them."""
    return cells[::-1] if family.readings[kind] == "rod" else cells
