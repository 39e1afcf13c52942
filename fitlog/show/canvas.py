"""Where pictures are drawn: what every file with a picture shares. matplotlib, an optional extra, is loaded only here."""

from __future__ import annotations

import logging
import os
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from ..errors import Refused
from ..newfile import begin

if TYPE_CHECKING:
    from matplotlib.figure import Figure

ENDINGS = (".svg", ".png", ".pdf")


def checked(text: str) -> Path:
    """Return where a picture is to go; raise `Refused` when it cannot be drawn or written there, before any work."""
    path = Path(text)
    if path.suffix.lower() not in ENDINGS:
        raise Refused("bad-picture", f"a picture cannot be written to {text!r}", "end its name in .svg, .png or .pdf")
    if path.is_dir():
        raise Refused("bad-picture", f"{text!r} is a folder", "name a file in it")
    logging.getLogger("matplotlib").setLevel(logging.ERROR)  # it talks while it is read, too
    try:
        import matplotlib.figure  # noqa: F401
    except (ImportError, ValueError) as error:  # the second: a setting of the user's own that it cannot live with
        why = "is not installed" if isinstance(error, ModuleNotFoundError) else f"cannot be loaded ({str(error)[:90]})"
        remedy = "in fitlog's checkout run pip install '.[pictures]', or leave --picture out"
        raise Refused("no-matplotlib", f"a picture needs matplotlib, which {why}", remedy) from error
    with beside(path) as spare:
        spare.touch()
    return path


def save(path: Path, title: str, make: Callable[[], Figure], dpi: int = 150) -> None:
    """Draw a figure and write it; what was at `path` stays until the new one is whole.

    make: called within `quiet`, gives the figure.  title: kept in the file.  Raises `Refused` where it cannot be written.
    """
    dated = {".svg": {"Date": None}, ".pdf": {"CreationDate": None}}.get(path.suffix.lower(), {})
    with beside(path) as spare, quiet():
        begin(spare, path)
        make().savefig(spare, format=path.suffix[1:].lower(), dpi=dpi, metadata={"Title": title, **dated})
        spare.replace(path)


@contextmanager
def beside(path: Path) -> Iterator[Path]:
    """Yield a name for a half-written file in the same folder, and leave none there; raises `Refused` for what the
    system refuses."""
    spare = path.with_name(f".fitlog-{os.getpid()}{path.suffix}")
    try:
        yield spare
    except OSError as error:
        message = f"the picture {str(path)!r} could not be written ({error.strerror or error})"
        raise Refused("unwritable-picture", message, "name a file in a folder that you can write to") from error
    finally:
        with suppress(OSError):
            spare.unlink(missing_ok=True)


@contextmanager
def quiet() -> Iterator[None]:
    """Draw in matplotlib's own style whatever the user's file says, the same bytes each time, and without its talk."""
    import matplotlib

    with warnings.catch_warnings(), matplotlib.rc_context():
        warnings.simplefilter("ignore", UserWarning)  # a name may have letters that its font does not
        matplotlib.rcdefaults()
        matplotlib.rcParams["svg.hashsalt"] = "fitlog"
        yield
