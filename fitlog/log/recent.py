"""The newest set-ups that share something, found by an index however long the log is: every query
here ends at a LIMIT.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Select, exists, func, select

from .entries import IS_FINISHED, LIVE, NOT_UNDONE
from .schema import ENTRY, SETUP

_SAID = ENTRY.alias("logged")


def newest(connection: Connection, *conditions: Any, most: int | None = None) -> list[int]:
    """Return the numbers of the newest set-ups whose start stands and which meet the conditions;
    `most` of them.
    """
    wanted = (
        select(SETUP.c.id).where(NOT_UNDONE, *conditions).order_by(SETUP.c.id.desc()).limit(most)
    )
    return [int(number) for number in connection.execute(wanted).scalars()]


def of_either_board(
    connection: Connection, stock: int, *conditions: Any, most: int | None = None
) -> list[int]:
    """Return the newest with a stock in either board; one search for each board, since an OR would
    read all of both.
    """
    return top(
        (
            n
            for board in (SETUP.c.stock_id, SETUP.c.pin_stock_id)
            for n in newest(connection, board == stock, *conditions, most=most)
        ),
        most,
    )


def finished(
    connection: Connection,
    *,
    bit: int,
    machine: int | None,
    boards: tuple[int, int],
    woods: Iterable[int],
    people: Iterable[str],
    before: int | None,
    most: int | None,
) -> list[int]:
    """Return the newest finished set-ups of each relation, together: `most` of each, None for all.

    bit, machine (None: those without one), woods (stocks of a species, in either board) and people
    (who cut a piece of it, taken back or not) are a relation each; the repeats, with the bit and
    both `boards`, are one more.
    """
    older = [] if before is None else [SETUP.c.id < before]
    conditions = [*older, IS_FINISHED]
    at = SETUP.c.machine_id.is_(None) if machine is None else SETUP.c.machine_id == machine
    repeat = (
        SETUP.c.bit_id == bit,
        SETUP.c.stock_id == boards[0],
        SETUP.c.pin_stock_id == boards[1],
    )
    shared = [
        newest(connection, *condition, *conditions, most=most)
        for condition in ((SETUP.c.bit_id == bit,), (at,), repeat)
    ]
    shared.append(
        top(
            (n for w in woods for n in of_either_board(connection, w, *conditions, most=most)), most
        )
    )
    shared += [cut_by(connection, person, before, most) for person in people]
    return sorted({number for numbers in shared for number in numbers}, reverse=True)


def cut_by(
    connection: Connection, person: str, before: int | None = None, most: int | None = None
) -> list[int]:
    """Return the newest finished set-ups of which a person cut a piece."""
    sound = exists().where(SETUP.c.id == _SAID.c.setup, NOT_UNDONE, IS_FINISHED)
    wanted: Select[Any] = (
        select(_SAID.c.setup).distinct().where(_SAID.c.kind == "cut", _SAID.c.by == person, sound)
    )
    if before is not None:
        wanted = wanted.where(_SAID.c.setup < before)
    return [
        int(n)
        for n in connection.execute(wanted.order_by(_SAID.c.setup.desc()).limit(most)).scalars()
    ]


def touched(connection: Connection, machine: int | None = None, undone: bool = False) -> int | None:
    """Return the set-up last started or chosen whose start stands, or None: the later of two
    searches.

    machine: only those at it. undone: one whose start was taken back, too.
    """
    stands = [] if undone else [NOT_UNDONE]
    there = [] if machine is None else [SETUP.c.machine_id == machine]
    started = (
        select(SETUP.c.entry, SETUP.c.id)
        .where(*stands, *there)
        .order_by(SETUP.c.id.desc())
        .limit(1)
    )
    found = [(int(row.entry), int(row.id)) for row in connection.execute(started)] if there else []
    for kind in ("choose",) if there else ("start", "choose"):
        sound = exists().where(SETUP.c.id == _SAID.c.setup, *stands, *there)
        wanted = (
            select(_SAID.c.id, _SAID.c.setup)
            .where(_SAID.c.kind == kind, sound)
            .order_by(_SAID.c.id.desc())
            .limit(1)
        )
        found += [(int(row.id), int(row.setup)) for row in connection.execute(wanted)]
    return max(found)[1] if found else None


def count(connection: Connection) -> int:
    """Return how many set-ups are finished: a count, which looks at each."""
    return int(
        connection.execute(
            select(func.count()).select_from(SETUP).where(NOT_UNDONE, IS_FINISHED)
        ).scalar_one()
    )


def people(connection: Connection) -> list[str]:
    """Return everybody of whom a logged cut stands, in order: one search for each name."""
    names: list[str] = []
    found: list[str] = []
    while True:
        after = [_SAID.c.by > names[-1]] if names else []
        name = connection.execute(
            select(func.min(_SAID.c.by)).where(_SAID.c.kind == "cut", *after)
        ).scalar_one_or_none()
        if name is None:
            return found
        names.append(str(name))
        stands = exists().where(SETUP.c.id == ENTRY.c.setup, NOT_UNDONE)
        cut = (
            select(ENTRY.c.id)
            .where(ENTRY.c.kind == "cut", ENTRY.c.by == name, LIVE, stands)
            .limit(1)
        )
        found += [name] if name and connection.execute(cut).first() else []


def top(numbers: Iterable[int], most: int | None) -> list[int]:
    """Return the `most` highest of some numbers, each once."""
    return sorted(set(numbers), reverse=True)[:most]
