"""Files that commands write: whole or not at all, and for their owner alone unless the file was there with another mode."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from .errors import Refused

OWNER_ONLY = 0o600


@contextmanager
def whole_file(name: str | os.PathLike[str], what: str, *, over: bool = True) -> Iterator[Path]:
    """Give an empty file to write to; it takes the name `name` when the block ends well, and is gone when it does not.

    what: what is written, for messages, such as "the stops".  over: False refuses a file that is there ("file-exists").
    The new file is its owner's alone; where one of that name was there, its mode stays. Raises Refused: unwritable-file.
    """
    path = Path(name)
    spare = path.with_name(f".{path.name}.part-{os.getpid()}")
    try:
        if not over and path.exists():
            hint = "name another file, or say --force to write over it"
            raise Refused("file-exists", f"{str(name)!r} is there already", hint)
        begin(spare, path)
        yield spare
        spare.replace(path)
    except OSError as error:
        message = f"{what} could not be written to {str(name)!r} ({error.strerror or error})"
        raise Refused("unwritable-file", message, "name a file in a folder that you can write to") from error
    except ValueError as error:  # a NUL in the name
        message = f"{what} could not be written to {str(name)!r} ({error})"
        raise Refused("unwritable-file", message, "name another file") from error
    finally:
        with suppress(OSError, ValueError):
            spare.unlink(missing_ok=True)


def begin(spare: Path, path: Path) -> None:
    """Make the empty file `spare`, which is to take the place of `path`, for its owner alone or with the mode of `path`.

    What an earlier run left under that name is taken away first. Raises OSError.
    """
    spare.unlink(missing_ok=True)
    os.close(os.open(spare, os.O_CREAT | os.O_EXCL | os.O_WRONLY, OWNER_ONLY))
    if path.exists():
        spare.chmod(stat.S_IMODE(path.stat().st_mode))
