"""How faults look: what the log shows, then the causes in order, each with its test and its cure;
or the list of symptoms.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from ..families.faults import Diagnosis, Faults, Symptom
from ..families.telling import COMMANDS, say
from ..language.saying import Spelling
from ..language.units import Ruler
from ..texts import tell
from .screen import Screen


def faults(screen: Screen, found: Faults, ruler: Ruler) -> None:
    """Print what `fault` found."""
    for place, diagnosis in enumerate(found.asked):
        if place:
            screen.line()
        _diagnosis(screen, diagnosis, ruler)
    if found.setup is None:
        screen.line(
            "No set-up was started yet, so that there is no log to read and no figure to reckon "
            "with."
        )
    elif not found.asked:
        screen.head("What the log of set-up {number} shows", number=found.setup.number)
        if not found.log:
            screen.line("Nothing speaks against its moves, and no gap was logged.")
    elif found.log:
        screen.line()
        screen.head("The log shows")
    for remark in found.log:
        screen.line(f"- {say(remark, ruler)}", indent="  ")
    if found.list:
        screen.line()
        _list(screen, found.list, ruler)
    if found.cautions:
        screen.line()
        screen.head("Care")
    for remark in found.cautions:
        screen.line(f"- {say(remark, ruler)}", indent="  ")


def _list(screen: Screen, symptoms: Sequence[Symptom], ruler: Ruler) -> None:
    """Print what can be typed, a paragraph for each group."""
    example = symptoms[0].words + (f" {ruler.length(0.2)}" if symptoms[0].size else "")
    screen.head(
        "What do you see? Type it in your words, with its size if you have one, as in: fitlog "
        "fault {example}",
        example=example,
    )
    for group, members in groupby(symptoms, key=lambda s: s.group):
        words = "; ".join(s.words for s in members)
        if group:
            screen.line("{group}: {words}.", indent="  ", group=tell(group), words=words)
        else:
            screen.line("{words}.", indent="  ", words=words)


def _diagnosis(screen: Screen, found: Diagnosis, ruler: Ruler) -> None:
    screen.head("{symptom}.", symptom=found.symptom.title)
    if found.first is not None:
        screen.line("First: {first}", first=say(found.first, ruler))
    screen.line(size_told(found, ruler))
    for number, cause in enumerate(found.causes, 1):
        screen.line()
        reasons = "; ".join(say(why, ruler) for why in cause.why)
        why = f" ({reasons}.)" if reasons else ""
        screen.line(f"{number}. {say(cause.text, ruler)}{why}", indent="   ")
        screen.line("   Test: {test}", indent="   ", test=say(cause.test, ruler))
        screen.line("   Cure: {cure}", indent="   ", cure=say(cause.cure, ruler))


def size_told(found: Diagnosis, ruler: Ruler, spelling: Spelling = COMMANDS) -> str:
    """Return for which size the amounts are, and in which order the causes stand."""
    order = tell("Likeliest first, by rule of thumb and by what this set-up shows.")
    if found.size is None:
        return order
    size, what = ruler.length(found.size), found.symptom.size
    if found.source == "said":
        return tell("Amounts for {size}, {what}. {order}", size=size, what=what, order=order)
    if found.of is not None:
        return tell(
            "Amounts for {size}, {what}, as the log has it ({of}). {order}",
            size=size,
            what=what,
            of=say(found.of, ruler),
            order=order,
        )
    typical = tell(
        "No size was typed: amounts for {size}, {what}, a typical one (common practice, no source)",
        size=size,
        what=what,
    )
    return tell(
        "{typical}; type yours {where}. {order}",
        typical=typical,
        where=spelling["fault-size"],
        order=order,
    )
