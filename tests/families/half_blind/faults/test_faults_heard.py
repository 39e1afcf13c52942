"""Every phrase of the list means what it says, or is asked about with the right choices."""

from __future__ import annotations

import pytest
from fault_phrases import ASKED, MEANT

from fitlog.errors import NotUnderstood
from fitlog.families.half_blind.faults.table import SYMPTOMS
from fitlog.families.half_blind.faults.vocabulary import CANON, FILLERS, QUESTIONS
from fitlog.families.half_blind.faults.words import parse_symptoms

WORDS = {s.code: s.words for s in SYMPTOMS}


def heard(text: str) -> list[str]:
    return [s.symptom.code for s in parse_symptoms(text)]


def test_the_list_has_every_symptom_and_many_phrases() -> None:
    assert set(MEANT) == set(WORDS)
    assert sum(map(len, MEANT.values())) + len(ASKED) >= 200


@pytest.mark.parametrize("code", MEANT)
def test_what_is_meant_is_understood(code: str) -> None:
    """As it is, in capitals, with a size where there is one, and beside another symptom."""
    assert {text: heard(text) for text in MEANT[code]} == {text: [code] for text in MEANT[code]}
    other = "burnt" if code != "burnt" else "rocks"
    for text in MEANT[code]:
        assert heard(text.upper()) == [code]
        assert heard(f"{text}, {other}") == [code, other], text
        assert heard(f"{other}; {text}") == [other, code], text


@pytest.mark.parametrize("text", ASKED)
def test_what_may_mean_several_is_asked_with_the_right_choices(text: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        parse_symptoms(text)
    assert caught.value.code == "unclear-symptom"
    assert not [code for code in ASKED[text] if WORDS[code] not in caught.value.hint]


def test_what_a_question_offers_can_be_typed_and_its_words_alone_mean_nothing() -> None:
    for question in QUESTIONS:
        for code in question.codes:
            assert heard(WORDS[code]) == [code]
        assert question.said <= set(CANON.values())
        with pytest.raises(NotUnderstood):
            parse_symptoms(" ".join(sorted(question.said)))


def test_no_word_both_says_something_and_says_nothing() -> None:
    assert not set(CANON) & FILLERS


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        ("last tails tight middle loose", ["last-tails-tight", "middle-loose"]),
        ("middle tight last tails loose", ["middle-tight", "last-tails-loose"]),
        ("gap flank middle tight", ["gap-flank", "middle-tight"]),
        ("burnt ragged slot wider than the bit", ["burnt", "ragged", "slot-oversize"]),
    ],
)
def test_without_commas_words_belong_to_their_neighbours(text: str, codes: list[str]) -> None:
    """Taken as one heap the first of these would be a loose last and a tight middle tail."""
    assert heard(text) == codes


def test_a_word_between_two_symptoms_that_may_belong_to_either_is_asked_about() -> None:
    """Only the middle tight, or only the last one loose?"""
    with pytest.raises(NotUnderstood) as caught:
        parse_symptoms("middle tight only last loose")
    assert WORDS["far-tail-loose"] in caught.value.hint
    assert WORDS["last-tails-loose"] in caught.value.hint
    assert heard("middle tight, only last loose") == ["middle-tight", "far-tail-loose"]


@pytest.mark.parametrize("text", ["slak in the middle", "baselin gap", "cuped board"])
def test_a_typing_error_is_asked_about_not_taken(text: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        parse_symptoms(text)
    assert caught.value.hint.startswith("did you mean") or "list" in caught.value.hint


def test_a_word_of_another_kind_is_not_suggested() -> None:
    """It is like "hard" and "shear" by its letters, and neither by what it says."""
    with pytest.raises(NotUnderstood) as caught:
        parse_symptoms("hairs")
    assert "did you mean" not in caught.value.hint
