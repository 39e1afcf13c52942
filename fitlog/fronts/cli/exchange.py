"""`fitlog log export|import`: the whole log as JSON, trial cuts as CSV, out and in."""

from __future__ import annotations

import gc
import io
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, TYPE_CHECKING, Annotated, Any, BinaryIO

import typer

from ...errors import NotUnderstood, Refused
from .log import log_app
from .options import BitName, Db, Force, Json, MachineName, PinStock, StockName, Yes, length
from .shell import put_refused

if TYPE_CHECKING:
    from ...service.reader.table import TableTyped
    from .session import Session

__all__ = ["log_app"]
File = Annotated[
    str, typer.Argument(metavar="[FILE|-]", help="Where it goes; - is standard output.")
]
FileIn = Annotated[
    str, typer.Argument(metavar="FILE|-", help="A JSON export, or a table of trial cuts as CSV.")
]
CsvOut = Annotated[bool, typer.Option("--csv", help="Trial cuts alone, as CSV for a spreadsheet.")]
OneSetup = Annotated[
    int | None, typer.Option("--setup", metavar="N", help="Only, or to, this set-up.")
]
DryRun = Annotated[
    bool,
    typer.Option("--dry-run", help="Only tell what it would do, and what is wrong with the file."),
]
JointName = Annotated[
    str | None, typer.Option("--joint", metavar="NAME", help="The joint of a set-up started so.")
]
Encoding = Annotated[
    str | None,
    typer.Option(metavar="NAME", help="What a table was saved as, such as cp1252, if not UTF-8."),
]
Dates = Annotated[str | None, typer.Option(metavar="dmy|mdy", help="How 3/4/2031 is meant.")]
Again = Annotated[
    bool, typer.Option("--again", help="Log lines that look like cuts in the log already.")
]
SkipBad = Annotated[
    bool, typer.Option("--skip-bad", help="Log the good lines although others are wrong.")
]
Pitch = Annotated[str | None, length("The pitch of a set-up started for them.")]
_IN_MEMORY, _AT_ONCE = 16_000_000, 1_000_000  # bytes, characters


@log_app.command("export")
def export(
    file: File = "-",
    csv: CsvOut = False,
    setup: OneSetup = None,
    bit: BitName = None,
    stock: StockName = None,
    force: Force = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Write the whole log as one JSON document, or its trial cuts as CSV.

    The JSON holds everything and makes an identical log again with fitlog log import. The CSV has a
    row a cut: settings as true lengths in mm, words, sizes, readings, who and when. A file is for
    you alone to read.

    \b
    Examples:
      fitlog log export shop.json
      fitlog log export --csv cuts.csv --bit half
    """
    from ...render.exchange import exported
    from ...render.screen import Screen
    from .session import open_session, put_json

    gc.enable()  # a long log is a long command
    if not csv and (setup is not None or bit or stock):
        raise NotUnderstood(
            "usage", "--setup, --bit and --stock choose trial cuts", "say --csv, or leave them out"
        )
    if csv and json and file == "-":
        raise NotUnderstood(
            "usage",
            "--csv and --json cannot both be standard output",
            "name a file for the CSV, or leave --json out",
        )
    rows: dict[str, int] = {}
    with _whole(file, force) as out, open_session(db, create=False) as session:
        write_all = _cuts_out(session, setup, bit, stock, rows) if csv else _log_out(session, rows)
        write_all(out.write)
    if file == "-":
        return
    if json:
        put_json({"file": file, "rows": rows})
    else:
        exported(Screen(), sum(rows.values()), "trial cut" if csv else "row", file)


def _cuts_out(
    session: Session, setup: int | None, bit: str | None, stock: str | None, rows: dict[str, int]
) -> Callable[[Callable[[str], object]], None]:
    """Return what writes the trial cuts as CSV, and counts them in `rows`."""
    from ...service.cuts_out import csv_lines

    def write_all(write: Callable[[str], object]) -> None:
        rows["trial_cut"] = -1  # the header
        for line in csv_lines(session.log, setup, bit, stock):
            write(line)
            rows["trial_cut"] += 1

    return write_all


def _log_out(session: Session, rows: dict[str, int]) -> Callable[[Callable[[str], object]], None]:
    """Return what writes the whole log as JSON, and counts its rows in `rows`."""
    from ...service.exchange import write_log

    return lambda write: rows.update(write_log(session.log, write))


@contextmanager
def _whole(file: str, over: bool) -> Iterator[IO[str]]:
    """Give what becomes a file, or for - standard output, once the log has told all: whole or not
    at all. Ends of line stay as the text has them.
    """
    if file != "-":
        from ...newfile import whole_file

        with (
            whole_file(file, "the export", over=over) as spare,
            spare.open("w", encoding="utf-8", newline="") as out,
        ):
            yield out
        return
    from tempfile import SpooledTemporaryFile

    with SpooledTemporaryFile(_IN_MEMORY, "w+", encoding="utf-8", newline="") as spool:
        yield spool
        spool.seek(0)
        sys.stdout.flush()
        stream: Any = getattr(sys.stdout, "buffer", None)
        while text := spool.read(_AT_ONCE):
            if stream is None:
                sys.stdout.write(text)
            else:
                stream.write(text.encode())


@log_app.command("import")
def import_(
    file: FileIn,
    dry_run: DryRun = False,
    setup: OneSetup = None,
    bit: BitName = None,
    stock: StockName = None,
    pin_stock: PinStock = None,
    machine: MachineName = None,
    joint: JointName = None,
    pitch: Pitch = None,
    encoding: Encoding = None,
    dates: Dates = None,
    again: Again = False,
    skip_bad: SkipBad = False,
    yes: Yes = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Put another log's JSON export into this one, or trial cuts from a spreadsheet's CSV.

    A log comes in whole or not at all; what is here already is not doubled, so the same shop's
    export can come again. Trial cuts go to an open set-up (--setup N), to one started for them
    (--bit, --stock), or with neither to the set-ups that their lines name; a table that comes again
    is not doubled. Headers are in any order: date, height, fence, depth, said (as you would say it
    to fitlog cut), or fit, centre, seat; gap, mouth, note. A unit may stand in the header, as in
    height (in), or in the cell. A bare number is in your preferred unit. Wrong lines are listed by
    number and nothing is logged, unless --skip-bad. A bit, stock or machine of the other log whose
    name has other figures here is kept apart as NAME (2); your current set-up stays current.

    \b
    Examples:
      fitlog log import shop.json --dry-run
      fitlog log import cuts.csv --setup 3
      fitlog log import cuts.csv --bit half --stock ash
    """
    from ...service.again import Named
    from ...service.reader.table import TableTyped

    named = Named(bit, stock, pin_stock, machine, joint)
    typed = TableTyped(setup, named, pitch, encoding, dates, again, skip_bad, yes)
    gc.enable()
    with _opened(file) as (stream, is_document):
        if not is_document:
            _import_cuts(file, stream, typed, dry_run, db, json)
            return
        if typed.anything:
            raise NotUnderstood(
                "usage",
                "a whole log needs no set-up named",
                "leave all options but --dry-run out",
            )
        _import_log(file, stream, dry_run, db, json)


@contextmanager
def _opened(file: str) -> Iterator[tuple[BinaryIO, bool]]:
    """Open a file and tell whether it is a JSON document; raises Refused "unreadable-file"."""
    try:
        stream: Any = sys.stdin.buffer if file == "-" else Path(file).open("rb")  # noqa: SIM115
        with stream:
            # At the start of a stream a peek gives what one read of the system gives; a document
            # begins within it.
            yield stream, stream.peek(64).lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"{")
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise Refused(
            "unreadable-file",
            "{file!r} cannot be read ({why})",
            "name a file that you may read",
            file=file,
            why=why,
        ) from error


