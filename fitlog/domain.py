"""What fitlog talks about, as frozen and validated values. Lengths are millimetres, angles degrees.

A value of these classes is always sound: building one from nonsense raises `Refused`. The table rows of
the log are a different thing (see `store`); they are rebuilt into these on every read.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Literal

from .errors import Refused

Aspect = Literal["fit", "centre", "seat"]
Status = Literal["tuning", "ready", "finished", "abandoned", "undone"]

ASPECTS: tuple[Aspect, ...] = ("fit", "centre", "seat")
SETTING_OF: dict[Aspect, str] = {"fit": "bit_height", "centre": "fence_offset", "seat": "socket_depth"}
HALF_BLIND = "half-blind dovetail"

# The words of each aspect in the order of the misfit they stand for, most negative first.
WORDS: dict[Aspect, tuple[str, ...]] = {
    "fit": ("very tight", "tight", "slightly tight", "good", "slightly loose", "loose", "very loose"),
    "centre": ("gap near", "centred", "gap far"),
    "seat": ("very shy", "shy", "slightly shy", "flush", "slightly proud", "proud", "very proud"),
}
SETTLING_WORD: dict[Aspect, str] = {"fit": "good", "centre": "centred", "seat": "flush"}
FAULT_PLACES = ("baseline", "inside", "flank", "unplaced")
READING_KINDS = ("pull_gap", "mouth", "tail_width", "between_rods", "over_rods", "walls")
TEXT_LIMIT = 2000
NAME_LIMIT = 60


def positive(what: str, value: float) -> float:
    """Return `value` if it is a finite number above zero; raise `Refused` otherwise."""
    if not math.isfinite(value) or value <= 0:
        raise Refused("bad-size", f"{what} must be a size above zero, not {value:g}", f"give {what} in mm or inches")
    return value


def finite(what: str, value: float) -> float:
    """Return `value` if it is a finite number; raise `Refused` otherwise."""
    if not math.isfinite(value):
        raise Refused("bad-size", f"{what} must be a number, not {value:g}", f"give {what} in mm or inches")
    return value


def _optional_positive(what: str, value: float | None) -> None:
    if value is not None:
        positive(what, value)


def clean_name(what: str, text: str) -> str:
    """Return a name without surrounding space; refuse empty, overlong or unprintable ones."""
    name = " ".join(text.split())
    if not name or len(name) > NAME_LIMIT or not name.isprintable():
        shown = name[:20].encode("unicode_escape").decode()
        raise Refused(
            "bad-name",
            f"{what} {shown!r} cannot be used as a name",
            f"use 1 to {NAME_LIMIT} printable characters",
        )
    if name.startswith("-"):
        raise Refused("bad-name", f"{what} {name!r} would be read as an option", "start the name with a letter or digit")
    return name


def clean_text(what: str, text: str) -> str:
    """Return free text on one line; refuse control characters and more than TEXT_LIMIT characters."""
    line = " ".join(text.split())
    if len(line) > TEXT_LIMIT:
        raise Refused(
            "text-too-long", f"{what} has {len(line)} characters, the limit is {TEXT_LIMIT}", "shorten it and try again"
        )
    if not all(ch.isprintable() for ch in line):
        raise Refused("control-character", f"{what} contains a control character", "type it again as plain text")
    return line


@dataclass(frozen=True, slots=True)
class Bit:
    """A dovetail cutter. `neck` is the thinnest part above the flanks; None: where the cutting length ends."""

    name: str
    diameter: float
    angle: float
    cutting_length: float
    measured: bool = False
    neck: float | None = None
    retired: bool = False
    sharpenings: int = 0

    def __post_init__(self) -> None:
        clean_name("bit", self.name)
        positive("the cutting diameter", self.diameter)
        positive("the cutting length", self.cutting_length)
        _optional_positive("the neck", self.neck)
        if not math.isfinite(self.angle) or not 1 <= self.angle <= 45:
            raise Refused(
                "bad-angle",
                f"a side angle of {self.angle:g} deg is not a dovetail bit's",
                "give the angle between the flank and the bit's axis, 1 to 45 deg (7, 8 and 14 are usual)",
            )
        if self.diameter > 150 or self.cutting_length > 150:
            raise Refused(
                "bad-size",
                f"a bit of {self.diameter:g} mm diameter and {self.cutting_length:g} mm cutting length does not exist",
                "check the unit: sizes are in mm unless they carry in",
            )
        if self.diameter <= self.full_height_reduction:
            meet = self.diameter / (2 * math.tan(self.theta))
            raise Refused(
                "bad-angle",
                f"at {self.angle:g} deg the flanks of a {self.diameter:g} mm bit would meet after {meet:.1f} mm, "
                f"before the cutting length of {self.cutting_length:g} mm",
                "check the angle (from the bit's axis), the diameter and the cutting length",
            )
        if self.neck is not None and self.neck >= self.diameter:
            raise Refused("bad-size", f"a neck of {self.neck:g} mm is not thinner than the tip", "check the neck")

    @property
    def theta(self) -> float:
        """Side angle in radians."""
        return math.radians(self.angle)

    @property
    def full_height_reduction(self) -> float:
        """How much narrower the bit is at the end of its cutting length than at its tip, mm."""
        return 2 * self.cutting_length * math.tan(self.theta)

    @property
    def thinnest(self) -> float:
        """The width below which no mouth can be: the neck, mm."""
        return self.neck if self.neck is not None else self.diameter - self.full_height_reduction


@dataclass(frozen=True, slots=True)
class Stock:
    """A kind of board; width and thickness are defaults, a set-up takes today's own."""

    name: str
    species: str
    thickness: float
    width: float
    retired: bool = False

    def __post_init__(self) -> None:
        clean_name("stock", self.name)
        clean_text("the species", self.species)
        board_size("the thickness", self.thickness, 1.0, 100.0)
        board_size("the width", self.width, 10.0, 2000.0)


