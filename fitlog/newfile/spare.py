"""The names of files that are being written, and what killed commands left under such names.

Beside each part lies a file that its process holds locked as long as it lives, so that the next
command that writes there can tell what nobody writes any more, and clears it.
"""

from __future__ import annotations

import os
import re
import stat
import sys
import time
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from .logs import COMPANIONS

if sys.platform != "win32":
    import fcntl

OWNER_ONLY = 0o600
_OURS = re.compile(r"(\.fitlog-[0-9a-f]{16})\.(?:held|part(?:-journal|-wal|-shm)?)")
_SURELY_DEAD = 86_400  # s; where no lock tells, a part this old is nobody's any more


@contextmanager
def spare_file(folder: Path) -> Iterator[Path]:
    """Give an empty file in `folder`, for its owner alone, that is gone afterwards unless it was
    renamed; what killed commands left there is cleared first.

    Its name cannot be foreseen and was nobody's: a link laid there is not in the way. Raises
    OSError.
    """
    clear_left(folder)
    held, lock = _held(folder)
    try:
        path = held.with_suffix(".part")
        os.close(_new(path))
        try:
            yield path
        finally:
            _remove(path)
    finally:
        _remove(held)
        os.close(lock)


def clear_left(folder: Path) -> None:
    """Remove what killed commands of this user left in a folder; whatever else lies there stays."""
    found = defaultdict(list)
    with suppress(OSError):  # a folder may be written to and yet not be read
        for path in folder.iterdir():
            if (ours := _OURS.fullmatch(path.name)) and _is_own(path):
                found[ours[1]].append(path)
    for stem, paths in found.items():
        held = folder / f"{stem}.held"
        if held in paths:
            _remove_unheld(held)
        elif all(map(_is_old, paths)):  # of a fitlog that held none
            _remove(held.with_suffix(".part"))


def _held(folder: Path) -> tuple[Path, int]:
    """Make a file that this process holds locked; return it and its handle."""
    while True:
        held = folder / f".fitlog-{os.urandom(8).hex()}.held"
        lock = _new(held)
        with suppress(OSError):  # a disk that knows no locks: age tells then
            if sys.platform != "win32":
                fcntl.flock(lock, fcntl.LOCK_EX)
        if os.fstat(lock).st_nlink:  # else another command cleared it before it was locked
            return held, lock
        os.close(lock)


def _remove_unheld(held: Path) -> None:
    """Remove a part, and what lies beside it, unless the process that writes it lives."""
    try:
        lock = os.open(held, os.O_RDWR | getattr(os, "O_NOFOLLOW", 0))
    except OSError:  # its own process was quicker
        return
    try:
        if _is_free(lock, held):
            _remove(held.with_suffix(".part"))
            _remove(held)
    finally:
        os.close(lock)


def _is_free(lock: int, held: Path) -> bool:
    if sys.platform == "win32":
        return _is_old(held)
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return _is_old(held)
    return True


def _remove(path: Path) -> None:
    """Remove a file with what SQLite keeps beside it; what is not this user's own stays."""
    for left in (path, *(path.with_name(path.name + end) for end in COMPANIONS)):
        if _is_own(left):
            with suppress(OSError):
                left.unlink()


def _is_own(path: Path) -> bool:
    """Tell whether a name is a file of this user: no link, no folder, no device, nobody else's."""
    with suppress(OSError):
        found = path.lstat()
        mine = not hasattr(os, "geteuid") or found.st_uid == os.geteuid()
        return stat.S_ISREG(found.st_mode) and mine
    return False


def _is_old(path: Path) -> bool:
    with suppress(OSError):
        return time.time() - path.lstat().st_mtime > _SURELY_DEAD
    return False


def _new(path: Path) -> int:
    """Make a file that was not there, through no link; return its handle. Raises OSError."""
    flags = os.O_CREAT | os.O_EXCL | os.O_RDWR | getattr(os, "O_NOFOLLOW", 0)
    return os.open(path, flags, OWNER_ONLY)
