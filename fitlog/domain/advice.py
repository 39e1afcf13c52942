"""What comes back: the next settings with their reasons and their chances."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from .said import Aspect
from .settings import Settings
from .window import Window

Status = Literal["tuning", "ready", "finished", "abandoned", "undone"]


# What a remark speaks of: lengths in mm, chances, words, numbers of pieces, and tuples of such.
Value: TypeAlias = "float | str | bool | tuple[Value, ...] | None"


@dataclass(frozen=True, slots=True)
class Remark:
    """One line of talk as data: a reason, a notice, a caution or a step, with a stable code.

    values: what its sentence speaks of, by name. The sentence is the catalogue's (`language`): no
    unit, no language and no front's command is known here.
    """

    code: str
    aspect: Aspect | None = None
    values: tuple[tuple[str, Value], ...] = ()


def remark(code: str, aspect: Aspect | None = None, /, **values: Value) -> Remark:
    """Return a remark of these values."""
    return Remark(code, aspect, tuple(values.items()))


@dataclass(frozen=True, slots=True)
class Misfit:
    """What is known of one misfit at a setting, mm."""

    mean: float
    sd: float
    interval90: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Settled:
    """By what an aspect is settled.

    way: "word", the person's own; "reading", inside the window as stated at `start`; "figures", the
    real boards come out inside with at least `defaults.SETTLED_CHANCE`; "nearest", as near as the
    adjuster goes. chance: that the real boards come out inside.  piece: which said so, None for
    figures.
    """

    way: Literal["word", "reading", "figures", "nearest"]
    chance: float
    piece: int | None = None


@dataclass(frozen=True, slots=True)
class Advice:
    """The next setting with its reasons and its chances; the value behind the JSON of `document`.

    settings: to set for the next piece, true mm, rounded to the machine's steps. moves: from the
    last piece, None before the first.  chance_good: None where not in play. settled_by: by what,
    for each settled aspect. real: what to set for the real boards, which may be of another size
    than the test pieces.  zero: error of the centre of a cut made there at `real`, None where the
    centre is not in play.  chance_real: that the real boards come out inside their windows at
    `real`, by aspect and "all"; of the centre: that its error is known to within the window.
    centre_by: how the next piece shows the centre: "turn", "walls" (measured beside the cut, no
    second pass), "" not at all. slot_saves: test pieces that a slot cut in waste and measured would
    save now, None where none is worth it.
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
    approach: dict[str, Remark] = field(default_factory=dict)
    settled_by: dict[Aspect, Settled] = field(default_factory=dict)
    real: Settings | None = None
    zero: Misfit | None = None
    chance_real: dict[str, float | None] = field(default_factory=dict)
    centre_by: Literal["turn", "walls", ""] = ""
    slot_saves: float | None = None
