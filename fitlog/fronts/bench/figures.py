"""Large figures in plain ASCII, five rows high, to be read from where the machine stands."""

from __future__ import annotations

ROWS = 5
# Three columns a digit; what is no digit is as wide as it needs to be.
_FACES = {
    "0": "### # # # # # # ###",
    "1": " #  ##   #   #  ###",
    "2": "###   # ### #   ###",
    "3": "###   # ###   # ###",
    "4": "# # # # ###   #   #",
    "5": "### #   ###   # ###",
    "6": "### #   ### # # ###",
    "7": "###   #   #   #   #",
    "8": "### # # ### # # ###",
    "9": "### # # ###   # ###",
    "/": "  #   #  #  #   #  ",
    "-": "        ###        ",
    "+": "     #  ###  #     ",
    ".": ". . . . #",
    ",": ". . . . #",
    "(": " # #  #  #   #",
    ")": "#   #  #  # # ",
    " ": ". . . . .",
}
_LETTERS = {
    "m": "..... ..... ####. #.#.# #.#.#",
    "i": "# . # # #",
    "n": "... ... ##. #.# #.#",
    "t": ".#. ### .#. .#. .##",
    "h": "#.. #.. ##. #.# #.#",
    "o": "... ... ### #.# ###",
    "u": "... ... #.# #.# ###",
}


def _rows(face: str, width: int) -> list[str]:
    """Cut a face of `width` columns into its five rows; rows stand apart by one character."""
    return [face[i * (width + 1) : i * (width + 1) + width].replace(".", " ") for i in range(ROWS)]


_GLYPHS = {
    char: _rows(face, (len(face) + 1) // ROWS - 1) for char, face in (_FACES | _LETTERS).items()
}


def large(text: str, *, wide: bool = False) -> list[str]:
    """Return `text` (digits, point, slash, signs, brackets and the letters of mm, in, thou) as five
    rows of equal length.

    wide: two columns a dot, which looks square on a terminal. Raises KeyError for any other
    character.
    """
    dots = 2 if wide else 1
    rows = [""] * ROWS
    for char in text:
        for i, row in enumerate(_GLYPHS[char]):
            rows[i] += "".join(dot * dots for dot in row) + " " * dots
    return [row[: len(row) - dots] for row in rows] if text else rows


def figures(text: str, room: int) -> list[list[str]]:
    """Return a length as `Ruler` shows it ("13.25 mm", "2 61/64 in (2.954)") in every size that
    `room` columns hold.

    The largest comes first. The digits come before the units and a decimal in brackets, which are
    large too or in normal type at the foot.
    """
    ways = ((True, True), (True, False), (False, True), (False, False))
    found = (_set(text, wide=wide, units_large=units_large) for wide, units_large in ways)
    return [rows for rows in found if len(rows[0]) <= room]


def _set(text: str, *, wide: bool, units_large: bool) -> list[str]:
    """Set the words of a length beside each other: numbers and signs large, units large
    or plain.
    """
    rows = [""] * ROWS
    for word in text.split(" "):
        beside = word.isalpha() or word.startswith("(")  # a unit, or the decimal of a mark
        if not beside:
            part = large(word, wide=wide)
        else:
            part = large(word) if units_large else [" " * len(word)] * (ROWS - 1) + [word]
        gap = "" if not rows[0] else " " if beside and not (wide or units_large) else "   "
        rows = [row + gap + more for row, more in zip(rows, part, strict=True)]
    return rows
