"""A line of a table as a trial cut, before it is of any set-up."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from datetime import datetime

from ...domain import Reading, Verdict
from ...language.units import Length


@dataclass(frozen=True, slots=True)
class CutLine:
    """A line of the table as a trial cut.  line: where it stands.

    settings: as the person's own scales read.  true: as true lengths.  at: UTC, None without a
    date. piece: the number it has in the table, None without one; recut_of: that of the piece whose
    end was cut again.  setup: the number of the set-up that it names, None without one; place: the
    names of its bit, stock, pin stock and machine as far as it has them. after: joints of
    the real boards cut by then, None of a test piece.
    """

    line: int
    settings: dict[str, Length]
    true: dict[str, Length]
    verdict: Verdict
    heard: str
    readings: tuple[Reading, ...] = ()
    note: str = ""
    scrap: str = ""
    scrap_width: Length | None = None
    scrap_thickness: Length | None = None
    at: datetime | None = None
    by: str = ""
    piece: int | None = None
    recut_of: int | None = None
    setup: int | None = None
    place: dict[str, str] = field(default_factory=dict)
    after: int | None = None

    def content(self) -> str:
        """Return all that it says, wherever it stands and however its lengths are written."""

        def mm(lengths: dict[str, Length]) -> dict[str, float]:
            return {name: round(length.mm, 9) for name, length in sorted(lengths.items())}

        sizes = (one and round(one.mm, 9) for one in (self.scrap_width, self.scrap_thickness))
        seen = [(r.kind, r.value, r.rod, r.other) for r in self.readings]
        at = self.at and self.at.isoformat()
        judged = [(s.aspect, s.word, s.size) for s in self.verdict.said]
        gaps = [(f.place, f.size) for f in self.verdict.faults]
        said = (self.heard, judged, gaps, seen, self.note, self.scrap, *sizes)
        run = () if self.after is None else (self.after,)
        about = (at, self.by, self.piece, self.recut_of, *run)
        return json.dumps([mm(self.settings), mm(self.true), said, about])
