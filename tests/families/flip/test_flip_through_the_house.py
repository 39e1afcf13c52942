"""Tenon, tongue and groove, and half-lap end to end by the command line: in millimetres and in
fractions, at the bench, and a second set-up that learns from the first.

No outside source: these are promises of the tool itself; the shop is invented.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import partial

import pytest
from at_work import document, plain, start, stocked, tuned
from flips_at_work import lap, tenon, tongue
from pane import Pane
from shop import Shop, by_code, sentence

from fitlog.domain import Plan, Settings
from fitlog.families import joint_of, word_sets
from fitlog.families.screens import screens_of
from fitlog.language.units import Ruler

PLANS: dict[str, Plan] = {"tenon": tenon(), "tongue-groove": tongue(), "half-lap": lap()}
OTHERS = ("socket", "tail", "rabbet", "half-blind", "pin board", "key gap", "turn about")
# The truth that each shop hides, mm: of a lift, a fence and a stop that are off.
OFF: dict[str, Mapping[str, float]] = {
    "tenon": {"fit": -0.14, "faces": 0.35, "shoulder": 0.2},
    "tongue-groove": {"fit": 0.42, "faces": 0.0, "shoulder": 0.15},
    "half-lap": {"faces": 0.18, "shoulder": 0.1},
}
EVERY = pytest.mark.parametrize("joint", PLANS)


def misfit(joint: str, aspect: str, at: Mapping[str, float]) -> float:
    plan = PLANS[joint]
    settings = Settings.named(plan.family, at)
    return joint_of(plan).nominal(aspect, settings, plan.figures()) + OFF[joint][aspect]


def honest(joint: str, at: Mapping[str, float], *, numbers: bool) -> str:
    """What an honest person says of a piece cut at these settings, with numbers where they can;
    nothing of faces and shoulder while it does not go together.
    """
    said, plan = [], PLANS[joint]
    inside = True
    for kind in sorted(plan.family.kinds, key=lambda k: not k.tried):
        off = misfit(joint, kind.name, at)
        word = kind.words[sum(off > edge for edge in word_sets(joint, kind.name)[""])]
        if kind.tried:
            inside = word not in kind.unread
        if inside or kind.tried:
            told = numbers and word not in kind.unread and abs(off) >= 0.005
            size = f" {abs(off):.2f}" if told else ""
            said.append(word + size)
    return ", ".join(said)


@EVERY
def test_a_start_tells_how_to_cut_and_where_the_numbers_come_from(shop: Shop, joint: str) -> None:
    text = plain(OTHERS, stocked(shop, joint).run(*start(joint)).out)
    assert "end grain with a backer" in text and "Narrow rails go in a carrier" in text
    why = plain(OTHERS, shop.words("why").out)
    assert "thick on purpose" in why and "can be cut again" in why
    first = document(shop, "next")
    assert first["joint"] == joint
    assert list(first["settings"]) == list(PLANS[joint].family.names)
    assert list(first["chance_good"]) == [*PLANS[joint].family.aspects, "all"]


def test_recipes_say_what_the_trade_does_in_its_order(shop: Shop) -> None:
    stocked(shop, "tenon")
    text = plain(OTHERS, shop.run(*start("tenon")).out)
    steps = ("Mortise, or a slot", "Rail scrap", "Measure the tenon", "Try it")
    assert [text.index(step) for step in steps] == sorted(text.index(step) for step in steps)
    assert "never force what is tight" in text and "traps the work" in text


def test_a_groove_is_said_to_be_cut_first_and_beyond_the_middle(shop: Shop) -> None:
    text = plain(OTHERS, stocked(shop, "tongue-groove").run(*start("tongue-groove")).out)
    assert text.index("Groove first") < text.index("Tongue on the board's other edge")
    assert "The second pass takes about 1.3" in text
    assert "nearer than the middle it would be a climb cut: never" in text
    assert "pushes the board off the fence: hold it in" in text


@EVERY
@pytest.mark.parametrize("numbers", [False, True])
def test_a_set_up_is_tuned_and_the_next_one_begins_nearer(
    shop: Shop, joint: str, numbers: bool
) -> None:
    stocked(shop, joint)
    say = partial(honest, joint, numbers=numbers)
    told, later = (tuned(shop, start(joint), say, most=15) for _ in range(2))
    assert told[-1]["status"] == later[-1]["status"] == "ready"
    lead = PLANS[joint].family.lead
    edges = told[-1]["window"][lead]
    if numbers or lead == "fit":  # a web that is only called proud is settled by what is likely
        assert edges[0] - 0.02 <= misfit(joint, lead, told[-1]["settings"]) <= edges[1] + 0.02
    before, now = (
        abs(misfit(joint, lead, t[0]["settings"]) - sum(edges) / 2) for t in (told, later)
    )
    assert now < before
    if joint == "tongue-groove":  # the same boards get the same groove again
        assert later[0]["settings"]["groove_fence"] == told[0]["settings"]["groove_fence"]
    assert len(later) <= len(told)
    assert f"{lead}-settled" in by_code(later[-1]["reasons"])
    why = " ".join(shop.run(*start(joint), "--why").out.split())
    assert "corrected by 2 earlier set-ups" in why


def test_a_tenon_is_told_in_millimetres_and_in_fractions(shop: Shop) -> None:
    stocked(shop, "tenon").run(*start("tenon"))
    text = plain(OTHERS, shop.run("cut", "tight", "--read", "jaws=7.95:8.11").out)
    assert "Piece 1: fit tight, mortise 7.95 mm, tenon 8.11 mm by jaws." in text
    assert "Tight, so the bit goes up." in text
    assert "The end of piece 1 again (log it with `--same-end`)." in text
    shop.words("prefer --units fraction")
    text = plain(
        OTHERS, shop.run("cut", "slightly loose 1/256, proud 1/64, open 1/32", "--up", "1/64").out
    )
    assert not re.search(r"\bmm\b", text) and "the mortise goes out" in text
    whole = "".join(shop.words(line).out for line in ("why", "show", "next", "review"))
    assert not re.search(r"\bmm\b", whole)
    cuts = document(shop, "show")["cuts"]
    moved = cuts[1]["settings"]["height"] - cuts[0]["settings"]["height"]
    assert moved == pytest.approx(25.4 / 64, abs=1e-4)
    assert cuts[1]["said"]["faces"] == "proud 0.40"


@EVERY
def test_nothing_is_in_millimetres_for_who_thinks_in_fractions(shop: Shop, joint: str) -> None:
    stocked(shop, joint).words("prefer --units fraction")
    told = shop.run(*start(joint)).out
    said = {"half-lap": "web 1/32, open 1/32"}.get(joint, "tight, proud 1/32, open 1/32, gap tip")
    told += shop.run("cut", *said.split(" ")).out
    told += "".join(shop.words(line).out for line in ("why", "show", "next"))
    assert not re.search(r"\bmm\b", told), told


@EVERY
@pytest.mark.parametrize(("said", "place"), [("tapered 0.2", "tip"), ("one shoulder open", "line")])
def test_what_no_setting_cures_moves_nothing(shop: Shop, joint: str, said: str, place: str) -> None:
    stocked(shop, joint).run(*start(joint))
    advice = document(shop, "cut", *said.split(" "))
    assert advice["last"]["said"]["faults"][0].startswith(f"gap {place}")
    fit = "fit" in advice["in_play"]  # a lap is left as thick as it is, or its web is cut again
    assert advice["moves"]["height"] == 0.0 if fit else advice["moves"]["height"] >= 0.0
    assert all(move == 0.0 for name, move in advice["moves"].items() if name != "height")
    assert f"gap-{place}" in by_code(advice["notices"])


def test_faces_of_a_tongue_are_told_and_move_nothing(shop: Shop) -> None:
    stocked(shop, "tongue-groove").run(*start("tongue-groove"))
    advice = document(shop, "cut", "slightly", "tight,", "proud", "0.4")
    assert advice["last"]["said"]["faces"] == "proud 0.40"
    assert advice["moves"]["groove_fence"] == 0.0 and advice["chance_good"]["faces"] is None
    told = by_code(advice["notices"])["faces-by-thickness"]
    assert "half of what the boards differ in thickness" in str(told)


def test_a_groove_in_waste_sets_the_tongue(shop: Shop) -> None:
    stocked(shop, "tongue-groove").run(*start("tongue-groove"))
    before = document(shop, "next")
    after = document(shop, "cut", "--slot", "--read", "groove=7.0")
    assert after["misfit"]["fit"]["sd"] < before["misfit"]["fit"]["sd"] / 2
    assert after["settings"]["groove_fence"] == before["settings"]["groove_fence"]
    # The tongue is made for the groove that is there: near (18 - 7) / 2.
    assert after["settings"]["height"] == pytest.approx(5.5, abs=0.25)


def test_a_new_mortise_does_not_cost_the_tenon(shop: Shop) -> None:
    stocked(shop, "tenon").run(*start("tenon"))
    advice = document(shop, "cut", "slightly", "tight", "0.02,", "proud", "0.5")
    assert advice["moves"]["mortise_fence"] == pytest.approx(0.5, abs=0.1)
    codes = by_code([*advice["notices"], *advice["reasons"]])
    assert "fresh-mortise" in codes and "fresh-end" not in codes
    again = document(shop, "cut", "good,", "flush", "--same-end")
    assert again["last"]["said"]["fit"] == "good"


@pytest.mark.parametrize(
    ("joint", "given", "said"),
    [
        ("tenon", "mortise=190", "the mortise"),
        ("tenon", "mortise=3", "against the 5 mm that must be left"),
        ("tenon", "mortise=18", "against"),
        ("half-lap", "mate=90", "recess"),
        ("tongue-groove", "length=9", "the length"),
    ],
)
def test_what_cannot_be_planned_is_refused(shop: Shop, joint: str, given: str, said: str) -> None:
    error = stocked(shop, joint).run(*start(joint), "--given", given, code=1).err
    sentence(error)
    assert said in error


def test_no_pass_puts_wood_back(shop: Shop) -> None:
    stocked(shop, "tenon").run(*start("tenon"))
    shop.run("cut", "loose", "0.2")
    error = shop.run("cut", "good", "--same-end", "--down", "0.2", code=1).err
    sentence(error)
    assert "the bit height cannot go down for another cut on the same end" in error


def test_a_start_on_the_near_side_is_refused(shop: Shop) -> None:
    stocked(shop, "tongue-groove")
    error = shop.run(*start("tongue-groove"), "--given", "groove-fence=8.8", code=1).err
    sentence(error)
    assert "move the fence out to 9.15 mm or more" in error


def test_undo_review_and_scrap_of_another_thickness(shop: Shop) -> None:
    stocked(shop, "half-lap").run(*start("half-lap"), "--scrap", "ash", "--scrap-thickness", "17")
    advice = document(shop, "cut", "web", "0.4")
    real, at = advice["real"]["height"], advice["settings"]["height"]
    assert real == pytest.approx(at + 0.5, abs=0.05)
    shop.run("cut", "notch")
    assert "Taken back" in shop.words("undo").err
    shop.words("finish --as-it-is")
    (row,) = document(shop, "review")["setups"]
    assert list(row["settings"]) == ["height", "stop"]


def test_a_whole_tenon_at_the_bench(shop: Shop) -> None:
    stocked(shop, "tenon").run(*start("tenon"))
    with Pane(shop) as pane:
        pane.until("to cut: piece 1").press(" ", "fit, 1 of 3").press("3", "faces, 2 of 3")
        assert "never by force" not in pane.flat or "straightedge" in pane.flat
        pane.press("6", "shoulder, 3 of 3").press("1", "to cut: piece 2")
        assert not [word for word in OTHERS if word in pane.flat.casefold()], pane.text
        pane.press("q", "piece 2 is to be cut; fitlog bench goes on there")
        assert pane.ended() == 0
    assert document(shop, "next")["last"]["said"] == {
        "fit": "slightly tight",
        "faces": "proud",
        "shoulder": "closed",
        "faults": [],
    }


def test_the_jaws_answer_for_the_fit_at_the_bench(shop: Shop) -> None:
    stocked(shop, "tongue-groove").run(*start("tongue-groove"))
    with Pane(shop) as pane:
        pane.until("to cut: piece 1").press("w", "width of the groove").press(
            "7.1\r", "the slot in waste"
        )
        pane.press(" ", "fit, 1 of 3").press("j", "groove, inside jaws")
        pane.press("7.1\r", "tongue, outside jaws").press("7.2\r", "faces, 2 of 3")
        # Nothing tunes the faces; they are asked, kept and explained.
        pane.press("6", "shoulder, 3 of 3").press("1", "to cut: piece 2").press(
            "q", "piece 2 is to be cut"
        )
        assert pane.ended() == 0
    cuts = document(shop, "show")["cuts"]
    assert any(r["kind"] == "jaws" for cut in cuts for r in cut["readings"])
    last = document(shop, "next")["last"]["said"]
    assert (last["faces"], last["shoulder"]) == ("proud", "closed")


def test_a_half_lap_at_the_bench(shop: Shop) -> None:
    stocked(shop, "half-lap").run(*start("half-lap"))
    with Pane(shop) as pane:
        pane.until("to cut: piece 1").press(" ", "faces, 1 of 2").press("w", "web that is left")
        pane.press("0.2\r", "shoulder, 2 of 2").press("2", "to cut: piece 2")
        pane.press("q", "piece 2 is to be cut")
        assert pane.ended() == 0
    last = document(shop, "next")["last"]["said"]
    assert last["shoulder"] == "slightly open"


@pytest.mark.parametrize(
    ("use", "good"),
    [
        ("boards", "light hand, holds its own weight"),
        ("panel", "moves by itself, doesn't rattle"),
        ("stub", "firm hand in, pulled out by hand"),
    ],
)
def test_what_is_good_is_asked_by_what_the_tongue_is_for(use: str, good: str) -> None:
    plan, ruler = tongue(use=use), Ruler("mm")
    told = screens_of(plan.family).tests_of(plan, "fit", ruler, ())
    assert told[plan.family.words("fit").index("good")] == good
