"""A table as some program wrote it: bytes to text, text to cells, whatever the encoding, the
separator and the blank lines.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
from dataclasses import dataclass

from ..errors import NotUnderstood, Refused
from ..language.units import quoted
from ..texts import tell
from .cells import unguarded
from .columns import OTHERS, Column, Columns

MOST_BYTES = 20 * 2**20
MOST_LINES = 20_000
_SEPARATORS = (",", ";", "\t")
_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong in a line of the file, and the remedy."""

    line: int
    message: str
    hint: str


@dataclass(frozen=True, slots=True)
class Line:
    """A line of cells; number: where it begins in the file, from 1; cells: text by our word for the
    column.
    """

    number: int
    cells: dict[str, str]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table read. columns: by our word for them; unused: headers that mean nothing here;
    problems: lines of no shape.
    """

    columns: dict[str, Column]
    unused: tuple[str, ...]
    lines: tuple[Line, ...]
    problems: tuple[Problem, ...]


def decoded(data: bytes, encoding: str | None = None) -> str:
    """Return the text in a file's bytes: UTF-8, or UTF-16 by its mark or its zero bytes; any other
    encoding only where it is named.

    Raises Refused: file-too-large; NotUnderstood: bad-encoding with the line and the column of what
    is no text, bad-choice for an encoding that is not known, not-a-table.
    """
    if len(data) > MOST_BYTES:
        raise Refused(
            "file-too-large",
            "the file has {size} bytes, more than a table of trial cuts",
            "split it",
            size=len(data),
        )
    if encoding is not None:
        return _strictly(data, _known(encoding))
    for mark, told in _BOMS:
        if data.startswith(mark):
            return _strictly(data[len(mark) :], told)
    if data[1::2].count(0) > len(data) // 4:
        return _strictly(data, "utf-16-le")
    if data[::2].count(0) > len(data) // 4:
        return _strictly(data, "utf-16-be")
    return _strictly(data, "utf-8")


def _known(encoding: str) -> str:
    """Return the name of an encoding of text; raises NotUnderstood "bad-choice"."""
    try:
        "a".encode(encoding)
        return codecs.lookup(encoding).name
    except (LookupError, ValueError):
        raise NotUnderstood(
            "bad-choice",
            "--encoding cannot be {name}",
            "say what the file was saved as, such as cp1252, latin-1 or utf-16",
            name=quoted(encoding),
        ) from None


def read_sheet(data: bytes, table: Columns, encoding: str | None = None) -> Sheet:
    """Return the table in a file. table: what columns it can have. Raises Refused and NotUnderstood
    as `decoded`, and for a table without our columns.
    """
    text = decoded(data, encoding)
    told = re.match(
        r"\s*sep=([,;\t])[\"']?[ \t]*\r?\n", text, re.IGNORECASE
    )  # a line for the spreadsheet, not for us
    if told:
        text = "\n" * text[: told.end()].count("\n") + text[told.end() :]
    head = next((line for line in text.splitlines() if line.strip(" \t,;")), None)
    if head is None:
        raise _no_table("it is empty")
    likely = max(_SEPARATORS, key=lambda s: (len(table.known(_first(head, s))), head.count(s)))
    separator = told[1] if told else likely
    rows = _records(text, separator)
    number, headers = next(
        ((n, cells) for n, cells in rows if any(cell.strip() for cell in cells)), (0, list[str]())
    )
    if not headers:
        raise _no_table("it is empty")
    strange = next(filter(table.strange_unit, headers), None)
    if strange is not None:
        raise NotUnderstood(
            "bad-length",
            "the column {header} is in no unit that is known",
            "give it in mm or in, with its numbers, and import again",
            header=quoted(strange.strip()),
        )
    columns = _columns(headers, number, table)
    used = {column.at for column in columns.values()}
    unused = tuple(
        h.strip()
        for i, h in enumerate(headers)
        if h.strip() and i not in used and h.strip() not in OTHERS
    )
    lines, problems = _lines(
        [row for row in rows if row[0] > number], columns, len(headers), separator
    )
    return Sheet(columns, unused, lines, problems)


def _first(head: str, separator: str) -> list[str]:
    try:
        return next(csv.reader([head], delimiter=separator), [])
    except csv.Error:
        return []


def _records(text: str, separator: str) -> list[tuple[int, list[str]]]:
    """Return every record with the line of the file it begins at."""
    reader, before = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True), 0
    found: list[tuple[int, list[str]]] = []
    try:
        for cells in reader:
            found.append((before + 1, cells))
            before = reader.line_num
            if len(found) > MOST_LINES:
                raise Refused(
                    "file-too-large",
                    "the file has more than {most} lines",
                    "split it",
                    most=MOST_LINES,
                )
    except csv.Error as error:
        why = "line {number} has a quote that is not closed, or text right behind one"
        if "field larger" in str(error):
            why = (
                "a cell of line {number} has more than {most:,} characters, or its quote is not "
                "closed"
            )
        raise _no_table(tell(why, number=before + 1, most=csv.field_size_limit())) from error
    return found


def _columns(headers: list[str], number: int, table: Columns) -> dict[str, Column]:
    found: dict[str, Column] = {}
    for column in table.known([unguarded(header) for header in headers]):
        if column.key in found:
            raise NotUnderstood(
                "two-columns",
                "line {number} has two columns for the same thing: {one} and {other}",
                "rename the one that is not meant, then import it again",
                number=number,
                one=quoted(found[column.key].header),
                other=quoted(column.header),
            )
        found[column.key] = column
    if not any(key in found for key in table.telling):
        raise NotUnderstood(
            "no-columns",
            "no column says how a piece was; line {number} has {headers}",
            "name the columns in its first line, such as: date;{settings};said;note",
            number=number,
            headers=", ".join(quoted(h) for h in headers[:6] if h.strip()),
            settings=";".join(table.words[name][0] for name in table.speech.family.names),
        )
    return found


def _lines(
    rows: list[tuple[int, list[str]]], columns: dict[str, Column], width: int, separator: str
) -> tuple[tuple[Line, ...], tuple[Problem, ...]]:
    lines, problems = [], []
    for number, cells in rows:
        if not any(cell.strip() for cell in cells):
            continue
        if any(cell.strip() for cell in cells[width:]):
            problems.append(_too_many(number, len(cells), width, separator))
            continue
        given = {
            key: unguarded(cells[c.at].strip(" \u00a0"))
            for key, c in columns.items()
            if c.at < len(cells)
        }
        if any(given.values()):
            lines.append(Line(number, given))
    return tuple(lines), tuple(problems)


def _strictly(data: bytes, encoding: str) -> str:
    try:
        text = data.decode(encoding).removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        before = re.split(r"\r\n?|\n", data[: error.start].decode(encoding, "replace"))
        raise NotUnderstood(
            "bad-encoding",
            "line {line}, column {column}: the byte {byte} there is no text in {encoding}",
            "save the file as UTF-8, or say what it was saved as: --encoding cp1252",
            line=len(before),
            column=len(before[-1]) + 1,
            byte=f"0x{data[error.start]:02x}",
            encoding=encoding,
        ) from None
    if "\0" in text:
        raise _no_table("it holds NUL characters, as no text does")
    return text


def _too_many(line: int, cells: int, columns: int, separator: str) -> Problem:
    said = tell(
        "it has {cells} cells, its header 1 column"
        if columns == 1
        else "it has {cells} cells, its header {columns} columns",
        cells=cells,
        columns=columns,
    )
    if separator == ",":
        return Problem(line, said, tell("put quotes around a cell that has a comma in it"))
    return Problem(line, said, tell("put quotes around such a cell"))


def _no_table(why: str) -> NotUnderstood:
    return NotUnderstood(
        "not-a-table",
        "the file is no table of trial cuts: {why}",
        "export it as CSV from your spreadsheet",
        why=why,
    )
