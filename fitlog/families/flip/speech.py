"""How people speak of parts cut from both faces: see `language.speech`."""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Family
from ...errors import FitlogError, Refused
from ...language.speech import Speech
from ...language.usual import usual
from .english.usual import ASKED, FAULTY, MEANT, SIDES, WHEN
from .names import FACES, FIT, HEIGHT, SHOULDER, STOP
from .typed import PLAY_LIMIT

STEP_LIMIT = OPEN_LIMIT = 10.0
READ = {
    "tenon": (
        ("mortise", "tenon", "jaws"),
        "type what was measured with --read jaws=MORTISE:TENON",
    ),
    "tongue-groove": (
        ("groove", "tongue", "jaws"),
        "type what was measured with --read jaws=GROOVE:TONGUE",
    ),
}


def _without_number(word: str, typed: str) -> FitlogError:
    return Refused(
        "tight-with-gap",
        "nothing goes in beside what is {word}, so there is no play of {typed}",
        "say {word} without a number, or measure both parts",
        word=word,
        typed=typed,
    )


def speech_of(
    family: Family,
    meant: Mapping[str, str],
    tests: Mapping[str, str],
    columns: Mapping[str, tuple[str, ...]],
    example: str,
) -> Speech:
    """Return the speech of a family. meant: its own phrases by their meaning, or by those that each
    may have, with " / " between; tests: of its fit's words; columns, example: see `Speech`.
    """
    words = {word for kind in family.kinds for word in kind.words}
    known = {*words, *(f"gap {place}" for place in family.faults[:-1]), ""}
    said = {word: phrases for word, phrases in {**MEANT, **meant}.items() if word in known}
    asked = {
        one: "; ".join(filter(None, (ASKED.get(one), meant.get(one))))
        for one in (*ASKED, *meant)
        if " / " in one and {*one.split(" / ")} <= words
    }
    sides = {word: told for word, told in SIDES.items() if word in words}
    nothing: tuple[tuple[str, ...], str] = ((), "")
    measured, remedy = READ.get(family.name, nothing)
    numbers = {
        FIT: ("the play beside it", PLAY_LIMIT),
        FACES: ("the step of the faces", STEP_LIMIT),
        SHOULDER: ("the gap at the shoulder", OPEN_LIMIT),
    }
    return Speech(
        family,
        numbers={a: numbers[a] for a in family.aspects},
        spellings={"face": FACES, "shoulders": SHOULDER},
        fillers=(*family.aspects, "shoulders", "face"),
        remedies={
            **dict.fromkeys(measured, remedy),
            **dict.fromkeys(
                FAULTY,
                "what is not alike from piece to piece, or was spoilt, no setting cures: fitlog "
                "fault WORDS",
            ),
        },
        usual={**usual(said, asked), **usual(sides)},
        when={**tests, **WHEN},
        example=example,
        without_number=_without_number,
        columns={
            HEIGHT: ("height", "bit height"),
            STOP: ("stop",),
            f"true_{HEIGHT}": ("true height", "true bit height"),
            f"true_{STOP}": ("true stop",),
            f"{FIT}_size": ("play", "feeler beside"),
            f"{FACES}_size": ("step", "step of the faces"),
            f"{SHOULDER}_size": ("shoulder gap",),
            **columns,
        },
        pairs={"jaws": ("jaws_inside", "jaws_outside")} if "jaws" in family.readings else {},
        read_beside={FIT: "feeler"} if FIT in family.aspects else {},
        shared={"tight": {SHOULDER: "closed"}} if FIT in family.aspects else {},
    )
