"""Boards, pitches and bits as no shop has them: sizes swapped, in another unit, or with a slipped
point.

Pure: sizes in, doubts out. The bounds are common practice, no source; inside them everything is
taken as typed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..families.doubting import LIKE, WIDTHS, doubts_of
from ..families.wanted import Wanted
from ..language.doubts import Doubt, doubted, slips
from ..language.units import Ruler
from ..texts import tell

BOARDS = (
    5.0,
    60.0,
)  # mm thick: thinner leaves no lap and no rabbet, thicker goes over no dovetail bit
DIAMETERS = (4.0, 50.0)  # mm, of dovetail bits
LENGTHS = (4.0, 50.0)  # mm, of their cutting edges
ANGLES = (4.0, 30.0)  # degrees
USUAL_ANGLES = (7.0, 7.5, 8.0, 9.0, 9.5, 10.0, 12.0, 14.0, 15.0, 18.0)
MOST_SLENDER = 2.0  # cutting lengths in diameters
_ODD = {
    "thickness": "a board {size} thick is none that a shop has for this joint",
    "width": "a board {size} wide is none that a shop has for this joint",
    "diameter": "a diameter of {size} is none that a shop has for this joint",
    "cutting_length": "a cutting length of {size} is none that a shop has for this joint",
}


def start_doubts(wanted: Wanted, ruler: Ruler) -> Iterator[Doubt]:
    """Yield what no shop would mean by the sizes of a set-up: its boards, their step, the first
    height.

    What a repeat takes over was taken before, and is not asked about again.
    """
    width, thick, _ = wanted.boards()
    given_width, given_thick = wanted.size("board_width"), wanted.size("tail_thickness")
    said = wanted.again is None or given_width is not None or given_thick is not None
    if said and _swapped(width, thick):
        yield _swapped_board(ruler, width, thick, "board_width", "tail_thickness")
        return
    boards = (
        ("tail_thickness", given_thick, wanted.stock.thickness, "the tail board"),
        (
            "pin_thickness",
            wanted.size("pin_thickness"),
            wanted.pin_stock.thickness,
            "the pin board",
        ),
    )
    for name, given, usual, board in boards:
        if given is not None:
            yield from _thickness(ruler, name, given, usual, board)
    yield from doubts_of(wanted.joint).start(wanted, ruler)


def sizes_doubts(kind: str, sizes: Mapping[str, float], ruler: Ruler) -> Iterator[Doubt]:
    """Yield what no shop would mean by the sizes of a bit or a stock. sizes: mm by name, and a
    bit's "angle", deg.
    """
    if kind == "stock":
        yield from _stock(ruler, sizes)
    if kind == "bit":
        yield from _bit(ruler, sizes)


def _stock(ruler: Ruler, sizes: Mapping[str, float]) -> Iterator[Doubt]:
    thick, width = sizes.get("thickness"), sizes.get("width")
    if thick is not None and width is not None and _swapped(width, thick):
        yield _swapped_board(ruler, width, thick)
        return
    for name, value, bounds, usual in (
        ("thickness", thick, BOARDS, (9.0, 30.0)),
        ("width", width, WIDTHS, (60.0, 400.0)),
    ):
        if value is not None and not bounds[0] <= value <= bounds[1]:
            yield _odd(ruler, name, value, usual)


def _bit(ruler: Ruler, sizes: Mapping[str, float]) -> Iterator[Doubt]:
    diameter, length = sizes.get("diameter"), sizes.get("cutting_length")
    angle = sizes.get("angle", USUAL_ANGLES[0])
    if angle in (0, 45):  # a straight bit may be long, thin or wide, one of 45 deg large
        return
    if (
        diameter is not None
        and diameter in USUAL_ANGLES
        and angle not in USUAL_ANGLES
        and DIAMETERS[0] <= angle
    ):
        meant = tell(
            "a diameter of {diameter} and an angle of {angle:g} deg",
            diameter=ruler.size(angle),
            angle=diameter,
        )
        yield doubted(
            "swapped-sizes",
            "a diameter of {diameter} with an angle of {angle:g} deg look swapped",
            meant,
            {"diameter": angle, "angle": diameter},
            diameter=ruler.size(diameter),
            angle=angle,
        )
        return
    if diameter is not None and length is not None and length > MOST_SLENDER * diameter:
        meant = tell(
            "a diameter of {diameter} and a cutting length of {length}",
            diameter=ruler.size(length),
            length=ruler.size(diameter),
        )
        yield doubted(
            "swapped-sizes",
            "a diameter of {diameter} with a cutting length of {length} look swapped",
            meant,
            {"diameter": length, "cutting_length": diameter},
            diameter=ruler.size(diameter),
            length=ruler.size(length),
        )
        return
    for name, value, bounds in (
        ("diameter", diameter, DIAMETERS),
        ("cutting_length", length, LENGTHS),
    ):
        if value is not None and not bounds[0] <= value <= bounds[1]:
            yield _odd(ruler, name, value, (6.0, 32.0))
    if not ANGLES[0] <= angle <= ANGLES[1]:
        yield _odd_angle(angle)


def _odd_angle(angle: float) -> Doubt:
    """An angle outside what is sold, with the slipped point that is usual."""
    ways = [way for way in (angle * 10, angle / 10) if 7 <= way <= 18]
    return doubted(
        "odd-size",
        "a side angle of {angle:g} deg is no dovetail's",
        f"{ways[0]:g} deg" if ways else "",
        {"angle": ways[0]} if ways else {},
        angle=angle,
    )


def _odd(ruler: Ruler, name: str, value: float, usual: tuple[float, float]) -> Doubt:
    """A size outside what is sold, with the slip of it that is usual."""
    found = next((pair for pair in slips(value, ruler) if usual[0] <= pair[0] <= usual[1]), None)
    meant, shown = found or (None, "")
    return doubted(
        "odd-size",
        _ODD[name],
        shown,
        {} if meant is None else {name: meant},
        size=ruler.size(value),
    )


def _thickness(ruler: Ruler, name: str, given: float, usual: float, board: str) -> Iterator[Doubt]:
    """A board of another thickness than its stock's by a slip, or one that no joint is cut in."""
    found = next(
        (pair for pair in slips(given, ruler) if abs(pair[0] - usual) <= LIKE * usual), None
    )
    if found is None and BOARDS[0] <= given <= BOARDS[1]:
        return
    meant, shown = found or (None, "")
    yield doubted(
        "odd-size",
        "{board} would be {given} thick, and its stock is {usual}",
        shown,
        {} if meant is None else {name: meant},
        board=board,
        given=ruler.size(given),
        usual=ruler.size(usual),
    )


def _swapped(width: float, thick: float) -> bool:
    """Whether a width and a thickness are a board's only the other way round."""
    return thick > width and BOARDS[0] <= width <= BOARDS[1] and WIDTHS[0] <= thick


def _swapped_board(
    ruler: Ruler, width: float, thick: float, wide: str = "width", deep: str = "thickness"
) -> Doubt:
    meant = tell("{width} wide and {thick} thick", width=ruler.size(thick), thick=ruler.size(width))
    return doubted(
        "swapped-sizes",
        "a board {thick} thick and {width} wide has its sizes swapped",
        meant,
        {wide: thick, deep: width},
        thick=ruler.size(thick),
        width=ruler.size(width),
    )
