"""`plan` and `stops`: the real boards' layout, and where the fence goes for it."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

import typer

from .options import BitName, Db, Force, Json, MachineName, PinStock, SetupNumber, StockName, length

if TYPE_CHECKING:
    from ...service.reader.layouts import PlanTyped
    from .session import Session

Joint = Annotated[
    str | None, typer.Option(metavar="NAME", help="Which joint, if not the half-blind dovetail.")
]
Given = Annotated[
    list[str] | None,
    typer.Option(metavar="NAME=VALUE", help="A figure of that joint by its name; repeatable."),
]
Width = Annotated[list[str] | None, length("Board width, if not the stock's; several with --like.")]
Like = Annotated[
    int | None,
    typer.Option(metavar="N", help="Which of the widths take set-up N's pitch, from its settings."),
]
Thickness = Annotated[str | None, length("Tail board's thickness.")]
PinThickness = Annotated[str | None, length("Pin board's thickness.")]
OnlyTails = Annotated[int | None, typer.Option(metavar="N", help="Only with so many tails.")]
OnlyPitch = Annotated[str | None, length("Only with this pitch, such as your spacer's.")]
Middle = Annotated[
    str | None, typer.Option(metavar="pin|tail", help="What is to lie in the middle.")
]
Wide = Annotated[
    bool | None, typer.Option("--wide/--alike", help="Only wide tails with narrow pins, or alike.")
]
HalfPin = Annotated[str | None, length("The thinnest half-pin you want at an edge.")]
Spacer = Annotated[
    bool, typer.Option("--spacer", help="The pitch will be stepped by a spacer or block.")
]
GrooveWidth = Annotated[
    str | None,
    length("The width of the bottom's groove, which a tail has to hide.", "--groove"),
]
GrooveAt = Annotated[
    str | None, length("From the boards' lower edge to the groove's lower edge.", "--at")
]
GrooveDepth = Annotated[
    str | None, length("The groove's depth, if not a third of the thinner board.", "--groove-depth")
]
Every = Annotated[bool, typer.Option("--all", help="Every layout, not only the best ones.")]
HowMany = Annotated[
    int | None, typer.Option(metavar="N", help="How many tails, if the set-up doesn't say.")
]
Why = Annotated[
    bool, typer.Option("--why", help="With what each part asks for, and how each stop comes about.")
]
Csv = Annotated[
    str | None, typer.Option(metavar="FILE", help="Write them as CSV; - for standard output.")
]

OtherWidth = Annotated[str | None, length("For boards so wide: only the stops are new.", "--width")]
OtherThickness = Annotated[
    list[str] | None,
    length("For tail boards so thick; the left ones', then the right ones'.", "--thickness"),
]
OtherPins = Annotated[
    list[str] | None, length("For pin boards so thick; or two of them.", "--pin-thickness")
]
NamedToo = Annotated[
    list[str] | None,
    typer.Argument(metavar="[BOARDS]...", help="The same as --boards, without quotes."),
]
Boards = Annotated[
    list[str] | None,
    typer.Option(
        "--boards", metavar="TEXT", help='What is cut, for its order: "front 2, back 2, side 4".'
    ),
]


def plan(
    bit: BitName = None,
    stock: StockName = None,
    pin_stock: PinStock = None,
    machine: MachineName = None,
    width: Width = None,
    thickness: Thickness = None,
    pin_thickness: PinThickness = None,
    tails: OnlyTails = None,
    pitch: OnlyPitch = None,
    middle: Middle = None,
    wide: Wide = None,
    half_pin: HalfPin = None,
    spacer: Spacer = False,
    groove: GrooveWidth = None,
    at: GrooveAt = None,
    groove_depth: GrooveDepth = None,
    like: Like = None,
    joint: Joint = None,
    given: Given = None,
    all_: Every = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Choose the layout for a board: tails and pins that end alike at both edges, with the bits you
    have; of another joint what is decided before its first cut.

    All bits are tried unless one is named; what is alone in the catalogue need not be named.
    Nothing is logged. With --joint: fingers and board widths, where shelves lie, how long parts are
    sawn; what its fitlog start takes by --given it takes, too, and beside it side and shelves,
    fills, outside-length and outside-width.

    \b
    Examples:
      fitlog plan --stock ash --width 140
      fitlog plan --width 5-1/2in --tails 5 --wide
      fitlog plan --pitch 22.5 --spacer
      fitlog plan --width 110 --groove 6 --at 10
      fitlog plan --like 7 --width 90 --width 140
      fitlog plan --joint box --width 120
      fitlog plan --joint housing --given side=800 --given shelves=3
    """
    from ...families.names import first_joint
    from ...render.own import layouts_of
    from ...service.again import Named
    from ...service.boards import planned
    from ...service.reader.choices import joint_of
    from ...service.reader.layouts import GrooveTyped, PlanTyped, wish_of
    from ...service.reader.lengths import BoardsTyped
    from .session import open_session, put_json

    wood, bottom = (
        BoardsTyped(None, thickness, pin_thickness),
        GrooveTyped(groove, at, groove_depth),
    )
    named, widths = Named(bit, stock, pin_stock, machine), width or ()
    asked = (tails, pitch, middle, wide, half_pin, spacer, bottom, widths, joint, given or ())
    typed = PlanTyped(named, wood, *asked)
    with open_session(db, create=False) as session:
        if like is not None:
            _like(session, like, typed, every=all_, json=json)
            return
        meant, bench = joint_of(joint), session.bench()
        if meant != first_joint():
            _other_joint(session, meant, typed, json=json)
            return
        found = planned(bench, meant, wish_of(session, meant, typed), every=all_)
        own = layouts_of(meant)
        if json:
            put_json(own.planned_document(found, bench.ruler))
        else:
            own.layouts(session.screen, found, bench.ruler)


