"""A set-up: what it is for, its settings, its trial cuts and pieces. Lengths are millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Literal, NamedTuple

from ..errors import Refused
from ..texts import tell
from .adjusters import Adjuster, adjuster
from .checks import board_size, within
from .family import Family, listed
from .machines import Machine
from .said import Aspect, Reading, Verdict
from .settings import Settings
from .shop import MOISTURES, Bit, Stock

Figures = Mapping[str, float]  # lengths by name, mm
EVERY: tuple[Aspect, ...] = ("every aspect",)  # in play where nothing else is said
# No test piece is cut and tried in so short a time; common practice, no source.
AGAIN_WITHIN = timedelta(minutes=2)


def known(**lengths: float | None) -> Figures:
    """Return those of some lengths that are known, by name, mm."""
    return {name: length for name, length in lengths.items() if length is not None}


@dataclass(frozen=True, slots=True)
class TrialCut:
    """One entry of the log about a piece: a new piece, or what was seen later on the same one.

    entry: number of the log's entry.  stated: names of the settings the user gave; the others were
    taken from the advice last shown.  heard: the words as typed.  advised: the settings that advice
    proposed. slot: only a slot in waste, measured: no joint and no piece; `piece` is then the
    number that the next piece will have. scrap, sizes: the piece's own material and figures, mm by
    name, where they differ from the set-up's. end: the piece whose end was cut again, None for a
    fresh end.
    """

    entry: int
    piece: int
    settings: Settings
    verdict: Verdict
    readings: tuple[Reading, ...] = ()
    stated: tuple[str, ...] = ()
    advised: Settings | None = None
    heard: str = ""
    note: str = ""
    scrap: str = ""
    sizes: Figures = field(default_factory=dict, hash=False)
    by: str = ""
    at: datetime | None = None
    machine: str | None = None
    slot: bool = False
    end: int | None = None

    def __post_init__(self) -> None:
        self.settings.family.check(self.verdict, self.readings)


@dataclass(frozen=True, slots=True)
class Piece:
    """One test piece: all live entries about it, merged (the latest word on an aspect stands). by:
    who spoke last.

    again: it was logged in the same words and settings as the piece before, within `AGAIN_WITHIN`,
    so that it may well be that piece once more. end: the piece whose end was cut again for this
    one, None for a fresh end.
    """

    number: int
    settings: Settings
    verdict: Verdict
    readings: tuple[Reading, ...]
    stated: tuple[str, ...]
    scrap: str = ""
    sizes: Figures = field(default_factory=dict, hash=False)
    by: str = ""
    again: bool = False
    end: int | None = None

    @property
    def own_end(self) -> int:
        """The piece for which its end was first cut: the name of the end."""
        return self.number if self.end is None else self.end

    @property
    def silent(self) -> bool:
        """True when nothing was said or measured of it."""
        return self.verdict.empty and not self.readings


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
    as_it_is: it was finished short of ready, by the user's word.  newest: the newest entry of it in
    the log when it was read, None where it was not.
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
    newest: int | None = field(default=None, compare=False)
    advice: int | None = field(default=None, compare=False)
    other: Other | None = field(default=None, compare=False)

    def pieces(self) -> tuple[Piece, ...]:
        """Return the test pieces in the order they were cut."""
        return merge(self.cuts)

    def slots(self) -> tuple[Piece, ...]:
        """Return the slots that were cut in waste and measured; none is a test piece."""
        return tuple(_as_piece(cut) for cut in self.cuts if cut.slot)

    def last_piece(self) -> Piece | None:
        """Return the newest piece, or None before the first."""
        pieces = self.pieces()
        return pieces[-1] if pieces else None


def merge(cuts: Iterable[TrialCut]) -> tuple[Piece, ...]:
    """Merge entries about one piece into one `Piece` each, ordered by piece number;
    slots are none.
    """
    found: dict[int, Piece] = {}
    before: TrialCut | None = None
    for cut in (c for c in cuts if not c.slot):
        old = found.get(cut.piece)
        if old is None:
            found[cut.piece] = _as_piece(cut, again=before is not None and _is_again(before, cut))
            before = cut
        else:
            found[cut.piece] = replace(
                old,
                verdict=old.verdict.later(cut.verdict),
                readings=old.readings + cut.readings,
                by=old.by if cut.verdict.empty else cut.by,
                again=False,
            )
            before = None
    for number, piece in found.items():  # an end cut a third time is that of the first piece
        root = found.get(piece.end) if piece.end is not None else None
        if root is not None and root.end is not None:
            found[number] = replace(piece, end=root.end)
    return tuple(found[n] for n in sorted(found))


def _as_piece(cut: TrialCut, *, again: bool = False) -> Piece:
    return Piece(
        cut.piece,
        cut.settings,
        cut.verdict,
        cut.readings,
        cut.stated,
        cut.scrap,
        cut.sizes,
        cut.by,
        again,
        cut.end,
    )


def _is_again(before: TrialCut, cut: TrialCut) -> bool:
    """Tell whether a cut may be the one before it, logged twice: the same words, and no time to cut
    a piece between.

    Its settings may be others: where none is typed, they are those of the advice that the first
    time had given.
    """
    if (
        before.at is None
        or cut.at is None
        or cut.end is not None
        or (cut.verdict.empty and not cut.readings)
    ):
        return False
    typed = before.settings == cut.settings if cut.stated else not before.stated
    said = (before.verdict, before.readings) == (cut.verdict, cut.readings)
    return said and typed and timedelta() < cut.at - before.at <= AGAIN_WITHIN
