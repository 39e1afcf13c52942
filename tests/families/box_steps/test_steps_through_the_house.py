"""A box joint by steps of the fence, end to end by the command line: in millimetres and in
fractions, at the bench, and a second set-up that learns from the first.

No outside source: these are promises of the tool itself; the shop is invented.
"""

from __future__ import annotations

import re

import pytest
from at_work import document, plain, tuned
from pane import Pane
from shop import Shop, by_code

from fitlog.domain import Bit, Stock
from fitlog.families.box_steps.figures import scales
from fitlog.families.box_steps.joint import StepsJoint
from fitlog.families.box_steps.names import BOX_STEPS, set_to
from fitlog.families.box_steps.plan import StepsPlan

START = ("start", "--joint", "box-steps", "--pitch", "25.5")
OTHERS = ("socket", "tail", "rabbet", "half-blind", " pin", "key", "starter")
OFF = {"fit": -0.17, "centre": 0.42, "ends": -0.18}  # the truth that the shop hides, mm
PLAN = StepsPlan(
    Bit("half", 12.7, 0.0, 32.0),
    *(Stock("beech", "beech", 14.0, 150.0),) * 2,
    None,
    *(150.0, 14.0, 14.0),
    pitch=25.5,
)


def stocked(shop: Shop) -> Shop:
    shop.words("bit add half --diameter 12.7 --angle 0 --cutting-length 32")
    shop.words("stock add beech --species beech --thickness 14 --width 150")
    return shop


@pytest.fixture
def fence(shop: Shop) -> Shop:
    """A shop with a set-up before its first piece."""
    return shop.built(_start)


def _start(shop: Shop) -> None:
    stocked(shop).run(*START)


def misfit(aspect: str, at: dict[str, float]) -> float:
    return StepsJoint(PLAN).nominal(aspect, set_to(**at), PLAN.figures()) + OFF[aspect]


def honest(at: dict[str, float]) -> str:
    """What an honest person with a caliper says of a pair cut at these settings."""
    said = []
    for kind in BOX_STEPS.kinds:
        off = misfit(kind.name, at)
        word = kind.words[sum(off > edge for edge in scales(PLAN)[kind.name].edges)]
        number = abs(off) * (2 if kind.name == "centre" else 1)
        read = word not in kind.unread and (kind.name != "fit" or off > 0.01)
        said.append(f"{word} {number:.2f}" if read else word)
    return ", ".join(said)


def test_a_start_tells_how_to_cut_and_where_the_numbers_come_from(shop: Shop) -> None:
    text = plain(OTHERS, stocked(shop).run(*START).out)
    assert "second pass 0.12 mm fence offset 75.20 mm" in text
    assert "one pass at 75.20 mm, and before any other measure the walls" in text
    assert "Widen a slot only by a pass further out" in text and "tall fence" in text
    why = plain(OTHERS, shop.words("why").out)
    assert "Second pass: half of the pitch (25.5 mm) and of the play that is wanted" in why
    first = document(shop, "next")
    assert first["joint"] == "box-steps"
    assert first["fixed"] == {"pitch": 25.5, "board_width": 150.0}
    assert list(first["settings"]) == ["second_pass", "fence_offset", "height"]
    assert first["centre_by"] == "walls"


def test_a_set_up_is_tuned_and_the_next_one_learns_from_it(shop: Shop) -> None:
    stocked(shop)
    told, later = tuned(shop, START, honest), tuned(shop, START, honest)
    assert told[-1]["status"] == later[-1]["status"] == "ready"
    assert len(later) < len(told)
    for aspect in ("fit", "centre"):
        middle = scales(PLAN)[aspect].window.middle
        before, now = (abs(misfit(aspect, a[0]["settings"]) - middle) for a in (told, later))
        assert now < before / 2, aspect
    assert "fit-settled" in by_code(later[-1]["reasons"])


def test_half_blind_set_ups_at_the_same_fence_teach_its_zero(shop: Shop) -> None:
    """The fence's zero keeps its key in every joint that is cut along it."""
    stocked(shop).words("bit add wren --diameter 12.7 --angle 14 --cutting-length 14")
    before = document(shop, *START, "--bit", "half")
    shop.words("finish --abandon")
    shop.run(
        "start", "--joint", "half-blind", "--bit", "wren", "--stock", "beech", "--only", "centre"
    )
    shop.run("cut", "gap far 0.8", "--walls", "59.0", "58.2")
    shop.words("finish --as-it-is")
    after = document(shop, *START, "--bit", "half")
    moved = after["settings"]["fence_offset"] - before["settings"]["fence_offset"]
    assert -0.6 < moved < -0.15


def test_a_cut_is_told_in_millimetres_and_in_fractions(fence: Shop) -> None:
    text = plain(OTHERS, fence.run("cut", "tight, gap far 0.3, shy 0.2").out)
    assert "Tight, so the second pass goes further out." in text
    assert "Gap far; the fence stays." in text  # the same end is cut again, the zero is known
    fence.words("prefer --units fraction")
    text = plain(
        OTHERS, fence.run("cut", "slightly loose, centred, shy 1/64", "--further-out", "1/64").out
    )
    assert "mm" not in text and "less far out" in text
    whole = fence.words("why").out + fence.words("show").out
    assert not re.search(r"\bmm\b", whole)
    cuts = document(fence, "show")["cuts"]
    moved = cuts[1]["settings"]["second_pass"] - cuts[0]["settings"]["second_pass"]
    assert moved == pytest.approx(25.4 / 64, abs=1e-4)


def test_the_same_end_is_passed_again_further_out(fence: Shop) -> None:
    """Centre and ends are good, the fit is tight: another pass further out on the same end."""
    advice = document(fence, "cut", "tight, centred, flush", "--walls", "68.65", "68.65")
    assert advice["moves"]["second_pass"] > 0
    assert advice["moves"]["fence_offset"] == advice["moves"]["height"] == 0.0
    assert "same-end" in by_code(advice["reasons"])
    assert "Cut the end of piece 1 again" in fence.words("next").out
    advice = document(fence, "cut", "loose 0.25", "--same-end")
    assert advice["moves"]["second_pass"] < 0 and "fresh-end" in by_code(advice["reasons"])


def test_a_whole_piece_at_the_bench(fence: Shop) -> None:
    with Pane(fence) as pane:
        pane.until("to cut: piece 1").press(" ", "fit, 1 of 3").press("5", "ends, 2 of 3")
        pane.press("5", "centre, 3 of 3").press("w", "wall at the fence")
        pane.press("68.9\r", "away from it").press("68.5\r", "to cut: piece 2")
        assert not [w for w in OTHERS if w in pane.flat.casefold() and w != "key"], pane.text
        pane.press("q", "piece 2 is to be cut; fitlog bench goes on there")
        assert pane.ended() == 0
    (cut, *later) = document(fence, "show")["cuts"]
    assert cut["settings"]["fence_offset"] == 75.2
    readings = [r for one in (cut, *later) for r in one["readings"]]
    assert [r["kind"] for r in readings] == ["walls"]
    assert document(fence, "next")["last"]["said"]["fit"] == "slightly loose"
