"""The statements by which set-ups are read back: put together once, since that takes longer than
all that they do.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any

from sqlalchemy import (
    BindParameter,
    CompoundSelect,
    Connection,
    Executable,
    Row,
    Select,
    bindparam,
    exists,
    select,
)

from .entries import ENDED, LIVE, NOT_UNDONE, advice_in_force, newest_of
from .schema import ADVICE, ENTRY, NOTE, READING, SETUP, TRIAL_CUT, VERDICT
from .side_by_side import side_by_side

SAID = (VERDICT, READING)  # what is said and what is measured of a cut
_NUMBERS: BindParameter[Any] = bindparam("numbers", expanding=True)
_END, _NOTED = ENTRY.alias("ending_entry"), ENTRY.alias("noted_entry")
_SHOWN = select(*(c for c in ADVICE.c if c.name != "document")).subquery("shown")
_LATEST = _SHOWN.alias("latest")
_OTHERS = {"end_": _END, "shown_": _SHOWN}


def of(
    connection: Connection, statement: Executable, numbers: Sequence[int], **values: object
) -> Sequence[Row[Any]]:
    """Return the rows that one of the statements here finds of some numbers, none of none.

    The last number is given again and again up to a power of two: so a statement has few lengths,
    and a server has planned nearly each of them before.
    """
    if not numbers:
        return ()
    more = (1 << (len(numbers) - 1).bit_length()) - len(numbers)
    given = [*numbers, *([numbers[-1]] * more)]
    return connection.execute(statement, {**values, "numbers": given}).all()


@cache
def setups(own: bool) -> Select[Any]:
    """Select set-ups, each with its start, how it ended if it did, and the advice last shown for
    it; own: it is that of the person `by`, and beside it the last of all.
    """
    others = {**_OTHERS, "latest_": _LATEST} if own else _OTHERS
    by: Any = bindparam("by") if own else None
    wanted = (
        select(
            SETUP,
            ENTRY.c.at,
            ENTRY.c.by,
            NOT_UNDONE.is_(False).label("undone"),
            newest_of(SETUP.c.id).label("newest"),
            exists().where(_NOTED.c.setup == SETUP.c.id, _NOTED.c.kind == "note").label("noted"),
            *(c.label(prefix + c.name) for prefix, of in others.items() for c in of.c),
        )
        .join(ENTRY, ENTRY.c.id == SETUP.c.entry)
        .outerjoin(_END, _END.c.id == ENDED)
        .outerjoin(_SHOWN, _SHOWN.c.id == advice_in_force(SETUP.c.id, by))
        .order_by(SETUP.c.id.desc())
    )
    if not own:
        return wanted
    return wanted.outerjoin(_LATEST, _LATEST.c.id == advice_in_force(SETUP.c.id))


@cache
def numbered(own: bool) -> Select[Any]:
    """Select those of some numbers."""
    return setups(own).where(SETUP.c.id.in_(_NUMBERS))


@cache
def _cuts() -> Select[Any]:
    return (
        select(TRIAL_CUT, ENTRY.c.setup, ENTRY.c.at, ENTRY.c.by, ENTRY.c.machine, SETUP.c.joint)
        .join(ENTRY, ENTRY.c.id == TRIAL_CUT.c.entry)
        .join(SETUP, SETUP.c.id == ENTRY.c.setup)
        .where(ENTRY.c.setup.in_(_NUMBERS), ENTRY.c.kind == "cut")
        .order_by(TRIAL_CUT.c.entry)
    )


@cache
def logged_cuts() -> Select[Any]:
    """Select the trial cuts of some set-ups, in the order of the log, those taken back included."""
    return _cuts().add_columns(LIVE.is_(False).label("taken_back"))


@cache
def standing_cuts() -> Select[Any]:
    """Select those that stand."""
    return _cuts().where(LIVE)


@cache
def standing_notes() -> Select[Any]:
    """Select what is written down about some set-ups and stands, in the order of the log."""
    return (
        select(NOTE, ENTRY.c.setup, ENTRY.c.at, ENTRY.c.by)
        .join(ENTRY, ENTRY.c.id == NOTE.c.entry)
        .where(ENTRY.c.setup.in_(_NUMBERS), ENTRY.c.kind == "note", LIVE)
        .order_by(NOTE.c.entry)
    )


@cache
def parts() -> CompoundSelect[Any]:
    """Select what is said and measured of some trial cuts."""
    return side_by_side(**{t.name: select(t).where(t.c.cut.in_(_NUMBERS)) for t in SAID})
