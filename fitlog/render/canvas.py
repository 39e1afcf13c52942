"""Where pictures are drawn: what every file with a picture shares. matplotlib, an optional extra,
is loaded only here.
"""

from __future__ import annotations

import logging
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from ..errors import Refused
from ..newfile import Place, part_of, place_of

if TYPE_CHECKING:
    from matplotlib.figure import Figure

ENDINGS = (".svg", ".png", ".pdf")


def checked(text: str, *, over: bool = False, sheet: bool = False) -> Place:
    """Return where a picture is to go; raise `Refused` when it cannot be drawn or written there,
    before any work.

    over: it may take the place of another file, of a log never.  sheet: it is a page, which
    nothing can do without.
    """
    place = free(text, over=over)
    logging.getLogger("matplotlib").setLevel(logging.ERROR)  # it talks while it is read, too
    try:
        import matplotlib.figure  # noqa: F401
    except (
        ImportError,
        ValueError,
    ) as error:  # the second: a setting of the user's own that it cannot live with
        missing = isinstance(error, ModuleNotFoundError)
        raise Refused(
            "no-matplotlib",
            "{what} needs matplotlib, which is not installed"
            if missing
            else "{what} needs matplotlib, which cannot be loaded ({error})",
            "in fitlog's checkout run pip install '.[pictures]'"
            if sheet
            else "in fitlog's checkout run pip install '.[pictures]', or leave --picture out",
            "have '.[pictures]' installed at the shop's computer, in fitlog's checkout",
            what="the sheet" if sheet else "a picture",
            error=str(error)[:90],
        ) from error
    with drawing(text), part_of(place):
        return place


def free(text: str, *, over: bool) -> Place:
    """Return where a picture is to go; raise `Refused` for a name that cannot be, or what may not
    be written over.
    """
    with drawing(text):
        place = place_of(text, over=over)
    if Path(text).suffix.lower() not in ENDINGS:
        raise Refused(
            "bad-picture",
            "a picture cannot be written to {file!r}",
            "end its name in .svg, .png or .pdf",
            file=text,
        )
    return place


def save(place: Place, title: str, make: Callable[[], Figure], dpi: int = 150) -> None:
    """Draw a figure and write it; what was there stays until the new one is whole.

    make: called within `quiet`, gives the figure.  title: kept in the file.  Raises `Refused` where
    it cannot be written.
    """
    ending = Path(place.name).suffix.lower()
    dated = {".svg": {"Date": None}, ".pdf": {"CreationDate": None}}.get(ending, {})
    with drawing(place.name), part_of(place) as part, quiet():
        make().savefig(part.path, format=ending[1:], dpi=dpi, metadata={"Title": title, **dated})
        part.keep()


@contextmanager
def drawing(file: str) -> Iterator[None]:
    """Run a block that writes the picture `file`; raises `Refused` for what the system refuses."""
    try:
        yield
    except OSError as error:
        raise Refused(
            "unwritable-picture",
            "the picture {file!r} could not be written ({why})",
            "name a file in a folder that you can write to",
            file=file,
            why=error.strerror or error,
        ) from error


@contextmanager
def quiet() -> Iterator[None]:
    """Draw in matplotlib's own style whatever the user's file says, the same bytes each time, and
    without its talk.
    """
    import matplotlib

    with warnings.catch_warnings(), matplotlib.rc_context():
        warnings.simplefilter(
            "ignore", UserWarning
        )  # a name may have letters that its font does not
        matplotlib.rcdefaults()
        matplotlib.rcParams["svg.hashsalt"] = "fitlog"
        yield
