"""What the log knows of a set-up moves the order of the causes, says why, and decides whether a
cure names a move of a setting. Which cause is likelier is common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from building import BIT, STOCK, in_words, make_cut, make_plan, make_setup

from fitlog.advice.history import History
from fitlog.domain import Plan, Reading, TrialCut
from fitlog.families.faults import Diagnosis, Likely
from fitlog.families.half_blind.faults.diagnosis import Bench
from fitlog.families.half_blind.faults.table import SYMPTOMS
from fitlog.families.half_blind.faults.words import parse_symptoms
from fitlog.families.half_blind.names import say, set_to

# Clearance by the printed size at this height: 2 x 12.6 - 22.6 - 2 x 9.0 x tan 8 deg = 0.07 mm.
GOOD = set_to(9.0, 75.0, 11.2)
_MOVES = re.compile(
    r"(\blower (?!than)|raise|deepen (?!the rabbet)|shallower|\bmove (?!at least))[^.]*?[0-9]"
    r"|(goes|moves)[^.]*? (in|out|by)[^.]*?[0-9]"
)


def diagnosed(words: str, cuts: list[TrialCut], plan: Plan | None = None) -> Diagnosis:
    at = Bench(make_setup(plan or make_plan(), GOOD, cuts), History())
    (found,) = at.diagnose(parse_symptoms(words))
    return found


def cause(found: Diagnosis, code: str) -> Likely:
    (it,) = (c for c in found.causes if c.code == code)
    return it


def order(found: Diagnosis) -> list[str]:
    return [c.code for c in found.causes]


def pieces(word: str, gap: float | None = None) -> list[TrialCut]:
    """Three pieces at one setting that were all judged alike."""
    said = say("fit", word, gap)
    return [make_cut(n, GOOD, said, None, say("seat", "flush")) for n in (1, 2, 3)]


# --- the log's word on the fit --------------------------------------------------------------------


def test_split_pins_are_no_tight_joint_where_the_log_knows_of_play() -> None:
    tight = diagnosed("pins split", pieces("tight"))
    assert order(tight)[0] == "joint-too-tight"
    assert "likelier" in in_words(cause(tight, "joint-too-tight").why[0])
    for known in (pieces("good", 0.28), pieces("slightly loose", 0.5)):
        found = diagnosed("pins split", known)
        assert order(found)[-1] == "joint-too-tight"
        why = in_words(cause(found, "joint-too-tight").why[0])
        assert "less likely, since by the log" in why
        assert cause(found, "joint-too-tight").share < 0.2 < cause(tight, "joint-too-tight").share


def test_before_any_piece_nothing_is_said_by_the_log() -> None:
    for symptom in SYMPTOMS:
        for it in diagnosed(symptom.words, []).causes:
            said = " ".join(map(in_words, (it.text, it.test, it.cure, *it.why)))
            assert "by the log the joint" not in said and "By the log" not in said, it.code


def test_a_close_fit_makes_swelling_likelier_and_a_loose_one_less_likely() -> None:
    shares = [
        cause(diagnosed("tight with glue", known), "wood-swelled").share
        for known in (pieces("good", 0.2), [], pieces("loose", 1.2))
    ]
    assert shares[0] > shares[1] > shares[2]


def test_a_seat_that_the_log_knows_to_be_good_puts_the_askew_end_first() -> None:
    plain = diagnosed("step at the face", [])
    assert order(plain)[0] == "depth"
    known = [
        replace(cut, readings=(Reading("pull_gap", 0.25),))
        for cut in (make_cut(n, GOOD, "good", None, say("seat", "flush")) for n in range(1, 9))
    ]
    at = Bench(make_setup(make_plan(), GOOD, known), History())
    shown = {"proud-now", "shy-now", "seat-good"} & set(at.shown)
    (found,) = at.diagnose(parse_symptoms("step at the face"))
    assert shown == {"seat-good"} and order(found)[0] == "end-or-stop-askew"


# --- the set-up's own figures ---------------------------------------------------------------------


def test_a_lap_that_is_fine_by_the_set_up_puts_the_height_last() -> None:
    """17 - 9 leaves 8 mm, far over the least of 2.4: no move of the height is named."""
    found = diagnosed("lap thin", [])
    assert order(found)[-1] == "height-too-great"
    last = cause(found, "height-too-great")
    assert "which is enough" in in_words(last.why[0])
    assert "pitch wider" not in in_words(last.cure) and "speaks against" in in_words(last.cure)


def test_a_cure_goes_by_stops_or_by_the_spacer_that_the_set_up_has() -> None:
    by_stops = diagnosed("last tails tight 0.1", [])
    assert "steps-differ" in order(by_stops) and "spacer-differs" not in order(by_stops)
    assert "spacer" not in " ".join(in_words(c.cure) for c in by_stops.causes)
    spaced = diagnosed("last tails tight 0.1", [], make_plan(spaced=True))
    assert "spacer-differs" in order(spaced) and "steps-differ" not in order(spaced)
    for found in (by_stops, spaced):
        assert sum(c.share for c in found.causes) == pytest.approx(1)


def test_a_mouth_in_the_log_gives_the_size_and_the_cause_of_a_wide_slot() -> None:
    """12.6 - 2 x 9 x tan 8 deg = 10.070 mm is reckoned; 10.32 was measured."""
    cut = make_cut(1, GOOD, None, readings=(Reading("mouth", 10.32),))
    found = diagnosed("slot wider than the bit", [cut])
    assert found.source == "log" and found.size == pytest.approx(0.25, abs=0.001)
    first = found.causes[0]
    assert first.code == "bit-larger-than-stored"
    assert any("piece 1 was logged with a mouth of 10.32 mm" in in_words(w) for w in first.why)
    measured = make_plan(bit=replace(BIT, measured=True))
    assert diagnosed("slot wider than the bit", [], measured).causes[0].code == "passed-twice"


def test_slender_tails_and_dry_wood_move_the_causes_of_a_broken_tail() -> None:
    assert order(diagnosed("tails broke", []))[-1] != "short-grain"
    slender = make_plan(pitch=15.2)  # 2.6 mm at the root, 9 mm long
    assert diagnosed("tails broke", [], slender).causes[0].code == "tails-slender"
    dry = replace(STOCK, moisture=5.0)
    found = diagnosed("tails broke", [], make_plan(stock=dry, pin_stock=dry))
    assert any("only 5.0 % moisture" in in_words(w) for w in cause(found, "short-grain").why)


def test_moisture_goes_by_what_was_measured_at_the_start() -> None:
    found = diagnosed(
        "moisture",
        [],
        make_plan(moisture=8.0, pin_moisture=11.0, pin_stock=replace(STOCK, name="other")),
    )
    assert found.causes[0].code == "two-boards-differ"
    assert "at 8.0 and 11.0 % moisture" in in_words(found.causes[0].why[0])


# --- moves of settings ----------------------------------------------------------------------------


@pytest.mark.parametrize("symptom", SYMPTOMS, ids=lambda s: s.code)
def test_no_cure_names_a_move_of_a_setting_that_nothing_measured_supports(symptom: object) -> None:
    """Without a size, without a piece: no setting is to be moved by any number."""
    for it in diagnosed(symptom.words, []).causes:  # type: ignore[attr-defined]
        assert not _MOVES.search(in_words(it.cure).lower()), (it.code, in_words(it.cure))


@pytest.mark.parametrize("words", ["middle tight", "last tail only loose", "edges uneven"])
def test_a_typed_size_supports_the_move(words: str) -> None:
    plain, sized = diagnosed(words, []).causes[0], diagnosed(f"{words} 0.14", []).causes[0]
    assert "then the move is told" in in_words(plain.cure)
    assert "then the move is told" not in in_words(sized.cure)
    assert _MOVES.search(in_words(sized.cure).lower())


def test_what_the_log_speaks_against_is_not_moved_even_with_a_size() -> None:
    """Walls that are alike twice: the centre is right, so a tight middle tail is something else."""
    walls = Reading("walls", 69.2, other=69.2)
    cuts = [make_cut(n, GOOD, "good", readings=(walls,)) for n in (1, 2, 3)]
    found = diagnosed("middle tight 0.14", cuts)
    off = cause(found, "centre-off")
    assert "by the log the centre is right" in in_words(off.why[0])
    assert "speaks against it" in in_words(off.cure)
    assert not _MOVES.search(in_words(off.cure).lower())


# --- safety ---------------------------------------------------------------------------------------

ALL = [
    (s.code, c.code, part)
    for s in SYMPTOMS
    for c in s.causes
    for text in (c.test, c.cure, c.move)
    for part in re.split(r"(?<=[.?])\s", text)
]


@pytest.mark.parametrize("units", ["mm", "fraction"])
def test_whoever_looks_at_the_bit_is_told_to_unplug_in_the_same_line(units: str) -> None:
    at_bit = re.compile(
        r"\b(its edges|the tip|its tip|bit's tip|tip's edges|collet|the shank|"
        r"measure the bit's height)\b"
    )
    for symptom in SYMPTOMS:
        for it in diagnosed(symptom.words, []).causes:
            for text in (in_words(it.test, units), in_words(it.cure, units)):
                if at_bit.search(text):
                    assert re.search("[Uu]nplugged", text), (symptom.code, it.code, text)


def test_no_test_or_cure_asks_for_a_second_pass_or_a_climb_cut() -> None:
    for symptom, code, sentence in ALL:
        again = re.search(
            r"pass (once more|again)|another pass|one more pass|second pass", sentence.lower()
        )
        assert (
            not again or "don't pass again" in sentence.lower() or "make the second" in sentence
        ), (
            symptom,
            code,
            sentence,
        )


def test_what_is_done_first_stands_before_the_causes_of_a_broken_or_a_slipped_bit() -> None:
    for words in ("bit broke", "bit slipped"):
        first = diagnosed(words, []).first
        assert first is not None and in_words(first).startswith("Switch off, wait until")
        assert "unplug" in in_words(first)


def test_under_fractions_nothing_is_said_in_mm() -> None:
    for symptom in SYMPTOMS:
        found = diagnosed(symptom.words, pieces("tight"))
        for it in found.causes:
            for remark in (it.text, it.test, it.cure, *it.why):
                assert not re.search(r"\bmm\b", in_words(remark, "fraction")), it.code
        assert found.first is None or " mm" not in in_words(found.first, "fraction")
