"""Deeds beside the test pieces: a joint of the real boards looked at, what is written down, what
was found at the machine.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from ...domain import Fault, Said, SetUp, Verdict
from ...errors import NotUnderstood, Refused
from ...language.doubts import Doubt
from ...service.asked import Reported
from ...service.bench import Workbench
from ...service.doubts import settled
from ...service.found import found
from ...service.noting import NotesTyped, note, outcome
from ...service.reader.cuts import found_at, numbered
from ...service.run import InRun, as_joint, in_run, run_doubts
from ...service.slips import doubts_on
from .desk import Sitting
from .said import typed_settings

Fields = Mapping[str, str]
Doubtful = Callable[[Doubt], Exception]  # what is raised of a doubt that nobody put right


def check(
    sitting: Sitting, setup: SetUp, bench: Workbench, fields: Fields, in_doubt: Doubtful
) -> None:
    """Log a joint of the real boards: `after`, joints cut by now; `word.ASPECT` and `size.ASPECT`;
    `gap`, its place.

    Raises NotUnderstood (no-count, nothing-said), Refused as `Workbench.record`, and what
    `in_doubt` gives unless it is said again as `meant`, or its likely meaning is taken (`mend`).
    """
    run = in_run(bench, setup)
    told = as_joint(run, _seen(sitting, run.setup, fields))
    if "meant" not in fields:
        told = settled(told, _doubts(bench, run, told), "mend" in fields, in_doubt)
    bench.record(run.setup, told)


def _doubts(bench: Workbench, run: InRun, told: Reported) -> Iterator[Doubt]:
    yield from run_doubts(run, told)
    yield from doubts_on(bench, run.setup, told)


def _seen(sitting: Sitting, setup: SetUp, fields: Fields) -> Reported:
    """Return what was seen of a joint."""
    typed, family = fields.get("after", "").strip(), setup.plan.family
    if not (typed.isascii() and typed.isdecimal() and 0 < len(typed) < 7 and int(typed) > 0):
        raise NotUnderstood(
            "no-count",
            "nothing says how many joints are cut by now",
            "count those of this set-up's real boards, this one too",
        )
    said: list[Said] = []
    for aspect in family.asked:
        if word := fields.get(f"word.{aspect}", ""):
            one = family.said(aspect, word)
            if size := fields.get(f"size.{aspect}", "").strip():
                one = numbered(sitting.reader, setup.plan.joint, one, size).verdict.said[0]
            said.append(one)
    gap = fields.get("gap", "")
    if not said and not gap:
        raise NotUnderstood(
            "nothing-said", "nothing was said of the joint", "judge it in one thing at least"
        )
    faults = (Fault(gap),) if gap else ()
    heard = ", ".join([*(one.word for one in said), *(f"gap {fault.place}" for fault in faults)])
    return Reported(Verdict(tuple(said), faults=faults), heard, after=int(typed))


def write_down(sitting: Sitting, setup: SetUp, bench: Workbench, fields: Fields) -> None:
    """Log one of title, note, kept (where the sample is) and outcome (what became of the work): the
    `about` and its `text`. Raises Refused: bad-answer, bad-note, text-too-long, control-character,
    not-finished, undone-setup.
    """
    about, text = fields.get("about", ""), fields.get("text", "").strip()
    if about == "outcome":
        outcome(bench, setup, text)
        return
    typed = {
        "title": NotesTyped(title=text),
        "kept": NotesTyped(kept=text),
        "note": NotesTyped(note=text),
    }
    if about not in typed:
        raise Refused("bad-answer", "this answer is not known", "load the page again")
    note(bench, setup, typed[about].notes())


def as_found(sitting: Sitting, setup: SetUp, bench: Workbench, fields: Fields) -> None:
    """Log what stands at the machine: `set.NAME`. Raises NotUnderstood, Refused as `found`."""
    typed = [f"{name}={text}" for name, text in typed_settings(fields).items()]
    found(bench, setup, found_at(sitting.reader, setup, {}, typed))
