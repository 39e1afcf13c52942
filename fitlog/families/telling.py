"""What a remark says: a language with the sentences of the family at hand."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from types import ModuleType

from .. import texts
from ..domain import Remark
from ..language import english
from ..language.english.actions import COMMANDS, KEYS, PAGE
from ..language.english.names import names_of
from ..language.saying import Catalogue, Spelling
from ..language.units import Ruler
from ..texts import ENGLISH, LANGUAGE
from . import part_of
from .names import FAMILIES, family_of

__all__ = ["COMMANDS", "GENERAL", "KEYS", "PAGE", "catalogue", "say", "speak"]


def _spoken() -> ModuleType:
    """Return the module of the language at hand; English for one that is not there."""
    known = LANGUAGE if LANGUAGE in texts.LANGUAGES else ENGLISH
    return import_module(f"{english.__package__.rpartition('.')[0]}.{known}")


GENERAL = Catalogue(
    {**english.SENTENCES, **_spoken().SENTENCES}, {}, {**english.SHORT, **_spoken().SHORT}
)


@cache
def catalogue(joint: str) -> Catalogue:
    """Return the language with a family's own sentences and names, its module `sentences`, laid
    over the general ones; "": those alone.
    """
    if not joint:
        return GENERAL
    sentences, short = {**GENERAL.sentences}, {**GENERAL.short}
    names = names_of(family_of(joint))
    for language in dict.fromkeys((ENGLISH, LANGUAGE)):
        told = part_of(joint, language)
        if told is not None:
            sentences |= told.SENTENCES
            names |= told.NAMES
            short |= getattr(told, "SHORT", {})
    return Catalogue(sentences, names, short)


def speak() -> None:
    """Take in what the families themselves say in the language at hand; English needs nothing."""
    for joint in FAMILIES if LANGUAGE != ENGLISH else ():
        told = part_of(joint, LANGUAGE)
        texts.add(told.TEXTS if told else {})


def say(remark: Remark, ruler: Ruler, spelling: Spelling = COMMANDS, *, short: bool = False) -> str:
    """Return the sentence of a remark in a person's units and a front's spelling of actions. short:
    in few words, "" where it can wait.

    One that names no family has a code that every family shares, or only one has.
    """
    return _of(remark).say(remark, ruler, spelling, short=short)


def urgent(remark: Remark) -> bool:
    """Tell whether a reason is read at the machine: fewer words are there for it."""
    return _of(remark).urgent(remark)


def _of(remark: Remark) -> Catalogue:
    joints = [remark.joint] if remark.joint else ["", *FAMILIES]
    known = (catalogue(joint) for joint in joints)
    return next((c for c in known if remark.code in c.sentences), catalogue(joints[-1]))
