"""A table as plain data: what a family tells in rows, whatever shows it."""

from __future__ import annotations

from typing import NamedTuple

Cell = float | int | str | None  # a length, mm; a number of things; a text in English; nothing


class Table(NamedTuple):
    """name: as JSON calls it; heading, columns: in English, the latter by the names that JSON has
    for them; rows: as many cells each as there are columns.
    """

    name: str
    heading: str
    columns: dict[str, str]
    rows: tuple[tuple[Cell, ...], ...]
