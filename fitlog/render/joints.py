"""The joints that are known: as JSON, and in a maker's words."""

from __future__ import annotations

import shlex

from ..document import Document
from ..families.example import example_of
from ..families.names import FAMILIES
from ..families.screens import screens_of
from ..families.typed import speech_of
from ..texts import tell
from .screen import Screen


def document() -> Document:
    """Return every joint with the names of its settings and aspects; `before` fills an empty
    catalogue, `example` starts a set-up of it.
    """
    return {"joints": [_joint(name) for name in FAMILIES]}


def _joint(name: str) -> Document:
    family, example = FAMILIES[name], example_of(name)
    return {
        "name": name,
        "what_for": screens_of(family).what_for(),
        "settings": list(family.names),
        "aspects": list(family.aspects),
        "before": [list(command) for command in example.BEFORE],
        "example": list(example.EXAMPLE),
    }


def listing(screen: Screen) -> None:
    """Print every joint: what it is for, what is set, what is asked, and how to begin."""
    for name, family in FAMILIES.items():
        screen.head("{name}", name=name)
        screen.line("{told}", told=screens_of(family).what_for())
        settings = ", ".join(f"{s.noun} ({' / '.join(s.ways)})" for s in family.settings)
        screen.line("You set: {settings}.", settings=settings)
        speech = speech_of(name)
        asked = ", ".join(
            tell("{aspect} ({words})", aspect=kind.name, words=speech.answers(kind.name))
            for kind in family.kinds
        )
        screen.line("You are asked: {asked}.", asked=asked)
        screen.line("Begin: fitlog {example}", example=shlex.join(example_of(name).EXAMPLE))
