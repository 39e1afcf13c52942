"""A rehearsal as a picture in a file."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Any

from ..newfile import Place
from ..simulation import Comparison, Tally
from ..texts import tell
from .canvas import save
from .rehearsal import NOT_A_PROMISE, how_many, mean_of, rows, what

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


def draw(found: Comparison, place: Place) -> None:
    """Write the picture; what was there stays until the new one is whole. Raises `Refused` where it
    cannot be.
    """
    save(
        place, tell("Simulated pieces per set-up: {what}", what=what(found)), lambda: _figure(found)
    )


def _figure(found: Comparison) -> Figure:
    from matplotlib.figure import Figure

    labels, by_method = rows(found)
    title = textwrap.wrap(
        tell("A simulation with invented seeds: pieces per set-up with {what}", what=what(found)),
        62,
    )
    below = textwrap.wrap(
        tell(
            "{how_many}; in play: {in_play}. {care}",
            how_many=how_many(found),
            in_play=", ".join(found.plan.in_play),
            care=NOT_A_PROMISE,
        ),
        108,
    )
    figure = Figure(
        figsize=(7.2, 1.8 * len(by_method) + 1.0 + 0.3 * len(title)), layout="constrained"
    )
    figure.suptitle("\n".join(title), parse_math=False, fontsize=12, fontweight="bold")
    panels = figure.subplots(len(by_method), 1, sharex=True, sharey=True, squeeze=False)[:, 0]
    for axes, (name, tally) in zip(panels, found.tallies.items(), strict=True):
        _panel(axes, name, tally, labels)
    panels[-1].set_xlabel(tell("test pieces until everything is settled"))
    figure.supylabel(tell("share of the set-ups, %"), fontsize=10)
    told = {
        label: handle
        for axes in panels
        for handle, label in zip(*axes.get_legend_handles_labels(), strict=True)
    }
    # Below the panels, where no bar can lie under it.
    legend = figure.legend(
        told.values(),
        told.keys(),
        frameon=False,
        loc="outside lower left",
        fontsize=9,
        ncols=2,
        alignment="left",
        title="\n".join(below),
        title_fontsize=8,
    )
    legend.get_title().set_parse_math(False)
    return figure


def _panel(axes: Axes, name: str, tally: Tally, labels: list[str]) -> None:
    places, base = range(1, len(labels) + 1), [0.0] * len(labels)
    looks: dict[str, dict[str, Any]] = {
        "later": {"label": tell("later ones: on other days"), "color": "0.45"},
        "first": {"label": tell("first set-up with a bit"), "color": "white", "hatch": "////"},
    }
    for part, look in looks.items():
        values = [100 * share for share in tally.shares(len(labels), part)]
        bars = [
            bar for bar in zip(places, values, base, strict=True) if bar[1]
        ]  # a bar of nothing would still be a line
        if bars:
            at, high, low = zip(*bars, strict=True)
            axes.bar(at, high, bottom=low, width=0.8, edgecolor="black", linewidth=0.8, **look)
        base = [under + value for under, value in zip(base, values, strict=True)]
    means = [
        f"{part} {mean_of(mean)}"
        for part, mean in (("first", tally.mean_first()), ("later", tally.mean_later()))
        if mean.n
    ]
    axes.set_title(
        tell("{name}: {means} pieces", name=name, means=", ".join(means)).replace("+-", "\u00b1"),
        loc="left",
        fontsize=10,
    )
    axes.set_xticks(list(places), labels)
    axes.set_xlim(0.4, len(labels) + 0.6)
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_axisbelow(True)
    axes.grid(axis="y", color="0.85", linewidth=0.6)
