"""The bar by which a printed page is checked, beside a heading. Lengths mm."""

from __future__ import annotations

from ...document import Document
from ...language.units import Ruler
from ...texts import tell
from .paper import Block, Line, Mark, Page, Words


def bar(ruler: Ruler) -> tuple[float, int, str]:
    """Return the length of the check bar, into how many parts it is divided, and what it is
    called.
    """
    return (100.0, 10, "100 mm") if ruler.units == "mm" else (101.6, 8, "4 in")


def barred(heading: str, under: str, width: float, ruler: Ruler) -> Block:
    """Return a heading, what is said under it, the check bar beside both, and what to do about
    the bar.
    """
    left, low, (length, parts, size) = 43.0, 6.4, bar(ruler)
    marks: list[Mark] = [
        Line(((0.0, 0.0), (width, 0.0)), 0.3),
        Line(((left, low), (left + length, low)), 0.25),
    ]
    for n in range(parts + 1):
        x, name = left + length * n / parts, {0: "bar-0", parts: "bar-100"}.get(n, "")
        long = 2 * n % parts == 0
        marks.append(Line(((x, low - (3.4 if long else 1.6)), (x, low)), 0.2, name=name))
    after = left + length + 2.5
    marks += [Words(0.0, 3.6, heading, 8.5, True), Words(0.0, 6.7, under, 7)]
    marks.append(Words(after, 3.6, tell("Print at 100 %, then measure"), 7, True))
    marks.append(Words(after, 6.7, tell("the bar: it must be {size}", size=size), 7))
    return Block(7.4, tuple(marks))


def bars_on(pages: tuple[Page, ...]) -> list[Document]:
    """Return where the bars are and how long, as JSON."""
    found: list[Document] = []
    for page, mark in ((n, m) for n, p in enumerate(pages, 1) for m in p.marks):
        if not isinstance(mark, Line) or not mark.name.startswith("bar-"):
            continue
        (x, y), (_, end) = mark.points[0], mark.points[-1]
        if mark.name == "bar-0":
            found.append({"page": page, "x": round(x, 4), "y": round(y, 4), "y_end": round(end, 4)})
        else:
            found[-1]["length"] = round(x - float(found[-1]["x"]), 4)
    return found
