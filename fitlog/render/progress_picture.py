"""How a set-up converged, and pieces over the months, as pictures in a file; legible in black and
white.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from ..advice.months import Months, month_text
from ..advice.progress import Step
from ..domain import SetUp
from ..language.units import MM_PER_INCH, Ruler
from ..newfile import Place
from ..texts import tell
from . import months as table
from .canvas import save
from .progress import Chart, Row, charts, heading, same, title

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_READ = tell(
    "Beside each piece: its setting, the chance of good there as known then, and what was said."
)
_LONGEST, _FEW = 36, 12  # characters beside a row; pieces up to which it has its full height
_ROOM = 0.03  # of the axis, beyond each end: a mark at the end lies on no frame
_TICKS = 7  # of an axis in fractions, at most
_TALLEST = 180  # inches of all rows together: a PDF is at most 200 high, a PNG 2^16 dots


def draw_setup(
    setup: SetUp, status: str, steps: Sequence[Step], ruler: Ruler, place: Place
) -> None:
    """Write how a set-up converged; what was there stays until the new picture is whole. Raises
    `Refused`.
    """
    text = title(setup, status, steps)
    save(
        place,
        tell("Progress: {title}", title=text),
        lambda: setup_figure(charts(setup, status, steps, ruler), text, ruler),
    )


def draw_months(
    found: Months, asked: Mapping[str, str], uncounted: Mapping[str, int], place: Place
) -> None:
    """Write the pieces over the months; what was there stays until the new picture is whole. Raises
    `Refused`.
    """
    save(place, table.title(asked), lambda: months_figure(found, asked, uncounted))


def setup_figure(found: Sequence[Chart], text: str, ruler: Ruler) -> Figure:
    """Return the figure of a set-up: a panel an aspect, a row a piece, the first on top."""
    from matplotlib.figure import Figure

    count = len(found[0].rows)
    high, size = (0.3, 8.0) if count <= _FEW else (0.19, 6.5)
    less = min(1.0, _TALLEST / (high * count * len(found)))
    each = less * high * count + 0.95
    head = textwrap.wrap(text, 66)
    figure = Figure(figsize=(7.6, each * len(found) + 0.9 + 0.25 * len(head)), layout="constrained")
    figure.suptitle("\n".join(head), parse_math=False, fontsize=12, fontweight="bold")
    panels = figure.subplots(len(found), 1, squeeze=False)[:, 0]
    for axes, chart in zip(panels, found, strict=True):
        _bars(axes, chart, ruler, less * size)
    told = {
        label: handle
        for axes in panels
        for handle, label in zip(*axes.get_legend_handles_labels(), strict=True)
    }
    figure.legend(
        told.values(),
        told.keys(),
        loc="outside lower left",
        frameon=False,
        fontsize=8,
        ncols=2,
        alignment="left",
        title=_READ,
        title_fontsize=8,
    )
    return figure


def _bars(axes: Axes, chart: Chart, ruler: Ruler, size: float) -> None:
    """Draw one panel. size: of the letters beside its rows, points."""
    scale, places = 1.0 if ruler.units == "mm" else MM_PER_INCH, range(len(chart.rows))
    low, high = (x / scale for x in chart.good)
    axes.axvspan(low, high, color="0.86", linewidth=0, label=tell("good, as known now"))
    widths = [(r.high - r.low) / scale for r in chart.rows]
    axes.barh(
        places,
        widths,
        left=[r.low / scale for r in chart.rows],
        height=0.42,
        facecolor="none",
        edgecolor="black",
        linewidth=0.9,
        label=tell("where the best setting lay with 90 %,\nas known before that piece"),
    )
    axes.vlines(
        [r.middle / scale for r in chart.rows],
        [i - 0.21 for i in places],
        [i + 0.21 for i in places],
        color="black",
        linewidth=0.9,
    )
    _marks(axes, chart, scale)
    room = _ROOM * (chart.right - chart.left)
    axes.set_xlim((chart.left - room) / scale, (chart.right + room) / scale)
    if ruler.units == "fraction":
        _marks_of_a_rule(axes, chart, ruler)
    axes.set_ylim(len(chart.rows) - 0.45, -0.55)
    axes.set_yticks(list(places), [r.label for r in chart.rows], fontsize=size)
    for i, row in enumerate(chart.rows):
        axes.annotate(
            _beside(row),
            (1.015, i),
            xycoords=("axes fraction", "data"),
            va="center",
            fontsize=size,
            parse_math=False,
            annotation_clip=False,
        )
    unit = tell("mm" if ruler.units == "mm" else "inch")
    axes.set_xlabel(f"{chart.setting.noun}, {unit}", fontsize=8)
    axes.set_title(heading(chart, ruler), loc="left", fontsize=10)
    axes.set_ylabel(tell("piece"), fontsize=8)
    axes.tick_params(labelsize=size)
    axes.spines[["top", "right"]].set_visible(False)
    axes.grid(axis="x", color="0.8", linewidth=0.5)
    axes.set_axisbelow(True)


def _marks_of_a_rule(axes: Axes, chart: Chart, ruler: Ruler) -> None:
    """Ticks at marks of the person's rule, as they are read there."""
    step = MM_PER_INCH / ruler.marks
    while (chart.right - chart.left) / step > _TICKS:
        step *= 2
    first, last = math.ceil(chart.left / step - 1e-6), math.floor(chart.right / step + 1e-6)
    at = [n * step for n in range(first, last + 1)]
    names = [ruler.length(mm).removesuffix(" in") for mm in at]
    axes.set_xticks([mm / MM_PER_INCH for mm in at], names)


