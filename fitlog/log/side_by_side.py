"""Rows of several tables by one query, each with its own columns."""

from __future__ import annotations

from typing import Any

from sqlalchemy import CompoundSelect, Select, cast, literal, null, select, union_all


def side_by_side(**tables: Select[Any]) -> CompoundSelect[Any]:
    """Return the query of all rows of some queries: `of` says of which, and a column that only
    others have is None.
    """
    parts = {name: wanted.subquery(f"all_{name}") for name, wanted in tables.items()}
    columns = {column.name: column.type for part in parts.values() for column in part.c}
    return union_all(
        *(
            select(
                literal(name).label("of"),
                *(
                    part.c[key] if key in part.c else cast(null(), sql).label(key)
                    for key, sql in columns.items()
                ),
            )
            for name, part in parts.items()
        )
    )
