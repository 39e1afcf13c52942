"""What a remark says: the language of the person, with every family's own sentences in it."""

from __future__ import annotations

from ..domain import Remark
from ..language import english
from ..language.english.actions import COMMANDS, KEYS
from ..language.saying import Catalogue, Spelling
from ..language.units import Ruler
from .half_blind import sentences as half_blind

__all__ = ["COMMANDS", "ENGLISH", "KEYS", "say"]

ENGLISH = Catalogue({**english.SENTENCES, **half_blind.SENTENCES}, half_blind.NAMES)


def say(remark: Remark, ruler: Ruler, spelling: Spelling = COMMANDS) -> str:
    """Return the sentence of a remark in a person's units and a front's spelling of actions."""
    return ENGLISH.say(remark, ruler, spelling)
