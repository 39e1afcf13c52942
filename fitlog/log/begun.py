"""When a person last started a set-up at a machine, and so was shown what is said at a start."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import or_, select

from ..texts import tell
from .door import sound
from .log import Log
from .named import made
from .rows import moment
from .schema import ENTRY
from .transfer.lines import MARK


def last_begun(log: Log, by: str, machine: str, before: int) -> datetime | None:
    """Return when a person last started a set-up at a machine before set-up number `before`, taken
    back since or not; None for never. What came in by a table was shown to nobody.
    """
    wanted = (
        select(ENTRY)
        .where(
            ENTRY.c.kind == "start",
            ENTRY.c.by == by,
            ENTRY.c.machine == machine,
            ENTRY.c.setup < before,
            or_(ENTRY.c.key.is_(None), ENTRY.c.key.not_like(f"{MARK}%")),
        )
        .order_by(ENTRY.c.id.desc())
        .limit(1)
    )
    with log.store.reading() as connection:
        rows = sound(connection.execute(wanted).all(), "entry", ENTRY)
    return next((made(tell("entry {number}", number=r.id), moment, r.at) for r in rows), None)
