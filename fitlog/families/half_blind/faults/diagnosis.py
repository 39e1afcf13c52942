"""From a symptom to its causes in order: what is usual, weighed again by what the set-up shows;
pure, like the advice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from ....advice.drift import Finding, findings
from ....advice.history import History
from ....advice.knowledge import Knowledge, know
from ....advice.laws import nominal_of
from ....advice.telltales import telltales
from ....domain import Piece, Remark, Settings, SetUp, remark
from ...faults import Cause, Diagnosis, Likely, Symptom
from ..plan import dovetail
from .figures import Figures
from .signs import signs
from .words import Seen

_PLACES = {"gap-baseline": "baseline", "gap-inside": "inside", "gap-flank": "flank"}
# Of the seat's number: the side that it must have to be the size of a symptom; 0: either.
_SIDES = {"stands-proud": 1, "stands-shy": -1, "step-at-face": 0}
_GAPS = {place: code for code, place in _PLACES.items()}


class Bench:
    """One set-up as a fault is looked for: what is known of it, and the settings in question."""

    def __init__(self, setup: SetUp, past: History) -> None:
        self.plan, self.pieces = dovetail(setup.plan), setup.pieces()
        by = self.pieces[-1].by if self.pieces else setup.by
        self.at: Settings = self.pieces[-1].settings if self.pieces else setup.shown
        self.know: Knowledge = know(setup.plan, self.pieces, past, setup.first, by)
        self.found: tuple[Finding, ...] = findings(self.know, self.pieces)
        self.shown = signs(self.know, self.pieces, self.at, self.found)

    def log_shows(self, *, gaps: bool) -> tuple[Remark, ...]:
        """Return what the log shows of itself: moves and drifts, and with `gaps` the newest gaps
        that were logged.
        """
        said = (*telltales(self.know, self.found), *(self._logged() if gaps else ()))
        return tuple(r.of(self.plan.joint) for r in said)

    def diagnose(self, seen: Sequence[Seen]) -> tuple[Diagnosis, ...]:
        """Return the causes of each symptom in order."""
        return tuple(self._diagnosis(s) for s in seen)

    def _logged(self) -> list[Remark]:
        out = []
        for piece in self.pieces:
            for fault in piece.verdict.faults:
                if fault.place in _GAPS:
                    place, size = fault.place, fault.size
                    told = remark(f"gap-{place}", place=place, piece=piece.number, size=size)
                    out.append(told)
        return out[-3:]

    def _diagnosis(self, seen: Seen) -> Diagnosis:
        symptom = seen.symptom
        size, source, of = self._size(seen)
        window = self.know.joint.window("fit")
        clearance = nominal_of(self.know, "fit", self.at) + self.know.law("fit").mean
        figures = Figures(
            self.plan,
            self.at,
            size or symptom.typical or 0.1,
            clearance,
            (window.low, window.high),
        )
        weights = [self._weight(c) for c in symptom.causes]
        total = sum(weights)
        rows = sorted(
            zip(weights, symptom.causes, strict=True), key=lambda row: -row[0]
        )  # stable: ties as in the table
        causes = tuple(
            self._likely(symptom, cause, weight / total, source, figures)
            for weight, cause in rows
            if weight
        )
        first = remark("first", symptom=symptom.code, **figures.told) if symptom.first else None
        return Diagnosis(symptom, size, source, of, causes, first)

    def _weight(self, cause: Cause) -> float:
        weight = cause.weight
        for sign, factor in cause.signs:
            weight *= factor if sign in self.shown else 1.0
        return weight

    def _likely(
        self, symptom: Symptom, cause: Cause, share: float, source: str | None, figures: Figures
    ) -> Likely:
        why = tuple(
            _weighing(self.shown[sign], likelier=factor > 1)
            for sign, factor in cause.signs
            if sign in self.shown
        )

        def said(part: str) -> Remark:
            return remark(
                "cause",
                symptom=symptom.code,
                cause=cause.code,
                part=part,
                move=self._move(cause, source) if part == "cure" else "",
                **figures.told,
            )

        text, test, cure = map(said, ("text", "test", "cure"))
        return Likely(cause.code, share, text, why, test, cure, figures.amounts(cause.amounts))

    def _move(self, cause: Cause, source: str | None) -> str:
        """Return whether a cure tells its move of a setting: "told" only where a size was measured
        or the log shows its cause, and nothing in the log speaks against it.
        """
        shown = [factor for sign, factor in cause.signs if sign in self.shown]
        if not cause.move:
            return ""
        if any(factor < 1 for factor in shown):
            return "against"
        if source == "typical":
            return "unmeasured"
        return "told" if source is not None or any(factor > 1 for factor in shown) else ""

    def _size(self, seen: Seen) -> tuple[float | None, str | None, Remark | None]:
        """Return a symptom's size with where it comes from: typed, shown by the log, or typical."""
        if not seen.symptom.size:
            return None, None, None
        if seen.size is not None:
            return seen.size, "said", None
        logged = self._from_log(seen.symptom.code)
        if logged is not None and 0.005 <= logged[0] <= 10:
            return logged[0], "log", logged[1]
        return seen.symptom.typical, "typical", None

    def _from_log(self, code: str) -> tuple[float, Remark] | None:
        """Return the size of a symptom that the log itself shows, and where."""
        if code in _PLACES:
            return self._logged_gap(_PLACES[code])
        if code.startswith("middle-") and "centre-off" in self.shown:
            return abs(
                2 * (nominal_of(self.know, "centre", self.at) + self.know.law("centre").mean)
            ), remark("size-of", what="centre", piece=None)
        if code.startswith("later-"):
            drift = next((f for f in self.found if f.kind == "drift" and f.aspect == "fit"), None)
            if drift is not None:
                return abs(drift.move) * (drift.after - drift.before), remark(
                    "size-of", what="drift", piece=drift.after
                )
        if code.startswith("move-"):
            return self._last_move()
        if code in _SIDES and self.pieces:
            said = self.pieces[-1].verdict.of("seat")
            if said is not None and said.size is not None and said.side * _SIDES[code] >= 0:
                return said.size, remark("size-of", what="piece", piece=self.pieces[-1].number)
        if code == "slot-oversize" and (wide := self.shown.get("mouth-wide")) is not None:
            told: dict[str, Any] = dict(wide.values)
            return told["over"], remark("size-of", what="piece", piece=told["piece"])
        return None

    def _logged_gap(self, place: str) -> tuple[float, Remark] | None:
        for piece in reversed(self.pieces):
            for fault in piece.verdict.faults:
                if fault.place == place and fault.size is not None:
                    return fault.size, remark("size-of", what="piece", piece=piece.number)
        return None

    def _last_move(self) -> tuple[float, Remark] | None:
        """The move of the height that the log doubts, or the last one."""
        doubted = next((f for f in self.found if f.kind != "drift" and f.aspect == "fit"), None)
        if doubted is not None:
            return abs(doubted.move), remark("size-of", what="move", piece=doubted.after)
        pairs: list[tuple[Piece, Piece]] = list(zip(self.pieces, self.pieces[1:], strict=False))
        for old, new in reversed(pairs):
            moved = abs(new.settings["bit_height"] - old.settings["bit_height"])
            if moved > 0.02:
                return moved, remark("size-of", what="move", piece=new.number)
        return None


def _weighing(sign: Remark, *, likelier: bool) -> Remark:
    """A sign as what makes a cause likelier, or less likely."""
    return replace(sign, values=(*sign.values, ("likelier", likelier)))
