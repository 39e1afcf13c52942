"""The reader: the one place that turns text into typed requests, without a front and without a log.

What a person types at a command line, presses at the machine or writes into a table is the same
cut, so that each way is held against another one.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from building import make_cut, make_plan, make_setup
from hypothesis import given
from hypothesis import strategies as st
from tables import table

from fitlog.domain import Aspect, Reading, Verdict
from fitlog.errors import FitlogError, NotUnderstood, Refused
from fitlog.exchange.columns import Columns
from fitlog.exchange.sheet import read_sheet
from fitlog.families.half_blind.names import ASPECTS, HALF_BLIND, WORDS, say, set_to
from fitlog.families.half_blind.speech import SPEECH
from fitlog.language import phrases
from fitlog.service.reader import Reader
from fitlog.service.reader.cuts import CutTyped, Dialled, changed, numbered, reported
from fitlog.service.reader.lengths import Asks
from fitlog.service.reader.readings import readings
from fitlog.service.reader.rows import Table, read_cuts

JOINT, COLUMNS = HALF_BLIND.name, Columns(SPEECH)
FIRST = set_to(8.7, 75.0, 11.0)
TURNING = table("corner", height_turn=1.6, height_zero=0.4, fence_zero=-2.0)
NOW = datetime(2031, 6, 1, tzinfo=UTC)
word = st.sampled_from([(aspect, word) for aspect in ASPECTS for word in WORDS[aspect]])
number = st.one_of(
    st.decimals("0.01", "12", places=2).map(str),
    st.builds("{}/{}".format, st.integers(1, 40), st.sampled_from([8, 16, 32, 64])),
)


def parse_phrases(text: str) -> Verdict:
    """What is said of a half-blind dovetail."""
    return phrases.parse_phrases(text, SPEECH)


def told_or_refused(read: object) -> object:
    """What a call gives; of a refusal its kind, code and sentence."""
    try:
        return read()  # type: ignore[operator]
    except FitlogError as error:
        return type(error), error.code, error.message, error.hint


@given(word, number, st.sampled_from(["", " mm", " in", "in", " turn", " MM"]))
def test_a_number_added_at_the_machine_is_as_if_it_were_said_with_the_word(
    said: tuple[Aspect, str], typed: str, unit: str
) -> None:
    """All that the dialogue adds is its own name for a number that is none."""
    reader, one = Reader("mm"), say(*said)

    def at_the_machine() -> object:
        return numbered(reader, JOINT, one, typed + unit).verdict

    def as_phrase() -> object:
        return parse_phrases(f"{one.word} {typed}{unit}")

    found, spoken = told_or_refused(at_the_machine), told_or_refused(as_phrase)
    if isinstance(found, tuple) and "the number" in found[2]:
        assert isinstance(spoken, tuple) and spoken[:2] == found[:2]
    else:
        assert found == spoken


@given(word, st.decimals("0.01", "0.9", places=2), st.sampled_from(["mm", "in"]))
def test_a_size_in_a_column_is_as_if_it_were_said_with_the_word(
    said: tuple[Aspect, str], size: object, unit: str
) -> None:
    aspect, spoken = said
    column = {"fit": "gap", "centre": "centre size", "seat": "step"}[aspect]
    text = f"{aspect};{column} ({unit})\n{spoken};{size}\n"
    cuts, problems, _ = read_cuts(
        read_sheet(text.encode(), COLUMNS), Table("mm", columns=COLUMNS, now=NOW)
    )
    phrase = told_or_refused(lambda: parse_phrases(f"{spoken} {size} {unit}"))
    if isinstance(phrase, tuple):
        assert not cuts and len(problems) == 1
    else:
        assert [cut.verdict for cut in cuts] == [phrase]


def test_a_cut_is_read_whole_without_anybody_to_ask() -> None:
    setup = make_setup(make_plan(machine=TURNING), FIRST, [make_cut(1, FIRST, "tight")])
    typed = CutTyped(
        ("slightly", "tight,", "gap", "far", "1/64"),
        {"bit_height": Dialled(less="1/8 turn"), "fence_offset": Dialled("73.2")},
        {"pull_gap": "0.2", "walls": ("70.5", "70,1 mm"), "mouth": None},
        note="after lunch",
    )
    told, moved = reported(Reader("mm"), setup, typed)
    assert told.verdict == parse_phrases("slightly tight, gap far 1/64in")
    assert told.heard == "slightly tight, gap far 1/64" and told.note == "after lunch"
    assert told.readings == (Reading("pull_gap", 0.2), Reading("walls", 70.5, other=70.1))
    # a move is a length; the fence is on the person's own scale, which shows 2 mm too little
    assert told.changed == pytest.approx({"bit_height": 8.5, "fence_offset": 75.2})
    assert moved == pytest.approx({"bit_height": -0.2})


def test_a_bare_fraction_at_a_lift_that_counts_turns_is_asked_about_or_refused() -> None:
    setup = make_setup(make_plan(machine=TURNING), FIRST, [make_cut(1, FIRST, "tight")])
    asked: list[str] = []

    def second(question: str) -> bool:
        asked.append(question)
        return len(asked) == 2

    dialled = {"bit_height": Dialled(more="1/8")}
    _, moved = changed(Reader("mm", Asks(second, lambda _: None)), setup, dialled)
    assert moved == pytest.approx({"bit_height": 25.4 / 8}) and "turn" in asked[0]
    with pytest.raises(NotUnderstood) as refused:
        changed(Reader("mm"), setup, dialled)
    assert refused.value.code == "turn-or-inch"


def test_readings_keep_their_order_and_name_what_they_were_taken_of() -> None:
    typed = [("over_rods", ("6", "20.4")), ("mouth", "8"), ("over_rods", ("4", "18"))]
    found = readings(Reader("mm"), JOINT, typed, "anything on a sample")
    assert found == (
        Reading("over_rods", 20.4, rod=6.0),
        Reading("mouth", 8.0),
        Reading("over_rods", 18.0, rod=4.0),
    )
    with pytest.raises(Refused, match="anything on a sample"):
        readings(Reader("mm"), JOINT, [("mouth", "300")], "anything on a sample")


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        (Dialled("9", more="0.1"), "two-settings"),
        (Dialled(more="0.1", less="0.1"), "two-settings"),
        (Dialled(more="0.1"), "no-piece"),
        (Dialled("900"), "absurd-size"),
        (Dialled("nine"), "bad-length"),
    ],
)
def test_what_cannot_be_dialled_is_refused(typed: Dialled, code: str) -> None:
    setup = make_setup(make_plan(), FIRST)
    with pytest.raises(FitlogError) as refused:
        changed(Reader("mm"), setup, {"bit_height": typed})
    assert refused.value.code == code
