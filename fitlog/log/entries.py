"""What the entries of the log say of a set-up: its newest entry, whether it is open, its next
piece.

Every function takes a connection of a transaction, so that what is asked and what is then written
agree.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Any, Literal

from sqlalchemy import Connection, Row, Select, bindparam, exists, func, select

from ..errors import Refused
from ..texts import tell
from . import digests
from .door import sound
from .rows import Stamp, Values, moment_text
from .schema import ADVICE, ENTRY, REDO, RETRACTION, SETUP, TRIAL_CUT

AS_IT_IS = "finish-as-is"  # finished short of ready, by the user's word
OUTCOMES: dict[str, Literal["finished", "abandoned"]] = {
    "finish": "finished",
    AS_IT_IS: "finished",
    "abandon": "abandoned",
}
FINISHES = tuple(kind for kind, outcome in OUTCOMES.items() if outcome == "finished")
UNDOABLE = ("start", "cut", "found", "note", *OUTCOMES)
HIGHEST = 2**63 - 1  # the largest number SQLite knows

# Each of these looks at one row by an index; a NOT IN would read every retraction of the log.
_BACK, _END, _AGAIN, _OWN = (
    RETRACTION.alias("taken_back"),
    ENTRY.alias("ending"),
    REDO.alias("brought_back"),
    ENTRY.alias("own"),
)
# A taking back holds until a redo takes it back; nobody can take back a redo, but what it brought
# back.
HOLDS = ~exists().where(_AGAIN.c.redone == _BACK.c.entry)


def _live(entry: Any) -> Any:
    return ~exists().where(_BACK.c.retracted == entry, HOLDS)


def _ended(*kinds: str) -> Any:
    """Whether a set-up has an entry of these kinds that stands."""
    return exists().where(_END.c.setup == SETUP.c.id, _END.c.kind.in_(kinds), _live(_END.c.id))


LIVE, NOT_UNDONE = _live(ENTRY.c.id), _live(SETUP.c.entry)
# The newest ending of a set-up that stands, as SQL: its number, its kind; null while it is open.
_NEWEST_END = (
    select(_END.c.id)
    .where(_END.c.setup == SETUP.c.id, _END.c.kind.in_(OUTCOMES), _live(_END.c.id))
    .order_by(_END.c.id.desc())
    .limit(1)
)
ENDED = _NEWEST_END.scalar_subquery()
ENDING = _NEWEST_END.with_only_columns(_END.c.kind).scalar_subquery()
_ENDING = ENDING.label("ending")
IS_FINISHED = _ended(*FINISHES)
IS_OPEN = NOT_UNDONE & ~_ended(*OUTCOMES)


def newest_of(setup: Any) -> Any:
    """Return the number of the newest entry of a set-up, as SQL: what a writer says to have seen.

    That a set-up was chosen is nothing new about it.
    """
    own = select(func.max(_OWN.c.id)).where(_OWN.c.setup == setup, _OWN.c.kind != "choose")
    return own.scalar_subquery()


def newest_each(connection: Connection, setups: Sequence[int]) -> dict[int, int]:
    """Return the number of the newest entry of each of some set-ups, as `newest_of`."""
    own = ENTRY.c.setup.in_(setups), ENTRY.c.kind != "choose"
    wanted = select(ENTRY.c.setup, func.max(ENTRY.c.id)).where(*own).group_by(ENTRY.c.setup)
    return {int(setup): int(newest) for setup, newest in connection.execute(wanted)}


def add(
    connection: Connection,
    kind: str,
    setup: int,
    stamp: Stamp,
    part: Values | None = None,
    *lists: Iterable[Values],
) -> int:
    """Append an entry; return its number. part, lists: the rows that belong to it, which the caller
    puts in right after.
    """
    values = {
        "kind": kind,
        "setup": setup,
        "at": moment_text(stamp.at),
        "by": stamp.by,
        "machine": stamp.machine,
        "key": stamp.key,
    }
    return digests.append(connection, ENTRY, values, digests.said_of(values, part, *lists))


def newest_live(connection: Connection, setup: int, most: int) -> list[tuple[int, str]]:
    """Return number and kind of the newest entries of `setup` that can be taken back."""
    wanted = select(ENTRY.c.id, ENTRY.c.kind).where(
        ENTRY.c.setup == setup, ENTRY.c.kind.in_(UNDOABLE), LIVE
    )
    rows = connection.execute(wanted.order_by(ENTRY.c.id.desc()).limit(most))
    return [(int(row.id), str(row.kind)) for row in rows]


_KEPT = ADVICE.alias("kept_advice")


def advice_in_force(setup: Any, by: Any = None, read: Any = None) -> Any:
    """Return the number of the advice last shown for `setup`, as SQL. by: to this person, to
    anybody where that was never; read: the one that its reader went by, if it is of that set-up.

    A set-up has one machine, so that what was shown for it was shown for that; by its number, not
    by a name that may be edited.
    """
    of = select(func.max(_KEPT.c.id)).where(_KEPT.c.setup == setup)
    if by is None and read is None:
        return of.scalar_subquery()
    own = of.where(_KEPT.c.by == by if read is None else _KEPT.c.id == read)
    return func.coalesce(own.scalar_subquery(), of.scalar_subquery())


# What it was done by: the advice that its writer `read`, None for the one last shown.
GONE_BY = advice_in_force(SETUP.c.id, read=bindparam("read")).label("advice")


def started() -> Select[Any]:
    """Select the numbers of all set-ups whose start stands."""
    return select(SETUP.c.id).where(NOT_UNDONE)


def open_on(connection: Connection, bit_id: int) -> int | None:
    """Return the number of the newest open set-up of a bit, or None."""
    wanted = select(func.max(SETUP.c.id)).where(SETUP.c.bit_id == bit_id, IS_OPEN)
    return connection.execute(wanted).scalar_one_or_none()


def require(
    connection: Connection,
    number: int,
    *conditions: Any,
    seen: int | None = None,
    also: tuple[Any, ...] = (),
    **values: object,
) -> Row[Any]:
    """Return the row of a set-up, with what is `also` asked of it with some `values`; raise Refused
    "unknown-setup" when there is none, "log-moved-on" as `require_seen` does.
    """
    found, named = _wanted(conditions, also), {"number": number, **values}
    row = connection.execute(found, named).first() if 0 < number <= HIGHEST else None
    if row is None:
        raise unknown(connection, number)
    sound([row], "set-up", SETUP)
    require_seen(connection, number, row.newest, seen)
    return row


@lru_cache(maxsize=20)
def _wanted(conditions: tuple[Any, ...], also: tuple[Any, ...]) -> Select[Any]:
    """Select a set-up by its `number`."""
    wanted = select(SETUP, newest_of(SETUP.c.id).label("newest"), *also)
    return wanted.where(SETUP.c.id == bindparam("number"), *conditions)


def require_seen(connection: Connection, setup: int, newest: int, seen: int | None) -> None:
    """Refuse ("log-moved-on") to write about a set-up whose `newest` entry is not the one that the
    writer has `seen`; None: what is written holds whatever came before it.
    """
    if seen is None or seen == newest:
        return
    entry = connection.execute(select(ENTRY).where(ENTRY.c.id == newest)).one()
    came = tell(
        "entry {entry} ({kind}, by {by}) came in between",
        entry=newest,
        kind=entry.kind,
        by=entry.by or "somebody",
    )
    raise moved_on(tell("set-up {setup}", setup=setup), came, f"show {setup}")


def moved_on(what: str, came: str, look: str) -> Refused:
    """Return the refusal of what was meant for the log as it was: `what` is no longer as it was
    read, because of what `came`, both texts of their own; `look`: the command that shows it now.
    """
    return Refused(
        "log-moved-on",
        "{what} moved on meanwhile: {came}",
        "look at it with fitlog {look}, then say it again",
        what=what,
        came=came,
        look=look,
    )


def unknown(connection: Connection, number: int) -> Refused:
    """Return the refusal of a set-up that is not there, with numbers that are."""
    half = exists().where(ENTRY.c.id == SETUP.c.entry)
    there = select(SETUP.c.id).where(SETUP.c.id == number, ~half)
    if 0 < number <= HIGHEST and connection.execute(there).first() is not None:
        return Refused(
            "damaged-log",
            "set-up {number} of the log makes no sense: its start is missing",
            "look with fitlog log health, then restore your latest backup",
            "see what the shop's computer shows of it: fitlog log health",
            number=number,
        )
    newest = list(connection.execute(started().order_by(SETUP.c.id.desc()).limit(3)).scalars())
    return Refused(
        "unknown-setup",
        "there is no set-up {number}",
        "the newest are {newest}" if newest else "start one: fitlog start",
        "the newest are {newest}" if newest else "start one",
        number=number,
        newest=", ".join(map(str, newest)),
    )


def require_open(
    connection: Connection,
    number: int,
    *,
    seen: int | None = None,
    also: tuple[Any, ...] = (),
    finished: bool = False,
    **values: object,
) -> Row[Any]:
    """Return the row of a set-up as `require` does; raise Refused "already-ended" when it was
    finished or abandoned; finished: only for the latter.
    """
    row = require(connection, number, NOT_UNDONE, seen=seen, also=(_ENDING, *also), **values)
    if row.ending is not None and not (finished and row.ending in FINISHES):
        raise Refused(
            "already-ended",
            "set-up {number} is already finished"
            if row.ending in FINISHES
            else "set-up {number} is already abandoned",
            "take that back with fitlog undo --setup {number}, or begin another: fitlog start",
            "take its end back under Take back, or start another",
            number=number,
        )
    return row


def require_none_open(connection: Connection, bit_id: int, but: int = 0) -> None:
    """Refuse ("still-tuning") when a set-up of the bit, other than `but`, is open."""
    number = open_on(connection, bit_id)
    if number is not None and number != but:
        raise Refused(
            "still-tuning",
            "set-up {number} is still open with that bit",
            "go on with it (fitlog use {number}), or end it with fitlog finish",
            "go on with it, or end it first",
            number=number,
        )


_PIECES = (
    select(func.coalesce(func.max(TRIAL_CUT.c.piece), 0))
    .join(ENTRY, ENTRY.c.id == TRIAL_CUT.c.entry)
    .where(ENTRY.c.setup == SETUP.c.id, TRIAL_CUT.c.slot == 0, LIVE)
    .correlate(SETUP)
)
_THIS_PIECE = _PIECES.where(TRIAL_CUT.c.piece == bindparam("piece"))
_OF_PIECE = (
    _PIECES.scalar_subquery().label("last"),
    _THIS_PIECE.scalar_subquery().label("found"),
    GONE_BY,
)


def require_piece(
    connection: Connection,
    setup: int,
    piece: int,
    new: bool | None,
    seen: int | None = None,
    advice: int | None = None,
    finished: bool = False,
) -> Row[Any]:
    """Return the row of a set-up as `require_open` does, with the number of the `advice` that was
    gone by; refuse ("log-moved-on") a piece that is neither one of the set-up nor the one after the
    last; slots are none. finished: it may be finished.
    """
    row = require_open(
        connection, setup, seen=seen, also=_OF_PIECE, finished=finished, piece=piece, read=advice
    )
    if (row.found and not new) or (piece == row.last + 1 and new is not False):
        return row
    wrong = tell("piece {piece} is not the one to log now", piece=piece)
    raise moved_on(tell("set-up {setup}", setup=setup), wrong, f"show {setup}")
