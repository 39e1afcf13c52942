"""How a set-up converged, as a drawing in the page itself."""

from __future__ import annotations

from dataclasses import dataclass

from ....domain import SetUp
from ....language.units import Ruler
from ....render.progress import Chart, charts, heading, same, title
from ....service.bench import Workbench
from ....service.lookback import converged
from ..desk import Sitting
from .common import Values, common

_WIDE, _ROW, _TOP, _IN = 320.0, 64.0, 30.0, 10.0  # a unit is a pixel of the smallest phone


@dataclass(frozen=True, slots=True)
class Bar:
    """One piece, drawn. y: of its bar's middle; cut, proposed: None where there is none or it is
    not on the axis; off: "<" or ">" where the cut lies beyond it.
    """

    label: str
    y: float
    low: float
    high: float
    middle: float
    cut: float | None
    proposed: float | None
    off: str
    beside: str


@dataclass(frozen=True, slots=True)
class Panel:
    """An aspect, drawn: `good` from and to, the axis' ends as they are read."""

    heading: str
    height: float
    good: tuple[float, float]
    left: str
    right: str
    bars: list[Bar]


def progress(sitting: Sitting, setup: SetUp, bench: Workbench) -> Values:
    """Return a panel for every aspect in play."""
    told = converged(bench, setup, every=False)
    found = charts(told.setup, told.status, told.steps, bench.ruler)
    return {
        **common(sitting, setup),
        "told": title(told.setup, told.status, told.steps),
        "panels": [_panel(one, bench.ruler) for one in found],
        "wide": _WIDE,
    }


def _panel(chart: Chart, ruler: Ruler) -> Panel:
    span = (chart.right - chart.left) or 1.0

    def x(mm: float) -> float:
        at = min(max((mm - chart.left) / span, 0.0), 1.0)
        return round(_IN + at * (_WIDE - 2 * _IN), 1)

    bars = [
        Bar(
            row.label,
            _TOP + n * _ROW + 46,
            x(row.low),
            x(row.high),
            x(row.middle),
            None if row.cut is None or chart.off(row.cut) else x(row.cut),
            None if row.proposed is None or same(row) else x(row.proposed),
            "" if row.cut is None else chart.off(row.cut),
            "  ".join(part for part in (row.dial, row.chance, row.said) if part not in ("", "-")),
        )
        for n, row in enumerate(chart.rows)
    ]
    return Panel(
        heading(chart, ruler),
        _TOP + len(bars) * _ROW + 6,
        (x(chart.good[0]), x(chart.good[1])),
        ruler.length(chart.left),
        ruler.length(chart.right),
        bars,
    )
