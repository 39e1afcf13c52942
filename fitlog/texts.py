"""Every text of a screen, a refusal or a help page, in the language at hand.

A text is written in English where it is needed, with its values by name, and that is its key, as in
gettext: another language gives its own text for it. Remarks have codes (`language.saying`).
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import cache
from importlib import import_module

ENGLISH = "english"
# Each but English is a module of `language` with SENTENCES, NAMES and TEXTS, and one of that name
# in each family's folder.
LANGUAGES = (ENGLISH,)
LANGUAGE = os.environ.get("FITLOG_LANGUAGE") or ENGLISH


@cache
def _texts() -> dict[str, str]:
    """The texts of the language at hand, by the English ones; read with the first that is told,
    since a language may need what is being imported while this is.
    """
    if LANGUAGE == ENGLISH or LANGUAGE not in LANGUAGES:
        return {}
    return dict(import_module(f"{__package__}.language.{LANGUAGE}").TEXTS)


def add(texts: Mapping[str, str]) -> None:
    """Take in more texts of the language at hand, by the English ones."""
    _texts().update(texts)


class AsTyped(str):
    """What a person types, the same in every language: no text, though one may read alike."""

    __slots__ = ()


def tell(text: str, /, **values: object) -> str:
    """Return a text in the language at hand with its values put in, as `str.format` does; a value
    that is itself one of the texts, such as the name of a size, is told so too, unless `AsTyped`.

    Without values the text stands as it is, braces and all.
    """
    if known := _texts():
        text = known.get(text, text)
        told = {n: known.get(v, v) if type(v) is str else v for n, v in values.items()}
        return text.format(**told) if told else text
    return text.format(**values) if values else text
