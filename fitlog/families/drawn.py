"""What is drawn for a simulated set-up, handed to a family's `truth`; what a piece then shows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from ..domain import Aspect


@dataclass(frozen=True, slots=True)
class Drawn:
    """What is true of one set-up.

    off: by kind of cause, how far what the family's closed forms take in lies off its printed
    figure, mm or radians. shift: by aspect, what all other causes add to its misfit, mm. As they
    stand here, everything is as printed.
    """

    off: Mapping[str, float] = field(default_factory=dict)
    shift: Mapping[Aspect, float] = field(default_factory=dict)


class Shown(NamedTuple):
    """One true length, or two, mm, as a perfect instrument finds it; kind: of reading."""

    kind: str
    value: float
    other: float | None = None
