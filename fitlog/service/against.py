"""What a log is compared with to tell whether it is that one gone on: a head that was noted, a
backup, an export.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO

from ..errors import Refused
from ..exchange.document import Row, rows_of
from ..log.care import comparing

SQLITE = b"SQLite format 3\0"  # https://www.sqlite.org/fileformat2.html, 1.3


@contextmanager
def earlier(told: str | None) -> Iterator[comparing.Compare | None]:
    """Give what compares a log with what is told: a head, or the file of a backup or an export;
    None for nothing told.

    Raises Refused: unreadable-file, no-digests, and what reading either raises.
    """
    if told is None:
        yield None
        return
    if comparing.HEAD.fullmatch(told):
        yield lambda connection: comparing.with_head(connection, told)
        return
    # An unknown ~user stays as it is; SQLite wants a whole path.
    path = Path(os.path.abspath(os.path.expanduser(told)))  # noqa: PTH100, PTH111
    if _is_backup(path, told):
        with comparing.of_backup(path) as rows:
            yield lambda connection: comparing.with_rows(connection, rows)
        return
    with _reading(told):
        text = path.open(encoding="utf-8-sig")
    with text:
        yield lambda connection: comparing.with_rows(connection, _rows(text, told))


def _is_backup(path: Path, told: str) -> bool:
    with _reading(told), path.open("rb") as stream:
        return stream.read(len(SQLITE)) == SQLITE


def _rows(text: TextIO, told: str) -> Iterator[Row]:
    with _reading(told):
        yield from rows_of(text)


@contextmanager
def _reading(told: str) -> Iterator[None]:
    """Read what was named; raises Refused "unreadable-file"."""
    try:
        yield
    except (OSError, ValueError) as error:
        raise Refused(
            "unreadable-file",
            "{file!r} cannot be read ({why})",
            "name a backup, an export, or the head that fitlog log health tells",
            file=told,
            why=getattr(error, "strerror", None) or error,
        ) from error
