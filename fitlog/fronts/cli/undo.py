"""`undo` and `redo`: take back, and bring back again."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from .consent import confirmed
from .options import Db, Json, Key, SetupNumber


def undo(
    piece: Annotated[
        int | None, typer.Option(metavar="N", help="Take back all about an earlier piece.")
    ] = None,
    yes: Annotated[
        bool, typer.Option("--yes", help="Even the start, and with it the whole set-up.")
    ] = False,
    setup: SetupNumber = None,
    key: Key = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Take back the newest entry of the set-up: cut, note, finish or start. The log keeps both.

    Before a whole set-up it asks. fitlog redo brings it back until something new is logged; nothing
    is ever erased.

    \b
    Examples:
      fitlog undo
      fitlog undo --piece 2
    """
    from .session import answered, give, open_session, say

    with open_session(db, create=False) as session:
        if answered(session, key, "retract", as_json=json):
            return
        found, bench = session.at(setup)
        whole = yes or (
            piece is None
            and sys.stdin.isatty()
            and bench.only_started(found)
            and _agreed(found.number)
        )
        what, answer = bench.undo(found, piece, whole=whole)
        say("Taken back: {what}.", what=what)
        give(session, answer, as_json=json)


def _agreed(number: int) -> bool:
    """Ask on a terminal before a whole set-up goes."""
    return confirmed(
        "Only the start of set-up {number} is left: this takes the whole set-up back; fitlog "
        "redo brings it back. Do it?",
        number=number,
    )


def redo(setup: SetupNumber = None, db: Db = None, json: Json = False) -> None:
    """Bring back what was last taken back, as long as nothing new was logged since; even a whole
    set-up.

    \b
    Example:
      fitlog redo
    """
    from .session import give, open_session, say

    with open_session(db, create=False) as session:
        found = session.bench().redoable(setup)
        what, answer = session.bench(found.plan.machine).redo(found)
        say("Brought back: {what}.", what=what)
        give(session, answer, as_json=json)
