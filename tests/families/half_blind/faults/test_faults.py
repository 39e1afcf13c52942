"""Faults that no setting cures: the table, the order of causes, and amounts against independent
arithmetic.

The relations checked here are those of elementary geometry (tangent of a lean, similar triangles)
and of the Wood Handbook (FPL-GTR-190, equation 13-2), written out anew; which cause is likelier is
common practice, no source.
"""

from __future__ import annotations

import re
import string
from dataclasses import replace

import pytest
from building import BIT, STOCK, in_words, make_cut, make_plan, make_setup
from tables import table

from fitlog.advice.history import History
from fitlog.domain import Fault, Plan, SetUp, Stock
from fitlog.families.faults import Diagnosis
from fitlog.families.half_blind.faults.diagnosis import Bench
from fitlog.families.half_blind.faults.table import SYMPTOMS
from fitlog.families.half_blind.faults.words import parse_symptoms
from fitlog.families.half_blind.names import judged, say, set_to
from fitlog.language.units import Ruler

AT = set_to(9.5, 75.0, 11.2)
CODES = [s.code for s in SYMPTOMS]


def diagnosed(words: str, setup: SetUp | None = None) -> Diagnosis:
    """What is found for one symptom of a set-up, one without any pieces by default."""
    at = Bench(setup or make_setup(make_plan(), AT), History())
    (found,) = at.diagnose(parse_symptoms(words))
    return found


def amount(words: str, cause: str, name: str, plan: Plan | None = None) -> float:
    """One figure of one cause."""
    found = diagnosed(words, make_setup(plan or make_plan(), AT))
    return next(c for c in found.causes if c.code == cause).amounts[name]


# --- the table ------------------------------------------------------------------------------------


def test_codes_are_stable_words_used_once() -> None:
    assert len(set(CODES)) == len(CODES) and len({s.words for s in SYMPTOMS}) == len(CODES)
    for symptom in SYMPTOMS:
        causes = [c.code for c in symptom.causes]
        assert len(set(causes)) == len(causes)
        assert all(re.fullmatch(r"[a-z]+(-[a-z]+)*", code) for code in (symptom.code, *causes))


@pytest.mark.parametrize("symptom", SYMPTOMS, ids=CODES)
def test_every_symptom_has_causes_each_with_a_test_and_a_cure(symptom: object) -> None:
    found = diagnosed(symptom.words)  # type: ignore[attr-defined]
    assert len(found.causes) >= 2
    assert sum(c.share for c in found.causes) == pytest.approx(1)
    assert [c.share for c in found.causes] == sorted((c.share for c in found.causes), reverse=True)
    for cause in found.causes:
        for text in map(in_words, (cause.text, cause.test, cause.cure)):
            assert len(text) > 20 and text[0].isupper() and text[-1] in ".?" and text.isascii()
            assert "{" not in text and "  " not in text


def test_every_sign_and_amount_of_the_table_exists() -> None:
    """A sign that nothing ever shows, or a figure that nobody works out, would be dead letters."""
    shown = {"up-to-date"}
    source = "".join(p.read_text(encoding="utf-8") for p in sources("signs.py"))
    for symptom in SYMPTOMS:
        for cause in symptom.causes:
            shown |= {sign for sign, _ in cause.signs}
            named = {
                name
                for text in (cause.text, cause.test, cause.cure)
                for _, name, _, _ in string.Formatter().parse(text)
            }
            assert not {n for n in named if n} - set(figures()), cause.code
    built = {
        "tighter-log",
        "looser-log",
        "nothing-log",
        "twice-log",
    }  # put together there
    assert not {s for s in shown - built - {"up-to-date"} if f'"sign-{s}"' not in source}


def sources(*names: str) -> list:  # type: ignore[type-arg]
    from pathlib import Path

    import fitlog.families.half_blind.faults as faults

    return [Path(faults.__file__).parent / name for name in names]


