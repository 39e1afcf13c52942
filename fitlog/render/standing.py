"""How a set-up stands, in words: one row a code, for the screens, the sheet and the stops."""

from __future__ import annotations

from typing import NamedTuple

from ..domain.standing import Standing
from ..families.telling import COMMANDS
from ..language.numbers import percent
from ..language.saying import Spelling
from ..language.units import counted
from ..texts import tell


class Said(NamedTuple):
    """A standing in words: the headline's sentence, the sheet's word and what stands below it."""

    headline: str
    word: str
    below: str


_OPEN: dict[str, Said] = {
    "undone": Said("Undone.", "UNDONE", "nothing of it counts"),
    "tuning": Said("Tuning: set this for piece {piece}.", "NOT SETTLED", "not yet for real wood"),
    "doubted": Said(
        "Ready by your word, but the figures doubt it: make one more cut in the real stock first.",
        "DOUBTED",
        "{chance}: one more cut in the real stock first",
    ),
    "confirm": Said(
        "Ready by the test pieces; one more in the real stock first is worth its wood.",
        "ONE MORE FIRST",
        "{chance} by the test pieces",
    ),
    "weak": Said(
        "Ready by the test pieces, {chance} in everything ({weakest} least sure). Cut the real "
        "boards, then {finish}.",
        "BY THE PIECES",
        "{chance} in everything",
    ),
    "ready": Said(
        "Ready: these settings are good. Cut the real boards, then {finish}.",
        "READY",
        "{chance} by the test pieces",
    ),
}
_OTHER = Said(
    "Ready: cut the real boards at the settings named for them, then {finish}.",
    *_OPEN["ready"][1:],
)
_ENDED: dict[str, Said] = {
    "good": Said("Finished: remembered for the next one.", "FINISHED", "these settings were good"),
    "as it is": Said(
        "Ended as it is, short of ready: kept, but not as good settings; it teaches only what its "
        "pieces say.",
        "ENDED AS IT IS",
        "never found good",
    ),
    "abandoned": Said("Abandoned.", "ABANDONED", "never found good"),
}
_STOPPED = Said(
    "Finished, but its run is stopped: cut no more boards by these settings before the next look.",
    "RUN STOPPED",
    "the last joint looked at was off",
)
_NOT_SURE = Said(
    "Finished by your word: remembered for the next one. The figures give it {chance}.",
    "FINISHED",
    "by your word; the figures give it {chance}",
)
_NOT_ALL = Said(
    "Finished with something still open: kept, but not all of its settings were found good.",
    "FINISHED",
    "not all of it settled",
)


def said(how: Standing, piece: int = 0, spelling: Spelling = COMMANDS) -> Said:
    """Return how a set-up stands in words. piece: the number of the next one."""
    row = _OPEN[how.code] if how.ended is None else _ENDED[how.ended]
    if how.ended is None and how.code == "ready" and how.other:
        row = _OTHER
    if how.code == "stopped":
        row = _STOPPED
    elif how.ended == "good" and how.code != "ready":
        row = _NOT_ALL if how.code == "tuning" else _NOT_SURE
    chance = "" if how.chance is None else percent(how.chance)
    told = {"piece": piece, "chance": chance, "weakest": tell("the {weakest}", weakest=how.weakest)}
    told["finish"] = spelling["finish"]
    return Said(*(tell(text, **told) for text in row))


def pieces_of(pieces: int, checks: int) -> str:
    """Return how many test pieces a set-up has, and how many joints were looked at in its run."""
    told = counted(pieces, "piece")
    if not checks:
        return told
    return tell("{pieces}, {checks}", pieces=told, checks=counted(checks, "check"))


def unsettled(how: Standing) -> str:
    """Return what must be read before anything else where the settings were never found good; ""
    where they were.
    """
    if how.settled:
        return ""
    if how.code == "stopped":
        return tell(
            "RUN STOPPED: the last joint that was looked at was off. Cut no more boards by these "
            "settings; fitlog next says what to do."
        )
    why = {
        "abandoned": tell("this set-up was abandoned"),
        "as it is": tell("this set-up was ended as it is, short of ready"),
        "good": tell("this set-up was finished with something still open"),
    }.get(how.ended or "", tell("the set-up is still being tuned"))
    return tell(
        "NOT SETTLED: {why}; nothing says that these settings are good. Cut no real boards by "
        "them.",
        why=why,
    )
