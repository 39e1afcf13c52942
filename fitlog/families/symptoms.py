"""What was seen on a joint, in a maker's words, and its causes in order: the engine of a family
whose faults are a table of symptoms and nothing more.

A phrase names the symptom most of whose words it has; a number behind it is its size.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..domain import TEXT_LIMIT, Remark, SetUp, remark
from ..errors import NotUnderstood, Refused
from ..language.inches import spelled
from ..language.phrases import FAULT_GAP_LIMIT
from ..language.sizes import believed
from ..language.units import parse_length, quoted
from .faults import Cause, Diagnosis, Faults, Likely, Symptom

_SIZE = re.compile(
    r"(?:^|\s)([+\u2212-]?[.,]?\d\S*(?:\s+\d+/\d+\S*)?(?:\s*(?:mm|in|cm|thou|\"))?)\s*$"
)
_HINT = "type fitlog fault alone for the list"
_BESIDE = 3  # newest gaps of the log that are told unasked


@dataclass(frozen=True)
class Table:
    """A family's symptoms. names: other words for those that the symptoms ask for; places: the
    symptom that a gap logged at a place is; figures: lengths by the names that texts speak of, mm.
    """

    symptoms: tuple[Symptom, ...]
    names: Mapping[str, str]
    places: Mapping[str, str]

    @property
    def vocabulary(self) -> tuple[str, ...]:
        """The words that symptoms are asked for by."""
        return tuple(sorted(frozenset[str]().union(*(a for s in self.symptoms for a in s.asks))))

    def looked_for(
        self,
        setup: SetUp | None,
        words: Sequence[str],
        units: str,
        figures: Mapping[str, float],
        cautions: tuple[Remark, ...],
    ) -> Faults:
        """See `families.faults.Faulty`. figures: lengths that causes speak of, by name, mm."""
        seen = self._seen(" ".join(words), units)
        if setup is None:
            return Faults(None, (), (), self.symptoms, ())
        asked = tuple(self._diagnosis(setup, s, size, figures) for s, size in seen)
        log = () if asked else self._logged(setup)
        return Faults(setup, log, asked, () if asked else self.symptoms, cautions if asked else ())

    def _seen(self, text: str, units: str) -> list[tuple[Symptom, float | None]]:
        if len(text) > TEXT_LIMIT:
            raise NotUnderstood(
                "text-too-long",
                "{length} characters are too many for one joint",
                _HINT,
                length=len(text),
            )
        found: dict[str, tuple[Symptom, float | None]] = {}
        for phrase in self._phrases(spelled(text.lower())):
            sized = _SIZE.search(phrase)
            symptom = self._named(phrase[: sized.start()] if sized else phrase)
            size = _size(symptom, sized[1], units) if sized else None
            if symptom.code in found and None not in (size, found[symptom.code][1]):
                raise Refused(
                    "contradiction",
                    '"{words}" was said twice',
                    "say it once, with its larger size",
                    words=symptom.words,
                )
            found[symptom.code] = (symptom, size)
        if not found and text.strip():
            raise NotUnderstood(
                "nothing-said", "{typed} names no symptom", _HINT, typed=quoted(text.strip())
            )
        return list(found.values())

    def _phrases(self, text: str) -> list[str]:
        """Return what commas part, but for those within a symptom's words as they are listed."""
        for words in (s.words for s in self.symptoms if "," in s.words):
            listed = r"\s*,\s*".join(re.escape(part.strip()) for part in words.split(","))
            text = re.sub(listed, words.replace(",", ""), text)
        return [phrase for phrase in re.split(r",(?!\d)|;", text) if phrase.strip()]

    def _named(self, phrase: str) -> Symptom:
        """Return the symptom that most words of a phrase ask for."""
        tokens = re.findall(r"[a-z]+", phrase)
        words = {self.names.get(token, token) for token in tokens}
        held = [(len(ask), s) for s in self.symptoms for ask in s.asks if ask <= words]
        most = max((n for n, _ in held), default=0)
        best = list(dict.fromkeys(s.words for n, s in held if n == most))
        if len(best) == 1:
            return next(s for s in self.symptoms if s.words == best[0])
        begun = [s.words for s in self.symptoms if any(ask & words for ask in s.asks)]
        near = best or begun
        if not near:
            raise NotUnderstood(
                "nothing-said", "{typed} names no symptom", _HINT, typed=quoted(phrase.strip())
            )
        raise NotUnderstood(
            "unclear-symptom",
            "{typed} does not say enough",
            "did you mean {near}? Or type fitlog fault alone for the list",
            typed=quoted(phrase.strip()),
            near="; ".join(near),
        )

    def _logged(self, setup: SetUp) -> tuple[Remark, ...]:
        told = [
            remark("gap-logged", place=f.place, piece=p.number, size=f.size).of(setup.plan.joint)
            for p in setup.pieces()
            for f in p.verdict.faults
            if f.place in self.places
        ]
        return tuple(told[-_BESIDE:])

    def _diagnosis(
        self, setup: SetUp, symptom: Symptom, size: float | None, figures: Mapping[str, float]
    ) -> Diagnosis:
        source: str | None = "said" if size is not None else None
        of: Remark | None = None
        if size is None and symptom.size:
            size, source, of = self._from_log(setup, symptom)
        known = tuple({**figures, "d": size or symptom.typical}.items())
        total = sum(cause.weight for cause in symptom.causes)
        causes = sorted(symptom.causes, key=lambda cause: -cause.weight)
        said = tuple(_likely(setup.plan.joint, symptom, c, c.weight / total, known) for c in causes)
        return Diagnosis(symptom, size, source, of, said)

    def _from_log(self, setup: SetUp, symptom: Symptom) -> tuple[float, str, Remark | None]:
        """The size of a symptom that was logged with a piece, else the typical one."""
        for piece in reversed(setup.pieces()):
            for fault in piece.verdict.faults:
                if self.places.get(fault.place) == symptom.code and fault.size is not None:
                    of = remark("size-of-piece", piece=piece.number).of(setup.plan.joint)
                    return fault.size, "log", of
        return symptom.typical, "typical", None


def _likely(
    joint: str,
    symptom: Symptom,
    cause: Cause,
    share: float,
    figures: tuple[tuple[str, float], ...],
) -> Likely:
    told = (
        remark(
            "symptom-cause", symptom=symptom.code, cause=cause.code, part=part, figures=figures
        ).of(joint)
        for part in ("text", "test", "cure")
    )
    text, test, cure = told
    values = dict(figures)
    amounts = {f"{name}_mm": round(values[name], 4) for name in cause.amounts}
    return Likely(cause.code, share, text, (), test, cure, amounts)


def _size(symptom: Symptom, typed: str, units: str) -> float:
    """Return the size said with a symptom, mm; refuse one that it cannot have."""
    if not symptom.size:
        raise NotUnderstood(
            "no-size",
            '"{words}" takes no size',
            "leave {typed} out",
            words=symptom.words,
            typed=quoted(typed),
        )
    length = parse_length(typed, units=units, turn=1.0, what=symptom.size)
    if length.mm <= 0 or length.unit == "turn":
        raise NotUnderstood(
            "bad-size",
            "{what} must be a size above zero, not {typed}",
            "give its size, or leave the number out",
            what=symptom.size,
            typed=quoted(typed),
        )
    return believed(length, symptom.size, FAULT_GAP_LIMIT)
