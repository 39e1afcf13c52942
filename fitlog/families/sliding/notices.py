"""What deserves a word beside the advice on a sliding dovetail alone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ...advice.decision import Decision
from ...advice.history import History
from ...advice.notices import sizes
from ...domain import Figures, Piece, Plan, Remark, Settings, remark
from ...errors import Mm, Refused
from .moisture import scrap_remarks
from .names import EXPOSURE, FIT, HEIGHT, SHOULDER, TONGUE
from .opening import check_height
from .plan import LEAST_TRIED, sliding

_HALF = 0.05  # mm of shoulder that is surely open


def notices(made: Decision) -> tuple[Remark, ...]:
    """Return what only a sliding dovetail asks for at the next piece."""
    last = made.pieces[-1] if made.pieces else None
    if last is None:
        return (*scrap_remarks(sliding(made.known.joint.plan)), *sizes(made))
    return (*_bottoming(last), *_tongue(made), *sizes(made))


def _bottoming(last: Piece) -> Iterable[Remark]:
    """A tongue that stands on the socket's floor is wedged by its own height."""
    said = last.verdict.of(SHOULDER)
    if said is not None and not said.settles:
        yield remark("bottoms", SHOULDER, open=said.size or _HALF)


def _tongue(made: Decision) -> Iterable[Remark]:
    """A shorter tongue is planed on the end that is cut again; the bit stays."""
    last, move = made.pieces[-1], made.settings[TONGUE] - made.pieces[-1].settings[TONGUE]
    if move < -1e-6 and made.found.end is not None:
        yield remark("plane-tongue", SHOULDER, by=-move)
    elif abs(move) > 1e-6:
        pack = last.settings[HEIGHT] - made.settings[TONGUE]
        yield remark("pack-otherwise", SHOULDER, by=pack)


def first_words(plan: Plan, first: Settings, past: History, by: str) -> Iterable[Remark]:
    """Return what is to be minded before the first piece: a scrap too narrow to rub like the
    shelf.
    """
    own = sliding(plan)
    tried = own.figures()["width"]
    if tried < min(LEAST_TRIED, own.slide):
        yield remark("narrow-scrap", FIT, width=tried, least=min(LEAST_TRIED, own.slide))


def check(plan: Plan, settings: Settings, changed: Mapping[str, float], sizes: Figures) -> None:
    """Refuse settings that cannot have been cut. changed: those that were named, true mm; sizes:
    the piece's own, where they are not the set-up's.
    """
    own = sliding(plan)
    if HEIGHT in changed:
        check_height(own, settings[HEIGHT])
    thick = own.figures(sizes)["thickness"]
    root = thick - own.faces * settings[EXPOSURE]
    if root <= 0:
        raise Refused(
            "beyond-limit",
            "an exposure of {exposure:.2f} leaves nothing of a shelf of {thickness}",
            "check the unit, or give the piece's thickness with --thickness",
            "check the unit",
            exposure=Mm(settings[EXPOSURE]),
            thickness=Mm(thick),
        )
    if settings[TONGUE] > own.bit.cutting_length:
        raise Refused(
            "beyond-limit",
            "a tongue height of {height:.2f} is beyond this bit's cutting length of {length}",
            "check the unit, or the bit with fitlog bit show",
            "check the unit",
            height=Mm(settings[TONGUE]),
            length=Mm(own.bit.cutting_length),
        )
