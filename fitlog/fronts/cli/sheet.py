"""`fitlog sheet`: a page to print that lives in the drawer with the sample piece. The log is only
read.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from .options import Db, Force, Json, SetupNumber

if TYPE_CHECKING:
    from ...newfile import Place

PAPERS = ("a4", "letter")


def sheet(
    setup: SetupNumber = None,
    out: Annotated[
        str | None, typer.Option(metavar="FILE", help="Where it goes: .pdf, .svg or .png.")
    ] = None,
    paper: Annotated[str, typer.Option(metavar="a4|letter", help="The paper you print on.")] = "a4",
    tails: Annotated[
        int | None, typer.Option(metavar="N", help="How many tails, if the set-up doesn't say.")
    ] = None,
    force: Force = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Make a sheet to print: settings, the joint, a full-size story stick, stops, the last trial
    cuts, cautions.

    It goes to set-up-N.pdf in the current folder unless named. Print it at 100 %, then measure its
    bar. A board wider than the page gets its story stick in overlapping full-size strips; .svg and
    .png get a file for each page.

    \b
    Examples:
      fitlog sheet
      fitlog sheet --setup 7 --paper letter --out drawer.pdf
    """
    from ...service.boards import for_sheet
    from ...service.reader.choices import one_of
    from .session import open_session, put_json, say

    size = one_of(paper, PAPERS, "--paper")
    with open_session(db, create=False) as session:
        found, bench = session.at(setup)
        target = _target(f"set-up-{found.number}.pdf" if out is None else out, force)
        job = for_sheet(bench, found, tails)
        from ...render.sheet import draw
        from ...render.standing import unsettled

        made, names = draw.drawn(job, size, bench.ruler, target, over=force)
        if told := unsettled(job.standing):
            say(told)
        if json:
            from ...render.documents.sheet import sheet_document

            put_json(sheet_document(job, made, size, names))
            return
        say(draw.where(made, names, size))
        session.screen.line("Print it at 100 %, then measure its bar.")


def _target(name: str, force: bool) -> Place:
    """Where the sheet goes; refused before any work where it cannot be drawn or written there."""
    from ...render.canvas import checked

    return checked(name, over=force, sheet=True)
