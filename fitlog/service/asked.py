"""What a use case is asked and what it hands back: plain values between the shell and the
workbench.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple, Protocol

from ..advice.spoken import Spoken
from ..document import Document
from ..domain import (
    Advice,
    Aspect,
    Figures,
    Machine,
    Reading,
    SetUp,
    TrialCut,
    Verdict,
)
from ..errors import FitlogError
from ..log import Log, LoggedCut, LoggedFound, Stamp
from ..texts import tell


class Answer(NamedTuple):
    """What a use case hands back to be shown. unkept: why the advice shown could not be kept in the
    log, if so.
    """

    setup: SetUp
    advice: Advice
    document: Document
    closed: int | None = None
    unkept: FitlogError | None = None


class Drafted(NamedTuple):
    """A set-up that is worked out and not yet in the log. stamp: by whom and when; clear: the ready
    one that is finished first.
    """

    setup: SetUp
    advice: Advice
    stamp: Stamp
    clear: SetUp | None


@dataclass(frozen=True)
class Reported:
    """What `cut` was told. changed: settings named by the user, true mm; later: about the last
    piece again; unjudged: a new piece is cut and nothing is said of it yet; slot: only a slot in
    waste is cut and measured; same_end: the end of the last piece was cut again; after: joints of
    the real boards cut by now, of which this is one, None for a test piece.
    """

    verdict: Verdict
    heard: str = ""
    readings: tuple[Reading, ...] = ()
    changed: dict[str, float] = field(default_factory=dict)
    later: bool = False
    note: str = ""
    scrap: str = ""
    sizes: Figures = field(default_factory=dict)
    unjudged: bool = False
    slot: bool = False
    same_end: bool = False
    after: int | None = None


class Bench(Protocol):
    """What of a `Workbench` the use cases know that it builds on itself."""

    @property
    def log(self) -> Log: ...
    def answer(self, number: int) -> Answer: ...
    def status(self, setup: SetUp) -> str: ...
    def require_open(self, setup: SetUp) -> None: ...
    def stamp(self, machine: Machine | None) -> Stamp: ...


class Shown(NamedTuple):
    """A set-up, where it stands, and every entry about its pieces and what was found, those taken
    back included.
    """

    setup: SetUp
    status: str
    cuts: Sequence[LoggedCut]
    found: Sequence[LoggedFound]


class Words(NamedTuple):
    """How a person uses the words of each aspect. others: who else has logged a cut; setups: how
    many are finished.
    """

    person: str
    others: Sequence[str]
    setups: int
    scales: Mapping[Aspect, Spoken]


def named(cut: TrialCut) -> str:
    """Return an entry about a piece in a few words, as it is called when it is taken or brought
    back.
    """
    if cut.slot:
        return tell("the slot in waste")
    said = cut.heard or ("" if cut.verdict.empty else str(cut.verdict))
    if cut.after is not None:
        return tell('"{said}" on joint {after}', said=said or cut.note, after=cut.after)
    if not said and cut.readings:
        return tell("what was measured on piece {piece}", piece=cut.piece)
    if said or cut.note:
        return tell('"{said}" on piece {piece}', said=said or cut.note, piece=cut.piece)
    return tell("the cut of piece {piece}", piece=cut.piece)
