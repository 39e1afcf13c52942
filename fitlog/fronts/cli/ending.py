"""`finish`: the end of a set-up, good or as it is."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from ...errors import Refused
from .consent import confirmed
from .options import Db, Json, Kept, Key, NoteText, SetupNumber, Title

if TYPE_CHECKING:
    from ...domain import Note, SetUp
    from ...service import Answer, Workbench


def finish(
    abandon: Annotated[
        bool, typer.Option("--abandon", help="Keep the cuts, learn nothing from the end.")
    ] = False,
    as_it_is: Annotated[
        bool, typer.Option("--as-it-is", help="End it short of ready; it is never taken for good.")
    ] = False,
    title: Title = None,
    note: NoteText = None,
    kept: Kept = None,
    setup: SetupNumber = None,
    key: Key = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """End the set-up; its settings and what it taught are remembered for the next one with this
    bit.

    Short of ready it asks, or wants --as-it-is: then it is kept, but never taken for good.

    \b
    Examples:
      fitlog finish
      fitlog finish --kept "top shelf, box 3"
      fitlog finish --as-it-is
    """
    from ...service.noting import NotesTyped
    from .session import answered, give, open_session, say

    notes = NotesTyped(title, note, kept).notes()
    with open_session(db, create=False) as session:
        if answered(session, key, "finish", "finish-as-is", "abandon", as_json=json):
            return
        found, bench = session.at(setup)
        answer = _ended(bench, found, notes, abandon=abandon, as_it_is=as_it_is)
        if found.outcome is not None:
            say(
                "Set-up {number} was {outcome} already.", number=found.number, outcome=found.outcome
            )
        give(session, answer, as_json=json)


def _ended(
    bench: Workbench, setup: SetUp, notes: Sequence[Note], *, abandon: bool, as_it_is: bool
) -> Answer:
    """End a set-up; short of ready only when that was said, or is said now on a terminal."""
    try:
        return bench.finish(setup, abandon=abandon, as_it_is=as_it_is, notes=notes)
    except Refused as error:
        if error.code != "not-ready" or not sys.stdin.isatty():
            raise
        if not confirmed(
            "{why}. End it as it is, never to be taken for good?",
            why=f"{error.message[0].upper()}{error.message[1:]}",
        ):
            raise
        return bench.finish(setup, as_it_is=True, notes=notes)
