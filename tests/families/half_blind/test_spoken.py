"""Usual phrases: what is logged, asked and suggested, over the whole list; slips of the hand."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import given, seed, settings
from hypothesis import strategies as st
from spoken import ASKED, LOGGED, NEITHER, SLIPS

from fitlog.domain import Verdict
from fitlog.errors import FitlogError
from fitlog.families.half_blind.english import usual as data
from fitlog.families.half_blind.speech import SPEECH
from fitlog.language.phrases import parse_phrases
from fitlog.language.usual import ARTICLES, FILLERS, parts_of

Sides = frozenset[tuple[str, object]]


def listed(table: dict[str, str]) -> list[tuple[str, str]]:
    """Each phrase of a table with what it is listed under."""
    return [(" ".join(one.split()), key) for key, row in table.items() for one in row.split(";")]


def shown(verdict: Verdict) -> str:
    return str(verdict)


def refusal(text: str) -> FitlogError:
    with pytest.raises(FitlogError) as caught:
        parse_phrases(text, SPEECH)
    return caught.value


SAID, QUESTIONS = listed(LOGGED), listed(ASKED)
TABLE = [pair for table in (data.SIDES, data.MEANT) for pair in listed(table) if pair[1]]
TABLE_ASKED = listed(data.ASKED)


def test_the_list_has_what_was_asked_for() -> None:
    phrases = {text for text, _ in (*SAID, *QUESTIONS)} | set(SLIPS)
    assert len(phrases) >= 200
    # What a maker tried and no fitlog knew; "of" and "by" before its size.
    tried = (
        "snug; sloppy; wobbly; won't go in; falls apart; binds; perfect; spot on; needs a mallet; "
        "hand tight; slack; recessed 0.3; stands proud by 0.2; sunk; a hair proud; dead flush; "
        "off centre; 0.3 shy; gap at the fence 0.2; falls out"
    )
    assert set(tried.split("; ")) <= phrases


@pytest.mark.parametrize(("text", "meant"), SAID)
def test_is_logged_as(text: str, meant: str) -> None:
    assert shown(parse_phrases(text, SPEECH)) == meant
    assert shown(parse_phrases(text.split(), SPEECH)) == meant


@pytest.mark.parametrize(("text", "meant"), QUESTIONS)
def test_is_asked_about(text: str, meant: str) -> None:
    error = refusal(text)
    assert (error.code, error.exit_code) == ("which-meaning", 2)
    assert " / ".join(choice.say for choice in error.choices) == meant
    for choice in error.choices:
        assert choice.say in error.hint
        assert str(parse_phrases(choice.instead, SPEECH)) == choice.say


def test_a_choice_keeps_what_was_said_beside_it() -> None:
    error = refusal("slack, a bit of a step of 0.3, gap at the fence 0.2")
    assert [str(parse_phrases(c.instead, SPEECH)) for c in error.choices] == [
        "loose, gap near 0.20, proud 0.30",
        "loose, gap near 0.20, shy 0.30",
    ]


@pytest.mark.parametrize(("text", "meant"), SLIPS.items())
def test_a_slip_of_the_hand_is_suggested(text: str, meant: str) -> None:
    error = refusal(text)
    assert error.code == "unknown-word"
    assert f"did you mean {meant}?" in error.hint.replace(" or ", "? ")
    assert meant in [choice.say for choice in error.choices]


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("slighly tigth, flush", "slightly tight"),
        ("flush, a hiar tigth", "a hair tight"),
        ("gpa faar", "gap far"),
        ("fals aprt", "falls apart"),
        ("ded fluhs", "dead flush"),
        ("neds a malet", "needs a mallet"),
        ("sligthly lose, gapp nera 0.3", "slightly loose"),
        ("tight and prowd", "proud"),
    ],
)
def test_two_slips_in_one_phrase_get_one_suggestion(text: str, meant: str) -> None:
    assert [choice.say for choice in refusal(text).choices] == [meant]


@pytest.mark.parametrize("text", ["hanf tigt", "xlsh tigz", "bindy prouf"])
def test_slips_that_could_be_two_things_get_the_example(text: str) -> None:
    """What was meant is of two aspects, or of none: a suggestion would be a guess."""
    assert all(choice.say.isalpha() for choice in refusal(text).choices)


WORDS = [word for kind in SPEECH.family.kinds for word in kind.words]
UNREAD = {word for kind in SPEECH.family.kinds for word in kind.unread}
OTHERS = ["gap baseline", "gap inside", "gap", "a hair proud", "sloppy", "gap at the fence"]


@pytest.mark.parametrize("first", [*WORDS, *OTHERS])
def test_a_number_between_two_words_is_asked_about_or_nobody_else_s(first: str) -> None:
    """Without a pause either word may have it, where both take one and the first is of the fit,
    which is mostly said without; a gap's or a step's number is its own.
    """
    for behind in (*WORDS, *OTHERS):
        check_number_between(first, behind)


def check_number_between(first: str, behind: str) -> None:
    with_number = parse_phrases(first, SPEECH), parse_phrases(behind, SPEECH)
    if sides_only(with_number[0]) & sides_only(with_number[1]):
        return  # a contradiction, whoever has the number
    text = f"{first} 0.3 {behind}"
    if first in UNREAD:
        assert refusal(text).code in ("no-size", "tight-with-gap")
    elif behind in UNREAD or with_number[0].of("fit") is None:
        assert parse_phrases(text, SPEECH) == parse_phrases(f"{first} 0.3, {behind}", SPEECH)
    else:
        error = refusal(text)
        assert (error.code, error.exit_code) == ("which-meaning", 2)
        meant = [parse_phrases(choice.instead, SPEECH) for choice in error.choices]
        assert meant == [
            parse_phrases(f"{first}, {behind} 0.3", SPEECH),
            parse_phrases(f"{first} 0.3, {behind}", SPEECH),
        ]
    for clear in (f"{first} {behind} 0.3", f"{first} 0.3, {behind}", f"{first} 0.2 {behind} 0.3"):
        try:
            said = parse_phrases(clear, SPEECH)
        except FitlogError as error:
            assert error.code in ("no-size", "tight-with-gap"), clear
        else:
            assert sides_only(said) == sides_only(with_number[0]) | sides_only(with_number[1])


def sides_only(verdict: Verdict) -> frozenset[str]:
    """The aspects that were judged, and the places of gaps."""
    return frozenset({s.aspect for s in verdict.said} | {f.place for f in verdict.faults})


@pytest.mark.parametrize("text", [" ".join(one.split()) for one in NEITHER.split(";")])
def test_what_is_no_setting_s_is_never_logged(text: str) -> None:
    assert not refusal(text).choices


@pytest.mark.parametrize("text", ["last tail tight", "middle one binds", "cracked board"])
def test_a_fault_is_sent_to_fault(text: str) -> None:
    assert "fitlog fault" in refusal(text).hint


def test_a_suggestion_speaks_of_one_aspect() -> None:
    for word in ("flack", "sluck", "lush", "fard", "mear", "snunk", "slank"):
        about = {
            frozenset(SPEECH.phrases[parts_of(choice.say)]) for choice in refusal(word).choices
        }
        assert len(about) <= 1, word


def test_every_phrase_of_the_table_is_heard_as_it_stands_there() -> None:
    found = [text for text, _ in (*TABLE, *TABLE_ASKED)]
    assert len(found) == len(set(map(parts_of, found))), "a phrase stands twice"
    for text, meant in TABLE:
        assert str(parse_phrases(text, SPEECH)) == meant, text
    for text, meant in TABLE_ASKED:
        assert " / ".join(c.say for c in refusal(text).choices) == meant, text


def test_no_phrase_begins_where_a_gap_looks_for_its_side() -> None:
    for parts in SPEECH.usual:
        assert parts[0] not in {*SPEECH.sides, *SPEECH.places}, parts
        assert not set(parts) & ARTICLES and parts != () and not set(parts) <= FILLERS, parts


def sides(verdict: Verdict) -> Sides:
    """Each aspect that was judged with its side; gaps that no setting cures are one aspect."""
    gaps = {("gap", 0) for _ in verdict.faults}
    return frozenset({(said.aspect, said.side) for said in verdict.said} | gaps)


def slips_of(text: str) -> Iterator[str]:
    """A text with one letter dropped, doubled, or swapped with the next."""
    for i, letter in enumerate(text):
        if letter.isalpha():
            yield text[:i] + text[i + 1 :]
            yield text[:i] + letter + text[i:]
            if text[i + 1 : i + 2].isalpha():
                yield text[:i] + text[i + 1] + letter + text[i + 2 :]


def meanings(meant: str) -> set[Sides]:
    return {sides(parse_phrases(one, SPEECH)) for one in meant.split(" / ")}


def check_slip(text: str, slipped: str, meant: set[Sides], beside: Sides = frozenset()) -> None:
    """A slip is refused or asked about, or logged as nothing of another aspect or side."""
    try:
        said = sides(parse_phrases(slipped, SPEECH))
    except FitlogError as error:
        assert error.hint
    else:
        assert any(said <= one | beside for one in meant), (text, slipped)


EVERY = [*SAID, *QUESTIONS, *TABLE, *TABLE_ASKED]


@given(st.data(), st.sampled_from(EVERY))
@seed(31)
@settings(max_examples=300, deadline=None)
def test_a_slip_is_never_another_aspect_or_side(data: st.DataObject, one: tuple[str, str]) -> None:
    text, meant = one
    slipped = data.draw(st.sampled_from(sorted(set(slips_of(text)))))
    check_slip(text, slipped, meanings(meant))


@given(st.data(), st.sampled_from(EVERY), st.sampled_from(SAID))
@seed(32)
@settings(max_examples=200, deadline=None)
def test_a_slip_in_one_of_two_phrases_is_never_another_aspect_or_side(
    data: st.DataObject, one: tuple[str, str], other: tuple[str, str]
) -> None:
    slipped = data.draw(st.sampled_from(sorted(set(slips_of(one[0])))))
    beside = sides(parse_phrases(other[0], SPEECH))
    check_slip(one[0], f"{slipped}, {other[0]}", meanings(one[1]), beside)


@pytest.mark.long
def test_no_slip_at_all_is_another_aspect_or_side() -> None:
    for text, meant in dict(EVERY).items():
        held = meanings(meant)
        for slipped in set(slips_of(text)):
            check_slip(text, slipped, held)
