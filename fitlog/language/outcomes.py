"""What became of a joint, in a maker's words: "tight with glue", "loose after a winter".

It is understood where it plainly says both which way and, as far as it says it, when; anything else
is kept as it was said. Which words makers use: common practice, no source.
"""

from __future__ import annotations

import re
from typing import Literal, NamedTuple, cast

from ..errors import FitlogError
from ..texts import tell
from .phrases import parse_phrases
from .speech import Speech

Direction = Literal["tight", "loose", "good"]
When = Literal["glue", "season", ""]
_TIME = r"(?:winters?|summers?|springs?|autumns?|falls?|seasons?|years?|months?|weeks?)"
_SOME = (
    r"(?:(?:a|an|the|one|its|first|second|two|three|some|few|couple|of|heating|dry|wet|[0-9]+) )*"
)
_WHEN: dict[When, re.Pattern[str]] = {
    "glue": re.compile(
        r"\b(?:(?:with|in) (?!no )(?:[a-z]+ ){0,2}?glue(?: on)?|(?:at|in|during|for) (?:the )?"
        r"glue[ -]?up|(?:when|once|after it was|while) (?:glued|glueing|gluing)(?: up)?)(?![\w-])"
    ),
    "season": re.compile(
        rf"\b(?:(?:after|in|over|through|since|by) {_SOME}{_TIME}|{_SOME}{_TIME} (?:later|on))"
        r"(?![\w-])"
    ),
}
# What stands before the word and says nothing of it.
_LEAD = re.compile(
    r"^(?:(?:all|they|it|joint|joints|went|together|came|turned|out|became|got|gone|has|have|had|"
    r"been|feels|felt)\b\s*)+"
)
# Of praise: "still tight" is no complaint.
_PRAISE = re.compile(r"\b(?:still|stay(?:s|ed)|remain(?:s|ed)|nice|nicely|held|holds)\b")
_TOO = re.compile(r"\btoo\b|\btighter\b")
WORDS = ("tight", "loose", "good", "with", "glue", "after", "winter", "summer")  # to be completed


class Became(NamedTuple):
    """What became of a joint. direction: which way its fit was off; when: with glue, after a
    season, "" where it doesn't say.
    """

    direction: Direction
    when: When = ""

    def told(self) -> str:
        """Return it in words."""
        when = {"glue": tell("with glue"), "season": tell("after a season")}
        return " ".join((tell(self.direction), *([when[self.when]] if self.when else [])))


def heard(text: str, speech: Speech) -> Became | None:
    """Return what is understood of an outcome, None where that is nothing for sure."""
    plain = " ".join(text.lower().replace("\u2019", "'").strip(" .!").split())
    found = {when: made for when, made in _WHEN.items() if made.search(plain)}
    if len(found) > 1:
        return None
    when: When = next(iter(found), "")
    rest = found[when].sub(" ", plain) if when else plain
    way = _direction(_LEAD.sub("", rest.strip(" ,;")), speech)
    if way is None or (way != "good" and _PRAISE.search(plain)):
        return None
    # "Tight after ten years" may be praise, too; nobody praises that of a glue-up.
    if way == "tight" and when != "glue" and not _TOO.search(plain):
        return None
    return Became(way, when)


def _direction(said: str, speech: Speech) -> Direction | None:
    """Return which way the fit is off by one phrase of `cut`, None for anything else."""
    plain = re.sub(r"\b(?:(loose)r|(tight)er)\b", r"\1\2", said)
    try:
        verdict = parse_phrases(plain, speech) if plain else None
    except FitlogError:
        return None
    lead = speech.family.kind(speech.family.lead)
    if verdict is None or verdict.faults or [one.aspect for one in verdict.said] != [lead.name]:
        return None
    (one,) = verdict.said
    if one.word == lead.settling:
        return "good"
    word = one.word.split()[-1]
    return cast(Direction, word) if word in ("tight", "loose") else None
