"""How the piece is judged: an aspect a screen, its words with what tells them apart."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from ....domain import Aspect, SetUp
from ....families.screens import Typed, screens_of
from ....families.telling import PAGE, say
from ....render.answer import told
from ....service.bench import Workbench
from ....texts import tell
from ...bench import about_last, asked_of, gaps, last_word, read_at, stand
from ..desk import Sitting
from .common import Values, common, sentence
from .dial import unit


@dataclass(frozen=True, slots=True)
class Question:
    """One aspect of a piece. before: what is read first; words: each with its hand test; unread:
    those that take no number; number: what that is, "" where none is asked; readings: what can be
    measured instead, by kind.
    """

    aspect: Aspect
    asks: str
    before: list[str]
    words: list[tuple[str, str]]
    unread: Collection[str]
    number: str
    readings: dict[str, Typed]


def judge(sitting: Sitting, setup: SetUp, bench: Workbench) -> Values:
    """Return the questions that are still open of the last piece, in their order."""
    at, asked = stand(setup), asked_of(setup)
    open_ = asked[asked.index(at.at) :]
    # What spoils the piece is asked once all before it is in the log: what is to be minded then
    # follows from that.
    family = setup.plan.family
    ready = [a for n, a in enumerate(open_) if n == 0 or not family.kind(a).shown_last]
    return {
        **common(sitting, setup),
        "piece": at.piece,
        "questions": [_question(setup, bench, aspect) for aspect in ready],
        "done": len(asked) - len(open_),
        "count": len(asked),
        "gaps": _gaps(setup),
        "unit": unit(bench.ruler),
        "rest": len(ready) < len(open_),
        **(so_far(setup, bench) if sitting.phone.only_reads else {}),
    }


def so_far(setup: SetUp, bench: Workbench) -> Values:
    """Return what is known of the piece that is judged: what was said of it, and its settings."""
    cuts, ruler, plan = about_last(setup), bench.ruler, setup.plan
    dialled = cuts[0].settings.on_scale(plan.machine)
    return {
        "history": [(cut.piece, told(cut, ruler), cut.by) for cut in cuts],
        "settings": [
            (tell(kind.noun), ruler.length(dialled[kind.name])) for kind in plan.family.settings
        ],
    }


def _question(setup: SetUp, bench: Workbench, aspect: Aspect) -> Question:
    plan, ruler, cuts = setup.plan, bench.ruler, about_last(setup)
    family, own = plan.family, screens_of(plan.family)
    kind = family.kind(aspect)
    turn = bench.before_spoiling(setup) if kind.shown_last else ()
    minded = {r.code: say(r, ruler, PAGE) for r in turn}
    before = own.before(cuts[0], plan.machine, minded, ruler) if cuts and kind.shown_last else []
    tests = own.tests(aspect, ruler, minded)
    return Question(
        aspect,
        sentence(own.what(plan, aspect, ruler, minded)),
        list(before),
        list(zip(family.words(aspect), tests, strict=True)),
        kind.unread,
        "" if plan.words_only else sentence(own.number(aspect)),
        read_at(family, aspect),
    )


def _gaps(setup: SetUp) -> list[tuple[str, str]]:
    own = screens_of(setup.plan.family)
    return [(place, own.gap(place)) for place in gaps(setup.plan.family)]


def number(sitting: Sitting, setup: SetUp, bench: Workbench) -> Values | None:
    """Return the question for the number of the last word; None where no word has one."""
    word, own = last_word(setup), screens_of(setup.plan.family)
    if word is None:
        return None
    return {
        **common(sitting, setup),
        "piece": about_last(setup)[0].piece,
        "aspect": word.aspect,
        "word": word.word,
        "asks": sentence(own.number(word.aspect)),
        "taken": own.taken(word.aspect),
        "unit": unit(bench.ruler),
        "next": f"/s/{setup.number}/"
        + ("now" if stand(setup).at in ("settings", "over") else "judge"),
    }
