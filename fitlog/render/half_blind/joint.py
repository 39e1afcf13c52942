"""The drawing of the joint: a section along the pin board's end with the tails in their sockets,
and what its letters mean.

The tail board stands above the baseline, the pin board lies below it; the marked edge is at the
left. Lengths mm.
"""

from __future__ import annotations

from ...families.half_blind.layouts import Layout
from ...families.half_blind.layouts.groove import Groove
from ...families.half_blind.widths import Widths
from ...language.units import Ruler
from ...texts import tell
from ..drawing import scale_name
from ..sheet.paper import Block, Line, Mark, Measure, Point, Shape, Words, moved
from .outline import (
    PIN_GREY,
    TAIL_GREY,
    cut_off,
    groove_outline,
    outline,
    pin_spans,
    tail_spans,
)

_SCALES = (3.0, 2.5, 2.0, 1.5, 1.25, 1.0, 0.75, 0.6, 0.5, 0.4, 0.3, 0.25, 0.2, 0.15, 0.1, 0.05)
_STUB = 5.0  # of the tail board above the baseline, on paper
_INSET = 1.0  # the strokes at a dimension's ends stay within the margin, too
_ROOM = (10.0, 11.5, 6.0)  # for dimensions at the right, below and above, on paper


def letters(
    layout: Layout, pin_thickness: float, known: Widths, ruler: Ruler
) -> list[tuple[str, str, str]]:
    """Return the letters of the drawing with what each is and its size. known: how wide mouth, tail
    and bit are.
    """
    mouth, bit = known.mouth.mean, known.bit.mean
    thin, thick = (layout.edge + (layout.pitch - wide) / 2 for wide in (bit, mouth))
    found = [
        ("H", tell("bit height = tail"), layout.height),
        ("L", tell("lap"), pin_thickness - layout.height),
        ("S", tell("spacing of slots"), layout.spacing)
        if layout.wide
        else ("P", tell("pitch"), layout.pitch),
        ("M", tell("mouth of a slot"), mouth),
        ("T", tell("tail at its end"), known.tail.mean),
    ]
    rows = [(letter, name, ruler.length(size)) for letter, name, size in found]
    return [
        *rows,
        (
            "K",
            tell("half-pin"),
            tell(
                "{thin} to {thick}", thin=ruler.length(thin, bare=True), thick=ruler.length(thick)
            ),
        ),
    ]


def drawing(
    layout: Layout,
    pin_thickness: float,
    width: float,
    height: float,
    measure: Measure,
    groove: Groove | None = None,
) -> Block:
    """Return the joint from the marked edge on, at the largest of the usual scales that `width` and
    `height` hold; with a groove from the lower edge on: the layout ends alike at both.
    """
    right, below, above = _ROOM
    end = (
        layout.width if layout.tails == 1 else min(layout.width, layout.edge + 1.5 * layout.spacing)
    )
    fits = [
        s
        for s in _SCALES
        if end * s <= width - right and pin_thickness * s <= height - _STUB - below - above
    ]
    scale = (
        fits[0]
        if fits
        else min((width - right) / end, (height - _STUB - below - above) / pin_thickness)
    )
    base = above + _STUB
    marks: list[Mark] = []

    def to(points: list[Point]) -> tuple[Point, ...]:
        return tuple((x * scale, base + y * scale) for x, y in points)

    deep = layout.height
    tail = outline(layout, tail_spans(layout), deep, 0.0, -_STUB / scale)
    pin = outline(layout, pin_spans(layout), 0.0, deep, pin_thickness)
    marks += [
        Shape(to(cut_off(pin, 0.0, end)), PIN_GREY, 0.3),
        Shape(to(cut_off(tail, 0.0, end)), TAIL_GREY, 0.3),
    ]
    cut = [] if groove is None else cut_off(groove_outline(groove), 0.0, end)
    marks += [Line(to([*cut, cut[0]]), 0.3, dashed=True)] if cut else []
    bottom = base + pin_thickness * scale
    if end < layout.width - 1e-6:
        marks += _broken(end * scale, above, bottom)
    marks += _names(layout, scale, base, measure, tails=not cut)
    marks += _upright(end * scale + 2.5, base, base + deep * scale, bottom)
    marks += _level(layout, scale, base, bottom)
    note = tell(
        "Section at the lower edge, {scale_name}; dashed: groove."
        if cut
        else "Section at the marked edge, {scale_name}.",
        scale_name=scale_name(scale),
    )
    marks.append(Words(-_INSET, bottom + 10.4, note, 7))
    return Block(bottom + below, tuple(moved(mark, _INSET, 0.0) for mark in marks))


