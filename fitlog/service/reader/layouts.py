"""What `plan` was told, as typed."""

from __future__ import annotations

from dataclasses import dataclass, field

from ... import defaults
from ...domain import adjuster, tail_count
from ...families.half_blind.layouts import Asked
from ...families.half_blind.typed import ANY_PITCH, HALF_PIN
from .. import limits
from ..again import Named
from ..boards import Boards, Wish
from ..session import Session
from .choices import one_of
from .lengths import BoardsTyped


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


def wish_of(session: Session, typed: PlanTyped) -> Wish:
    """Return what is asked, in true mm: all bits unless one is named."""
    named = typed.named
    stock, pin_stock = session.boards(named.stock, named.pin_stock)
    boards = Boards(stock, pin_stock, session.machine(named.machine), typed.spacer)
    bits = [session.bits.get(named.bit)] if named.bit else session.bits.all(False)
    return Wish(bits or [session.bits.only(None)], boards, _asked(session, boards, typed))


def _asked(session: Session, boards: Boards, typed: PlanTyped) -> Asked:
    maybe, table, sizes = session.reader.maybe, boards.machine, typed.boards
    fence = adjuster(table, "fence")
    return Asked(
        maybe(sizes.width, limits.BOARD_WIDTH) or boards.stock.width,
        maybe(sizes.thickness, limits.TAIL_BOARD) or boards.stock.thickness,
        maybe(sizes.pin_thickness, limits.PIN_BOARD) or boards.pin_stock.thickness,
        maybe(typed.half_pin, HALF_PIN) or defaults.LEAST_HALF_PIN,
        fence.step if fence.coarse else None,
        tail_count(typed.tails),
        maybe(typed.pitch, ANY_PITCH),
        typed.middle and one_of(typed.middle, ("pin", "tail"), "--middle"),
        typed.wide,
        table.step("fence") if table and not boards.spaced else None,
    )
