"""A lock mitre, end to end by the command line: in millimetres and in fractions, at the bench,
and a second set-up that learns from the first.

No outside source: these are promises of the tool itself; the shop is invented.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable

import pytest
from at_work import document, plain, tuned
from pane import Pane
from shop import Shop, by_code

from fitlog.domain import Bit, Stock
from fitlog.families.lock_mitre import geometry
from fitlog.families.lock_mitre.figures import SCALES
from fitlog.families.lock_mitre.names import CORNER, FENCE, HEIGHT, LOCK_MITRE, set_to
from fitlog.families.lock_mitre.plan import MitrePlan

START = ("start", "--joint", "lock-mitre", "--bit", "lock", "--stock", "oak", "--machine", "table")
OTHERS = ("tail", "socket", "rabbet", "half-blind", " pin", "dovetail")
# The truth that the shop hides: how far the profile's middle lies higher and further out, mm.
HIGHER, FURTHER = 0.31, -0.27
MIDDLE, THICK = 11.0, 19.0


def stocked(shop: Shop) -> Shop:
    shop.words("bit add lock --diameter 50.8 --angle 45 --cutting-length 22")
    shop.words("stock add oak --species oak --thickness 19 --width 140")
    shop.run("machine", "add", "table", "--height-step", "0.05", "--fence-step", "0.02")
    return shop


@pytest.fixture
def table(shop: Shop) -> Shop:
    """A shop with a set-up before its first piece."""
    return shop.built(_start)


def _start(shop: Shop) -> None:
    stocked(shop).run(*START)


def truth(at: dict[str, float]) -> dict[str, float]:
    """The steps of a piece cut at these settings."""
    x = at["fence_offset"] - MIDDLE + FURTHER
    z = at["height"] - MIDDLE + HIGHER
    return {
        HEIGHT: geometry.flats(z, THICK),
        FENCE: geometry.uprights(x, THICK),
        CORNER: geometry.flat_over(x, z, THICK, THICK),
    }


def honest(at: dict[str, float], *aspects: str) -> str:
    """What an honest person says of these aspects of a piece, with numbers."""
    said, steps = [], truth(at)
    for kind in (LOCK_MITRE.kind(a) for a in aspects):
        off = steps[kind.name]
        word = kind.words[sum(off > edge for edge in SCALES[kind.name].edges)]
        said.append(word if word in kind.unread else f"{word} {abs(off):.2f}")
    return ", ".join(said)


def say(*aspects: str) -> Callable[[dict[str, float]], str]:
    return lambda at: honest(at, *aspects)


def test_a_start_tells_how_to_cut_and_where_the_numbers_come_from(shop: Shop) -> None:
    result = stocked(shop).run(*START)
    text = plain(OTHERS, result.out)
    assert re.search(r"bit height 19\.\d\d mm fence offset 19\.\d\d mm", text)
    assert "then back in two or three passes" in text
    assert "several passes by the fence" in text and "A small upright test piece" in text
    assert "at most 16000 rpm" in text
    why = plain(OTHERS, shop.words("why").out)
    assert "half of 19 mm and the 11 mm from the profile's middle to its top" in why
    first = document(shop, "next")
    assert first["joint"] == "lock-mitre"
    assert list(first["settings"]) == ["height", "fence_offset"]
    assert first["window"]["height"] == first["window"]["fence"] == [-0.1, 0.1]
    assert {c["code"] for c in first["cautions"]} >= {"unplug", "large-bit", "short-pieces"}


@pytest.mark.parametrize("aspects", [(HEIGHT, CORNER), (HEIGHT, FENCE)])
def test_a_set_up_is_tuned_and_the_next_one_learns_from_it(
    shop: Shop, aspects: tuple[str, ...]
) -> None:
    stocked(shop)
    told, later = (tuned(shop, START, say(*aspects), most=8) for _ in range(2))
    assert told[-1]["status"] == later[-1]["status"] == "ready"
    assert 1 < len(told) <= 3 and len(later) <= 2
    for advice in (told[-1], later[-1]):
        steps = truth(advice["settings"])
        assert abs(steps[HEIGHT]) < 0.1 and abs(steps[FENCE]) < 0.1
    start = truth(later[0]["settings"])
    assert abs(start[HEIGHT]) < 0.2 and abs(start[FENCE]) < 0.2
    assert "corrected by 2 earlier set-ups" in " ".join(shop.run(*START, "--why").out.split())


def test_a_set_up_by_eye_starts_as_blind_as_the_first(shop: Shop) -> None:
    stocked(shop)
    tuned(shop, START, say(HEIGHT, CORNER), most=8)
    one = document(shop, *START, "--given", "set-by=eye")
    assert truth(one["settings"])[HEIGHT] < 0 and one["chance_good"]["height"] < 0.1


def test_a_cut_is_told_in_millimetres_and_in_fractions(table: Shop) -> None:
    text = plain(OTHERS, table.run("cut", "shy 0.5, flat shy 0.4, loose").out)
    assert "Piece 1: height shy 0.50 mm, corner under 0.40 mm, loose." in text
    assert "Shy, so the bit goes up." in text and "Fence: measured, so the fence goes back." in text
    # Blunt: the corner is twice what the fence is off by (reference for families, section 5).
    assert "The edge is blunt by 0.45 mm." in text
    assert "Loose: no setting moves it; is the profile worn?" in text
    why = plain(OTHERS, table.words("why").out)
    assert "the bit is 0.25 mm too low, the fence is 0.20 mm too far forward" in why
    assert "ground into the bit, no setting moves it" in why
    table.words("prefer --units fraction")
    text = plain(OTHERS, table.run("cut", "proud 1/32, over 1/64", "--up", "1/64").out)
    assert "mm" not in text
    whole = table.words("why").out + table.words("show").out
    assert not re.search(r"\bmm\b", whole)
    cuts = document(table, "show")["cuts"]
    moved = cuts[1]["settings"]["height"] - cuts[0]["settings"]["height"]
    assert moved == pytest.approx(25.4 / 64, abs=1e-4)
    assert cuts[1]["said"]["corner"] == "over 0.40"


@pytest.mark.parametrize(("wide", "most"), [(80, 16), (40, 20)])
def test_an_answer_at_the_machine_is_short(table: Shop, wide: int, most: int) -> None:
    for told in (table.run("cut", "shy 0.5, flat shy 0.4, loose"), table.words("next")):
        wrapped = [textwrap.wrap(line, wide) for line in told.out.splitlines()]
        assert 8 < sum(map(len, wrapped)) <= most, wrapped


def test_a_corner_alone_is_not_taken_for_the_fence(table: Shop) -> None:
    before = document(table, "next")
    advice = document(table, "cut", "over 0.3")
    assert advice["misfit"]["fence"]["sd"] == before["misfit"]["fence"]["sd"]
    assert "corner-alone" in by_code(advice["notices"])
    whole = document(table, "cut", "--same-piece", "shy 0.2")
    assert "corner-told" in by_code(whole["notices"])
    # Sharp: 2 a = 2 over + height = 0.4, so the fence comes forward by half of it.
    moves = {name: whole["moves"][name] for name in ("height", "fence_offset")}
    assert moves["height"] == pytest.approx(0.1, abs=0.06)
    assert moves["fence_offset"] == pytest.approx(-0.2, abs=0.06)


def test_a_gap_inside_is_a_fault_and_its_corner_says_nothing(table: Shop) -> None:
    advice = document(table, "cut", "shy 0.5, under 0.4, open inside 0.3")
    assert advice["last"]["said"]["faults"] == ["gap inside 0.30"]
    notices = by_code(advice["notices"])
    assert "gap-inside" in notices and "corner-told" not in notices
    assert "clean both, push home, judge again" in notices["gap-inside"]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("height proud 0.4, fence proud 0.2, corner proud 0.1", ("proud", "out", "over", None)),
        ("turned piece shy 0.3, upright proud 0.2", ("shy", None, "under", None)),
        ("two flats flush, two uprights level, corner even", ("flush", "level", "even", None)),
        ("turned upright stands proud 0.2, wont close", (None, "out", None, "tight")),
        ("as cut piece high 0.2, sloppy", ("shy", None, None, "loose")),
        ("a hair proud, slightly in 0.1, good", ("slightly proud", "slightly in", None, "good")),
        ("flat proud by 0.1, flats sit low 0.2", ("shy", None, "over", None)),
    ],
)
def test_what_makers_usually_say_is_heard(
    table: Shop, typed: str, said: tuple[str | None, ...]
) -> None:
    found = table.run("cut", typed, "--json").document["last"]["said"]
    told = tuple(found[a].split(" 0.")[0] if found.get(a) else None for a in LOCK_MITRE.aspects)
    assert told == said


def test_another_bit_is_refused(table: Shop) -> None:
    table.words("bit add wren --diameter 12.7 --angle 14 --cutting-length 14")
    error = table.run("start", "--joint", "lock-mitre", "--bit", "wren", "--stock", "oak", code=1)
    assert "wren has an angle of 14 deg, a lock mitre wants a bit of 45" in error.err


def test_thinner_boards_of_one_stock_are_both_thinner(table: Shop) -> None:
    table.words("finish --abandon")
    one = document(table, *START, "--thickness", "18")
    thick = MitrePlan(
        Bit("lock", 50.8, 45.0, 22.0),
        *(Stock("oak", "oak", 19.0, 140.0),) * 2,
        None,
        *(140.0, 18.0, 18.0),
        middle=MIDDLE,
        thinnest=11.0,
        thickest=22.0,
    )
    assert thick.equal and set_to(20.0, 20.0)["height"] == 20.0
    assert "two-thicknesses" not in by_code(one["notices"])
    table.words("finish --abandon")
    two = document(table, *START, "--thickness", "18", "--pin-thickness", "19")
    told = by_code(two["notices"])["two-thicknesses"]
    assert "a butt line of 0.50 mm is left" in told


def test_real_boards_of_another_thickness_are_told(table: Shop) -> None:
    table.words("finish --abandon")
    table.run(*START, "--scrap", "pine", "--scrap-thickness", "18")
    advice = document(table, "cut", "flush, even")
    for name in ("height", "fence_offset"):
        moved = advice["real"][name] - advice["settings"][name]
        assert moved == pytest.approx(0.5, abs=0.06), name


def test_a_whole_piece_at_the_bench(table: Shop) -> None:
    with Pane(table) as pane:
        pane.until("to cut: piece 1").press("x", "fence offset as set, mm")
        pane.press("20.1\r", "as really set").press(" ", "height, 1 of 4")
        pane.press("6", "fence, 2 of 4").press("m", "step of the two flats")
        pane.press("0.4\r", '"proud 0.4"').press("s", "corner, 3 of 4")
        pane.press("4", "fit, 4 of 4").press("u", "Taken back").press("4", "fit, 4 of 4")
        pane.press("4", "to cut: piece 2").press("q", "fitlog bench goes on there")
        assert pane.ended() == 0
    last = document(table, "next")["last"]
    assert last["settings"]["fence_offset"] == 20.1
    assert last["said"]["height"] == "proud 0.40" and last["said"]["corner"] == "even"
    assert last["said"]["fit"] == "good"


def test_a_corner_goes_with_the_flats_of_an_earlier_piece(table: Shop) -> None:
    table.run("cut", "shy 0.4", "--set", "height=20.3", "--set", "fence_offset=20.3")
    # Carried to 20.4 the flats are 0.2 shy, so with 0.3 over the edge is sharp: 2 a = 0.4.
    told = ("--set", "height=20.4", "--set", "fence_offset=20.3")
    advice = document(table, "cut", "over 0.3", *told)
    assert "corner-alone" not in by_code(advice["notices"])
    assert advice["moves"]["fence_offset"] == pytest.approx(-0.2, abs=0.05)


def test_boards_beyond_the_bits_mark_are_refused(shop: Shop) -> None:
    error = stocked(shop).run(*START, "--thickness", "9.5", code=1).err
    assert "this bit is for boards of 11 mm to 22 mm, not of 9.5 mm" in error
    assert shop.run(*START, "--thickness", "9.5", "--given", "thinnest=9").code == 0


def test_scraps_for_four_trials_are_three_with_room_to_saw(shop: Shop) -> None:
    told = document(stocked(shop), *START, "--pieces", "4")["test_stock"]
    # Reference for families, section 5: saw off T + 3 mm for another trial.
    assert "3 scraps 140 mm wide, 19 mm thick, 322 mm long or more, 12 ends" in told[0]["text"]


def test_the_height_alone_is_tuned_by_two_flats(shop: Shop) -> None:
    first = document(stocked(shop), *START, "--only", "height")
    assert first["in_play"] == ["height"]
    told = " ".join(shop.words("next").out.split())
    assert "Two ends of one thickness: F1 and F2." in told and " V " not in told
    advice = document(shop, "cut", "shy 0.4")
    assert advice["moves"]["fence_offset"] == 0.0
    assert advice["moves"]["height"] == pytest.approx(0.2, abs=0.03)


def test_a_fence_whose_marks_leap_over_the_window_is_not_called_ready(shop: Shop) -> None:
    """Its marks lie .40 apart, a pair's window is .20 wide: between them is where it is set."""
    shop.words("bit add lock --diameter 50.8 --angle 45 --cutting-length 22")
    shop.words("stock add oak --species oak --thickness 19 --width 140")
    shop.words("machine add table --height-step 0.05 --fence-step 0.4")
    shop.run(*START)
    told = document(shop, "cut", "proud 0.4, uprights out 0.4")
    assert told["status"] == "tuning" and told["settled_by"]["fence"] is None
    assert "set it between the marks and log what you set" in shop.words("next").out
