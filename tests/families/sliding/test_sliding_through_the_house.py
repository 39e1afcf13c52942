"""A sliding dovetail end to end by the command line: in millimetres and in fractions, at the bench,
and a second set-up that learns from the first.

No outside source: these are promises of the tool itself; the shop is invented.
"""

from __future__ import annotations

import re
from functools import partial

import pytest
from at_work import document, plain, tuned
from pane import Pane
from shop import Shop, by_code, sentence
from slides import slide

from fitlog.domain import Bit
from fitlog.families.sliding.figures import FIT_EDGES, SHOULDER_EDGES
from fitlog.families.sliding.joint import SlidingDovetail
from fitlog.families.sliding.names import FIT, SHOULDER, SLIDING, set_to

START = ("start", "--joint", "sliding", "--bit", "wren", "--stock", "ash", "--height", "8")
OTHERS = ("fence offset", "half-blind", "pin board", "rabbet", "tail piece", "seat", "key gap")
# The truth that the shop hides, mm: an exposure that is short, a tongue that comes out high.
OFF = {FIT: -0.21, SHOULDER: 0.17}
PLAN = slide(bit=Bit("wren", 12.7, 14.0, 14.0), board_width=140.0)
LIFT = SlidingDovetail(PLAN).lift


def stocked(shop: Shop) -> Shop:
    shop.words("bit add wren --diameter 12.7 --angle 14 --cutting-length 14")
    shop.words("stock add ash --species ash --thickness 18 --width 140")
    return shop


@pytest.fixture
def case(shop: Shop) -> Shop:
    """A shop with a set-up before its first tongue."""
    return shop.built(_start)


def _start(shop: Shop) -> None:
    stocked(shop).run(*START)


def misfits(at: dict[str, float]) -> dict[str, float]:
    """The true misfits, the fit as it is felt."""
    joint, settings = SlidingDovetail(PLAN), set_to(**at)
    found = {a: joint.nominal(a, settings, PLAN.figures()) + OFF[a] for a in SLIDING.aspects}
    return {**found, FIT: found[FIT] - LIFT * max(0.0, found[SHOULDER])}


def honest(at: dict[str, float], *, numbers: bool) -> str:
    """What an honest person says of a tongue cut at these settings; one that sticks shows no
    shoulder.
    """
    true = misfits(at)
    fit = SLIDING.words(FIT)[sum(true[FIT] > edge for edge in FIT_EDGES[""])]
    if "tight" in fit and fit != "slightly tight":
        return fit
    shoulder = SLIDING.words(SHOULDER)[sum(true[SHOULDER] > edge for edge in SHOULDER_EDGES)]
    gap = (true[FIT] + LIFT * max(0.0, true[SHOULDER])) / LIFT
    size = f" {gap:.2f}" if numbers and gap >= 0.005 else ""
    wide = f" {true[SHOULDER]:.2f}" if numbers and shoulder != "closed" else ""
    return f"{fit}{size}, {shoulder}{wide}"


def test_a_start_tells_how_to_cut_and_where_the_numbers_come_from(shop: Shop) -> None:
    text = plain(OTHERS, stocked(shop).run(*START).out)
    assert "socket height 8.00 mm tongue height 7.90 mm exposure 4.66 mm" in text
    assert "The dovetail bit is trapped in the socket" in text
    assert "Waste the socket with a straight bit" in text and "tall fence" in text
    why = plain(OTHERS, shop.words("why").out)
    assert "the first tongue is thicker on purpose" in why
    assert "pack 0.10 mm under the shelf's end" in why
    first = document(shop, "next")
    assert first["joint"] == "sliding" and first["window"]["fit"] == [0.04, 0.1]
    fixed = {"board_width": 140.0, "one_face": False, "socket_height": 8.0}
    assert first["fixed"] == fixed
    assert list(first["settings"]) == ["socket_height", "tongue_height", "exposure"]
    assert first["window"]["shoulder"] == [-0.2, 0.0]


@pytest.mark.parametrize("numbers", [False, True])
def test_a_set_up_is_tuned_and_the_next_one_learns_from_it(shop: Shop, numbers: bool) -> None:
    stocked(shop)
    say = partial(honest, numbers=numbers)
    told, later = (tuned(shop, START, say, again=True) for _ in range(2))
    assert told[-1]["status"] == later[-1]["status"] == "ready"
    assert len(later) <= len(told)
    middle = SlidingDovetail(PLAN).stated_window(FIT).middle
    before, now = (abs(misfits(a[0]["settings"])[FIT] - middle) for a in (told, later))
    assert now < 0.6 * before
    assert misfits(told[-1]["settings"])[SHOULDER] < 0.08
    for one in (told, later):
        assert {a["settings"]["socket_height"] for a in one} == {8.0}
        ends = [a["last"]["piece"] for a in one[1:]]
        assert ends == list(range(1, len(one)))
    assert "fit-settled" in by_code(later[-1]["reasons"])
    assert "corrected by" in " ".join(shop.run(*START, "--why").out.split())


