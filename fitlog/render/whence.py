"""Where the settings of the real boards come from, behind `fitlog stops --why`: the piece that was
cut at each, and what was said of it.
"""

from __future__ import annotations

from ..domain import SettingKind
from ..families.boards import Job
from ..language.numbers import percent
from ..language.units import Ruler
from ..texts import tell
from .answer import size, spoken
from .screen import Screen

_SAME = 0.005  # mm: what reads alike to a hundredth is the same setting


def whence(screen: Screen, job: Job, ruler: Ruler, *lines: str) -> None:
    """Print where each setting comes from, and the lines that a family adds on its lengths."""
    screen.line()
    screen.head("Why")
    for kind in job.setup.plan.family.settings:
        screen.line(f"- {_whence(kind, job, ruler)}", indent="  ")
    chance = job.standing.chance
    if chance is not None:
        screen.line(
            "- All inside their windows on the real boards: {chance}.",
            indent="  ",
            chance=percent(chance),
        )
    for line in lines:
        screen.line(f"- {line}", indent="  ")


def _whence(kind: SettingKind, job: Job, ruler: Ruler) -> str:
    """Return why a setting is as it is: by the newest piece that was cut at it, else by the newest
    of all.
    """
    setup, family = job.setup, job.setup.plan.family
    value, aspect = job.settings[kind.name], family.aspect_of[kind.name]
    judged = [
        piece
        for piece in setup.tests()
        if aspect is None or piece.verdict.of(aspect) is not None or piece.readings
    ]
    there = [piece for piece in judged if abs(piece.settings[kind.name] - value) <= _SAME]
    called, length = tell(kind.noun).capitalize(), job.settings.on_scale(setup.plan.machine)
    told = {"setting": called, "length": ruler.length(length[kind.name])}
    if not judged:
        return tell("{setting} {length}: by the figures alone, no piece was cut for it.", **told)
    piece = (there or judged)[-1]
    said = piece.verdict.of(aspect) if aspect else None
    how = spoken(piece, ruler) if said is None else f"{said.word}{size(said.size, ruler)}"
    if there:
        text = "{setting} {length}: piece {piece} was cut at it, {said}."
        return tell(text, piece=piece.number, said=how, **told)
    off = ruler.length(abs(value - piece.settings[kind.name]))
    text = "{setting} {length}: moved by {off} since piece {piece}, which was {said}."
    return tell(text, off=off, piece=piece.number, said=how, **told)
