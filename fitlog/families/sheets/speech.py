"""How people speak of a cut for a sheet: see `language.speech`."""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Family
from ...language.speech import Speech
from ...language.usual import usual
from .english.usual import MEANT, WHEN
from .names import DEPTH

STEP_LIMIT = 10.0


def speech_of(
    family: Family,
    meant: Mapping[str, str],
    asked: Mapping[str, str],
    sides: Mapping[str, str],
    numbers: Mapping[str, tuple[str, float]],
    when: Mapping[str, str],
    read_beside: Mapping[str, str],
) -> Speech:
    """Return the speech of a family; meant, asked, sides: its own phrases by their meaning."""
    return Speech(
        family,
        numbers={DEPTH: ("how far it is off the depth", STEP_LIMIT), **numbers},
        fillers=(*family.aspects,),
        usual={**usual({**MEANT, **meant}, asked), **usual(sides)},
        when={**WHEN, **when},
        read_beside=read_beside,
        # How deep a cut is, is a step as well; which one "proud" is, hangs on what is looked at.
        shared={"shy": {DEPTH: "shallow"}, "proud": {DEPTH: "shallow / deep"}},
    )
