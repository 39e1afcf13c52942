"""The hand rule as a picture: which edge of a board goes to the fence at each corner of a drawer,
and how a pin board lies there. Lengths mm.

Seen from outside with the marked edge up, the left end of a pin board has that edge at the fence,
the right end the other one; a tail board has the same as the pin board that it meets. So the front
left and the back right corner are alike.
"""

from __future__ import annotations

import math

from ...families.half_blind.layouts.corners import Boards
from ...texts import tell
from ..sheet.paper import AT_MACHINE, Block, Line, Mark, Measure, Shape, Words, paragraph, title
from .outline import PIN_GREY, TAIL_GREY

# Of each corner of a drawer whether the marked edge is at the fence.
CORNERS = {
    end.mark: end.edge == "marked" for end in Boards("front", "back", "side", boxes=1).patterns
}
_SIZE = AT_MACHINE
_BOX = 4.8  # the square at a corner
_PLAN = (6.5, 6.0, 46.0, 18.6)  # left, top, width and height of the drawer from above
_THICK = 3.2  # of its boards
_BESIDE, _TOLD = 61.0, 122.0  # from where the legend and the fence are drawn, and more is told


def picture(width: float, measure: Measure) -> Block:
    """Return the rule, drawn in `width`: the drawer from above, and a pin board at the fence."""
    marks = [*title(tell("Which edge goes to the fence"), width).marks, *_plan()]
    marks += _legend(_BESIDE, 6.6)
    marks += _fence(_BESIDE, 17.4, width - _BESIDE, measure)
    if (left := width - _TOLD) > 45.0:
        same = tell("A tail board has the same edge at the fence as the pin board that it meets.")
        marks += paragraph(same, left, _SIZE, measure).at(_TOLD, 6.4)
    return Block(_PLAN[1] + _PLAN[3] + 6.4, tuple(marks))


def _plan() -> list[Mark]:
    """The drawer from above, its front at the bottom, with the sign of each corner."""
    left, top, wide, high = _PLAN
    right, low = left + wide, top + high
    marks: list[Mark] = [
        _rectangle(left, top + _THICK, left + _THICK, low - _THICK, TAIL_GREY),
        _rectangle(right - _THICK, top + _THICK, right, low - _THICK, TAIL_GREY),
        _rectangle(left, top, right, top + _THICK, PIN_GREY),
        _rectangle(left, low - _THICK, right, low, PIN_GREY),
    ]
    for name, marked in CORNERS.items():
        above, at_left = name[0] == "B", name[1] == "L"
        x = left - 1.2 - _BOX if at_left else right + 1.2
        marks.append(_square(x, top if above else low - _BOX, marked))
        beside = left + _THICK + 1.2 if at_left else right - _THICK - 1.2
        y = top + _THICK + 4.2 if above else low - _THICK - 1.4
        marks.append(Words(beside, y, name, _SIZE, True, "left" if at_left else "right"))
    middle = left + wide / 2
    marks.append(Words(middle, top + high / 2 + 1.3, tell("from above"), _SIZE, align="center"))
    marks.append(Words(middle, low + 4.4, tell("front"), _SIZE, align="center"))
    return marks


def _legend(x: float, y: float) -> list[Mark]:
    """What the signs of the corners mean."""
    marks: list[Mark] = []
    for n, (marked, text) in enumerate(
        ((True, tell("marked edge to the fence")), (False, tell("other edge to the fence")))
    ):
        top = y + n * (_BOX + 0.6)
        marks += [_square(x, top, marked), Words(x + _BOX + 1.6, top + 3.7, text, _SIZE)]
    return marks


def _fence(x: float, y: float, width: float, measure: Measure) -> list[Mark]:
    """A pin board flat at the fence as seen from above, its end leading to the bit."""
    text = tell("inside face down")
    wide = min(width, measure(text, _SIZE, False) + 22.0)
    board, low, bit = x + 9.0, y + 13.4, x + 3.4
    return [
        _rectangle(x, y, x + wide, y + 4.4, 0.35),
        Words(x + wide / 2, y + 3.5, tell("fence"), _SIZE, True, "center", 1.0),
        _rectangle(board, y + 4.8, x + wide, low, PIN_GREY),
        Line(((board, y + 5.2), (x + wide, y + 5.2)), 0.8),
        Words((board + x + wide) / 2, y + 10.4, text, _SIZE, align="center"),
        Shape(_circle(bit, (y + 4.8 + low) / 2, 2.4), TAIL_GREY, 0.3),
        Line(((board - 0.6, (y + 4.8 + low) / 2), (bit + 3.2, (y + 4.8 + low) / 2)), 0.35),
        Shape(
            tuple(
                (bit + 2.8 + dx, (y + 4.8 + low) / 2 + dy)
                for dx, dy in ((0.0, 0.0), (1.5, -0.8), (1.5, 0.8))
            ),
            0.0,
            0.0,
        ),
    ]


def _square(x: float, y: float, marked: bool) -> Shape:
    """The sign of a corner: black where the marked edge is at the fence."""
    return _rectangle(x, y, x + _BOX, y + _BOX, 0.0 if marked else 1.0)


def _rectangle(left: float, top: float, right: float, low: float, grey: float) -> Shape:
    return Shape(((left, top), (right, top), (right, low), (left, low)), grey, 0.25)


def _circle(x: float, y: float, radius: float) -> tuple[tuple[float, float], ...]:
    turns = (2 * math.pi * n / 24 for n in range(24))
    return tuple((x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns)
