"""What is written down about a set-up: its title, where its sample is kept, what became of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal, get_args

from ..errors import Refused
from ..texts import tell
from .checks import clean_text

About = Literal["title", "note", "kept", "outcome"]
ABOUT: tuple[About, ...] = get_args(About)
STANDING: tuple[About, ...] = (
    "title",
    "kept",
)  # of these the newest stands, and an empty one clears it


@dataclass(frozen=True, slots=True)
class Note:
    """One of them, as logged. entry: its number in the log; at: None before it is logged."""

    about: About
    text: str
    entry: int = 0
    by: str = ""
    at: datetime | None = None

    def __post_init__(self) -> None:
        if self.about not in ABOUT:
            raise Refused(
                "bad-note",
                "nothing is noted about {about!r}",
                "known: {known}",
                about=str(self.about)[:40],
                known=", ".join(ABOUT),
            )
        what = tell("the {name}", name=self.about)
        object.__setattr__(self, "text", clean_text(what, self.text))
        if not self.text and self.about not in STANDING:
            raise Refused(
                "bad-note",
                "an empty {about} says nothing",
                "say it in a few words",
                about=self.about,
            )