def figures() -> dict[str, str]:
    from fitlog.families.half_blind.english.faults import texts
    from fitlog.families.half_blind.faults.figures import Figures
    from fitlog.families.telling import COMMANDS
    from fitlog.language.saying import Tongue

    told = Figures(make_plan(), AT, 0.1, 0.07, (0.04, 0.10)).told
    return texts(Tongue(Ruler(), COMMANDS, {}), **told)  # type: ignore[arg-type]


# --- amounts: a bit of 12.6 mm at 8 deg, 9.5 mm high, boards 150 x 17 mm, pitch 22.6 --------------

TAN8 = 0.14054083470239145  # tan 8 deg, of a table of tangents


def test_a_gap_of_a_tenth_over_nine_and_a_half_is_a_lean_of_six_tenths_of_a_degree() -> None:
    lean = amount("gap flank 0.1", "board-leaned-in-its-plane", "lean_deg")
    assert lean == pytest.approx(0.1 / 9.5 * 57.29578, abs=1e-3)  # small angles: radians to degrees
    assert round(lean, 1) == 0.6
    assert amount("gap flank 0.1", "end-not-square", "across_mm") == pytest.approx(
        0.1 * 150 / 9.5, abs=1e-4
    )


def test_the_gap_at_the_baseline_is_the_lift_and_a_short_rabbet_tightens() -> None:
    assert amount("gap baseline 0.2", "pin-board-lifted", "size_mm") == 0.2
    assert amount("gap baseline 0.2", "rabbet-too-short", "tightens_mm") == pytest.approx(
        2 * 0.2 * TAN8, abs=1e-4
    )


def test_the_middle_tail_asks_for_half_the_difference() -> None:
    for word in ("tight", "loose"):
        assert amount(f"middle {word} 0.14", "centre-off", "half_mm") == pytest.approx(0.07)


def test_steps_that_differ_add_up_over_the_tails() -> None:
    tails = 150 // 22.6  # six whole pitches, and 0.64 of one
    assert (
        amount("last tails tight 0.12", "steps-differ", "tails_n") == round(150 / 22.6) == tails + 1
    )
    assert amount("last tails tight 0.12", "steps-differ", "per_step_mm") == pytest.approx(0.12 / 6)


def test_moisture_by_the_wood_handbook() -> None:
    """Table 13-5 (read): flat-sawn sugar maple .00353 per 1 %; 1 % over 150 mm is .53 mm
    (references, G3).
    """
    maple = Stock("invented maple", "sugar maple", 17.0, 150.0)
    plan = make_plan(stock=maple, pin_stock=maple)
    assert amount("last tails tight 0.5295", "moisture", "moist_percent", plan) == pytest.approx(
        1.0, abs=1e-3
    )


def test_heights_for_a_change_of_fit_and_of_diameter() -> None:
    assert amount("later joints tight 0.05", "bit-crept-up", "lift_mm") == pytest.approx(
        0.05 / (2 * TAN8), abs=1e-4
    )
    assert amount("sharpened tight 0.1", "diameter-smaller", "sharp_mm") == pytest.approx(
        0.1 / TAN8, abs=1e-4
    )
    assert amount("sharpened tight 0.1", "diameter-smaller", "twice_mm") == pytest.approx(0.2)


def test_a_thin_lap_tells_what_the_pitch_must_give() -> None:
    """17 - 15 leaves 2 mm; 0.4 mm lower keeps 2.4, and costs 2 x 0.4 x tan 8 deg of pitch."""
    setup = make_setup(make_plan(), AT.changed(bit_height=15.0))
    cause = next(c for c in diagnosed("lap thin", setup).causes if c.code == "height-too-great")
    wanted = {"lap_mm": 2.0, "highest_mm": 14.6, "lower_mm": 0.4, "pitch_more_mm": 0.8 * TAN8}
    assert cause.amounts == pytest.approx(wanted, abs=1e-4)
    assert any("lap of 2.00 mm" in in_words(why) for why in cause.why)


def test_edges_take_the_difference_one_to_one_from_half_the_pitch() -> None:
    assert amount("edges uneven 0.3", "half-step-off", "size_mm") == 0.3
    assert amount("edges uneven 0.3", "half-step-off", "half_pitch_mm") == 11.3


