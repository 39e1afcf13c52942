"""What a column of the log may hold: its SQL type, its meaning, and the CHECK that refuses
nonsense.

A CHECK lets NULL pass, so `null` alone says whether a column may be empty. Every number has an
upper bound, which keeps infinity out, and not-a-number too: PostgreSQL holds it above every number,
SQLite makes it NULL.
"""

from __future__ import annotations

import json as text_of
from math import isinf
from typing import Any

from sqlalchemy import BigInteger, CheckConstraint, Column, ColumnElement, Double, ForeignKey, Text
from sqlalchemy import Integer as Int
from sqlalchemy import text as sql_text
from sqlalchemy.ext.compiler import compiles
from sqlalchemy.schema import SchemaItem
from sqlalchemy.types import REAL as REAL8
from sqlalchemy.types import TypeDecorator

# REAL and INTEGER are of eight bytes in SQLite; PostgreSQL calls those otherwise.
REAL: Any = REAL8().with_variant(Double(), "postgresql")
Integer: Any = Int().with_variant(BigInteger(), "postgresql")

FAR = 1_000_000  # mm; no length of this trade is longer, and it keeps infinity out
MOMENT = "____-__-__T__:__:__.______Z"
LONGEST = 4000  # characters of a JSON object: some hundred names with their numbers


def _finite(text: str) -> float:
    """Read a number of a JSON text; ValueError for 1e400, which every database takes."""
    number = float(text)
    if isinf(number):
        raise ValueError(text)
    return number


class Members(TypeDecorator[dict[str, Any]]):
    """A JSON object as text, in Python a dict: Python writes every float so that it reads back the
    same.
    """

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: dict[str, Any] | None, dialect: Any) -> str | None:
        """Return the text of an object; ValueError for a number that is none."""
        return None if value is None else text_of.dumps(value, allow_nan=False)

    def process_result_value(self, value: Any, dialect: Any) -> Any:
        """Return the object of a text; what is none, as only a damaged file has it, stays as it is,
        to be refused at the `door`.
        """
        try:
            found = None if value is None else text_of.loads(value, parse_float=_finite)
        except (ValueError, TypeError, RecursionError):
            found = None
        return found if isinstance(found, dict) else value


class Told(ColumnElement[bool]):
    """A condition that each database has its own words for."""

    inherit_cache = False

    def __init__(self, sqlite: str, postgresql: str) -> None:
        self.words = {"sqlite": sqlite, "postgresql": postgresql}


@compiles(Told)
def _in_words(element: Told, compiler: Any, **_: Any) -> str:
    return element.words[compiler.dialect.name]


def column(
    name: str, sql: Any, says: str, check: str | Told, *parts: SchemaItem, **options: Any
) -> Column[Any]:
    """Return a column with its meaning and its CHECK."""
    checks = [] if isinstance(check, str) and not check else [CheckConstraint(check)]
    return Column(name, sql, *parts, *checks, comment=says, **options)


def id(says: str) -> Column[Any]:
    """Return the number of a row."""
    return column("id", Integer, says, "id > 0", primary_key=True)


def size(
    name: str, says: str, most: float = FAR, least: float | None = None, null: bool = False
) -> Column[Any]:
    """Return a size above zero (or from `least` on) and up to `most`."""
    low = f"{name} > 0" if least is None else f"{name} >= {least:g}"
    return column(name, REAL, says, f"{low} AND {name} <= {most:.15g}", nullable=null)


def number(name: str, says: str, within: float = FAR, null: bool = False) -> Column[Any]:
    """Return a number of either sign."""
    return column(
        name, REAL, says, f"{name} BETWEEN -{within:.15g} AND {within:.15g}", nullable=null
    )


def count(name: str, says: str, least: int = 0, null: bool = False) -> Column[Any]:
    """Return a whole number."""
    return column(name, Integer, says, f"{name} >= {least}", nullable=null)


def before(name: str, other: str, says: str) -> Column[Any]:
    """Return a number from 1 on that is less than another column's, or none."""
    return column(name, Integer, says, f"{name} >= 1 AND {name} < {other}", nullable=True)


