"""A family's table, as texts in the person's units and as JSON."""

from __future__ import annotations

from ..document import Document
from ..families.tables import Cell, Table
from ..language.units import Ruler
from ..texts import tell


def cells(table: Table, ruler: Ruler) -> list[list[str]]:
    """Return the rows as they are read."""
    return [[_cell(cell, ruler) for cell in row] for row in table.rows]


def _cell(cell: Cell, ruler: Ruler) -> str:
    if cell is None:
        return "-"
    if isinstance(cell, float):
        return ruler.length(cell)
    return tell(cell) if isinstance(cell, str) else str(cell)


def numbers(table: Table) -> tuple[int, ...]:
    """Return which columns are of numbers."""
    return tuple(
        n for n in range(len(table.columns)) if table.rows and not isinstance(table.rows[0][n], str)
    )


def rows_document(table: Table) -> list[Document]:
    """Return the rows as JSON, lengths in mm."""
    return [
        {
            name: round(cell, 4) if isinstance(cell, float) else cell
            for name, cell in zip(table.columns, row, strict=True)
        }
        for row in table.rows
    ]