def test_what_is_dialled_is_on_the_users_own_scale() -> None:
    setup = make_setup(
        make_plan(machine=table("zeroed", height_zero=2.0)), AT.changed(bit_height=15.0)
    )
    cause = next(c for c in diagnosed("lap thin", setup).causes if c.code == "height-too-great")
    assert "set to 17.00 mm" in in_words(cause.text) and "a bit height of 16.60 mm" in in_words(
        cause.cure
    )


# --- sizes: typed, from the log, or typical -------------------------------------------------------


def test_a_size_is_taken_from_the_log_when_none_is_typed() -> None:
    cut = replace(
        make_cut(1, AT, "tight"),
        verdict=judged(say("fit", "tight"), faults=(Fault("baseline", 0.35),)),
    )
    found = diagnosed("gap baseline", make_setup(make_plan(), AT, [cut]))
    assert found.of is not None
    assert (found.size, found.source, in_words(found.of)) == (0.35, "log", "piece 1")
    assert diagnosed("gap baseline 0.2", make_setup(make_plan(), AT, [cut])).source == "said"
    assert diagnosed("gap baseline").source == "typical"
    assert diagnosed("burnt").size is None


def test_an_error_of_the_centre_is_twice_as_large_on_the_middle_tail() -> None:
    cuts = [make_cut(1, AT, None, say("centre", "gap far", 0.4))]
    found = diagnosed("middle tight", make_setup(make_plan(in_play=("centre",)), AT, cuts))
    assert found.size == pytest.approx(0.4, abs=0.02) and found.source == "log"
    assert found.causes[0].code == "centre-off" and "the centre is off" in in_words(
        found.causes[0].why[0]
    )


# --- the order ------------------------------------------------------------------------------------


def order(words: str, plan: Plan, *heights: float) -> list[str]:
    cuts = [make_cut(k, AT.changed(bit_height=h), "good") for k, h in enumerate(heights, 1)]
    return [c.code for c in diagnosed(words, make_setup(plan, AT, cuts)).causes]


def test_a_raised_bit_puts_the_short_rabbet_first_and_a_lowered_one_the_long() -> None:
    plan = make_plan()
    assert (
        order("gap baseline", plan)[0]
        == order("gap baseline", plan, 9.5, 9.2)[0]
        == "pin-board-lifted"
    )
    assert order("gap baseline", plan, 9.2, 9.5)[0] == "rabbet-too-short"
    assert order("gap inside", plan, 9.5, 9.2)[0] == "rabbet-too-long"


def test_known_play_puts_backlash_first_and_a_lift_without_it_last() -> None:
    assert (
        order("move nothing", make_plan(machine=table("slack", backlash=0.2)), 9.5, 9.2)[0]
        == "backlash"
    )
    without = order("move nothing", make_plan(machine=table("tight", backlash=0.0)), 9.2, 9.5)
    assert without.index("backlash") > without.index("lock-held")


def test_boards_stored_unequally_dry_put_moisture_forward() -> None:
    wet, dry = replace(STOCK, name="wet", moisture=11.0), replace(STOCK, name="dry", moisture=8.0)
    assert (
        order("last tails tight", make_plan(stock=wet, pin_stock=dry, spaced=True))[0] == "moisture"
    )
    assert (
        order("last tails tight", make_plan(stock=wet, pin_stock=replace(dry, moisture=11.0)))[-1]
        == "moisture"
    )


def test_what_moved_a_cause_is_said() -> None:
    found = diagnosed("last tails tight", make_setup(make_plan(board_width=260.0), AT))
    steps = next(c for c in found.causes if c.code == "steps-differ")
    assert any("by a scale" in in_words(why) for why in steps.why) and any(
        "12 tails" in in_words(why) for why in steps.why
    )


@pytest.mark.parametrize("units", ["mm", "inch", "fraction"])
def test_texts_speak_the_users_units(units: str) -> None:
    mark = {"mm": "0.20 mm", "inch": "0.008 in", "fraction": "8 thou"}[units]
    found = diagnosed("gap baseline 0.2")
    assert mark in in_words(found.causes[0].cure, units)
    assert BIT.angle == 8
