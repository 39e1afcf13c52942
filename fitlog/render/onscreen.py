"""A `Drawing` as an SVG of its own, for a screen of any width and colours; its measures below."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from ..domain.drawing import Drawing
from ..language.units import Ruler
from ..texts import tell
from .drawing import EDGE, drawn_at, legend, lettered, measures, rooms_of
from .sheet.paper import AT_MACHINE, MM_PER_POINT, Mark, Shape, Words
from .shortened import shortened

_LARGEST, _HIGHEST = 2.0, 1.2  # of full size; its height, of its width


def svg(drawing: Drawing, ruler: Ruler, width: float = 120.0) -> str:
    """Return a drawing as an SVG of its own, in the colour of the text around it, with its true
    measures below it: as large as the room allows, what is long and empty broken out. width: what
    it is drawn in, in its units, which are mm of a screen's type.
    """
    letters = lettered([drawing])
    short, breaks = shortened(drawing)
    left, top, right, bottom = short.box
    rooms = rooms_of(short)
    room = width - 2 * EDGE - rooms["left"] - rooms["right"]
    scale = min(_LARGEST, room / (right - left), _HIGHEST * width / (bottom - top))
    shown = drawn_at(short, letters, _about, scale, breaks=breaks)
    rows = measures([drawing], letters, ruler)
    longest = max(
        (_about(n, AT_MACHINE, False) + _about(v, AT_MACHINE, True) for _, n, v in rows),
        default=0.0,
    )
    wide = max(shown.width, min(width, longest + 10.0))
    told = legend(rows, wide - 2 * EDGE, _about)
    marks = (*shown.block.marks, *told.at(EDGE, shown.block.height + 1.0))
    high = shown.block.height + told.height + 2.0
    parts = [
        '<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'aria-label={quoteattr(tell(drawing.title))} viewBox="0 0 {wide:.2f} {high:.2f}" '
        f'width="{wide:.2f}mm" height="{high:.2f}mm" font-family="sans-serif">',
        *map(_element, marks),
        "</svg>",
    ]
    return "\n".join(parts)


def _about(text: str, size: float, bold: bool) -> float:
    """Return about how wide a text is in whatever type a screen has, rather too wide."""
    return len(text) * size * MM_PER_POINT * (0.68 if bold else 0.6)


def _element(mark: Mark) -> str:
    if isinstance(mark, Words):
        anchor = {"left": "start", "center": "middle", "right": "end"}[mark.align]
        weight = ' font-weight="bold"' if mark.bold else ""
        return (
            f'<text x="{mark.x:.3f}" y="{mark.y:.3f}" font-size="{mark.size * MM_PER_POINT:.3f}" '
            f'text-anchor="{anchor}" fill="currentColor"{weight}>{escape(mark.text)}</text>'
        )
    points = " ".join(f"{x:.4f},{y:.4f}" for x, y in mark.points)
    if isinstance(mark, Shape):
        line = f'stroke="currentColor" stroke-width="{mark.weight:g}"' if mark.weight else ""
        # On what may lie below it, then as grey as it is in the colour of the text.
        paper = f'<polygon class="paper" points="{points}" fill="#fff"/>'
        ink = f'<polygon points="{points}" {_ink("fill", 1.0 - mark.grey)} {line}/>'
        return paper if mark.grey == 1.0 and not mark.weight else paper + ink
    # No id: several drawings stand on one page, each with its own letters.
    name = f' data-line="{mark.name}"' if mark.name else ""
    dashes = ' stroke-dasharray="1 0.6"' if mark.dashed else ""
    return (
        f'<polyline{name} points="{points}" fill="none" {_ink("stroke", 1.0 - mark.grey)} '
        f'stroke-width="{mark.weight:g}"{dashes}/>'
    )


def _ink(what: str, share: float) -> str:
    return f'{what}="currentColor" {what}-opacity="{share:.2g}"'