def board_size(what: str, value: float, least: float, most: float) -> float:
    """Return a board's size; refuse one that no board for this joint has."""
    positive(what, value)
    if not least <= value <= most:
        raise Refused(
            "absurd-size",
            f"{what} of {value:g} mm is not a board's (between {least:g} and {most:g} mm)",
            "check the unit: sizes are in your preferred unit unless they carry mm or in",
        )
    return value


@dataclass(frozen=True, slots=True)
class Machine:
    """A router table. Steps are the smallest moves it can set; None: not known.

    height_turn: travel of the lift per turn, mm.  backlash: play of the lift, mm.
    height_zero, fence_zero: what the user's own scale shows minus the true value, mm.
    """

    name: str
    height_step: float | None = None
    height_turn: float | None = None
    fence_step: float | None = None
    backlash: float | None = None
    height_zero: float = 0.0
    fence_zero: float = 0.0
    retired: bool = False

    def __post_init__(self) -> None:
        clean_name("machine", self.name)
        for what, value, most in (
            ("the height step", self.height_step, 5.0),
            ("the travel per turn", self.height_turn, 50.0),
            ("the fence step", self.fence_step, 5.0),
        ):
            _optional_positive(what, value)
            if value is not None and value > most:
                raise Refused("absurd-size", f"{what} of {value:g} mm is more than {most:g} mm", "check the unit")
        if self.backlash is not None and not 0 <= finite("the backlash", self.backlash) <= 5:
            raise Refused("absurd-size", f"a backlash of {self.backlash:g} mm is not a lift's", "give 0 to 5 mm")
        finite("the height scale's zero", self.height_zero)
        finite("the fence scale's zero", self.fence_zero)


@dataclass(frozen=True, slots=True)
class Settings:
    """What is adjusted, as true lengths in mm (not as a user's scale reads them)."""

    bit_height: float
    fence_offset: float
    socket_depth: float

    def __post_init__(self) -> None:
        positive("the bit height", self.bit_height)
        positive("the fence offset", self.fence_offset)
        finite("the socket depth", self.socket_depth)

    def of(self, aspect: Aspect) -> float:
        """Return the setting that belongs to `aspect`, mm."""
        return float(getattr(self, SETTING_OF[aspect]))

    def on_scale(self, machine: Machine | None) -> dict[str, float]:
        """Return the settings by name as the user's own height and fence scales read them, mm."""
        height, fence = (machine.height_zero, machine.fence_zero) if machine else (0.0, 0.0)
        return {
            "bit_height": self.bit_height + height,
            "fence_offset": self.fence_offset + fence,
            "socket_depth": self.socket_depth,
        }

    def with_(self, aspect: Aspect, value: float) -> Settings:
        """Return these settings with the one of `aspect` changed."""
        return replace(self, **{SETTING_OF[aspect]: value})


@dataclass(frozen=True, slots=True)
class Said:
    """One judged aspect: its word from WORDS and the number said with it.

    size: fit, the pull-apart gap; centre, the extra width of the cut; seat, the step; all unsigned mm.
    """

    aspect: Aspect
    word: str
    size: float | None = None

    def __post_init__(self) -> None:
        if self.word not in WORDS[self.aspect]:
            raise Refused("bad-word", f"{self.word!r} is no word for the {self.aspect}", "see fitlog cut --help")
        _optional_positive("the size", self.size)

    @property
    def index(self) -> int:
        """Place of the word in WORDS, 0 for the most negative misfit."""
        return WORDS[self.aspect].index(self.word)

    @property
    def side(self) -> int:
        """-1, 0 or +1: the sign of the misfit that the word stands for."""
        middle = WORDS[self.aspect].index(SETTLING_WORD[self.aspect])
        return (self.index > middle) - (self.index < middle)

    def __str__(self) -> str:
        return self.word if self.size is None else f"{self.word} {self.size:.2f}"


