"""`fitlog found`: what stands at the machine before the next cut, and what to dial from there."""

from __future__ import annotations

from typing import Annotated

from ...errors import NotUnderstood
from .options import Db, Json, SetupNumber, by_part, length


def found(
    height: Annotated[str | None, length("The bit height as measured now.")] = None,
    fence: Annotated[str | None, length("The fence offset as measured now.")] = None,
    depth: Annotated[str | None, length("The socket depth as measured now.")] = None,
    setup: SetupNumber = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Log what you found at the machine when you came back to a set-up, and get what to dial from
    there.

    Worth it where others work at the same machine, or after a day: a height that is only remembered
    may have moved. It teaches nothing and moves no advice; undo takes it back.

    \b
    Examples:
      fitlog found --height 9.32
      fitlog found --height 23/64 --fence 80.1mm
    """
    from ...service.found import found as log_found
    from ...service.reader.cuts import Dialled, changed
    from .session import open_session, put_json

    with open_session(db, create=False) as session:
        at, bench = session.at(setup)
        typed = by_part(height=height, fence=fence, depth=depth)
        dialled = {name: Dialled(text) for name, text in typed.items()}
        measured, _ = changed(session.reader, at, dialled)
        if not measured:
            raise NotUnderstood(
                "nothing-said",
                "nothing was found",
                "say what you measured: fitlog found --height L",
            )
        told = log_found(bench, at, measured)
        if json:
            from ...render.documents.found import finding_document

            put_json(finding_document(told, bench.ruler))
            return
        from ...render.found import finding

        finding(session.screen, told, bench.ruler)