def _other_joint(session: Session, joint: str, typed: PlanTyped, *, json: bool) -> None:
    """Show what is decided before the first cut of a joint that is chosen by no layouts."""
    from ...render import planned as shown
    from ...service.plans import laid
    from ...service.reader.planned import wished
    from .session import put_json

    asked = wished(session, joint, typed)
    bench = session.bench(asked.wishes[0].machine)
    told = laid(bench, asked.wishes, asked.sizes, typed.tails, lambda: session.bits.only(None))
    if json:
        put_json(shown.planned_document(told, asked.given, bench.ruler))
    else:
        shown.planned(session.screen, told, asked.given, bench.ruler)


def _like(session: Session, number: int, typed: PlanTyped, *, every: bool, json: bool) -> None:
    """Show which widths take a set-up's pitch."""
    from ...render.own import taking_of
    from ...service.boards import taking
    from ...service.reader.layouts import widths_of
    from .session import put_json

    setup, bench = session.at(number)
    told, own = taking(bench, setup, widths_of(session, typed)), taking_of(setup.plan.joint)
    if json:
        put_json(own.taking_document(told, bench.ruler))
    else:
        own.taking(session.screen, told, bench.ruler, every=every)


def stops(
    named: NamedToo = None,
    width: OtherWidth = None,
    thickness: OtherThickness = None,
    pin_thickness: OtherPins = None,
    boards: Boards = None,
    groove: GrooveWidth = None,
    at: GrooveAt = None,
    groove_depth: GrooveDepth = None,
    tails: HowMany = None,
    csv: Csv = None,
    why: Why = False,
    force: Force = False,
    setup: SetupNumber = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Where the fence goes for the real boards, in order: the rabbet, the tail boards, the pin
    boards.

    From the set-up's own zero, the fence moving out only, every position rounded to the fence's
    step by itself.

    \b
    Examples:
      fitlog stops
      fitlog stops --tails 5 --csv stops.csv
      fitlog stops --width 90 --thickness 11.8
      fitlog stops --boards "front 2, back 2, side 4"
      fitlog stops --groove 6 --at 10
    """
    from ...render.own import stops_of
    from ...render.standing import unsettled
    from ...service.boards import real_boards
    from ...service.reader.layouts import BatchTyped, GrooveTyped, batch_of
    from .session import open_session, put_json, say

    with open_session(db, create=False) as session:
        found, bench = session.at(setup)
        said = [*(boards or ()), *(named or ())]
        bottom = GrooveTyped(groove, at, groove_depth)
        typed = BatchTyped(width, thickness or (), pin_thickness or (), said, bottom)
        job = real_boards(bench, found, tails, batch_of(session, found, typed))
        own = stops_of(found.plan.joint)
        if csv not in (None, "-"):
            _write(str(csv), own.as_csv(job), force)
            say("The stops are in {csv}.", csv=csv)
        if json:
            put_json(own.job_document(job, session.ruler(found.plan.machine)))
        elif csv == "-":
            print(own.as_csv(job), end="")
        else:
            own.stops(session.screen, job, bench.ruler, every=why)
        if (json or csv == "-") and (told := unsettled(job.standing)):
            sys.stdout.flush()  # whatever cannot be written out is told before, and alone
            say(told)


def _write(name: str, rows: str, force: bool) -> None:
    """Write the stops to a file, whole or not at all."""
    from ...newfile import whole_file

    with whole_file(name, "the stops", over=force) as spare:
        spare.write_text(rows, encoding="utf-8", newline="")
