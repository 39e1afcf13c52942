"""A rabbet end to end by the command line: in millimetres and in fractions, a second set-up
that learns from the first, and a back.

No outside source: these are promises of the tool itself; the shop is invented.
"""

from __future__ import annotations

import re

import pytest
from at_work import document, plain, tuned
from shop import Shop, by_code

from fitlog.domain import Bit, Stock
from fitlog.families.rabbet.figures import scales
from fitlog.families.rabbet.joint import RabbetJoint
from fitlog.families.rabbet.names import RABBET, set_to
from fitlog.families.rabbet.plan import RabbetPlan

START = ("start", "--joint", "rabbet", "--stock", "side", "--pin-stock", "ply")
MEASURED = (*START, "--given", "sheet=11.6mm")
BACK = (*START, "--given", "back=yes", "--given", "sheet=5.6mm", "--given", "bearing=9mm")
OTHERS = ("socket", "tail", "half-blind", " pin", "finger", "housing", "second pass")
PLAN = RabbetPlan(
    Bit("wide", 19.05, 0.0, 25.0),
    Stock("side", "beech", 20.0, 280.0),
    Stock("ply", "birch plywood", 12.0, 280.0),
    None,
    *(280.0, 20.0, 12.0),
    sheet=11.6,
    depth=10.0,
)
OFF = {"face": 0.31, "depth": -0.27}  # the truth that the shop hides, mm


def stocked(shop: Shop) -> Shop:
    shop.words("bit add wide --diameter 19.05 --angle 0 --cutting-length 25")
    shop.words("stock add side --species beech --thickness 20 --width 280")
    shop.words("stock add ply --species plywood --thickness 12 --width 280")
    return shop


@pytest.fixture
def side(shop: Shop) -> Shop:
    """A shop with a set-up before its first piece."""
    return shop.built(_start)


def _start(shop: Shop) -> None:
    stocked(shop).run(*MEASURED)


def misfit(aspect: str, at: dict[str, float]) -> float:
    return RabbetJoint(PLAN).nominal(aspect, set_to(**at), PLAN.figures()) + OFF[aspect]


def honest(at: dict[str, float]) -> str:
    """What an honest person with a straightedge and a depth rod says."""
    said = []
    for kind in RABBET.kinds:
        off = misfit(kind.name, at)
        word = kind.words[sum(off > edge for edge in scales(PLAN)[kind.name].edges)]
        said.append(word if word in kind.unread else f"{word} {abs(off):.2f}")
    return ", ".join(said)


def test_a_start_tells_how_to_cut_and_where_the_numbers_come_from(shop: Shop) -> None:
    text = plain(OTHERS, stocked(shop).run(*MEASURED).out)
    assert "A light pass first, then 11." in text and "of the bit out of the fence" in text
    assert "Hold the mate in and lay a straightedge over the faces" in text
    assert "is never between bit and fence" in text
    why = plain(OTHERS, shop.words("why").out)
    assert "Exposure: a sheet of 11.6 mm as the mate" in why
    first = document(shop, "next")
    assert first["joint"] == "rabbet" and list(first["settings"]) == ["fence_offset", "height"]
    # The narrow side: the mate stands proud by more than the middle of its window.
    assert 11.0 < first["settings"]["fence_offset"] < 11.5


def test_a_set_up_is_tuned_and_the_next_one_learns_from_it(shop: Shop) -> None:
    stocked(shop)
    told, later = (tuned(shop, MEASURED, honest, again=True) for _ in range(2))
    assert told[-1]["status"] == later[-1]["status"] == "ready"
    assert len(later) <= len(told)
    for aspect, middle in (("face", 0.1), ("depth", 0.0)):
        before, now = (abs(misfit(aspect, a[0]["settings"]) - middle) for a in (told, later))
        assert now < before, aspect
    for advices in (told, later):
        for name in RABBET.names:
            cuts = [a["settings"][name] for a in advices]
            assert cuts == sorted(cuts), f"{name} goes one way only"


def test_the_width_of_a_rabbet_tells_how_the_exposure_is_measured(shop: Shop) -> None:
    stocked(shop)
    before = document(shop, *MEASURED)["settings"]["fence_offset"]
    shop.run("cut", "proud 0.4, right", "--read", f"width={before - 0.2:.2f}")
    shop.words("finish --as-it-is")
    after = document(shop, *MEASURED)["settings"]["fence_offset"]
    assert after > before + 0.1


def test_a_back_lies_shy_and_is_never_left_proud(shop: Shop) -> None:
    first = document(stocked(shop), *BACK)
    assert first["fixed"]["back"] is True and first["fixed"]["depth"] == 5.6
    assert first["settings"]["fence_offset"] == pytest.approx(9.0, abs=0.3)
    text = " ".join(shop.words("why").out.split())
    assert "the back never stands proud" in text and "Lay the back in" in text
    moved = document(shop, "cut", "back proud 0.1")["moves"]["height"]
    assert 0.1 < moved < 0.4
    told = document(shop, "cut", "slightly deep 0.15", "--same-end")
    assert told["status"] == "ready" and told["moves"]["height"] == 0.0


def test_a_back_by_its_label_begins_shallow_but_not_absurdly_so(shop: Shop) -> None:
    first = document(stocked(shop), *START, "--given", "back=yes")
    assert "sheet-by-label" in by_code(first["notices"])
    assert 10.2 < first["settings"]["height"] < 11.5


def test_a_cut_is_told_in_millimetres_and_in_fractions(side: Shop) -> None:
    text = plain(OTHERS, side.run("cut", "proud 0.5, shallow 0.4").out)
    assert "proud 0.50 mm" in text and "the rabbet gets wider" in text
    assert "the cut goes deeper" in text
    side.words("prefer --units fraction")
    text = plain(OTHERS, side.run("cut", "shy 1/64, right", "--wider", "1/32").out)
    assert "mm" not in text and "narrower" in text
    whole = side.words("why").out + side.words("show").out
    assert not re.search(r"\bmm\b", whole)
    cuts = document(side, "show")["cuts"]
    moved = cuts[1]["settings"]["fence_offset"] - cuts[0]["settings"]["fence_offset"]
    assert moved == pytest.approx(25.4 / 32, abs=1e-4)


def test_the_same_edge_is_passed_again_and_one_too_wide_is_not(side: Shop) -> None:
    advice = document(side, "cut", "very proud 0.8, shallow 0.4")
    assert advice["moves"]["fence_offset"] > 0 and advice["moves"]["height"] > 0.0
    assert "same-end" in by_code(advice["reasons"])
    advice = document(side, "cut", "shy 0.4, shallow 0.4", "--same-end")
    assert advice["moves"]["fence_offset"] < 0 and "fresh-end" in by_code(advice["reasons"])
    assert "No pass puts wood back" in " ".join(side.words("next").out.split())


def test_a_mark_that_was_called_shallow_is_not_gone_back_to(shop: Shop) -> None:
    """On marks of 1/64 in, after a cut whose depth nobody looked at: it stands where it does."""
    stocked(shop).run(
        *("machine", "add", "table", "--height-step", "1/64in", "--part", "exposure=step 1/64in")
    )
    shop.words("prefer --units fraction")
    shop.run(*START, "--machine", "table", "--given", "sheet=29/64")
    deeper = document(shop, "cut", "a touch proud, depth shy 1/64")["settings"]["height"]
    advice = document(shop, "cut", "--same-end", "slightly proud", "--wider", "1/128")
    assert advice["settings"]["height"] == deeper
