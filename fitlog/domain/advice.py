"""What comes back: the next settings with their reasons and their chances."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
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

    values: what its sentence speaks of, by name.  joint: the family whose own sentence comes first,
    "" where the code alone says it. The sentence is the catalogue's (`language`): no unit, no
    language and no front's command is known here.
    """

    code: str
    aspect: Aspect | None = None
    values: tuple[tuple[str, Value], ...] = ()
    joint: str = field(default="", compare=False)

    def of(self, joint: str) -> Remark:
        """Return it as said of a family's joint, where none was named."""
        return self if self.joint else replace(self, joint=joint)


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
    than the test pieces. brief: what was said and where its setting goes for it, a line an aspect;
    steps: how to cut the next piece.  zero: error of what is known by its zero, of a cut made there
    at `real`, None where that is not in play.  chance_real: that the real boards come out inside
    their windows at `real`, by aspect and "all"; of what is known by its zero: that it is known to
    within the window. shown_by: how the next piece shows what it can show in more than one way, by
    the family's own name, "" where there is no choice. slot_saves: test pieces that a slot cut in
    waste and measured would save now, None where none is worth it.
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
    brief: tuple[Remark, ...] = ()
    steps: tuple[Remark, ...] = ()
    approach: dict[str, Remark] = field(default_factory=dict)
    settled_by: dict[Aspect, Settled] = field(default_factory=dict)
    real: Settings | None = None
    zero: Misfit | None = None
    chance_real: dict[str, float | None] = field(default_factory=dict)
    shown_by: str = ""
    slot_saves: float | None = None

    def __post_init__(self) -> None:
        joint = self.settings.family.name
        for name in ("reasons", "notices", "cautions", "brief", "steps"):
            said: tuple[Remark, ...] = getattr(self, name)
            object.__setattr__(self, name, tuple(r.of(joint) for r in said))
        approach = {name: r.of(joint) for name, r in self.approach.items()}
        object.__setattr__(self, "approach", approach)
