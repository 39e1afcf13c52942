"""The real boards that take a sheet, as far as a housing and a rabbet have them alike: see
`families.boards.Boarded`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from ...domain import Remark
from ...errors import Refused
from .. import boards

Section = tuple[str, tuple[Remark, ...]]  # a heading and what to do under it


class Place(NamedTuple):
    """One housing across a side. near: its wall nearer to the reference edge; exact, fence: where
    the fence stands for the first pass, to the bit's axis, as the user's scale reads it, before and
    after rounding; rounding: of that, mm.
    """

    number: int
    near: float
    exact: float
    fence: float
    rounding: float


@dataclass(frozen=True)
class SheetJob(boards.Job):
    """The real boards of a set-up. lengths: what is measured off, mm by name; places: of the
    housings, where the set-up says; sections: what to do before each part.
    """

    lengths: tuple[tuple[str, float], ...]
    places: tuple[Place, ...]
    sections: tuple[Section, ...]


def require_plain(tails: int | None) -> None:
    """Refuse a number of what there is only one of."""
    if tails is not None:
        raise Refused(
            "no-layout",
            "the sides are cut as the set-up says, with one rabbet each",
            "leave --tails out",
        )
