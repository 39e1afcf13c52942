"""A set-up: what it is for, its settings, its pieces. Lengths are millimetres."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from itertools import takewhile
from typing import Literal, NamedTuple

from ..errors import Refused
from ..texts import tell
from .adjusters import Adjuster, adjuster
from .checks import board_size, within
from .cuts import Figures, Piece, TrialCut, as_piece, merge
from .family import Family, listed
from .machines import Machine
from .notes import About, Note
from .said import Aspect
from .settings import Settings
from .shop import MOISTURES, Bit, Stock

EVERY: tuple[Aspect, ...] = ("every aspect",)  # in play where nothing else is said


def known(**lengths: float | None) -> Figures:
    """Return those of some lengths that are known, by name, mm."""
    return {name: length for name, length in lengths.items() if length is not None}


@dataclass(frozen=True, slots=True)
class Plan:
    """What a set-up is for: everything about it that stays fixed from `start` to `finish`.

    A family's own plan adds its named figures as fields.  tail/pin_thickness and board_width are
    today's own sizes of the first and the second board.  piece_width and piece_thickness: the test
    pieces', where they are not the board's own.  moisture, pin_moisture, scrap_moisture: per cent,
    of the first board, the second and the test pieces on the day of `start`; None: not known.
    """

    bit: Bit
    stock: Stock
    pin_stock: Stock
    machine: Machine | None
    board_width: float
    tail_thickness: float
    pin_thickness: float
    in_play: tuple[Aspect, ...] = EVERY
    words_only: bool = False
    scrap: str = ""
    piece_width: float | None = None
    piece_thickness: float | None = None
    moisture: float | None = None
    pin_moisture: float | None = None
    scrap_moisture: float | None = None
    family: Family = field(kw_only=True)

    def __post_init__(self) -> None:
        if self.in_play is EVERY:
            object.__setattr__(self, "in_play", tuple(self.family.setting_of))
        for what, value in (
            ("the tail board", self.moisture),
            ("the pin board", self.pin_moisture),
            ("the scrap", self.scrap_moisture),
        ):
            within(
                tell("a moisture of {what}", what=what), value, *MOISTURES, "% of the dry weight"
            )
        board_size("the board width", self.board_width, 10.0, 2000.0)
        board_size("the tail board's thickness", self.tail_thickness, 1.0, 100.0)
        board_size("the pin board's thickness", self.pin_thickness, 1.0, 100.0)
        if not self.in_play or any(a not in self.family.setting_of for a in self.in_play):
            raise Refused(
                "bad-aspect",
                "nothing is left to tune",
                "name {names}",
                names=listed(tuple(self.family.setting_of)),
            )

    def work(self) -> tuple[object, ...]:
        """What plans of the same work have in common, so that stops can stay where they are."""
        return self.joint, self.bit.name, self.machine.name if self.machine else None

    @property
    def word_set(self) -> str:
        """Which of the family's sets of edges lies between its words; "": the usual one."""
        return ""

    @property
    def joint(self) -> str:
        """The name of the joint's family."""
        return self.family.name

    def adjuster(self, aspect: Aspect, now: float | None = None) -> Adjuster:
        """Return what an aspect's own setting can be set to. now: where it stands, mm."""
        kind = self.family.adjusted(aspect)
        return adjuster(self.machine, kind.part, now, positive=kind.positive)

    def figures(self, own: Figures | None = None) -> Figures:
        """The lengths of a test piece by name, mm: its own, the set-up's pieces', or the boards'.

        A family's plan adds those that its pieces may have otherwise.
        """
        width, thickness = self.piece_width, self.piece_thickness
        mine = {"width": width, "thickness": thickness}
        return {**self.boards(), **{k: v for k, v in mine.items() if v}, **(own or {})}

    def boards(self) -> Figures:
        """The lengths of the real boards by name, mm."""
        return {
            "width": self.board_width,
            "thickness": self.tail_thickness,
            "other_thickness": self.pin_thickness,
        }

    def wood(self, scrap: str = "") -> str:
        """What a piece is cut in, given what was said of it; "" for the stock itself."""
        said = (scrap or self.scrap).casefold()
        return "" if said in (self.stock.name.casefold(), self.stock.species.casefold()) else said


class Other(NamedTuple):
    """An advice with other settings that somebody else was shown since; after: the newest entry of
    the log before that.
    """

    settings: Settings
    by: str
    after: int


@dataclass(frozen=True, slots=True)
class SetUp:
    """A run of trial cuts for one plan. `cuts` holds the live entries only, in the order of the
    log.

    first: the settings advised at `start`.  shown: those of the advice last shown, to the person
    it was read for or to anybody; advice: its number in the log.  other: what somebody else was
    shown since, if that is another. outcome: None while open, else "finished" or "abandoned".
    as_it_is: it was finished short of ready, by the user's word. closing: the entry of the log that
    ended it, None where that is not known.  newest: the newest entry of it in
    the log when it was read, None where it was not. notes: what is written down about it and
    stands, in the order of the log.
    """

    number: int
    plan: Plan
    first: Settings
    shown: Settings
    started: datetime
    by: str = ""
    cuts: tuple[TrialCut, ...] = ()
    outcome: Literal["finished", "abandoned"] | None = None
    ended: datetime | None = None
    sharpenings: int = 0
    undone: bool = False
    as_it_is: bool = False
    closing: int | None = field(default=None, compare=False)
    newest: int | None = field(default=None, compare=False)
    advice: int | None = field(default=None, compare=False)
    other: Other | None = field(default=None, compare=False)
    notes: tuple[Note, ...] = ()

    def noted(self, about: About) -> str:
        """Return what is written down last about the set-up: its title, where its sample is kept;
        "" without.
        """
        return next((note.text for note in reversed(self.notes) if note.about == about), "")

    @property
    def titled(self) -> str:
        """The title as it stands behind the number: " (chest)"; "" without one."""
        return f" ({title})" if (title := self.noted("title")) else ""

    def pieces(self) -> tuple[Piece, ...]:
        """Return the test pieces, and the joints looked at between real boards, in the order they
        were cut.
        """
        return merge(self.cuts)

    def tests(self) -> tuple[Piece, ...]:
        """Return the test pieces alone."""
        return tuple(piece for piece in self.pieces() if not piece.check)

    def checks(self) -> tuple[Piece, ...]:
        """Return the joints that were looked at between real boards."""
        return tuple(piece for piece in self.pieces() if piece.check)

    def before_run(self) -> tuple[Piece, ...]:
        """Return the pieces before the first joint that was looked at between real boards."""
        return tuple(takewhile(lambda piece: not piece.check, self.pieces()))

    def tuned_on(self) -> tuple[Piece, ...]:
        """Return the pieces that its settings rest on: a joint looked at after it was finished
        moves nothing of what was finished.
        """
        end = self.closing if self.outcome is not None else None
        return merge(c for c in self.cuts if end is None or c.after is None or c.entry < end)

    def slots(self) -> tuple[Piece, ...]:
        """Return the slots that were cut in waste and measured; none is a test piece."""
        return tuple(as_piece(cut) for cut in self.cuts if cut.slot)

    def last_piece(self) -> Piece | None:
        """Return the newest piece, a joint looked at included, or None before the first."""
        pieces = self.pieces()
        return pieces[-1] if pieces else None