def _marks(axes: Axes, chart: Chart, scale: float) -> None:
    """Where a piece was cut, and what was proposed where that is another setting; what lies farther
    off at the edge.
    """
    rows = list(enumerate(chart.rows))
    cut = [(r.cut, i) for i, r in rows if r.cut is not None]
    proposed = [(r.proposed, i) for i, r in rows if r.proposed is not None and not same(r)]
    for found, marker, fill, label in (
        (proposed, "o", "white", tell("proposed")),
        (cut, "X", "black", tell("cut there")),
    ):
        ways = (("", marker, 0.0), ("<", "<", chart.left), (">", ">", chart.right))
        for side, shape, end in ways:
            here = [(end or x, i) for x, i in found if chart.off(x) == side]
            if here:  # an empty line that is not clipped would still take room
                axes.plot(
                    [x / scale for x, _ in here],
                    [i for _, i in here],
                    linestyle="none",
                    marker=shape,
                    markersize=7,
                    markerfacecolor=fill,
                    markeredgecolor="black",
                    clip_on=False,
                    zorder=4,
                    label=tell("{label}, farther off", label=label) if side else label,
                )


def _beside(row: Row) -> str:
    words = textwrap.shorten(row.said, _LONGEST, placeholder="..")
    return "  ".join(part for part in (row.dial, row.chance, words) if part not in ("", "-"))


def months_figure(found: Months, asked: Mapping[str, str], uncounted: Mapping[str, int]) -> Figure:
    """Return the figure of the months: mean pieces, share good at once, and how many set-ups these
    are of.
    """
    from matplotlib.figure import Figure

    count = len(found.rows)
    figure = Figure(figsize=(min(16.0, max(7.2, 0.28 * count + 1.6)), 6.4), layout="constrained")
    head = textwrap.wrap(table.title(asked), 62)
    figure.suptitle("\n".join(head), parse_math=False, fontsize=12, fontweight="bold")
    pieces, share, number = figure.subplots(3, 1, sharex=True, height_ratios=[3, 1.6, 1.6])
    _pieces(pieces, found)
    _share(share, found)
    _number(number, found)
    for axes in (pieces, share, number):
        axes.spines[["top", "right"]].set_visible(False)
        axes.set_axisbelow(True)
        axes.grid(axis="y", color="0.85", linewidth=0.6)
    step = max(1, -(-count // 24))
    number.set_xticks(
        range(0, count, step),
        [month_text(when) for when, _ in found.rows[::step]],
        rotation=90,
        fontsize=8,
    )
    number.set_xlim(-0.7, max(count, 8) - 0.3)
    below = textwrap.wrap(" ".join([*table.totals(found), table.explained(uncounted)]), 112)
    figure.supxlabel("\n".join(below), fontsize=8, parse_math=False)
    return figure


def _pieces(axes: Axes, found: Months) -> None:
    at = [i for i, (_, s) in enumerate(found.rows) if s.every.setups]
    axes.bar(
        at,
        [s.every.mean or 0.0 for _, s in found.rows if s.every.setups],
        width=0.8,
        color="0.82",
        edgecolor="black",
        linewidth=0.6,
        label=tell("all of the month"),
    )
    looks: dict[str, dict[str, Any]] = {
        "first": {
            "label": tell("first with a bit and its boards"),
            "marker": "^",
            "markerfacecolor": "white",
        },
        "later": {"label": tell("repeats"), "marker": "o", "markerfacecolor": "black"},
    }
    for name, look in looks.items():
        here = [
            (i, taken.mean)
            for i, (_, s) in enumerate(found.rows)
            if (taken := getattr(s, name)).setups
        ]
        if here:
            axes.plot(
                *zip(*here, strict=True),
                linestyle="none",
                markeredgecolor="black",
                markersize=6,
                **look,
            )
    axes.set_ylabel(tell("pieces, mean"), fontsize=9)
    axes.set_ylim(bottom=0)
    _whole(axes)
    axes.legend(frameon=False, fontsize=8, ncols=3, loc="lower right", bbox_to_anchor=(1.0, 1.0))


def _share(axes: Axes, found: Months) -> None:
    here = [
        (i, 100 * share)
        for i, (_, s) in enumerate(found.rows)
        if (share := s.every.share) is not None
    ]
    at, value = zip(*here, strict=True)
    axes.vlines(at, 0, value, color="0.4", linewidth=1.2)
    axes.plot(
        at,
        value,
        linestyle="none",
        marker="o",
        color="black",
        markersize=5,
        clip_on=False,
        zorder=4,
    )
    axes.set_ylim(0, 100)
    axes.set_ylabel(tell("good at the\nfirst piece, %"), fontsize=9)


def _number(axes: Axes, found: Months) -> None:
    at = range(len(found.rows))
    first, later = ([getattr(s, name).setups for _, s in found.rows] for name in ("first", "later"))
    axes.bar(at, later, width=0.8, color="0.45", edgecolor="black", linewidth=0.6)
    axes.bar(
        at,
        first,
        width=0.8,
        bottom=later,
        color="white",
        hatch="////",
        edgecolor="black",
        linewidth=0.6,
    )
    axes.set_ylabel(tell("set-ups\n(hatched: first)"), fontsize=9)
    _whole(axes)


def _whole(axes: Axes) -> None:
    """Ticks at whole numbers: there is no half a piece."""
    from matplotlib.ticker import MaxNLocator

    axes.yaxis.set_major_locator(MaxNLocator(nbins=6, integer=True))