def yes(name: str, says: str, default: int | None = None) -> Column[Any]:
    """Return a 1 or 0; `default` is what rows from before the column have."""
    usual = None if default is None else sql_text(str(default))
    # PostgreSQL makes no bigint of a truth
    return column(name, Int, says, f"{name} IN (0, 1)", nullable=False, server_default=usual)


def name(name: str, says: str, unique: bool = False, null: bool = False) -> Column[Any]:
    """Return a name; a unique one is so whatever the case of its letters."""
    sql = Text(collation="NOCASE").with_variant(Text(), "postgresql") if unique else Text()
    check = f"length(trim({name})) BETWEEN 1 AND 60 AND {name} NOT LIKE '-%'"
    return column(
        name, sql, says, check, nullable=null, unique=unique or None
    )  # on PostgreSQL an index adds lower(name)


def text(name: str, says: str, most: int = 2000, null: bool = False) -> Column[Any]:
    """Return free text, which may be empty."""
    return column(name, Text, says, f"length({name}) <= {most}", nullable=null)


def json(name: str, says: str) -> Column[Any]:
    """Return a JSON document."""
    sound = Told(f"json_valid({name})", f"CAST({name} AS json) IS NOT NULL")
    return column(name, Text, says, sound)


def members(name: str, says: str, null: bool = False) -> Column[Any]:
    """Return a JSON object whose names are those of the joint's family, or of the machine's
    parts.
    """
    short = f"length({name}) <= {LONGEST}"
    none = f"{name} IS NULL OR " if null else ""  # which SQLite takes for no JSON
    sound = Told(
        f"{none}json_valid({name}) AND {name} LIKE '{{%' AND {short}",
        f"json_typeof(CAST({name} AS json)) = 'object' AND {short}",
    )
    says = f"{says}; one of them: {name} ->> 'NAME'"
    return column(name, Members, says, sound, nullable=null)


def word(name: str, says: str) -> Column[Any]:
    """Return a word of the joint's family; which there are, the family says."""
    return column(name, Text, says, f"length(trim({name})) BETWEEN 1 AND 60", nullable=False)


def names(name: str, says: str, least: int = 0) -> Column[Any]:
    """Return names of the joint's family with commas between, at least so many characters."""
    check = f"length({name}) BETWEEN {least} AND 1000"
    return column(name, Text, says, check, nullable=False)


def one_of(words: tuple[str, ...]) -> str:
    """Return the SQL condition that a value is one of `words`."""
    return "IN (" + ", ".join(f"'{word}'" for word in words) + ")"


def choice(name: str, says: str, words: tuple[str, ...], default: str | None = None) -> Column[Any]:
    """Return one of a few words; `default` is what rows from before the column have."""
    return column(
        name, Text, says, f"{name} {one_of(words)}", nullable=False, server_default=default
    )


def moment(says: str) -> Column[Any]:
    """Return a moment in UTC, to the microsecond."""
    day = Told(
        f"at LIKE '{MOMENT}' AND julianday(at) IS NOT NULL",
        f"at LIKE '{MOMENT}' AND CAST(at AS timestamptz) IS NOT NULL",
    )
    return column("at", Text, says, day, nullable=False)


def key(name: str, says: str) -> Column[Any]:
    """Return a word of at most 100 characters that is no user's own, or none."""
    return column(name, Text, says, f"length({name}) BETWEEN 1 AND 100", nullable=True)


def digest() -> Column[Any]:
    """Return the digest of the row with all that belongs to it (`digests`)."""
    says = "over the row and what belongs to it, after the one before (SHA-256); ~: made later"
    return column("digest", Text, says, "length(digest) BETWEEN 64 AND 65", nullable=True)


def by() -> Column[Any]:
    """Return who did it."""
    return text("by", "who, as logged in or as preferred", 200)


def ref(
    name: str, target: str, says: str, later: bool = False, key: bool = False, **options: Any
) -> Column[Any]:
    """Return a reference to a row that cannot be removed; `later`: checked at the end of the
    transaction.
    """
    link = ForeignKey(
        target,
        ondelete="RESTRICT",
        deferrable=later or None,
        initially="DEFERRED" if later else None,
    )
    null = options.pop("null", False)
    return column(
        name, Integer, says, f"{name} > 0", link, primary_key=key, nullable=null, **options
    )
