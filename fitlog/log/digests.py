"""A digest over all that an entry says, chained to the entry before it, so that what was changed,
taken away or put in behind the log's back is noticed; likewise each advice, sharpening and
preference. A bit, a stock or a machine, which may be edited, has one of its own.

SHA-256 (FIPS 180-4) of the digest before, a line's end, and the text of the row: JSON in ASCII with
sorted names, without what is NULL, empty or zero (so that a column of a later layout changes
none) and without the numbers that say where a row lies. One that begins with "~" was made when an
older log was brought up: it vouches from then on.

So NULL and an empty or zero value have one digest, and the rows that are digested keep it so. Where
a column may be NULL, a CHECK, which health lets the database look at again, or whoever reads the
row refuses the other one; but in advice.by, where both say that it is not known who saw it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from sqlalchemy import Connection, Function, Insert, Table, Text, bindparam, func, select

Values = Mapping[str, Any]
FUNCTION = "fitlog_digest"  # what every store calls `chained` in SQL
LATER = "~"
# Numbers that say where a row lies, which another log gives anew, and what the log adds itself.
_BESIDE = frozenset(("id", "entry", "cut", "digest", "role"))


def chained(before: str, said: str) -> str:
    """Return the digest of what is `said` after the digest `before`, "" for the first."""
    return hashlib.sha256(f"{before}\n{said}".encode()).hexdigest()


def said_of(
    row: Values,
    part: Values | None = None,
    verdicts: Iterable[Values] = (),
    readings: Iterable[Values] = (),
) -> str:
    """Return the text of a row: of an entry with what belongs to it, its `part` and the rows of
    that in their order.
    """
    lists = ([_plain(one) for one in rows] for rows in (verdicts, readings))
    return json.dumps(
        [_plain(row), _plain(part or {}), *lists],
        default=repr,  # of what only a damaged file holds
        sort_keys=True,
        separators=(",", ":"),
    )


def own(row: Values) -> dict[str, Any]:
    """Return the columns of a row of the catalogue with its digest."""
    return {**row, "digest": chained("", said_of(row))}


def advice_said(row: Values) -> str:
    """Return the text of an advice, with the entry that it came after."""
    return said_of({**row, "after": row["entry"]})


def _plain(row: Values) -> dict[str, Any]:
    kept = ((name, value) for name, value in row.items() if name not in _BESIDE and value)
    return {
        name: float(value) if isinstance(value, int) else value
        for name, value in kept
        if not isinstance(value, list)
    }


def append(connection: Connection, table: Table, row: Values, said: str) -> int:
    """Put a row in as the last of its table, with the digest of what it has `said`; return its
    number.
    """
    made = connection.execute(_at_the_end(table), {**row, "said": said}).inserted_primary_key
    assert made is not None
    return int(made[0])


@cache
def _at_the_end(table: Table) -> Insert:
    return table.insert().values(digest=after_last(table))


def after_last(table: Table) -> Function[str]:
    """Return the digest of a row that is put in as the last of its table, as SQL; `said`: its
    text.
    """
    last = select(table.c.digest).order_by(table.c.id.desc()).limit(1).scalar_subquery()
    said = bindparam("said", type_=Text)
    found: Function[str] = getattr(func, FUNCTION)(func.coalesce(last, ""), said)
    return found
