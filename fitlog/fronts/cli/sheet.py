"""`fitlog sheet`: a page to print that lives in the drawer with the sample piece, and the sample's
own label. The log is only read.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from ...errors import NotUnderstood
from .layouts import (
    Boards,
    GrooveAt,
    GrooveDepth,
    GrooveWidth,
    HowMany,
    OtherPins,
    OtherThickness,
    OtherWidth,
)
from .options import Db, Force, Json, Pair, SetupNumber, length, pair

if TYPE_CHECKING:
    from ...domain import SetUp
    from ...families.boards import Job
    from ...newfile import Place
    from ...service import Workbench
    from ...service.reader.layouts import BatchTyped
    from .session import Session

PAPERS = ("a4", "letter")
Label = Annotated[
    Pair,
    pair("--label", "WIDTH HEIGHT", "A label of this size for the sample, instead of the sheet."),
]
Mouth = Annotated[
    str | None, length("The mouth of a slot at this height, as measured now.", "--mouth")
]


def sheet(
    setup: SetupNumber = None,
    out: Annotated[
        str | None, typer.Option(metavar="FILE", help="Where it goes: .pdf, .svg or .png.")
    ] = None,
    paper: Annotated[
        str | None, typer.Option(metavar="a4|letter", help="The paper you print on, if not A4.")
    ] = None,
    tails: HowMany = None,
    width: OtherWidth = None,
    thickness: OtherThickness = None,
    pin_thickness: OtherPins = None,
    boards: Boards = None,
    groove: GrooveWidth = None,
    at: GrooveAt = None,
    groove_depth: GrooveDepth = None,
    wide: Mouth = None,
    label: Label = None,
    force: Force = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Make a sheet to print: settings, stops, a full-size story stick, which edge goes to the
    fence, the joint, cautions.

    It goes to set-up-N.pdf in the current folder unless named. Print it at 100 %, then measure its
    bar. A board wider than the page gets its story stick in overlapping full-size strips; .svg and
    .png get a file for each page. The widths of mouth and tail are those that the log knows of the
    bit, or the one that you measure. A label goes to set-up-N-label.pdf.

    \b
    Examples:
      fitlog sheet
      fitlog sheet --setup 7 --paper letter --out drawer.pdf
      fitlog sheet --mouth 9.1
      fitlog sheet --width 90 --boards "front 2, back 2, side 4" --groove 6 --at 10
      fitlog sheet --label 62 29
    """
    from ...service.reader.choices import one_of
    from ...service.reader.layouts import BatchTyped, GrooveTyped
    from .session import open_session

    bottom = GrooveTyped(groove, at, groove_depth)
    typed = BatchTyped(width, thickness or (), pin_thickness or (), boards or (), bottom)
    size = one_of(PAPERS[0] if paper is None else paper, PAPERS, "--paper")
    with open_session(db, create=False) as session:
        found, bench = session.at(setup)
        if label is None:
            target = _target(f"set-up-{found.number}.pdf" if out is None else out, force)
            job = _job(session, bench, found, tails, typed, wide)
            _sheet(session, bench, job, size, target, force=force, json=json)
            return
        _of_a_sheet({"--tails": tails, "--mouth": wide, "--paper": paper, **typed.options()})
        _label(session, bench, found, label, out, force=force, json=json)


def _job(
    session: Session,
    bench: Workbench,
    setup: SetUp,
    tails: int | None,
    typed: BatchTyped,
    wide: str | None,
) -> Job:
    """What the sheet tells of the real boards. wide: the mouth as measured now."""
    from ...service.boards import for_sheet
    from ...service.reader.layouts import batch_of
    from ...service.reader.readings import readings
    from ...service.sheets import measured

    read = readings(session.reader, setup.plan.joint, [("--mouth", wide)])
    batch = batch_of(session, setup, typed)
    return measured(for_sheet(bench, setup, tails, batch), read)


def _sheet(
    session: Session,
    bench: Workbench,
    job: Job,
    size: str,
    target: Place,
    *,
    force: bool,
    json: bool,
) -> None:
    """Draw the sheet and say where it is."""
    from ...render.sheet import draw
    from ...render.standing import unsettled
    from .session import put_json, say

    made, names = draw.drawn(job, size, bench.ruler, target, over=force)
    if told := unsettled(job.standing):
        say(told)
    if json:
        from ...render.documents.sheet import sheet_document

        put_json(sheet_document(job, made, size, names))
        return
    say(draw.where(made, names, size))
    session.screen.line("Print it at 100 %, then measure its bar.")


def _of_a_sheet(given: dict[str, object]) -> None:
    """Refuse (bad-choice) what a label has not. given: the options, with their values."""
    for option, value in given.items():
        if value is not None:
            raise NotUnderstood(
                "bad-choice",
                "{option} {value} is of the sheet, not of a label",
                "leave one of them out",
                option=option,
                value=value,
            )


def _label(
    session: Session,
    bench: Workbench,
    setup: SetUp,
    typed: tuple[str, str],
    out: str | None,
    *,
    force: bool,
    json: bool,
) -> None:
    """Make the label of a set-up's sample."""
    from ...service.reader.label import label_size
    from ...service.sheets import for_label
    from .session import put_json, say

    size = label_size(session.reader, typed)
    target = _target(f"set-up-{setup.number}-label.pdf" if out is None else out, force)
    job = for_label(bench, setup)
    from ...render.sheet import draw

    page, points = draw.drawn_label(job, size, bench.ruler, target)
    if json:
        from ...render.documents.sheet import label_document

        put_json(label_document(job, page, points, target.name))
        return
    say("The label is in {file}, {points:g} point type.", file=target.name, points=points)
    session.screen.line("Print it at 100 %, on a label of its size.")


def _target(name: str, force: bool) -> Place:
    """Where the sheet goes; refused before any work where it cannot be drawn or written there."""
    from ...render.canvas import checked

    return checked(name, over=force, sheet=True)
