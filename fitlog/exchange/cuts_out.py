"""Trial cuts as CSV (RFC 4180), a row a cut: settings as true lengths in mm, in columns that the
import knows again.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from ..domain import SetUp, TrialCut, Verdict
from ..families.half_blind.names import ASPECTS
from ..language.units import shown
from .cells import digits, guarded

COLUMNS = (
    "set-up",
    "bit",
    "stock",
    "pin stock",
    "piece",
    "date",
    "who",
    "machine",
    "true bit height (mm)",
    "true fence offset (mm)",
    "true socket depth (mm)",
    "fit",
    "fit gap (mm)",
    "centre",
    "centre gap (mm)",
    "seat",
    "seat step (mm)",
    "faults",
    "pull gap (mm)",
    "mouth (mm)",
    "tail width (mm)",
    "between rods diameter (mm)",
    "between rods (mm)",
    "over rods diameter (mm)",
    "over rods (mm)",
    "wall near (mm)",
    "wall far (mm)",
    "as typed",
    "note",
    "scrap",
    "scrap width (mm)",
    "scrap thickness (mm)",
    "taken back",
    "entry",
)
_TEXT_LIMIT = 10_000


def csv_line(cells: Sequence[str]) -> str:
    """Return a row as a line of CSV with its end of line."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerow(cells)
    return out.getvalue()


def csv_row(cut: TrialCut, setup: SetUp, taken_back: bool) -> list[str]:
    """Return the cells of a trial cut, one for each of COLUMNS."""
    plan, at = setup.plan, cut.settings
    said = [(one.word, _mm(one.size)) if one else ("", "") for one in map(cut.verdict.of, ASPECTS)]
    return [
        str(setup.number),
        text(plan.bit.name),
        text(plan.stock.name),
        text(plan.pin_stock.name),
        str(cut.piece),
        cut.at.isoformat(timespec="microseconds").replace("+00:00", "Z") if cut.at else "",
        text(cut.by),
        text(cut.machine or ""),
        _mm(at["bit_height"]),
        _mm(at["fence_offset"]),
        _mm(at["socket_depth"]),
        *(cell for pair in said for cell in pair),
        _faults(cut.verdict),
        *_readings(cut),
        text(cut.heard),
        text(cut.note),
        text(cut.scrap),
        _mm(cut.sizes.get("width")),
        _mm(cut.sizes.get("thickness")),
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


def _readings(cut: TrialCut) -> list[str]:
    """Return the cells of the readings; of several of one kind the last, which is the
    one to go by.
    """
    by_kind = {reading.kind: reading for reading in cut.readings}
    cells = [
        _mm(by_kind[kind].value) if kind in by_kind else ""
        for kind in ("pull_gap", "mouth", "tail_width")
    ]
    for kind, first, second in (
        ("between_rods", "rod", "value"),
        ("over_rods", "rod", "value"),
        ("walls", "value", "other"),
    ):
        cells += [
            _mm(getattr(by_kind[kind], key)) if kind in by_kind else "" for key in (first, second)
        ]
    return cells
