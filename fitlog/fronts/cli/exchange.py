"""`fitlog log export|import`: the whole log as JSON, trial cuts as CSV, out and in."""

from __future__ import annotations

import gc
import io
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, BinaryIO

import typer

from ...errors import NotUnderstood, Refused
from .log import log_app
from .options import BitName, Db, Force, Json, MachineName, PinStock, StockName, Yes

if TYPE_CHECKING:
    from ...service.cuts import CutsIn
    from ...service.exchange import Imported
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
Dates = Annotated[str | None, typer.Option(metavar="dmy|mdy", help="How 3/4/2031 is meant.")]
Again = Annotated[
    bool, typer.Option("--again", help="Log lines that look like cuts in the log already.")
]
SkipBad = Annotated[
    bool, typer.Option("--skip-bad", help="Log the good lines although others are wrong.")
]
Pitch = Annotated[
    str | None, typer.Option(metavar="L", help="The pitch of a set-up started for them.")
]


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
    from ...render.screen import Screen
    from .session import open_session, put_json

    gc.enable()  # a long log is a long command
    if not csv and (setup is not None or bit or stock):
        raise NotUnderstood(
            "usage", "--setup, --bit and --stock choose trial cuts", "say --csv, or leave them out"
        )
    with open_session(db, create=False) as session:
        rows: dict[str, int] = {}
        write_all = _cuts_out(session, setup, bit, stock, rows) if csv else _log_out(session, rows)
        if file == "-":
            write_all(_to_output)
            return
        from ...newfile import whole_file

        with (
            whole_file(file, "the export", over=force) as spare,
            spare.open("w", encoding="utf-8", newline="") as out,
        ):
            write_all(out.write)
    if json:
        put_json({"file": file, "rows": rows})
        return
    what = "trial cut" if csv else "row"
    count = sum(rows.values())
    Screen().line(f"{count:,} {what}{'' if count == 1 else 's'} written to {file}")


def _cuts_out(
    session: Session, setup: int | None, bit: str | None, stock: str | None, rows: dict[str, int]
) -> Callable[[Callable[[str], object]], None]:
    """Return what writes the trial cuts as CSV, and counts them in `rows`."""
    from ...service.cuts import csv_lines

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


def _to_output(text: str) -> None:
    """Write to standard output with the ends of line that the text has."""
    if hasattr(sys.stdout, "buffer"):
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode())
    else:
        sys.stdout.write(text)


