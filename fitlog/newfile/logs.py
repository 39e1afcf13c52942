"""Whether a file is a log: told by what is in it, so that another name, a link or a folder hides
none.
"""

from __future__ import annotations

import codecs
import os
import re
from pathlib import Path
from typing import Literal

APPLICATION_ID = 0x4669744C  # "FitL" in the file's header: this file is a log of fitlog
COMPANIONS = ("-journal", "-wal", "-shm")  # what SQLite keeps beside an open file
# bytes that are looked at: an export's first line is some hundred, spread out by another program a
# few more
_HEAD = 65_536
# https://www.sqlite.org/fileformat2.html, 1.3 (the header; the application's number at 68), 3
# (journal) and 4.1 (write-ahead log); https://www.sqlite.org/walformat.html, 2.1 (the shared index,
# in the machine's own order of bytes)
_SQLITE, _APPLICATION = b"SQLite format 3\0", slice(68, 72)
_PARTS = (
    b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7",
    b"\x37\x7f\x06\x82",
    b"\x37\x7f\x06\x83",
    (3_007_000).to_bytes(4, "little"),
    (3_007_000).to_bytes(4, "big"),
)
_EXPORT = re.compile(r'\s*\{.*?"fitlog"\s*:\s*"log"', re.DOTALL)
_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


def log_there(path: Path) -> Literal["log", "companion", "part", "export"] | None:
    """Return what of a log the file at `path` is, links followed; None: it is none, or there is no
    file. log: or a backup; companion: a name that SQLite keeps for a log beside it; part: of some
    database. Raises OSError for a file that may not be read.
    """
    for end in COMPANIONS:
        if (
            path.name.endswith(end)
            and path.name != end
            and _is_log(_head(path.with_name(path.name.removesuffix(end))))
        ):
            return "companion"
    head = _head(path)
    if _is_log(head):
        return "log"
    if head.startswith(_PARTS):
        return "part"
    return "export" if _is_export(head) else None


def _is_log(head: bytes) -> bool:
    return head.startswith(_SQLITE) and head[_APPLICATION] == APPLICATION_ID.to_bytes(4, "big")


def _is_export(head: bytes) -> bool:
    """Tell whether a text begins like our JSON document, laid out anew by another
    program or not.
    """
    coding = next((name for mark, name in _MARKS if head.startswith(mark)), "utf-8")
    return _EXPORT.match(head.decode(coding, errors="replace").split('"rows"')[0]) is not None


def _head(path: Path) -> bytes:
    """Return how a file begins; nothing where there is none. Raises OSError."""
    if not os.path.isfile(path):  # noqa: PTH113 - what has no contents would not answer
        return b""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_BINARY", 0))
    head = os.read(handle, _HEAD)
    # A process that closes a file loses its own locks on it (POSIX, fcntl), and it may have this
    # very database open: https://www.sqlite.org/howtocorrupt.html, 2.2. So a database stays open
    # here until the command ends.
    if not head.startswith((_SQLITE, *_PARTS)):
        os.close(handle)
    return head
