"""Symptoms in a maker's words: any order, commas optional, near words hinted at, and never a
traceback.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitlog.errors import FitlogError, NotUnderstood, Refused
from fitlog.families.half_blind.faults.table import SYMPTOMS
from fitlog.families.half_blind.faults.words import VOCABULARY, parse_symptoms


def heard(text: str, units: str = "mm") -> list[tuple[str, float | None]]:
    return [(s.symptom.code, s.size) for s in parse_symptoms(text, units=units)]


@pytest.mark.parametrize("symptom", SYMPTOMS, ids=lambda s: s.code)
def test_what_is_listed_is_understood_as_words_and_as_a_sentence(symptom: object) -> None:
    code = symptom.code  # type: ignore[attr-defined]
    for text in (symptom.words, symptom.title, symptom.words.upper()):  # type: ignore[attr-defined]
        assert [c for c, _ in heard(text)] == [code], text
    backwards = " ".join(reversed(symptom.words.replace("-", " ").split()))  # type: ignore[attr-defined]
    assert [c for c, _ in heard(backwards)] == [code]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("gap at the baseline", "gap-baseline"),
        ("the shoulder is open", "gap-baseline"),
        ("first tails fit and the last bind", "last-tails-tight"),
        ("binds across the board", "last-tails-tight"),
        ("first joints good, later ones tight", "later-joints-tight"),
        ("tails go in at one end only", "one-end-only"),
        ("one board higher", "edges-do-not-meet"),
        ("edges don't meet", "edges-do-not-meet"),
        ("tight at the start then loose", "starts-tight"),
        ("nothing changes when the height is moved", "move-did-nothing"),
        ("moved twice as much", "move-overshot"),
        ("the height moved 2x", "move-overshot"),
        ("half-pins splitting", "pins-split"),
        ("bit marks", "flank-marks"),
        ("showing through", "lap-thin"),
        ("only the centre tail is slack", "middle-loose"),
        ("one flank tight and the other open", "gap-flank"),
        ("torn out", "ragged"),
        ("scorched", "burnt"),
        ("gap on the show face", "gap-outside"),
        ("gap at one edge", "gap-one-edge"),
    ],
)
def test_words_of_the_trade(text: str, code: str) -> None:
    assert [c for c, _ in heard(text)] == [code]


def test_sizes_in_every_unit() -> None:
    assert heard("gap baseline 0.2") == [("gap-baseline", 0.2)]
    assert heard("gap baseline 0,2 mm") == [("gap-baseline", 0.2)]
    assert heard("gap baseline 1/64") == [("gap-baseline", pytest.approx(25.4 / 64))]
    assert heard("gap baseline 4 thou") == [("gap-baseline", pytest.approx(0.1016))]
    assert heard("gap baseline 0.01", "inch") == [("gap-baseline", pytest.approx(0.254))]


def test_several_symptoms_each_with_its_size() -> None:
    two = [("gap-baseline", 0.2), ("middle-loose", 0.1)]
    assert (
        heard("gap baseline 0.2 middle loose 0.1")
        == heard("gap baseline 0.2, middle loose 0.1")
        == two
    )
    assert heard("last tails tight, middle loose 0.1") == [
        ("last-tails-tight", None),
        ("middle-loose", 0.1),
    ]
    assert heard("gap baseline gap baseline 0.2") == [("gap-baseline", 0.2)]


@pytest.mark.parametrize(
    ("text", "code", "hint"),
    [
        ("gap", "unclear-symptom", "gap baseline"),
        ("middle", "unclear-symptom", "middle tight"),
        ("tight", "unclear-symptom", "middle tight"),
        ("gap baselin", "unknown-word", "baseline"),
        ("qqqq", "unknown-word", "for the list"),
        ("not tight", "unknown-word", "say what is seen"),
        ("the joint", "nothing-said", "for the list"),
        ("0.2", "stray-number", "say the symptom"),
        ("ragged 0.2", "no-size", "leave"),
        ("gap baseline 1/8turn", "bad-length", "as a length"),
        ("gap baseline -0.2", "bad-size", "leave the number out"),
        ("gap baseline 0", "bad-size", "leave the number out"),
        ("gap baseline 0.2 kg", "unknown-word", ""),
    ],
)
def test_what_means_nothing_is_hinted_at(text: str, code: str, hint: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        parse_symptoms(text)
    assert caught.value.code == code and hint in caught.value.hint


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(Refused, match="plausible") as caught:
        parse_symptoms("gap baseline 20")
    assert caught.value.code == "absurd-size"
    with pytest.raises(Refused, match="said twice"):
        parse_symptoms("gap baseline 0.2, gap baseline 0.3")
    with pytest.raises(NotUnderstood, match="too many"):
        parse_symptoms("gap " * 1000)


def test_nothing_typed_is_no_symptom() -> None:
    assert parse_symptoms(()) == parse_symptoms("  ") == ()


TYPED = st.lists(
    st.sampled_from(
        [
            *VOCABULARY,
            "the",
            ",",
            "not",
            "don't",
            "0.2",
            "1/64",
            "1",
            "in",
            "mm",
            "-1",
            "--x",
            "12 gap",
            "\u2019",
            "(",
            "meet",
        ]
    )
    | st.text(max_size=8),
    max_size=8,
)


@settings(max_examples=400, derandomize=True, deadline=None, database=None)
@given(TYPED, st.sampled_from(["mm", "inch", "fraction"]))
def test_no_words_give_a_traceback(typed: list[str], units: str) -> None:
    try:
        found = parse_symptoms(typed, units=units)
    except FitlogError as error:
        assert error.message and error.hint
    else:
        codes = [s.symptom.code for s in found]
        assert len(set(codes)) == len(codes) and all(
            s.size is None or 0 < s.size <= 10 for s in found
        )


@settings(max_examples=200, derandomize=True, deadline=None, database=None)
@given(st.sampled_from(SYMPTOMS), st.data())
def test_the_order_of_words_does_not_matter(symptom: object, data: st.DataObject) -> None:
    words = data.draw(st.permutations(symptom.words.replace("-", " ").split()))  # type: ignore[attr-defined]
    assert [c for c, _ in heard(" ".join(words))] == [symptom.code]  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("last tail tight", "far-tail-tight"),
        ("only the last tail rattles", "far-tail-loose"),
        ("the last tail is tight", "far-tail-tight"),
        ("last tails tight", "last-tails-tight"),
        ("first tails bind and the last fit", "first-tails-tight"),
        ("gap at the bottom", "gap-baseline"),
        ("tails are shy", "stands-shy"),
        ("tails stand proud", "stands-proud"),
        ("fit got tighter during the run later", "later-joints-tight"),
    ],
)
def test_words_that_once_meant_something_else(text: str, code: str) -> None:
    assert [c for c, _ in heard(text.replace("during", "in"))] == [code]


def test_not_closing_is_no_height_that_did_nothing() -> None:
    with pytest.raises(NotUnderstood):
        parse_symptoms("doesn't close")
