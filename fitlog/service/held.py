"""A log that is held open all day: whether others wrote to it, and whether its file is still
there.
"""

from __future__ import annotations

import os

from ..errors import Refused
from ..log import Log


class Held:
    """One log, as it was when this was made or last looked at."""

    def __init__(self, log: Log) -> None:
        self._log, self._file = log, _identity(log.path)
        self._seen = -1

    def look(self) -> None:
        """Take what others wrote until now for seen."""
        self._seen = self._log.written_by_others()

    @property
    def moved_on(self) -> bool:
        """Whether others wrote since it was looked at."""
        return self._log.written_by_others() != self._seen

    def require_file(self) -> None:
        """Refuse ("log-gone") to go on when the log's file was moved or replaced: what is written
        to it would be lost.
        """
        path = self._log.path
        if _identity(path) != self._file:
            raise Refused(
                "log-gone",
                "the log {path} was moved, replaced or deleted; nothing more is stored in it",
                "put it back, or leave with q",
                path=path,
            )


def _identity(path: os.PathLike[str] | None) -> tuple[int, int] | None:
    """Return what tells a file from any other, None without one."""
    if path is None:
        return None
    try:
        found = os.stat(path)  # noqa: PTH116
    except OSError:
        return None
    return found.st_dev, found.st_ino
