"""Who holds the phone."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Phone:
    """A phone that was let in. number: as `fitlog page phones` lists it, 0 for the shop's own
    computer; login: whose preferences hold and under whose name it logs; only_reads: it may look
    and say nothing.
    """

    number: int
    login: str
    label: str = ""
    only_reads: bool = False
