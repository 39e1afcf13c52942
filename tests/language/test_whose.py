"""Whose a word is that several aspects share: the one whose name leads, in every family; without a
name the one tuned now, and the answer says which.

No outside source: these are promises of the tool itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from types import SimpleNamespace
from typing import cast

import pytest
from shop import Shop

from fitlog.domain import SetUp, Verdict
from fitlog.errors import NotUnderstood
from fitlog.families.lock_mitre.names import LOCK_MITRE
from fitlog.families.names import FAMILIES
from fitlog.families.typed import speech_of
from fitlog.language.phrases import parse_phrases
from fitlog.language.speech import SETTLED, Speech
from fitlog.service.reader.cuts import tuned_now

SPEECHES = [speech_of(joint) for joint in FAMILIES]


def words_of(speech: Speech) -> Iterator[str]:
    """Every word, without degrees, that an aspect has or borrows."""
    yield from dict.fromkeys(
        (*speech.graded, *(" ".join(parts) for parts in speech.plain), *speech.shared, *SETTLED)
    )


def heard(text: str, speech: Speech, now: tuple[str, ...] = ()) -> dict[str, str]:
    said = parse_phrases(text, speech, now=now).said
    return {one.aspect: one.word if one.size is None else f"{one.word} {one.size}" for one in said}


@pytest.mark.parametrize("speech", SPEECHES, ids=list(FAMILIES))
def test_the_name_of_an_aspect_leads_whatever_it_is_called(speech: Speech) -> None:
    """Each word with each aspect's name: its own word for it, or a refusal that lists its words."""
    assert set(speech.family.aspects) <= set(speech.names.values())
    for name, aspect in speech.names.items():
        kind = speech.family.kind(aspect)
        for word in words_of(speech):
            own = speech.said_of(aspect, word)
            if own is None:
                with pytest.raises(NotUnderstood) as refused:
                    heard(f"{name} {word}", speech)
                known = word not in SETTLED or speech.aspects_of(word)
                assert refused.value.code == ("bad-word" if known else "unknown-word"), word
            elif " / " in own:
                with pytest.raises(NotUnderstood) as refused:
                    heard(f"{name} {word}", speech)
                meant = [heard(choice.instead, speech) for choice in refused.value.choices]
                assert meant == [{aspect: one} for one in own.split(" / ")], (name, word)
            else:
                size = "" if own in kind.unread else " 0.4"
                assert heard(f"{name} {word}{size}", speech) == {aspect: f"{own}{size}"}
                assert heard(f"{word}{size} {name}", speech) == {aspect: f"{own}{size}"}
                assert heard(f"{name}, {word}{size}", speech) == {aspect: f"{own}{size}"}


@pytest.mark.parametrize("speech", SPEECHES, ids=list(FAMILIES))
def test_a_shared_word_alone_is_its_owner_s_or_what_is_tuned_now(speech: Speech) -> None:
    for word in speech.shared:
        first, *others = speech.aspects_of(word)
        for now in ((), *((one,) for one in (first, *others))):
            meant = now[0] if now else first
            own = speech.said_of(meant, word)
            assert own is not None
            if " / " not in own:
                assert heard(word, speech, now) == {meant: own}, (word, now)
    for kind in speech.family.kinds:  # a verdict reads as it is written
        for word in kind.words:
            assert heard(word, speech) == {kind.name: word}


def test_every_family_whose_aspects_share_a_word_says_so() -> None:
    """Which do, and which not: a step is proud or shy whatever it is called."""
    shared = {speech.family.name: sorted(speech.shared) for speech in SPEECHES if speech.shared}
    assert shared == {
        "box": ["flush", "in", "level", "out", "proud", "shy"],
        "sliding": ["tight"],
        "tenon": ["tight"],
        "tongue-groove": ["tight"],
        "housing": ["proud", "shy"],
        "rabbet": ["flush", "proud", "right", "shy"],
        "lock-mitre": ["even", "flush", "in", "level", "out", "over", "proud", "shy", "under"],
    }


@pytest.mark.parametrize(
    ("joint", "text", "expected"),
    [
        ("rabbet", "flush depth slightly shy", {"face": "flush", "depth": "slightly shallow"}),
        ("rabbet", "depth shy by a hair", {"depth": "slightly shallow"}),
        ("rabbet", "depth 0.4 shy", {"depth": "shallow 0.4"}),
        ("rabbet", "the face is good and the depth ok", {"face": "flush", "depth": "right"}),
        ("housing", "tight fit depth good", {"fit": "tight", "depth": "right"}),
        ("housing", "good fit, right depth", {"fit": "good", "depth": "right"}),
        ("box", "level ends, good edges, good", {"fit": "good", "edges": "level", "ends": "flush"}),
        ("lock-mitre", "two flats proud 0.3, turned upright shy 0.1", {"height": "proud 0.3"}),
        ("lock-mitre", "uprights, turned piece shy 0.2, flush", {"fence": "in 0.2"}),
        ("lock-mitre", "turned flat proud by half a mm, level", {"height": "proud 0.5"}),
        ("half-blind dovetail", "good centre, gap flank", {"centre": "centred"}),
    ],
)
def test_names_stand_where_people_put_them(joint: str, text: str, expected: dict[str, str]) -> None:
    assert expected.items() <= heard(text, speech_of(joint)).items()


def test_a_name_without_its_word_is_not_lost_on_another() -> None:
    with pytest.raises(NotUnderstood, match='"flush" is no word for the fit'):
        heard("fit, flush", speech_of("half-blind dovetail"))
    with pytest.raises(NotUnderstood, match='the word "centre" is not known'):
        heard("centre, seat flush", speech_of("half-blind dovetail"))


def test_the_answer_says_whose_the_word_was(shop: Shop) -> None:
    shop.words("bit add wide --diameter 19.05 --angle 0 --cutting-length 25")
    shop.words("stock add side --species beech --thickness 20 --width 280")
    shop.words("stock add ply --species plywood --thickness 12 --width 280")
    shop.words("start --joint rabbet --bit wide --stock side --pin-stock ply --given sheet=11.6")
    assert (
        "Piece 1: face shy 0.40 mm, depth shallow 0.20 mm."
        in shop.words("cut shy 0.4, depth shy 0.2").out
    )
    told = shop.json("cut depth shy 0.4")
    said = told["last"]["said"]
    assert (said["face"], said["depth"]) == (None, "shallow 0.40")


def test_a_later_stage_has_its_turn_once_the_first_is_right() -> None:
    """The lock mitre with its fence a stage later, as a family may have it."""
    height, fence = LOCK_MITRE.settings
    family = replace(LOCK_MITRE, settings=(height, replace(fence, stage=1)))
    said = [LOCK_MITRE.said("height", word) for word in ("proud", "flush")]
    pieces = [SimpleNamespace(verdict=Verdict((one,))) for one in said]
    for count, expected in ((0, "height"), (1, "height"), (2, "fence")):
        setup = SimpleNamespace(
            plan=SimpleNamespace(family=family), pieces=partial(list, pieces[:count])
        )
        now = tuned_now(cast(SetUp, setup))
        assert now == (expected, "corner", "fit")
        assert list(heard("proud", speech_of("lock-mitre"), now)) == [expected]
