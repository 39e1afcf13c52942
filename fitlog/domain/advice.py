"""What comes back: the next settings with their reasons and their chances."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from .said import Aspect
from .setups import Settings, Window

Status = Literal["tuning", "ready", "finished", "abandoned", "undone"]


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
    """The next setting with its reasons and its chances; the value behind the JSON of `document`.

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
