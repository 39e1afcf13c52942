"""The JSON document of a whole log, version 5: one document, one row of it a line, written and read
piece by piece.

    {"fitlog": "log", "version": 5, "lengths": "mm", "angles": "degrees", "moments": "UTC", "rows":
    [ {"bit": {...}}, {"entry": {...}}, ... ], "count": 2}

A row is an object with one key, its kind; the kinds and their columns are the tables of the log.
Everything about one entry lies within it. The text is ASCII: what else there is comes as an escape,
so that no terminal and no mail spoils it.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any, TextIO

from ..errors import NotUnderstood
from ..language.units import shown
from ..texts import tell

# 1 had no slots, no redo, no finish as it is; 2 a column for each name of the half-blind dovetail;
# 3 no digests; 4 no notes. All are still read.
VERSION = 5
_DIGESTED = 4  # from here on every row has a digest
ROW_LIMIT = 16 * 2**20  # characters of one row; an advice is some thousands
_CHUNK = 2**18
_SPACE = " \t\r\n"
_HEAD = {
    "fitlog": "log",
    "version": VERSION,
    "lengths": "mm",
    "angles": "degrees",
    "moments": "UTC",
}
_REMEDY = "give a file that fitlog log export wrote, whole and unchanged"

Row = tuple[str, dict[str, Any]]


def lines(rows: Iterable[Row]) -> Iterator[str]:
    """Yield the text of the document for rows of (kind, columns), a row a line."""
    yield json.dumps(_HEAD)[:-1] + ', "rows": ['
    count, encode = 0, json.JSONEncoder(allow_nan=False).encode
    for kind, row in rows:
        yield f"{',' if count else ''}\n{encode({kind: row})}"
        count += 1
    yield f'\n], "count": {count}}}\n'


def rows_of(stream: TextIO) -> Iterator[Row]:
    """Yield the rows of a document as (kind, columns), holding one at a time in memory.

    Raises NotUnderstood: not-an-export, newer-export, broken-export with the number of the row.
    """
    text = _Text(stream)
    text.expect("{")
    head: dict[str, Any] = {}
    found: int | None = None
    while True:
        key = text.value("its head")
        text.expect(":")
        if key == "rows":
            _check(head)
            if found is not None:
                raise _broken("it has its rows twice")
            found = 0
            for found, row in enumerate(text.array(), 1):
                kind, columns = _row(row, found)
                if head["version"] >= _DIGESTED and columns.get("digest") is None:
                    why = "row {number} has no digest, which every row of version {version} has"
                    raise _broken(tell(why, number=found, version=head["version"]))
                yield kind, columns
        else:
            head[str(key)] = text.value("its head")
        if text.next_of(",}") == "}":
            break
    text.end()
    _check(head)
    if found is None or head.get("count") != found:
        says = shown(str(head.get("count")), 20)
        raise _broken(tell("it says {says} rows and has {rows}", says=says, rows=found or 0))


def _check(head: dict[str, Any]) -> None:
    """Refuse a document that is not ours, or newer than this version."""
    version = head.get("version")
    if (
        head.get("fitlog") != "log"
        or not isinstance(version, int)
        or isinstance(version, bool)
        or version < 1
    ):
        raise NotUnderstood("not-an-export", "the file is no JSON export of a fitlog log", _REMEDY)
    if version > VERSION:
        raise NotUnderstood(
            "newer-export",
            "the export has version {version}, this fitlog reads up to {newest}",
            "upgrade fitlog",
            version=version,
            newest=VERSION,
        )
    for what in ("lengths", "angles", "moments"):
        if head.get(what) != _HEAD[what]:
            raise NotUnderstood(
                "broken-export",
                "the export says that its {what} are in {given}; fitlog writes and reads {ours}",
                _REMEDY,
                what=what,
                given=shown(ascii(head.get(what)), 40),
                ours=_HEAD[what],
            )


def _row(row: Any, number: int) -> Row:
    if isinstance(row, dict) and len(row) == 1:
        kind, columns = next(iter(row.items()))
        if isinstance(columns, dict):
            return kind, columns
    raise _broken(tell("row {number} is no object with one kind", number=number))


def _broken(why: str) -> NotUnderstood:
    return NotUnderstood("broken-export", "the export cannot be read: {why}", _REMEDY, why=why)


class _Text:
    """JSON read from a stream as it comes, never more than a row and a chunk of it held."""

    def __init__(self, stream: TextIO) -> None:
        self._stream, self._buffer, self._at, self._over = stream, "", 0, False
        self._decode = json.JSONDecoder(parse_constant=_no_constant).raw_decode
        self._done = 0

    def array(self) -> Iterator[Any]:
        """Yield the values of an array one by one."""
        self.expect("[")
        if self._peek() == "]":
            self._at += 1
            return
        while True:
            self._done += 1
            yield self.value(tell("row {number}", number=self._done))
            if self.next_of(",]") == "]":
                return

    def value(self, what: str) -> Any:
        """Return the next value; `what` names it in a message."""
        self._peek()
        while True:
            try:
                value, end = self._decode(self._buffer, self._at)
                if end < len(self._buffer) or self._over:  # a number may go on in the next chunk
                    self._at = end
                    return value
            except (ValueError, RecursionError) as error:
                if self._over or not isinstance(error, json.JSONDecodeError):
                    raise _broken(tell("{what} is no JSON", what=what)) from error
            if len(self._buffer) - self._at > ROW_LIMIT:
                raise _broken(tell("{what} is no JSON, or longer than any row", what=what))
            self._more()

    def expect(self, mark: str) -> None:
        """Pass over a mark."""
        self.next_of(mark)

    def next_of(self, marks: str) -> str:
        """Pass over one of the marks; return it."""
        mark = self._peek()
        if not mark or mark not in marks:
            if self._done or marks in ("[", ",}"):
                why = "it ends or goes wrong after row {number}"
                raise _broken(tell(why, number=self._done))
            raise NotUnderstood(
                "not-an-export", "the file is no JSON export of a fitlog log", _REMEDY
            )
        self._at += 1
        return mark

    def end(self) -> None:
        """Refuse anything but space after the document."""
        if self._peek():
            raise _broken("something follows its end")

    def _peek(self) -> str:
        while True:
            while self._at < len(self._buffer) and self._buffer[self._at] in _SPACE:
                self._at += 1
            if self._at < len(self._buffer):
                return self._buffer[self._at]
            if self._over:
                return ""
            self._more()

    def _more(self) -> None:
        """Read on; as much again as is held, so that a long row is not tried too often."""
        kept = self._buffer[self._at :]
        try:
            fresh = self._stream.read(max(_CHUNK, len(kept)))
        except UnicodeError:
            raise NotUnderstood("not-an-export", "the file is no UTF-8 text", _REMEDY) from None
        self._buffer, self._at, self._over = kept + fresh, 0, not fresh


def _no_constant(name: str) -> Any:
    raise ValueError(name)
