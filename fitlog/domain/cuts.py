"""Trial cuts and the test pieces that they are about. Lengths are millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from ..errors import Refused
from .said import Reading, Verdict
from .settings import Settings

Figures = Mapping[str, float]  # lengths by name, mm
# No test piece is cut and tried in so short a time; common practice, no source.
AGAIN_WITHIN = timedelta(minutes=2)
MOST_JOINTS = 100_000  # of one set-up; a factory has other tools


@dataclass(frozen=True, slots=True)
class TrialCut:
    """One entry of the log about a piece: a new piece, or what was seen later on the same one.

    entry: number of the log's entry.  stated: names of the settings the user gave; the others were
    taken from the advice last shown.  heard: the words as typed.  advised: the settings that advice
    proposed. slot: only a slot in waste, measured: no joint and no piece; `piece` is then the
    number that the next piece will have. after: of a joint of the real boards, looked at between
    them, how many of their joints were cut by then; None for a test piece. scrap, sizes: the
    piece's own material and figures, mm by name, where they differ from the set-up's. end: the
    piece whose end was cut again, None for a fresh end.
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
    after: int | None = None

    def __post_init__(self) -> None:
        self.settings.family.check(self.verdict, self.readings)
        if self.after is not None and not 1 <= self.after <= MOST_JOINTS:
            raise Refused(
                "bad-size",
                "{after} joints cannot have been cut before this one was looked at",
                "say how many were cut by then, this one included: 1 to {most}",
                after=self.after,
                most=MOST_JOINTS,
            )


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece: all live entries about it, merged (the latest word on an aspect stands). by:
    who spoke last.

    again: it was logged in the same words and settings as the piece before, within `AGAIN_WITHIN`,
    so that it may well be that piece once more. after: of a joint of the real boards, how many of
    them were cut by then; None for a test piece. end: the piece whose end was cut again for this
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
    after: int | None = None

    @property
    def own_end(self) -> int:
        """The piece for which its end was first cut: the name of the end."""
        return self.number if self.end is None else self.end

    @property
    def check(self) -> bool:
        """Whether it is a joint of the real boards that was looked at between them."""
        return self.after is not None

    @property
    def silent(self) -> bool:
        """True when nothing was said or measured of it."""
        return self.verdict.empty and not self.readings


def merge(cuts: Iterable[TrialCut]) -> tuple[Piece, ...]:
    """Merge entries about one piece into one `Piece` each, ordered by piece number;
    slots are none.
    """
    found: dict[int, Piece] = {}
    before: TrialCut | None = None
    for cut in (c for c in cuts if not c.slot):
        old = found.get(cut.piece)
        if old is None:
            found[cut.piece] = as_piece(cut, again=before is not None and _is_again(before, cut))
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


def as_piece(cut: TrialCut, *, again: bool = False) -> Piece:
    """Return what one entry says of its piece, or of a slot."""
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
        cut.after,
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
    said = (before.verdict, before.readings, before.after) == (cut.verdict, cut.readings, cut.after)
    return said and typed and timedelta() < cut.at - before.at <= AGAIN_WITHIN
