"""`fitlog check`: look at a joint between real boards, then say whether the run may go on."""

from __future__ import annotations

import sys
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from ...errors import FitlogError, NotUnderstood
from ...texts import tell
from .cut import (
    Between,
    Deeper,
    Depth,
    Down,
    Fence,
    Height,
    In,
    Mouth,
    Move,
    Note,
    Out,
    Over,
    PullGap,
    Read,
    Set,
    Shallower,
    TailWidth,
    Up,
    Walls,
    Words,
    asked_words,
)
from .options import Db, Json, Key, SetupNumber, Yes

if TYPE_CHECKING:
    from ...domain import SetUp, TrialCut
    from ...service import Workbench
    from ...service.reader.cuts import CutTyped
    from .session import Session

After = Annotated[
    int | None,
    typer.Option(
        "--after", metavar="N", help="Joints of this set-up's real boards cut by now, this one too."
    ),
]
SameJoint = Annotated[
    bool, typer.Option("--same-piece", help="Seen later on the joint that was looked at last.")
]


def check(
    phrase: Words = None,
    after: After = None,
    height: Height = None,
    fence: Fence = None,
    depth: Depth = None,
    up: Up = None,
    down: Down = None,
    out: Out = None,
    in_: In = None,
    deeper: Deeper = None,
    shallower: Shallower = None,
    set_: Set = None,
    move: Move = None,
    read: Read = None,
    same_piece: SameJoint = False,
    gap: PullGap = None,
    wide: Mouth = None,
    tail: TailWidth = None,
    between: Between = None,
    over: Over = None,
    beside: Walls = None,
    note: Note = "",
    yes: Yes = False,
    setup: SetupNumber = None,
    key: Key = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Look at a joint between real boards: go on, or stop and what to set; and when to look again.

    \b
    The words and readings are those of fitlog cut. A joint is one corner, two boards put
    together; N counts all that are cut with this set-up, from its first real board on.
    Settings you don't name are those in force. A finished set-up stays finished.

    \b
    Examples:
      fitlog check good 0.1 --after 12
      fitlog check slightly tight --after 24
      fitlog check good --after 25 --down 0.1
    """
    from ...service.reader.cuts import CutTyped, Dialled
    from ...service.reader.lengths import PieceTyped
    from .consent import asks
    from .session import open_session

    settings = {
        "--height": Dialled(height, up, down),
        "--fence": Dialled(fence, out, in_),
        "--depth": Dialled(depth, deeper, shallower),
    }
    one = {"--pull-gap": gap, "--mouth": wide, "--tail-width": tail}
    two = {"--between-rods": between, "--over-rods": over, "--walls": beside}
    more = (set_ or (), move or (), read or ())
    said, own = tuple(phrase or ()), PieceTyped()
    readings = {**one, **two}
    typed = CutTyped(said, settings, readings, same_piece, False, False, note, own, *more, after)
    with open_session(db, create=False, asks=asks(json)) as session:
        if (number := session.given_again(key, "cut")) is not None:
            _say(session, session.bench(), number, json)
        else:
            _log_and_say(session, typed, setup, yes, json)


def _log_and_say(
    session: Session, typed: CutTyped, number: int | None, yes: bool, json: bool
) -> None:
    from ...service.reader.cuts import reported
    from ...service.run import as_joint, in_run
    from .consent import settled_check

    setup, bench = session.at(number)
    run = in_run(bench, setup)
    typed = replace(typed, words=typed.words or asked_words(typed, setup.plan.joint))
    typed = replace(typed, after=_after(typed, setup, json))
    told, moved = reported(session.reader, run.setup, typed)
    told = settled_check(bench, run, as_joint(run, told), moved, yes=yes, json=json)
    logged = bench.record(run.setup, told)
    if not json:
        _understood(session, run.setup, logged, bench)
    try:
        _say(session, bench, setup.number, json)
    except FitlogError as error:
        from .session import say

        say("fitlog: the joint is logged; its answer failed ({why})", why=error.message)


def _understood(session: Session, setup: SetUp, logged: TrialCut, bench: Workbench) -> None:
    from ...render.short import understood

    understood(session.screen, replace(logged, scrap="", sizes={}), setup, bench.ruler)


def _say(session: Session, bench: Workbench, number: int, json: bool) -> None:
    """Say what the last look says, and keep the advice on its set-up as the one last shown."""
    from ...render.check import check as show
    from ...render.check import check_document
    from ...service.run import last_look
    from .session import put_json

    answer = bench.answer(number)
    found = last_look(bench, answer.setup)
    if json:
        part = None if found is None else check_document(answer.setup, found)
        put_json({**answer.document, "check": part})
    elif found is not None:
        show(session.screen, answer.setup, found, session.ruler(answer.setup.plan.machine))
    sys.stdout.flush()


def _after(typed: CutTyped, setup: SetUp, json: bool) -> int:
    """Return how many joints are cut by now: as typed, of the same joint as before, or asked."""
    from .consent import asking

    last = setup.last_piece()
    if typed.after is not None:
        return typed.after
    if typed.later and last is not None and last.after is not None:
        return last.after
    if asking(json):
        text = tell("How many joints of the real boards are cut by now, this one too?")
        number: int = typer.prompt(text, type=int, err=True)
        return number
    raise NotUnderstood(
        "no-count",
        "nothing says how many joints are cut by now",
        "count those of this set-up's real boards, this one too: --after N",
    )
