"""A rehearsal as a picture in a file: the only place that needs matplotlib, which is an optional extra."""

from __future__ import annotations

import logging
import os
import textwrap
import warnings
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..errors import Refused
from ..rehearsal.comparison import Comparison, Tally
from .rehearsal import NOT_A_PROMISE, how_many, mean_of, rows, what

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

ENDINGS = (".svg", ".png", ".pdf")


def checked(text: str) -> Path:
    """Return where a picture is to go; raise `Refused` when it cannot be drawn or written there, before any work."""
    path = Path(text)
    if path.suffix.lower() not in ENDINGS:
        raise Refused("bad-picture", f"a picture cannot be written to {text!r}", "end its name in .svg, .png or .pdf")
    if path.is_dir():
        raise Refused("bad-picture", f"{text!r} is a folder", "name a file in it")
    logging.getLogger("matplotlib").setLevel(logging.ERROR)  # it talks while it is read, too
    try:
        import matplotlib.figure  # noqa: F401
    except (ImportError, ValueError) as error:  # the second: a setting of the user's own that it cannot live with
        why = "is not installed" if isinstance(error, ModuleNotFoundError) else f"cannot be loaded ({str(error)[:90]})"
        remedy = "in fitlog's checkout run pip install '.[pictures]', or leave --picture out"
        raise Refused("no-matplotlib", f"a picture needs matplotlib, which {why}", remedy) from error
    with _beside(path) as spare:
        spare.touch()
    return path


def draw(found: Comparison, path: Path) -> None:
    """Write the picture; what was at `path` stays until the new one is whole. Raises `Refused` where it cannot be."""
    title = f"Simulated pieces per set-up: {what(found)}"
    dated = {".svg": {"Date": None}, ".pdf": {"CreationDate": None}}.get(path.suffix.lower(), {})
    with _beside(path) as spare, _quiet():
        _figure(found).savefig(spare, format=path.suffix[1:].lower(), dpi=150, metadata={"Title": title, **dated})
        spare.replace(path)


@contextmanager
def _beside(path: Path) -> Iterator[Path]:
    """Yield a name for a half-written file in the same folder, and leave none there."""
    spare = path.with_name(f".fitlog-{os.getpid()}{path.suffix}")
    try:
        yield spare
    except OSError as error:
        message = f"the picture {str(path)!r} could not be written ({error.strerror or error})"
        raise Refused("unwritable-picture", message, "name a file in a folder that you can write to") from error
    finally:
        with suppress(OSError):
            spare.unlink(missing_ok=True)


@contextmanager
def _quiet() -> Iterator[None]:
    """Draw in matplotlib's own style whatever the user's file says, the same bytes each time, and without its talk."""
    import matplotlib

    with warnings.catch_warnings(), matplotlib.rc_context():
        warnings.simplefilter("ignore", UserWarning)  # a name may have letters that its font does not
        matplotlib.rcdefaults()
        matplotlib.rcParams["svg.hashsalt"] = "fitlog"
        yield


def _figure(found: Comparison) -> Figure:
    from matplotlib.figure import Figure

    labels, by_method = rows(found)
    title = textwrap.wrap(f"A simulation with invented seeds: pieces per set-up with {what(found)}", 62)
    below = textwrap.wrap(f"{how_many(found)}; in play: {', '.join(found.plan.in_play)}. {NOT_A_PROMISE}", 100)
    figure = Figure(figsize=(7.2, 1.8 * len(by_method) + 1.0 + 0.3 * len(title)), layout="constrained")
    figure.suptitle("\n".join(title), parse_math=False, fontsize=12, fontweight="bold")
    panels = figure.subplots(len(by_method), 1, sharex=True, sharey=True, squeeze=False)[:, 0]
    for axes, (name, tally) in zip(panels, found.tallies.items(), strict=True):
        _panel(axes, name, tally, labels)
    if any(t.later for t in found.tallies.values()):
        panels[0].legend(frameon=False, loc="upper right", fontsize=9)
    panels[-1].set_xlabel("test pieces until everything is settled")
    figure.supylabel("share of the set-ups, %", fontsize=10)
    figure.supxlabel("\n".join(below), fontsize=8, parse_math=False)
    return figure


def _panel(axes: Axes, name: str, tally: Tally, labels: list[str]) -> None:
    places, base = range(1, len(labels) + 1), [0.0] * len(labels)
    looks: dict[str, dict[str, Any]] = {
        "later": {"label": "later ones: other days and heights", "color": "0.45"},
        "first": {"label": "first set-up with a bit", "color": "white", "hatch": "////"},
    }
    for part, look in looks.items():
        values = [100 * share for share in tally.shares(len(labels), part)]
        bars = [bar for bar in zip(places, values, base, strict=True) if bar[1]]  # a bar of nothing would still be a line
        if bars:
            at, high, low = zip(*bars, strict=True)
            axes.bar(at, high, bottom=low, width=0.8, edgecolor="black", linewidth=0.8, **look)
        base = [under + value for under, value in zip(base, values, strict=True)]
    means = [
        f"{part} {mean_of(mean)}"
        for part, mean in (("first", tally.mean_first()), ("later", tally.mean_later()))
        if mean.n
    ]
    axes.set_title(f"{name}: {', '.join(means)} pieces".replace("+-", "\u00b1"), loc="left", fontsize=10)
    axes.set_xticks(list(places), labels)
    axes.set_xlim(0.4, len(labels) + 0.6)
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_axisbelow(True)
    axes.grid(axis="y", color="0.85", linewidth=0.6)
