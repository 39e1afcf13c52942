"""`fitlog fault`: from what is seen on a joint to its causes in order, the test that tells them
apart, and the cure.
"""

from __future__ import annotations

from typing import Annotated

import typer

from .options import Db, Json, SetupNumber, complete_symptom


def fault(
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="WORDS", help="What you see.", autocompletion=complete_symptom),
    ] = None,
    setup: SetupNumber = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Say what you see on a joint: get its likely causes in order, a test for each, and the cure
    with its amount.

    Without words: everything you can type, and what the log shows by itself. A size may follow the
    words; the amounts are then exact.

    \b
    Examples:
      fitlog fault
      fitlog fault gap baseline 0.2mm
      fitlog fault middle tail loose
      fitlog fault last tails tight 0.1mm, edges uneven
    """
    from ...service.faults import at_hand, faults
    from .session import open_session, put_json

    with open_session(db, create=False) as session:
        found = at_hand(session.bench(), setup, needed=bool(words))
        machine = found.plan.machine if found else None
        told = faults(session.bench(machine), found, words or (), session.reader.units)
        if json:
            from ...render.documents.faults import faults_document

            put_json(faults_document(told, session.ruler(machine)))
            return
        from ...render.faults import faults as show_faults

        show_faults(session.screen, told, session.ruler(machine))