@dataclass(frozen=True, slots=True)
class Fault:
    """A gap that no setting cures, by its place; 'unplaced' when only `gap` was said."""

    place: str
    size: float | None = None

    def __post_init__(self) -> None:
        if self.place not in FAULT_PLACES:
            raise Refused("bad-word", f"{self.place!r} is no place of a gap", "say baseline, inside or flank")
        _optional_positive("the size of the gap", self.size)

    def __str__(self) -> str:
        name = "gap" if self.place == "unplaced" else f"gap {self.place}"
        return name if self.size is None else f"{name} {self.size:.2f}"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What was said of a piece. An aspect that is None was not judged: unknown, never good."""

    fit: Said | None = None
    centre: Said | None = None
    seat: Said | None = None
    faults: tuple[Fault, ...] = ()

    def of(self, aspect: Aspect) -> Said | None:
        """Return what was said of `aspect`."""
        said: Said | None = getattr(self, aspect)
        return said

    def has_fault(self, place: str) -> bool:
        """Tell whether a gap at `place` was said."""
        return any(f.place == place for f in self.faults)

    @property
    def empty(self) -> bool:
        """True when nothing was judged."""
        return self == Verdict()

    def later(self, other: Verdict) -> Verdict:
        """Return this verdict with what was seen later on the same piece laid over it."""
        places = {f.place for f in other.faults}
        placed = bool(places - {"unplaced"}) or (other.centre is not None and other.centre.side != 0)
        kept = tuple(f for f in self.faults if f.place not in places and not (placed and f.place == "unplaced"))
        return Verdict(
            other.fit or self.fit, other.centre or self.centre, other.seat or self.seat, kept + other.faults
        )

    def __str__(self) -> str:
        parts: list[object] = [s for s in (self.fit, self.centre, self.seat) if s is not None]
        return ", ".join(str(p) for p in [*parts, *self.faults]) or "nothing judged"


@dataclass(frozen=True, slots=True)
class Reading:
    """A number measured on a piece, mm.

    pull_gap: `value`.  mouth, tail_width: `value`.  between_rods, over_rods: rod diameter `rod`, width `value`.
    walls: the wall at the fence `value`, the far wall `other`, beside a cut in the middle.
    """

    kind: str
    value: float
    rod: float | None = None
    other: float | None = None

    def __post_init__(self) -> None:
        if self.kind not in READING_KINDS:
            raise Refused("bad-reading", f"{self.kind!r} is no kind of reading", "see fitlog cut --help")
        positive(f"the reading {self.kind.replace('_', ' ')}", self.value)
        _optional_positive("the rod", self.rod)
        _optional_positive("the far wall", self.other)
        if (self.rod is not None) != self.kind.endswith("_rods"):
            raise Refused("bad-reading", "a reading over or between rods needs the rods' diameter", "give D and the width")
        if (self.other is not None) != (self.kind == "walls"):
            raise Refused("bad-reading", "the walls are two readings", "give the wall at the fence, then the far one")


@dataclass(frozen=True, slots=True)
class TrialCut:
    """One entry of the log about a piece: a new piece, or what was seen later on the same one.

    entry: number of the log's entry.  stated: names of the settings the user gave; the others were taken
    from the advice last shown.  heard: the words as typed.  advised: the settings that advice proposed.
    scrap_*: the piece's own material and size where it differs from the set-up's.
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
    scrap_width: float | None = None
    scrap_thickness: float | None = None
    by: str = ""
    at: datetime | None = None
    machine: str | None = None


@dataclass(frozen=True, slots=True)
class Piece:
    """One test piece: all live entries about it, merged (the latest word on an aspect stands)."""

    number: int
    settings: Settings
    verdict: Verdict
    readings: tuple[Reading, ...]
    stated: tuple[str, ...]
    scrap: str = ""
    width: float | None = None
    thickness: float | None = None


@dataclass(frozen=True, slots=True)
class Window:
    """The range of a misfit that counts as good, mm."""

    low: float
    high: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.low) and math.isfinite(self.high) and self.low < self.high):
            raise Refused("bad-window", f"a window from {self.low:g} to {self.high:g} mm is empty", "give low, then high")

    @property
    def middle(self) -> float:
        """Centre of the window, mm."""
        return (self.low + self.high) / 2

    @property
    def half(self) -> float:
        """Half the window's width, mm."""
        return (self.high - self.low) / 2

    def holds(self, value: float) -> bool:
        """Tell whether `value` lies inside, the edges included."""
        return self.low - 1e-9 <= value <= self.high + 1e-9