def test_a_cut_is_told_in_millimetres_and_in_fractions(case: Shop) -> None:
    text = plain(OTHERS, case.run("cut", "tight").out)
    assert "Tight, so the bit stands out more." in text
    assert "Cut the end of piece 1 again" in text and "more 0.0" in text
    case.words("prefer --units fraction")
    said = ("--same-end", "slightly loose 1/64, gap 1/64", "--more", "1/64")
    text = plain(OTHERS, case.run("cut", *said).out)
    assert "mm" not in text and "slightly loose 1/64 in" in text
    assert "Open shoulders wedge the tongue" in text and "less" in text
    whole = case.words("why").out + case.words("show").out + case.words("next").out
    assert not re.search(r"\bmm\b", whole)
    cuts = document(case, "show")["cuts"]
    moved = cuts[1]["settings"]["exposure"] - cuts[0]["settings"]["exposure"]
    assert moved == pytest.approx(25.4 / 64, abs=1e-4)
    assert cuts[1]["said"]["shoulder"] == "open 0.40"
    case.words("finish --abandon")
    text = case.run(*START[:-1], "5/16").out
    assert "mm" not in " ".join(text.split()) and "12 in unless it is in a carrier" in text


def test_readings_of_the_joint(case: Shop) -> None:
    before = document(case, "next")
    rods = ("--read", "over_rods=17.71:4", "--read", "mouth=8.6")
    after = document(case, "cut", "tight", *rods)
    assert after["misfit"]["fit"]["sd"] < 0.5 * before["misfit"]["fit"]["sd"]
    advice = document(case, "cut", "--same-end", "closed", "--read", "play=0.07", "--more", "0.3")
    assert "fit" in advice["settled"]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("--height 10", "half the panel's thickness"),
        ("--thickness 8", "leaves no flank"),
        ("--thickness 26", "half the bit"),
        ("--pin-thickness 3 --yes", "no socket height is possible"),
    ],
)
def test_what_no_wood_allows_is_refused(shop: Shop, typed: str, said: str) -> None:
    error = stocked(shop).run(*START[:-2], *typed.split(), code=1).err
    sentence(error)
    assert said in error


def test_wood_does_not_grow_back_on_an_end(case: Shop) -> None:
    case.run("cut", "slightly tight, closed")
    error = case.run("cut", "--same-end", "good", "--less", "0.1", code=1).err
    assert "the exposure cannot go less for another cut on the same end" in error


def test_a_straight_bit_is_refused(case: Shop) -> None:
    case.words("bit add plain --diameter 12.7 --angle 0 --cutting-length 25")
    error = case.run("start", "--joint", "sliding", "--bit", "plain", code=1).err
    assert "plain is a straight bit, a sliding dovetail wants a dovetail bit" in error


def test_undo_review_and_a_long_slide(case: Shop) -> None:
    case.run("cut", "tight")
    case.run("cut", "--same-end", "loose 0.4, closed")
    assert "Taken back" in case.words("undo").err
    assert document(case, "next")["pieces"] == 1
    case.words("finish --abandon")
    short = document(case, *START)["settings"]
    case.words("finish --abandon")
    rows = document(case, "review")["setups"]
    assert [row["status"] for row in rows] == ["abandoned"] * 2
    long = document(case, *START, "--width", "300")
    assert long["window"]["fit"] == [0.08, 0.15]
    assert long["settings"]["exposure"] > short["exposure"]


def test_shelves_of_another_thickness_are_told(case: Shop) -> None:
    case.words("finish --abandon")
    case.run(*START, "--scrap", "pine", "--scrap-thickness", "17.4")
    advice = document(case, "cut", "good, closed")
    assert advice["real"]["exposure"] == pytest.approx(advice["settings"]["exposure"] + 0.3)
    case.words("finish")
    thin = ("--thickness", "14", "--scrap-thickness", "13.4", "--given", "one-face=yes")
    one = document(case, *START, *thin)
    assert one["real"]["exposure"] == pytest.approx(one["settings"]["exposure"] + 0.6)


def test_a_whole_piece_at_the_bench(case: Shop) -> None:
    with Pane(case) as pane:
        pane.until("to cut: piece 1").press(" ", "fit, 1 of 2")
        pane.press("g", "gap pulled straight out").press("0.3\r", "shoulder, 2 of 2")
        pane.press("1", "to cut: piece 2")
        assert not [word for word in OTHERS if word in pane.flat.casefold()], pane.text
        pane.press("q", "piece 2 is to be cut; fitlog bench goes on there")
        assert pane.ended() == 0
    last = document(case, "next")["last"]
    assert last["said"] == {"fit": None, "shoulder": "closed", "faults": []}
    (reading,) = (r for cut in document(case, "show")["cuts"] for r in cut["readings"])
    assert (reading["kind"], reading["value"]) == ("pull_gap", 0.3)


def test_the_bench_goes_on_with_the_end_that_it_says(case: Shop) -> None:
    """A tongue that sticks shows no shoulder."""
    with Pane(case) as pane:
        pane.until("to cut: piece 1").press(" ", "fit, 1 of 2").press("2", "shoulder, 2 of 2")
        pane.press("s", "to cut: piece 2").press(" ", "fit, 1 of 2").press("q", "piece 2")
        assert pane.ended() == 0
    assert "end of piece 1" in case.words("cut --same-piece tight").out


def test_a_slide_s_length_is_the_shelf_s_width(shop: Shop) -> None:
    case = stocked(shop)
    twice = case.run(*START, "--width", "200", "--given", "length=300", code=2)
    assert "the board width was given twice" in twice.err
    unknown = case.run(*START, "--given", "pitch=300", code=2)
    assert "no figure of the sliding dovetail" in unknown.err
    assert "slide 300 mm" in case.run(*START, "--given", "length=30cm").out


def test_half_way_in_is_asked_about(shop: Shop) -> None:
    case = stocked(shop)
    case.run(*START)
    assert "could be slightly tight or good" in case.run("cut", "goes halfway in", code=2).err
