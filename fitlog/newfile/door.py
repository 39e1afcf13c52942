"""The one door: a file is written whole or not at all, for its owner alone, over another only when
that was asked for.
"""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from ..errors import Refused
from .logs import log_there
from .spare import OWNER_ONLY, spare_file

_NEVER_OVER = {
    "log": "{name!r} is a log or a backup of one, which is never written over",
    "companion": "{name!r} belongs to the log beside it, which is never written over",
    "part": "{name!r} belongs to a log or another database, which is never written over",
    "export": "{name!r} is an export of a log, which is never written over",
}


class Place(NamedTuple):
    """Where a file is to go. name: as the user said it; path: where that leads; over: it may take
    the place of another; private: it is for its owner alone even then.
    """

    name: str
    path: Path
    over: bool = False
    private: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A file that is being written, at `path`, until `keep` gives it its name."""

    path: Path
    place: Place

    def keep(self) -> None:
        """Give the finished file its name, on disk for sure; nothing that came there meanwhile is
        lost.

        Raises Refused as `place_of` does, and OSError.
        """
        _on_disk(self.path)
        target = self.place.path
        if self.place.over and _require_room(self.place):
            if not self.place.private:  # what was there had the mode its owner gave it
                self.path.chmod(stat.S_IMODE(target.stat().st_mode) & 0o777)
            self.path.replace(target)
        else:
            self._take_free_name(target)
        with suppress(OSError):
            _on_disk(target.parent)

    def _take_free_name(self, target: Path) -> None:
        try:
            target.hardlink_to(self.path)
        except FileExistsError:
            raise _exists(self.place) from None
        except OSError:  # a disk that knows no second names, such as a stick
            try:  # to own the name before the file takes it
                os.close(os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, OWNER_ONLY))
            except FileExistsError:
                raise _exists(self.place) from None
            self.path.replace(target)


def place_of(name: str | os.PathLike[str], *, over: bool = False, private: bool = False) -> Place:
    """Return where a file called `name` goes, before any work is done for it.

    Raises Refused: bad-path for what names no file; file-exists unless it may be written `over`;
    is-a-log, over or not. Raises OSError for what the system refuses.
    """
    place = Place(os.fspath(name), file_named(name), over, private)
    _require_room(place)
    return place


def file_named(name: str | os.PathLike[str]) -> Path:
    """Return where the name of a file leads, links followed; raises Refused "bad-path" for what
    names none.
    """
    text = os.fspath(name)
    if text in ("", "-") or "\0" in text:  # what writes to standard output takes "-" before this
        raise Refused("bad-path", "{name!r} names no file", "name a file", name=text)
    if text.endswith(("/", os.sep)):
        raise _is_folder(text)
    path = Path(text)
    if path.is_symlink() and not os.path.lexists(os.path.realpath(text)):
        raise Refused(
            "bad-path", "{name!r} is a link that leads nowhere", "name another file", name=text
        )
    return Path(os.path.realpath(text))


def _require_room(place: Place) -> bool:
    """Refuse what may not be written over; tell whether there is a file that may."""
    if (what := log_there(place.path)) is not None:
        raise Refused(
            "is-a-log",
            _NEVER_OVER[what],
            "name another file, or move that one away first",
            name=place.name,
        )
    try:
        mode = place.path.stat().st_mode
    except FileNotFoundError:
        return False
    if stat.S_ISDIR(mode):
        raise _is_folder(place.name)
    if not stat.S_ISREG(mode) or _is_a_stream(place):
        raise Refused(
            "bad-path", "{name!r} is a device, not a file", "name a file", name=place.name
        )
    if not place.over:
        raise _exists(place)
    if not os.access(place.path, os.W_OK, effective_ids=os.access in os.supports_effective_ids):
        # Its owner closed it, although the folder would let it be replaced.
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), place.name)
    return True


def _is_a_stream(place: Place) -> bool:
    """Tell whether a name means what this process has open: /dev/stdout is a regular file where a
    shell sent it to one.
    """
    if place.name.startswith(("/dev/std", "/dev/fd/", "/proc/")):
        return True
    found = place.path.stat()
    for handle in (0, 1, 2):
        with suppress(OSError):
            if os.path.samestat(found, os.fstat(handle)):
                return True
    return False


def _exists(place: Place) -> Refused:
    remedy = "say --force to write over it, or name another"
    return Refused("file-exists", "{name!r} is there already", remedy, name=place.name)


def _is_folder(name: str) -> Refused:
    return Refused("bad-path", "{name!r} is a folder, not a file", "name a file in it", name=name)


@contextmanager
def part_of(place: Place) -> Iterator[Part]:
    """Give an empty file beside `place`, for its owner alone, that is gone afterwards unless it was
    kept; what killed commands left there is cleared. Raises OSError.
    """
    with spare_file(place.path.parent) as path:
        yield Part(path, place)


@contextmanager
def whole_file(
    name: str | os.PathLike[str] | Place, what: str, *, over: bool = False
) -> Iterator[Path]:
    """Give an empty file to write to; it takes the name `name` when the block ends well, and is
    gone when it does not.

    what: what is written, for messages, such as "the stops".  Raises Refused as `place_of` does,
    and unwritable-file.
    """
    with written(name.name if isinstance(name, Place) else os.fspath(name), what):
        place = name if isinstance(name, Place) else place_of(name, over=over)
        with part_of(place) as part:
            yield part.path
            part.keep()


@contextmanager
def written(name: str, what: str) -> Iterator[None]:
    """Run a block that writes the file `name`; what the system refuses is raised as Refused
    "unwritable-file".
    """
    try:
        yield
    except OSError as error:
        raise Refused(
            "unwritable-file",
            "{what} could not be written to {name!r} ({why})",
            "name a file in a folder that you can write to",
            what=what,
            name=name,
            why=error.strerror or str(error),
        ) from error


def _on_disk(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