def _import_log(file: str, stream: BinaryIO, dry_run: bool, db: str | None, as_json: bool) -> None:
    from ...exchange.document import rows_of
    from ...service.exchange import read_log
    from .session import open_session, put_json

    with _dry_home(db, dry_run) as place, open_session(place, create=True) as session:
        text = io.TextIOWrapper(stream, encoding="utf-8-sig")
        try:
            done = read_log(session.log, rows_of(text), session.by, dry_run=dry_run)
        finally:
            text.detach()
        if as_json:
            from ...render.documents.exchange import imported_document

            put_json(imported_document(done, dry_run))
        else:
            from ...render.exchange import imported

            imported(session.screen, done, file, dry_run)


@contextmanager
def _dry_home(db: str | None, dry_run: bool) -> Iterator[str | None]:
    """Give the log to import to; a dry run where there is none gets an empty one that is gone
    afterwards.
    """
    from tempfile import TemporaryDirectory

    from .session import default_log

    place = db or default_log()
    if not dry_run or "://" in place or Path(place).expanduser().exists():
        yield db
        return
    with TemporaryDirectory() as folder:
        yield str(Path(folder) / "log.db")


def _import_cuts(
    file: str, stream: BinaryIO, typed: TableTyped, dry_run: bool, db: str | None, as_json: bool
) -> None:
    from ...exchange.sheet import MOST_BYTES, read_sheet
    from ...service.cuts import bad_lines, log_cuts
    from ...service.reader.table import asked_of, columns_for
    from .session import open_session, put_json

    typed.check()
    with open_session(db, create=False) as session:
        where = typed.target(session)
        columns = columns_for(session, where)
        sheet = read_sheet(stream.read(MOST_BYTES + 1), columns, typed.encoding)
        asked = asked_of(session.reader, typed, sheet, columns, dry_run)
        done = log_cuts(session.log, session.by, session.ruler(), where, asked)
        stopped = bool(done.problems) and not typed.skip_bad
        if as_json:
            from ...render.documents.exchange import cuts_document

            document = cuts_document(done, sheet.unused, dry_run, stopped)
            if stopped:
                put_refused(document, bad_lines(done, file))
            put_json(document)
            return
        from ...render.exchange import cuts_in

        cuts_in(session.screen, done, sheet.unused, session.ruler(), dry_run or stopped)
    if stopped:
        raise bad_lines(done, file)
