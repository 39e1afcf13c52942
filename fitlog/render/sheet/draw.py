"""How the pages are drawn: axes over the whole page in millimetres, so that one unit is one
millimetre in every format.

One drawing code for PDF, SVG and PNG. PDF holds all pages; the others get a file a page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from ...families.boards import Job
from ...language.numbers import together
from ...language.units import Ruler, counted
from ...newfile import Place, part_of
from ...texts import tell
from ..canvas import drawing, free, quiet
from . import written
from .label import label
from .pages import sheet
from .paper import MM_PER_POINT, Mark, Page, Shape, Words

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

DPI = 300  # of a PNG; its file says so, so that a printer knows the size
_MM_PER_INCH = 25.4


@contextmanager
def set_up() -> Iterator[None]:
    """Draw quietly, with type that has the same width in every format, whole in a PDF and as text
    in an SVG.
    """
    import matplotlib

    with quiet():
        matplotlib.rcParams.update(
            {"text.hinting": "none", "pdf.fonttype": 42, "svg.fonttype": "none"}
        )
        yield


@lru_cache(maxsize=8192)  # the same texts are measured for every way to lay a sheet out
def measure(text: str, size: float, bold: bool) -> float:
    """Return the width of text, mm, in the type that the sheet is set in."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import text_to_path

    font = FontProperties(family="DejaVu Sans", size=size, weight="bold" if bold else "normal")
    width: float = text_to_path.get_text_width_height_descent(text, font, ismath=False)[0]
    return width * MM_PER_POINT


def drawn(
    job: Job, paper: str, ruler: Ruler, target: Place, *, over: bool
) -> tuple[tuple[Page, ...], list[str]]:
    """Draw the sheet of a job; return its pages and the names of the files they are in. over: what
    is there already may be written over.
    """
    with set_up():
        made, setup = sheet(job, paper, ruler, measure, written.of(job)), job.setup
    names = [str(path) for path in files(Path(target.name), len(made))]
    places = [target, *(free(name, over=over) for name in names[1:])]
    write(
        made, places, tell("Set-up {number}: {bit}", number=setup.number, bit=setup.plan.bit.name)
    )
    return made, names


def drawn_label(
    job: Job, size: tuple[float, float], ruler: Ruler, target: Place
) -> tuple[Page, float]:
    """Draw the label of a job's sample, so wide and high, mm; return it and the size of its type,
    points. Raises Refused (label-too-small).
    """
    with set_up():
        page = label(job, *size, ruler, measure, job.setup.noted("title"))
    write([page], [target], tell("Label of set-up {number}", number=job.setup.number))
    return page, max(mark.size for mark in page.marks if isinstance(mark, Words))


def where(made: Sequence[Page], names: Sequence[str], paper: str) -> str:
    """Return in which files the pages are, in a sentence."""
    return tell(
        "The sheet is in {files} ({pages}, {paper}).",
        files=together(names),
        pages=counted(len(made), "page"),
        paper=paper,
    )


def files(path: Path, count: int) -> list[Path]:
    """Return where so many pages go: one PDF, else `path` and for further pages name-2, name-3
    beside it.
    """
    if path.suffix.lower() == ".pdf":
        return [path]
    return [path, *(path.with_stem(f"{path.stem}-{n}") for n in range(2, count + 1))]


def figure(page: Page) -> Figure:
    """Return a page as a figure of exactly its size."""
    from matplotlib.figure import Figure

    made = Figure(figsize=(page.width / _MM_PER_INCH, page.height / _MM_PER_INCH))
    axes = made.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    axes.set_xlim(0.0, page.width)
    axes.set_ylim(page.height, 0.0)
    for order, mark in enumerate(page.marks):
        _put(axes, mark, 2 + order * 1e-4)
    return made


def _put(axes: Axes, mark: Mark, order: float) -> None:
    from matplotlib.lines import Line2D
    from matplotlib.patches import Polygon

    if isinstance(mark, Words):
        axes.text(
            mark.x,
            mark.y,
            mark.text,
            fontsize=mark.size,
            fontweight="bold" if mark.bold else "normal",
            ha=mark.align,
            color=str(mark.grey),
            parse_math=False,
            zorder=order,
        )
    elif isinstance(mark, Shape):
        axes.add_patch(
            Polygon(
                mark.points,
                closed=True,
                facecolor=str(mark.grey),
                edgecolor="black",
                linewidth=mark.weight / MM_PER_POINT,
                joinstyle="miter",
                zorder=order,
            )
        )
    else:
        xs, ys = zip(*mark.points, strict=True)
        axes.add_line(
            Line2D(
                xs,
                ys,
                color=str(mark.grey),
                linewidth=mark.weight / MM_PER_POINT,
                linestyle=(0, (5, 3)) if mark.dashed else "-",
                solid_capstyle="butt",
                dash_capstyle="butt",
                zorder=order,
                gid=mark.name or None,
            )
        )


def write(pages: Sequence[Page], places: Sequence[Place], title: str) -> None:
    """Write the pages to their `files`; what was there stays until all of them are drawn whole.
    Raises `Refused`.
    """
    if Path(places[0].name).suffix.lower() == ".pdf":
        _write_pdf(pages, places[0], title)
        return
    with drawing(places[0].name), ExitStack() as kept, set_up():
        parts = []
        for number, (page, place) in enumerate(zip(pages, places, strict=True), 1):
            parts.append(kept.enter_context(part_of(place)))
            _save(
                page,
                parts[-1].path,
                Path(place.name).suffix[1:].lower(),
                tell(
                    "{title}, page {number} of {count}",
                    title=title,
                    number=number,
                    count=len(pages),
                ),
            )
        for part in parts:
            part.keep()


def _save(page: Page, path: Path, ending: str, title: str) -> None:
    metadata = {"Title": title, "Date": None} if ending == "svg" else {"Title": title}
    figure(page).savefig(path, format=ending, dpi=DPI, metadata=metadata)


def _write_pdf(pages: Sequence[Page], place: Place, title: str) -> None:
    from matplotlib.backends.backend_pdf import PdfPages

    with drawing(place.name), part_of(place) as part, set_up():
        with PdfPages(part.path, metadata={"Title": title, "CreationDate": None}) as book:
            for page in pages:
                book.savefig(figure(page))
        part.keep()
