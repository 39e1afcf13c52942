"""What a remark says: a language with the sentences of the family at hand."""

from __future__ import annotations

from functools import cache

from ..domain import Remark
from ..language import english
from ..language.english.actions import COMMANDS, KEYS
from ..language.english.names import names_of
from ..language.saying import Catalogue, Spelling
from ..language.units import Ruler
from . import part_of
from .names import FAMILIES, family_of

__all__ = ["COMMANDS", "GENERAL", "KEYS", "catalogue", "say"]

GENERAL = Catalogue(english.SENTENCES, {})


@cache
def catalogue(joint: str) -> Catalogue:
    """Return the language with a family's own sentences and names, its module `sentences`, laid
    over the general ones; "": those alone.
    """
    if not joint:
        return GENERAL
    names, told = names_of(family_of(joint)), part_of(joint, "sentences")
    if told is None:
        return Catalogue(GENERAL.sentences, names)
    return Catalogue({**GENERAL.sentences, **told.SENTENCES}, {**names, **told.NAMES})


def say(remark: Remark, ruler: Ruler, spelling: Spelling = COMMANDS) -> str:
    """Return the sentence of a remark in a person's units and a front's spelling of actions.

    One that names no family has a code that every family shares, or only one has.
    """
    joints = [remark.joint] if remark.joint else ["", *FAMILIES]
    known = (catalogue(joint) for joint in joints)
    found = next((c for c in known if remark.code in c.sentences), catalogue(joints[-1]))
    return found.say(remark, ruler, spelling)
