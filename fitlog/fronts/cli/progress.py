"""`fitlog progress`: how a set-up converged, and how pieces per set-up fell over the months. The
log is only read.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated

import typer

from ...errors import NotUnderstood, Refused
from .options import BitName, Db, Force, Json, MachineName, StockName

if TYPE_CHECKING:
    from ...newfile import Place
    from .session import Session

Picture = Annotated[
    str | None,
    typer.Option(metavar="FILE", help="Draw it too: .svg, .png or .pdf (needs matplotlib)."),
]


def progress(
    number: Annotated[
        int | None,
        typer.Argument(metavar="[N]", help="Number of the set-up, if not the current one."),
    ] = None,
    months: Annotated[
        bool, typer.Option("--months", help="Pieces per finished set-up, month by month.")
    ] = False,
    bit: BitName = None,
    stock: StockName = None,
    machine: MachineName = None,
    every: Annotated[
        bool, typer.Option("--all", help="Every piece of a long set-up, however long it takes.")
    ] = False,
    picture: Picture = None,
    force: Force = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Draw how a set-up converged: where each good setting lay before every piece, where it was
    cut, what was said.

    A row for each piece: a bar where the best setting lay with 90 % before it was cut, X where you
    cut, shaded what is good as known now. With --months: how many test pieces the finished set-ups
    of each month took, those with one --bit, --stock or --machine if named.

    \b
    Examples:
      fitlog progress
      fitlog progress 3 --picture setup3.svg
      fitlog progress --months --bit half
    """
    from ...render import canvas
    from .session import open_session

    _one_question(months, number, every, {"--bit": bit, "--stock": stock, "--machine": machine})
    target = None if picture is None else canvas.checked(picture, over=force)
    with open_session(db, create=False) as session:
        if months:
            _months(session, (bit, stock, machine), target, json)
        else:
            _setup(session, number, target, json, every=every)


def _one_question(
    months: bool, number: int | None, every: bool, narrowed: Mapping[str, str | None]
) -> None:
    """Refuse (bad-choice) what is of one set-up where many are asked for, and the other way
    round. narrowed: the options of many, with their names.
    """
    if months and number is not None:
        raise NotUnderstood(
            "bad-choice",
            "--months is of many set-ups, not of set-up {number}",
            "leave one of them out",
            number=number,
        )
    if months and every:
        raise NotUnderstood(
            "bad-choice",
            "--all is of the pieces of one set-up, --months of many set-ups",
            "leave one of them out",
        )
    for option, name in narrowed.items():
        if name is not None and not months:
            raise NotUnderstood(
                "bad-choice",
                "{option} {name} only narrows --months",
                "say --months too, or give a number",
                option=option,
                name=name,
            )


def _setup(
    session: Session, number: int | None, target: Place | None, json: bool, *, every: bool
) -> None:
    from ...service.lookback import converged
    from .session import put_json, say

    setup, bench = session.at(number)
    found, ruler = converged(bench, setup, every=every), bench.ruler
    if target is not None:
        from ...render import progress_picture

        progress_picture.draw_setup(setup, found.status, found.steps, ruler, target)
        say("The picture is in {target}.", target=target.name)
    if json:
        from ...render.documents.lookback import converged_document

        put_json(converged_document(found))
        return
    from ...render.progress import progress as show

    show(session.screen, setup, found.status, found.steps, ruler)


def _months(
    session: Session, names: tuple[str | None, ...], target: Place | None, json: bool
) -> None:
    from ...service.lookback import over_months
    from .session import put_json, say

    found = over_months(session.bench(), *names)
    if target is not None:
        if not found.months.rows:
            raise Refused(
                "nothing-to-draw",
                "no set-up was finished yet that could be drawn",
                "leave --picture out",
            )
        from ...render import progress_picture

        progress_picture.draw_months(found.months, found.asked, found.uncounted, target)
        say("The picture is in {target}.", target=target.name)
    if json:
        from ...render.documents.lookback import months_document

        put_json(months_document(found))
        return
    if not found.months.rows:
        session.screen.line(
            "No set-up was finished yet that this could count. End one with: fitlog finish"
        )
        return
    from ...render.months import months as show

    show(session.screen, found.months, found.asked, found.uncounted)
