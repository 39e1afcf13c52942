"""`plan` and `stops`: the real boards' layout, and where the fence goes for it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from .options import BitName, Db, Force, Json, MachineName, PinStock, SetupNumber, StockName
from .setups import one_of

if TYPE_CHECKING:
    from ...families.half_blind.layouts import Asked
    from ...families.half_blind.layouts.job import Job
    from .session import Session

_SHOWN = 6


Width = Annotated[str | None, typer.Option(metavar="L", help="Board width, if not the stock's.")]
Thickness = Annotated[str | None, typer.Option(metavar="L", help="Tail board's thickness.")]
PinThickness = Annotated[str | None, typer.Option(metavar="L", help="Pin board's thickness.")]
OnlyTails = Annotated[int | None, typer.Option(metavar="N", help="Only with so many tails.")]
OnlyPitch = Annotated[
    str | None, typer.Option(metavar="L", help="Only with this pitch, such as your spacer's.")
]
Middle = Annotated[
    str | None, typer.Option(metavar="pin|tail", help="What is to lie in the middle.")
]
Wide = Annotated[
    bool | None, typer.Option("--wide/--alike", help="Only wide tails with narrow pins, or alike.")
]
HalfPin = Annotated[
    str | None, typer.Option(metavar="L", help="The thinnest half-pin you want at an edge.")
]
Spacer = Annotated[
    bool, typer.Option("--spacer", help="The pitch will be stepped by a spacer or block.")
]
Every = Annotated[bool, typer.Option("--all", help="Every layout, not only the best ones.")]
HowMany = Annotated[
    int | None, typer.Option(metavar="N", help="How many tails, if the set-up doesn't say.")
]
Csv = Annotated[
    str | None, typer.Option(metavar="FILE", help="Write them as CSV; - for standard output.")
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
    all_: Every = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Choose the layout for a board: tails and pins that end alike at both edges, with the bits you
    have.

    All bits are tried unless one is named; what is alone in the catalogue need not be named.
    Nothing is logged.

    \b
    Examples:
      fitlog plan --stock ash --width 140
      fitlog plan --width 5-1/2in --tails 5 --wide
      fitlog plan --pitch 22.5 --spacer
    """
    from ...service.boards import Boards, plan_layouts, remarks_on
    from .session import open_session, put_json

    given = locals()
    with open_session(db, create=False) as session:
        tail_stock = session.only("stock", stock)
        boards = Boards(
            tail_stock,
            session.log.stock(pin_stock) if pin_stock else tail_stock,
            session.machine(machine),
            spacer,
        )
        bits = [session.log.bit(bit)] if bit else session.log.bits() or [session.only("bit", None)]
        asked, bench = _asked(session, boards, given), session.bench()
        found, left_out = plan_layouts(bench, bits, boards, asked)
        shown = found if all_ else found[:_SHOWN]
        notes = (*left_out, *remarks_on(boards, shown[0].layout))
        if json:
            from ...document import remarks_document
            from ...families.half_blind.layouts.documents import found_document

            notices = remarks_document(notes, bench.ruler)
            put_json(
                {
                    "layouts": [found_document(one, bench.ruler) for one in shown],
                    "more": len(found) - len(shown),
                    "notices": notices,
                }
            )
            return
        from ...render.layouts import layouts

        command = _start_command(session, boards, asked, shown[0])
        layouts(
            session.screen,
            shown,
            asked.pin_thickness,
            bench.ruler,
            len(found) - len(shown),
            command,
            notes,
        )


def _asked(session: Session, boards: Any, given: dict[str, Any]) -> Asked:
    from ... import defaults
    from ...domain import tail_count
    from ...domain.adjusters import adjuster
    from ...families.half_blind.layouts import Asked

    middle, table = given["middle"], boards.machine
    fence = adjuster(table, "centre")
    thick = "any board's thickness"
    return Asked(
        session.size(given["width"], "the board width", 10, 2000, "any board")
        or boards.stock.width,
        session.size(given["thickness"], "the tail board's thickness", 1, 100, thick)
        or boards.stock.thickness,
        session.size(given["pin_thickness"], "the pin board's thickness", 1, 100, thick)
        or boards.pin_stock.thickness,
        session.size(given["half_pin"], "the thinnest half-pin", 0.5, 100, "any half-pin")
        or defaults.LEAST_HALF_PIN,
        fence.step if fence.coarse else None,
        tail_count(given["tails"]),
        session.size(given["pitch"], "the pitch", 3, 200, "any pitch"),
        middle and one_of(middle, ("pin", "tail"), "--middle"),
        given["wide"],
        table.fence_step if table and not boards.spaced else None,
    )


def _start_command(session: Session, boards: Any, asked: Asked, best: Any) -> str:
    """The command that opens a set-up for a layout, as this person would type it."""
    import shlex

    from ...language.units import MM_PER_INCH

    layout, true = best.layout, best.true

    def size(mm: float, more: int = 0) -> str:
        number = (
            f"{mm:.{3 + more}f}" if session.units == "mm" else f"{mm / MM_PER_INCH:.{4 + more}f}"
        )
        return number.rstrip("0").rstrip(".") + ("" if session.units == "mm" else "in")

    parts = ["fitlog", "start", "--bit", layout.bit.name, "--stock", boards.stock.name]
    parts += ["--pin-stock", boards.pin_stock.name] if boards.pin_stock is not boards.stock else []
    parts += ["--machine", boards.machine.name] if boards.machine is not None else []
    finer = 3 if true else 0  # a pitch on the marks is one exactly
    parts += ["--pitch", size(layout.pitch, finer), "--tails", str(layout.tails)]
    parts += ["--spacing", size(layout.spacing, finer)] if layout.wide else []
    own = (
        ("--width", asked.width, boards.stock.width),
        ("--thickness", asked.tail_thickness, boards.stock.thickness),
        ("--pin-thickness", asked.pin_thickness, boards.pin_stock.thickness),
    )
    parts += [
        word
        for option, value, usual in own
        if abs(value - usual) > 1e-9
        for word in (option, size(value))
    ]
    return shlex.join([*parts, *(["--spacer"] if boards.spaced else [])])


def stops(
    tails: HowMany = None,
    csv: Csv = None,
    force: Force = False,
    setup: SetupNumber = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Where the fence goes for the real boards, and what to do before each: the rabbet, the tail
    boards, the pin boards.

    From the set-up's own zero, the fence moving out only, every position rounded to the fence's
    step by itself.

    \b
    Examples:
      fitlog stops
      fitlog stops --tails 5 --csv stops.csv
    """
    from ...render.standing import unsettled
    from ...service.boards import real_boards
    from .session import open_session, put_json, say

    with open_session(db, create=False) as session:
        found = session.bench().current(setup)
        ruler = session.ruler(found.plan.machine)
        job = real_boards(session.bench(found.plan.machine), found, tails)
        if csv not in (None, "-"):
            _write(str(csv), job, force)
            say(f"The stops are in {csv}.")
        if json:
            from ...service.boards import job_document

            put_json(job_document(job, session.ruler(found.plan.machine)))
        elif csv == "-":
            from ...render.stops import as_csv

            print(as_csv(job), end="")
        else:
            from ...render.stops import stops as show_stops

            show_stops(session.screen, job, ruler)
        if (json or csv == "-") and (told := unsettled(job.standing)):
            say(told)


def _write(name: str, job: Job, force: bool) -> None:
    """Write the stops to a file, whole or not at all."""
    from ...newfile import whole_file
    from ...render.stops import as_csv

    with whole_file(name, "the stops", over=force) as spare:
        spare.write_text(as_csv(job), encoding="utf-8", newline="")
