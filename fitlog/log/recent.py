"""The newest set-ups that share something, found by an index however long the log is: every query
here ends at a LIMIT.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Select, exists, func, select, union_all

from .entries import IS_FINISHED, LIVE, NOT_UNDONE
from .schema import ENTRY, SETUP

_SAID = ENTRY.alias("logged")


Numbers = Select[Any]  # a query of the numbers of set-ups
TERMS = 200  # queries put together as one, far fewer than SQLite takes


def newest(*conditions: Any, most: int | None = None) -> Numbers:
    """Select the newest set-ups whose start stands and which meet the conditions; `most` of them:
    all without.
    """
    return select(SETUP.c.id).where(NOT_UNDONE, *conditions).order_by(SETUP.c.id.desc()).limit(most)


def of_either_board(stock: int, *conditions: Any, most: int | None = None) -> Numbers:
    """Select the newest with a stock in either board, by one search for each, since an OR would
    read all of both.
    """
    boards = (SETUP.c.stock_id, SETUP.c.pin_stock_id)
    return any_of(*(newest(board == stock, *conditions, most=most) for board in boards), most=most)


def any_of(*wanted: Numbers, most: int | None = None) -> Numbers:
    """Select what any of some queries finds, each number once; `most` of the newest."""
    if len(wanted) > TERMS:
        parts = [wanted[n : n + TERMS] for n in range(0, len(wanted), TERMS)]
        return any_of(*(any_of(*part, most=most) for part in parts), most=most)
    found = union_all(*(select(one.subquery()) for one in wanted)).subquery()
    (number,) = found.c
    return select(number).distinct().order_by(number.desc()).limit(most)


def finished(
    *,
    bit: int,
    machine: int | None,
    boards: tuple[int, int],
    woods: Iterable[int],
    people: Iterable[str],
    before: int | None,
    most: int | None,
) -> Numbers:
    """Select the newest finished set-ups of each relation, together: `most` of each, None for all.

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
        newest(*condition, *conditions, most=most)
        for condition in ((SETUP.c.bit_id == bit,), (at,), repeat)
    ]
    of_wood = (of_either_board(wood, *conditions, most=most) for wood in woods)
    shared.append(any_of(*of_wood, most=most))
    return any_of(*shared, *(cut_by(person, before, most) for person in people))


def cut_by(person: str, before: int | None = None, most: int | None = None) -> Numbers:
    """Select the newest finished set-ups of which a person cut a piece."""
    sound = exists().where(SETUP.c.id == _SAID.c.setup, NOT_UNDONE, IS_FINISHED)
    wanted = (
        select(_SAID.c.setup).distinct().where(_SAID.c.kind == "cut", _SAID.c.by == person, sound)
    )
    if before is not None:
        wanted = wanted.where(_SAID.c.setup < before)
    return wanted.order_by(_SAID.c.setup.desc()).limit(most)


def touched(machine: int | None = None, undone: bool = False) -> Numbers:
    """Select the set-up last started or chosen whose start stands, if any: the latest of a few
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
    searches = [started] if there else []
    for kind in ("choose",) if there else ("start", "choose"):
        sound = exists().where(SETUP.c.id == _SAID.c.setup, *stands, *there)
        searches.append(
            select(_SAID.c.id.label("entry"), _SAID.c.setup.label("id"))
            .where(_SAID.c.kind == kind, sound)
            .order_by(_SAID.c.id.desc())
            .limit(1)
        )
    found = union_all(*(select(one.subquery()) for one in searches)).subquery()
    return select(found.c.id).order_by(found.c.entry.desc()).limit(1)


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
        if name is None or not isinstance(name, str):  # a blob, of a damaged file, is last
            return found
        names.append(name)
        stands = exists().where(SETUP.c.id == ENTRY.c.setup, NOT_UNDONE)
        cut = (
            select(ENTRY.c.id)
            .where(ENTRY.c.kind == "cut", ENTRY.c.by == name, LIVE, stands)
            .limit(1)
        )
        found += [name] if name and connection.execute(cut).first() else []
