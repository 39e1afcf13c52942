"""How the store of a log is opened, whatever keeps it; what keeps the other kind is not
imported.
"""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import TYPE_CHECKING

from ..errors import Refused
from . import trouble
from .engine import Store, Upgraded

if TYPE_CHECKING:
    from .sqlite.files import FileStore


def open_store(location: str | os.PathLike[str], *, create: bool) -> Store:
    """Open the store at a path or a URL, laying it out first when it is new and `create` is True.

    Raises Refused: bad-path and no-such-store for what is neither, and what `files` and `server`
    raise.
    """
    file = file_of(location)
    if file is None:
        from .postgres.server import open_server

        return open_server(os.fspath(location), create=create)
    from .sqlite.files import open_file

    return open_file(file, create=create, older=_brought_up)


def _brought_up(store: FileStore) -> Upgraded | None:
    from .care.upgrading import bring_up

    return bring_up(store)


def file_of(location: str | os.PathLike[str]) -> Path | None:
    """Return the file that a location names, None for the URL of a server.

    Raises Refused: bad-path and no-such-store for what is neither.
    """
    text = os.fspath(location)
    if text.startswith(("postgresql:", "postgres:", "postgresql+")):
        return None
    path = text.removeprefix("sqlite:///")
    if path == text and re.match(r"[A-Za-z][A-Za-z0-9+.-]*://", text):
        raise trouble.no_such_store(text)
    if not path or "\0" in path:
        raise Refused(
            "bad-path",
            "{location!r} names no file",
            "name the log with --db FILE",
            location=location,
        )
    return Path(path)
