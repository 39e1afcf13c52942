"""What became of a joint, as makers say it: understood where it is plain, else kept as it was said.
The phrases are invented; which words makers use is common practice, no source.
"""

from __future__ import annotations

import pytest

from fitlog.families.typed import speech_of
from fitlog.language.outcomes import WORDS, heard

SPEECH = speech_of("half-blind dovetail")
UNDERSTOOD = {
    ("tight", "glue"): """
        tight with glue; Tight with the glue.; tight at the glue-up; slightly tight at glue up; very
        tight in the glue; stiff with glue; went together tight with the glue on; tight with hide
        glue; it was tight when glued up; joints were tight during the glue-up; tapped home with
        glue; tight with wet glue; too tight with glue
        """,
    ("loose", "glue"): """
        loose with glue; sloppy at the glue-up; slightly loose with the glue on; slack with glue
        """,
    (
        "good",
        "glue",
    ): "good with glue; perfect at the glue-up; spot on with glue; just right in glue",
    ("loose", "season"): """
        loose after a winter; loose after the first winter; It was sloppy after two winters; loose
        one year later; loose after 3 years; rattles in winter; slightly loose after some months;
        became loose over the summer; slack by spring; got loose after the heating season
        """,
    ("tight", "season"): "too tight after a summer; got tighter over the summer",
    ("good", "season"): "good after a winter; still good after 3 years; fine after one year",
    ("tight", ""): "too tight; it was too tight",
    ("loose", ""): "loose; turned out loose; sloppy",
    ("good", ""): "good; perfect; still good",
}
KEPT = """
    went home with clamps; tight with glue, loose after a winter; tight after a winter; tight after
    ten years; still tight after a year; stayed tight with glue; nice and tight with glue; tight;
    not tight; not loose; not tight with glue; snug with glue; needed a mallet with glue; wobbly
    after a winter; gap far with glue; tight, gap far; good with glue and flush; the customer liked
    it; tight without glue; tight with no glue; glue; with glue; after a winter; ; 2026; tight with
    glue in winter; split with glue; loose or tight with glue
    """


def phrases(listed: str) -> list[str]:
    return [" ".join(phrase.split()) for phrase in listed.split(";")]


@pytest.mark.parametrize(
    ("said", "meant"),
    [(said, meant) for meant, listed in UNDERSTOOD.items() for said in phrases(listed)],
)
def test_what_is_plain_is_understood(said: str, meant: tuple[str, str]) -> None:
    assert heard(said, SPEECH) == meant


@pytest.mark.parametrize("said", phrases(KEPT))
def test_what_may_be_praise_or_two_things_is_only_kept(said: str) -> None:
    """ "Tight" is a complaint of a glue-up, and after years mostly none."""
    assert heard(said, SPEECH) is None


def test_what_is_completed_can_be_said() -> None:
    assert heard(" ".join((WORDS[0], *WORDS[3:5])), SPEECH) == ("tight", "glue")
    assert all(any(word in phrase for phrase in UNDERSTOOD.values()) for word in WORDS)