@dataclass(frozen=True, slots=True)
class Plan:
    """What a set-up is for: everything about it that stays fixed from `start` to `finish`.

    tail/pin_thickness and board_width are today's own sizes.  wanted_step: how proud the tails are wanted.
    piece_width and piece_thickness: the test pieces', where they are not the board's own.
    by_eye: the fence was set by eye (not with a caliper).  spaced: the pitch is stepped by a spacer or block.
    """

    bit: Bit
    stock: Stock
    pin_stock: Stock
    machine: Machine | None
    pitch: float
    board_width: float
    tail_thickness: float
    pin_thickness: float
    rabbet_depth: float
    rabbet_bit: Literal["same", "straight"] = "same"
    wanted_step: float = 0.0
    in_play: tuple[Aspect, ...] = ASPECTS
    words_only: bool = False
    by_eye: bool = False
    spaced: bool = False
    many_tails: bool = False
    scrap: str = ""
    piece_width: float | None = None
    piece_thickness: float | None = None
    joint: str = HALF_BLIND

    def __post_init__(self) -> None:
        positive("the pitch", self.pitch)
        board_size("the board width", self.board_width, 10.0, 2000.0)
        board_size("the tail board's thickness", self.tail_thickness, 1.0, 100.0)
        board_size("the pin board's thickness", self.pin_thickness, 1.0, 100.0)
        positive("the rabbet", self.rabbet_depth)
        finite("the wanted step", self.wanted_step)
        if abs(self.wanted_step) > 3:
            raise Refused("absurd-size", f"a joint {self.wanted_step:g} mm proud is not wanted", "give 0 to 3 mm")
        if not self.in_play or any(a not in ASPECTS for a in self.in_play):
            raise Refused("bad-aspect", "nothing is left to tune", "name fit, centre or seat")

    def width_of(self, piece_width: float | None) -> float:
        """Width of a test piece, mm: its own, the set-up's pieces', or the board's."""
        return piece_width or self.piece_width or self.board_width

    def thickness_of(self, piece_thickness: float | None) -> float:
        """Thickness of a tail piece, mm: its own, the set-up's pieces', or the board's."""
        return piece_thickness or self.piece_thickness or self.tail_thickness


@dataclass(frozen=True, slots=True)
class SetUp:
    """A run of trial cuts for one plan. `cuts` holds the live entries only, in the order of the log.

    first: the settings advised at `start`.  shown: those of the advice last shown.
    outcome: None while open, else "finished" or "abandoned".
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

    def pieces(self) -> tuple[Piece, ...]:
        """Return the test pieces in the order they were cut."""
        return merge(self.cuts)

    def last_piece(self) -> Piece | None:
        """Return the newest piece, or None before the first."""
        pieces = self.pieces()
        return pieces[-1] if pieces else None


def merge(cuts: Iterable[TrialCut]) -> tuple[Piece, ...]:
    """Merge entries about one piece into one `Piece` each, ordered by piece number."""
    found: dict[int, Piece] = {}
    for cut in cuts:
        old = found.get(cut.piece)
        if old is None:
            found[cut.piece] = Piece(
                cut.piece, cut.settings, cut.verdict, cut.readings, cut.stated, cut.scrap,
                cut.scrap_width, cut.scrap_thickness,
            )  # fmt: skip
        else:
            found[cut.piece] = replace(
                old, verdict=old.verdict.later(cut.verdict), readings=old.readings + cut.readings
            )
    return tuple(found[n] for n in sorted(found))


@dataclass(frozen=True, slots=True)
class Remark:
    """One line of talk with a stable code: a reason, a notice or a caution."""

    code: str
    text: str
    aspect: Aspect | None = None


@dataclass(frozen=True, slots=True)
class Misfit:
    """What is known of one misfit at a setting, mm."""

    mean: float
    sd: float
    interval90: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Advice:
    """The next setting with its reasons and its chances; the value behind the JSON of design section 5.

    settings: to set for the next piece, true mm, rounded to the machine's steps.
    moves: from the last piece, None before the first.  chance_good: None where not in play.
    """

    status: Status
    settled: tuple[Aspect, ...]
    pieces: int
    settings: Settings
    moves: dict[str, float] | None
    chance_good: dict[str, float | None]
    chance_inside: dict[str, float | None]
    window: dict[str, Window]
    misfit: dict[str, Misfit | None]
    pieces_left: float
    reasons: tuple[Remark, ...] = ()
    notices: tuple[Remark, ...] = ()
    cautions: tuple[Remark, ...] = ()
    approach: dict[str, str] = field(default_factory=dict)
