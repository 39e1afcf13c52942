"""`fitlog found`: what stands at the machine before the next cut, and what to dial from there."""

from __future__ import annotations

from typing import Annotated

import typer

from .options import Db, Json, SetupNumber, length

Set = Annotated[
    list[str] | None,
    typer.Option("--set", metavar="NAME=L", help="Any setting as measured, by its name."),
]


def found(
    height: Annotated[str | None, length("The bit height as measured now.")] = None,
    fence: Annotated[str | None, length("The fence offset as measured now.")] = None,
    depth: Annotated[
        str | None, length("The depth as measured now, where the joint has one.")
    ] = None,
    set_: Set = None,
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
    from ...service.reader.cuts import found_at
    from .session import open_session, put_json

    with open_session(db, create=False) as session:
        at, bench = session.at(setup)
        typed = {"--height": height, "--fence": fence, "--depth": depth}
        measured = found_at(session.reader, at, typed, set_ or ())
        told = log_found(bench, at, measured)
        if json:
            from ...render.documents.found import finding_document

            put_json(finding_document(told, bench.ruler))
            return
        from ...render.found import finding

        finding(session.screen, told, bench.ruler)