def _broken(x: float, top: float, bottom: float) -> list[Mark]:
    """A break: the board goes on. It lies over the outline's straight end."""
    step = (bottom - top) / 8
    zigzag = tuple(
        (x + (0.0 if n in (0, 8) else 0.9 * (-1) ** n), top + n * step) for n in range(9)
    )
    return [Line(((x, top), (x, bottom)), 0.7, grey=1.0), Line(zigzag, 0.2)]


def _names(
    layout: Layout, scale: float, base: float, measure: Measure, *, tails: bool
) -> list[Mark]:
    """What is what, where its name fits in. tails: no groove lies in one."""
    middle, found = base + layout.height * scale / 2 + 0.9, []
    tail, pin = layout.edge + layout.spacing / 2, layout.edge + layout.spacing
    for text, at, wide in ((tell("tail"), tail, layout.tail[0]), (tell("pin"), pin, layout.pin[0])):
        shown = tails if text == tell("tail") else layout.tails > 1
        if shown and wide * scale > measure(text, 8, False) + 1.5 and layout.height * scale > 4:
            found.append(Words(at * scale, middle, text, 8, align="center"))
    if measure(tell("tail board"), 7, False) < layout.spacing * scale:
        found.append(Words(tail * scale, base - 1.6, tell("tail board"), 7, align="center"))
    return [*found]


def _upright(x: float, base: float, deep: float, bottom: float) -> list[Mark]:
    """Height and lap at the right."""
    marks: list[Mark] = []
    for letter, top, low in (("H", base, deep), ("L", deep, bottom)):
        marks += [Line(((x, top), (x, low)), 0.15), *_end(x, top), *_end(x, low)]
        beside = (
            4.8 if letter == "L" and (bottom - base) / 2 < 3.6 else 1.8
        )  # the letters lie half the whole apart
        marks.append(Words(x + beside, (top + low) / 2 + 1.0, letter, 8, True))
    return marks


def _level(layout: Layout, scale: float, base: float, bottom: float) -> list[Mark]:
    """Pitch above; half-pin, tail and mouth below."""
    narrow, half_tail = layout.mouth / 2, layout.tail[1] / 2
    first, second, tail = layout.slots[0], layout.slots[1], layout.edge + layout.spacing / 2
    marks: list[Mark] = []
    over, under = base - _STUB - 2.2, bottom + 2.6
    marks += [
        Line(((max(first, 0) * scale, over), (second * scale, over)), 0.15),
        *_end(max(first, 0) * scale, over),
    ]
    name = "S" if layout.wide else "P"
    marks += [
        *_end(second * scale, over),
        Words((first + second) / 2 * scale, over - 0.8, name, 8, True, "center"),
    ]
    for at in (at for at in (first, second) if at >= 0):
        marks.append(Line(((at * scale, over + 1.0), (at * scale, base)), 0.12, dashed=True))
    spans = [("K", 0.0, layout.half_pin[0]), ("T", tail - half_tail, tail + half_tail)]
    spans += [("M", second - narrow, second + narrow)] if layout.tails > 1 else []
    for letter, low, high in spans:
        marks += [
            Line(((low * scale, under), (high * scale, under)), 0.15),
            *_end(low * scale, under),
        ]
        marks += [
            *_end(high * scale, under),
            Words((low + high) / 2 * scale, under + 3.9, letter, 8, True, "center"),
        ]
        for at in {"K": (low,), "T": (low, high), "M": (high,)}[letter]:
            marks.append(
                Line(((at * scale, base + layout.height * scale), (at * scale, under + 0.9)), 0.12)
            )
    return marks


def _end(x: float, y: float) -> list[Mark]:
    """The slanted stroke at the end of a dimension."""
    return [Line(((x - 0.7, y + 0.7), (x + 0.7, y - 0.7)), 0.25)]