@log_app.command("import")
def import_(
    file: FileIn,
    dry_run: DryRun = False,
    setup: OneSetup = None,
    bit: BitName = None,
    stock: StockName = None,
    pin_stock: PinStock = None,
    machine: MachineName = None,
    pitch: Pitch = None,
    dates: Dates = None,
    again: Again = False,
    skip_bad: SkipBad = False,
    yes: Yes = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Put another log's JSON export into this one, or trial cuts from a spreadsheet's CSV.

    A log comes in whole or not at all; what is here already is not doubled, so the same shop's
    export can come again. Trial cuts go to an open set-up (--setup N), or to one started for them
    (--bit, --stock). Headers are in any order: date, height, fence, depth, said (as you would say
    it to fitlog cut), or fit, centre, seat; gap, mouth, note. A unit may stand in the header, as in
    height (in), or in the cell. A bare number is in your preferred unit.

    \b
    Examples:
      fitlog log import shop.json --dry-run
      fitlog log import cuts.csv --setup 3
      fitlog log import cuts.csv --bit half --stock ash
    """
    given = {
        "setup": setup,
        "bit": bit,
        "stock": stock,
        "pin_stock": pin_stock,
        "machine": machine,
        "pitch": pitch,
        "dates": dates,
        "again": again,
        "skip_bad": skip_bad,
        "yes": yes,
    }
    gc.enable()
    with _opened(file) as (stream, is_document):
        if is_document:
            if any(given.values()):
                raise NotUnderstood(
                    "usage",
                    "a whole log needs no set-up named",
                    "leave all options but --dry-run out",
                )
            _import_log(file, stream, dry_run, db, json)
        else:
            _import_cuts(file, stream, given, dry_run, db, json)


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
            "unreadable-file", f"{file!r} cannot be read ({why})", "name a file that you may read"
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
            put_json(_log_document(done, dry_run))
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


def _log_document(done: Imported, dry_run: bool) -> dict[str, Any]:
    merged = done.merged
    renamed = [{"kind": kind, "name": name, "here": here} for kind, name, here in merged.renamed]
    return {
        "dry_run": dry_run,
        "identical": done.identical,
        "added": dict(merged.added),
        "found": dict(merged.found),
        "renamed": renamed,
        "left_out": merged.left_out,
        "setups": len(merged.setups),
        "still_open": list(done.still_open),
        "current": done.kept,
    }


def _import_cuts(
    file: str, stream: BinaryIO, given: dict[str, Any], dry_run: bool, db: str | None, as_json: bool
) -> None:
    from ...exchange.cuts_in import Reader, read_cuts
    from ...exchange.sheet import MOST_BYTES, read_sheet
    from ...service.cuts import Asked, log_cuts
    from .session import now, open_session, put_json

    order = given["dates"]
    if order not in (None, "dmy", "mdy"):
        raise NotUnderstood("bad-choice", f"--dates cannot be {order!r}", "say dmy or mdy")
    with open_session(db, create=False) as session:
        where = _where(session, given)
        sheet = read_sheet(stream.read(MOST_BYTES + 1))
        lines, problems, back = read_cuts(sheet, Reader(session.units, order, now()))
        asked = Asked(
            lines, problems, back, given["again"], given["skip_bad"], dry_run, given["yes"]
        )
        done = log_cuts(session.log, session.by, session.ruler(), where, asked)
        stopped = bool(done.problems) and not given["skip_bad"]
        if as_json:
            put_json(_cuts_document(done, sheet.unused, dry_run, stopped))
            raise typer.Exit(1 if stopped else 0)
        from ...render.exchange import cuts_in

        cuts_in(session.screen, done, sheet.unused, session.ruler(), dry_run or stopped)
    if stopped:
        count = len({problem.line for problem in done.problems})
        hint = "correct them in the file, or say --skip-bad to log the others alone"
        said = (
            f"{count} {'line' if count == 1 else 'lines'} of {file!r} cannot be logged; nothing was"
        )
        raise Refused("bad-lines", said, hint)


def _where(session: Session, given: dict[str, Any]) -> Any:
    """Return the set-up to log to, or what is to be started."""
    from ...service import Wanted

    if given["setup"] is not None:
        if any(given[name] for name in ("bit", "stock", "pin_stock", "machine", "pitch")):
            raise NotUnderstood(
                "usage",
                "--setup names a set-up with its bit and boards",
                "leave --bit and the others out",
            )
        return given["setup"]
    if given["bit"] is None:
        hint = "say --setup N, or --bit NAME --stock NAME to start one for them"
        raise NotUnderstood(
            "no-target", "a table does not say which set-up its cuts belong to", hint
        )
    bit, stock = session.log.bit(given["bit"]), session.only("stock", given["stock"])
    pin_stock = session.log.stock(given["pin_stock"]) if given["pin_stock"] else stock
    fit = f"what a {bit.diameter:g} mm bit can space"
    pitch = session.size(given["pitch"], "the pitch", bit.diameter, 2 * bit.diameter, fit)
    return Wanted(bit, stock, pin_stock, session.machine(given["machine"]), pitch=pitch)


def _cuts_document(
    done: CutsIn, unused: tuple[str, ...], dry_run: bool, stopped: bool
) -> dict[str, Any]:
    from ...document import said

    return {
        "dry_run": dry_run,
        "setup": done.setup,
        "started": done.opened,
        "logged": 0 if dry_run or stopped else len(done.cuts),
        "cuts": [
            {"line": line, "piece": cut.piece, "said": said(cut.verdict)} for line, cut in done.cuts
        ],
        "known": done.known,
        "taken_back": done.back,
        "unused": list(unused),
        "problems": [{"line": p.line, "message": p.message, "hint": p.hint} for p in done.problems],
    }
