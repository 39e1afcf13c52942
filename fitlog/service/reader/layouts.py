"""What `plan` was told, as typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ...errors import Refused
from ...families.boards import Wish, boards_of
from ...language.limits import Limit
from .. import limits
from ..again import Named
from ..session import Session
from .choices import one_of
from .lengths import BoardsTyped

_BOARDS = {
    "width": limits.BOARD_WIDTH,
    "thickness": limits.TAIL_BOARD,
    "pin_thickness": limits.PIN_BOARD,
}


@dataclass(frozen=True, slots=True)
class GrooveTyped:
    """The bottom's groove; None: not given."""

    width: str | None = None
    at: str | None = None
    depth: str | None = None

    def texts(self) -> dict[str, str | None]:
        """Return it by the names that a family reads it by."""
        return {"groove": self.width, "at": self.at, "groove_depth": self.depth}


@dataclass(frozen=True, slots=True)
class PlanTyped:
    """All that `plan` takes; None: not given."""

    named: Named = field(default_factory=Named)
    boards: BoardsTyped = field(default_factory=BoardsTyped)
    tails: int | None = None
    pitch: str | None = None
    middle: str | None = None
    wide: bool | None = None
    half_pin: str | None = None
    spacer: bool = False
    groove: GrooveTyped = field(default_factory=GrooveTyped)


def wish_of(session: Session, joint: str, typed: PlanTyped) -> Wish:
    """Return what is asked, in true mm: all bits unless one is named."""
    named, own = typed.named, boards_of(joint)
    stock, pin_stock = session.boards(named.stock, named.pin_stock)
    machine, board = session.machine(named.machine), typed.boards
    bits = [session.bits.get(named.bit)] if named.bit else session.bits.all(False)
    texts = {
        "width": board.width,
        "thickness": board.thickness,
        "pin_thickness": board.pin_thickness,
        "half_pin": typed.half_pin,
        "pitch": typed.pitch,
        **typed.groove.texts(),
    }
    limits_of = {**_BOARDS, **own.SIZES}
    _require_known(texts, limits_of, joint)
    return Wish(
        bits or [session.bits.only(None)],
        stock,
        pin_stock,
        machine,
        typed.spacer,
        session.reader.sizes(texts, limits_of),
        typed.tails,
        typed.middle and one_of(typed.middle, own.MIDDLES, "--middle"),
        typed.wide,
    )


def _require_known(texts: Mapping[str, str | None], known: Mapping[str, Limit], joint: str) -> None:
    """Refuse ("other-joint") a size that the layouts of a joint are not chosen by."""
    for name, text in texts.items():
        if text is not None and name not in known:
            raise Refused(
                "other-joint",
                "the layouts of the {joint} are not chosen by --{option}",
                "leave --{option} out",
                joint=joint,
                option=name.replace("_", "-"),
            )
