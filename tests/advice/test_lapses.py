"""Lapses of the head, through the command line: sides swapped, a fence far off, the same piece
logged twice.

Each is a hypothesis with its own chance: a sentence asks, the setting is the right one or a hedge
meanwhile, and the note never says otherwise than the setting. The four cases are those that a shop
reported; their figures are worked out by hand.
"""

from __future__ import annotations

import math
from datetime import timedelta
from typing import Any

import pytest
from building import STARTED, make_cut, make_plan, make_setup
from hypothesis import given, settings
from hypothesis import strategies as st
from shop import Shop, by_code

from fitlog.advice import advise
from fitlog.advice.decision import decide
from fitlog.advice.history import History
from fitlog.advice.knowledge import SWAPPED
from fitlog.families.half_blind.names import WORDS, say, set_to

STEADY = {"derandomize": True, "deadline": None, "database": None}
MM = {"height-step": "0.05", "fence-step": "0.1", "depth-step": "0.1"}
INCH = {"height-step": "1/128in", "fence-step": "1/128in", "depth-step": "1/128in"}
SIDES = {"proud": "shy", "shy": "proud", "gap far": "gap near", "gap near": "gap far"}
SETTING = {"seat": "socket_depth", "centre": "fence_offset", "fit": "bit_height"}


def opened(shop: Shop, units: str) -> Shop:
    """A set-up before its first piece, on a machine in tenths of a mm or in 1/128 in."""
    shop.stocked(machine=INCH if units == "fraction" else MM)
    if units == "fraction":
        shop.words("prefer --units fraction")
    shop.words("start")
    return shop


def size(mm: float, units: str) -> str:
    """A size as it is typed, the fraction to a 64th."""
    return f"{mm:g}" if units == "mm" else f"{round(mm / 25.4 * 64)}/64"


def no_contradiction(found: Any) -> None:
    """A note that tells to cut the same again stands beside a setting that stays; none says that a
    move did nothing.
    """
    codes = by_code(found["notices"])
    assert not [c for c in codes if c.startswith("move-")], codes
    for note in found["notices"]:
        name = SETTING.get(note["aspect"] or "")
        if name and "cut the same setting again" in note["text"]:
            assert abs(found["moves"][name]) < 1e-6, note
    for aspect, by in found["settled_by"].items():
        if by is not None:
            assert not {"sides-swapped", f"slip-{aspect}"} & {
                n["code"] for n in found["notices"] if n["aspect"] == aspect
            }


# --- sides swapped all along ----------------------------------------------------------------------


@pytest.mark.parametrize("units", ["mm", "fraction"])
@pytest.mark.parametrize("said", ["shy", "proud"])
def test_shallower_made_it_worse(shop: Shop, said: str, units: str) -> None:
    """Truly 0.5 mm (1/64 in) proud and called shy: the move makes it 1 mm (1/32 in), called shy:
    flush is that much deeper.
    """
    opened(shop, units)
    half, whole = (0.5, 1.0) if units == "mm" else (25.4 / 64, 25.4 / 32)
    first = shop.json(f"cut good, centred, {said} {size(half, units)}")
    sign = -1 if said == "shy" else 1  # shy: shallower
    assert first["moves"]["socket_depth"] == pytest.approx(sign * half, abs=0.15)
    assert "sides-swapped" not in by_code(first["notices"])
    depth = first["last"]["settings"]["socket_depth"] + sign * half
    typed = f"{depth:g}" if units == "mm" else f"{depth / 25.4:.5f}"
    found = shop.json(f"cut good, centred, {said} {size(whole, units)} --depth {typed}")
    told = by_code(found["notices"])["sides-swapped"]
    assert told.startswith(f'Did you mean "{SIDES[said]}" where you said "{said}"?')
    assert "the setting moves for" in told and f'"{SIDES[said]}"' in told
    assert found["settled_by"]["seat"] is None and found["status"] == "tuning"
    assert found["settings"]["socket_depth"] == pytest.approx(depth - sign * whole, abs=0.11)
    assert found["misfit"]["seat"]["mean"] == pytest.approx(-sign * whole, abs=0.1)
    no_contradiction(found)


def test_after_point_three_and_twice_point_six_it_moves_the_right_way(shop: Shop) -> None:
    """Truly 0.3 proud, called shy 0.3; 0.3 shallower it is 0.6, twice: the depth is 0.3 deeper than
    the first one's.
    """
    first = opened(shop, "mm").json("cut good, centred, shy 0.3")
    depth = first["last"]["settings"]["socket_depth"]
    assert first["settings"]["socket_depth"] == pytest.approx(depth - 0.3, abs=0.05)
    for _ in range(2):
        found = shop.json(f"cut good, centred, shy 0.6 --depth {depth - 0.3:g}")
        assert "sides-swapped" in by_code(found["notices"]) and found["settled_by"]["seat"] is None
        assert found["settings"]["socket_depth"] == pytest.approx(depth + 0.3, abs=0.11)
        assert found["moves"]["socket_depth"] > 0.5
        no_contradiction(found)


@pytest.mark.parametrize("said", ["gap far", "gap near"])
def test_near_and_far_alike(shop: Shop, said: str) -> None:
    """The cut wider by 0.6, called the wrong side: the fence moves 0.3 the wrong way, and the next
    is wider by 1.2.
    """
    first = opened(shop, "mm").json(f"cut good, {said} 0.6, flush")
    fence, sign = first["last"]["settings"]["fence_offset"], -1 if said == "gap far" else 1
    found = shop.json(f"cut good, {said} 1.2, flush --fence {fence + sign * 0.3:g}")
    told = by_code(found["notices"])["sides-swapped"]
    assert (
        told.startswith(f'Did you mean "{SIDES[said]}" where you said "{said}"?')
        and "Mark the edge" in told
    )
    moved = found["moves"]["fence_offset"]
    assert found["settled_by"]["centre"] is None and moved * sign <= 1e-6, (
        "it stays, or goes the other way"
    )
    assert ("the setting stays" in told) == (abs(moved) < 1e-6)
    no_contradiction(found)


@pytest.mark.parametrize(("said", "then"), [("tight", "very tight"), ("loose", "very loose")])
def test_tight_and_loose_alike_are_asked_and_the_bit_stays(
    shop: Shop, said: str, then: str
) -> None:
    opened(shop, "mm").json(f"cut {said}, centred, flush")
    found = shop.json(f"cut {then}, centred, flush")
    told = by_code(found["notices"])["sides-swapped"]
    other = then.replace("tight", "x").replace("loose", "tight").replace("x", "loose")
    assert (
        f'Did you mean "{other}" where you said "{then}"?' in told
        and "the setting stays until that is clear" in told
    )
    assert found["moves"]["bit_height"] == 0 and found["settled_by"]["fit"] is None
    no_contradiction(found)


ONE_FIT = st.tuples(
    st.integers(-300, 300), st.sampled_from(WORDS["fit"]), st.none() | st.integers(2, 80)
)


@settings(max_examples=60, **STEADY)
@given(st.lists(ONE_FIT, min_size=1, max_size=3))
def test_a_fit_never_moves_against_the_word_just_said(
    rows: list[tuple[int, str, int | None]],
) -> None:
    """However likely it is that the sides were swapped: a tighter joint asked for by mistake costs
    the boards.
    """
    at, cuts = set_to(8.7, 75.0, 11.0), []
    for number, (off, word, gap) in enumerate(rows, 1):
        size_ = None if gap is None or "tight" in word or word == "good" else gap / 100
        cuts.append(make_cut(number, set_to(8.7 + off / 1000, 75.0, 11.0), say("fit", word, size_)))
    made = decide(make_setup(make_plan(in_play=("fit",)), at, cuts), History())
    side, moved = (
        say("fit", rows[-1][1]).side,
        made.settings["bit_height"] - cuts[-1].settings["bit_height"],
    )
    if side:
        assert moved * side >= -1e-6, (rows, made.known.chance_of("fit", SWAPPED))


# --- sides swapped once ---------------------------------------------------------------------------


def test_one_word_on_the_other_side_is_asked_about_and_settles_nothing(shop: Shop) -> None:
    """Shy 0.3, flush 0.3 shallower: 0.4 deeper than that it is 0.4 shy, and "proud 0.4" goes
    together with them only so.
    """
    depth = opened(shop, "mm").json("cut good, centred, shy 0.3")["last"]["settings"][
        "socket_depth"
    ]
    shop.words(f"cut good, centred, flush --depth {depth - 0.3:g}")
    found = shop.json(f"cut good, centred, proud 0.4 --depth {depth + 0.1:g}")
    told = by_code(found["notices"])["side-swapped-once"]
    assert (
        told.startswith('Did you mean "shy 0.40 mm" where piece 3 says "proud 0.40 mm"?')
        and "undo --piece 3" in told
    )
    assert found["settled_by"]["seat"] is None and found["status"] == "tuning", (
        "0.4 off is not ready"
    )
    assert (
        found["moves"]["socket_depth"] == 0
        and "the setting does not go against your word until that is clear" in told
    )
    later = shop.json(f"cut good, centred, flush --depth {depth - 0.3:g}")
    assert (
        "and is taken so" in by_code(later["notices"])["side-swapped-once"]
        and later["settled_by"]["seat"]["piece"] == 4
    )
    shop.words("undo")
    shop.words("undo --piece 3")
    found = shop.json(f"cut good, centred, shy 0.4 --depth {depth + 0.1:g}")
    assert "side-swapped-once" not in by_code(found["notices"])
    assert found["settings"]["socket_depth"] == pytest.approx(depth - 0.3, abs=0.11)


# --- a fence that is far off ----------------------------------------------------------------------


@pytest.mark.parametrize("units", ["mm", "fraction"])
def test_a_fence_millimetres_off_is_named_and_allowed_for(shop: Shop, units: str) -> None:
    """3 mm wider: 1.5 off. 0.2 nearer it is 1.3 off and 2.6 wider, exactly: the fence is then to go
    another 1.3.
    """
    first = opened(shop, units).json("cut good, gap far 3mm, flush")
    fence = first["last"]["settings"]["fence_offset"] - 0.2
    found = shop.json(f"cut good, gap far 2.6mm, flush --fence {fence:.4f}mm")
    codes = by_code(found["notices"])
    assert "far off" in codes["far-off-zero"] or "far more than usual" in codes["far-off-zero"]
    assert not {"surprise-centre", "slip-centre", "sides-swapped"} & set(codes), codes
    assert found["misfit"]["centre"]["mean"] == pytest.approx(1.3, abs=0.03)
    assert found["settings"]["fence_offset"] == pytest.approx(fence - 1.3, abs=0.11)
    no_contradiction(found)
    assert shop.json("stops")["zero"] == pytest.approx(fence - 1.3, abs=0.03)


# --- the same piece twice -------------------------------------------------------------------------


def test_the_same_piece_twice_is_asked_about_and_teaches_next_to_nothing_new(shop: Shop) -> None:
    once = opened(shop, "mm").json("cut tight, gap far 0.5, proud 0.5")
    twice = shop.json("cut tight, gap far 0.5, proud 0.5")
    assert "`fitlog undo` takes it back" in by_code(twice["notices"])["piece-twice"]
    moved = once["moves"]["bit_height"] * 2 * math.tan(math.radians(9))
    assert twice["misfit"]["fit"]["mean"] + moved == pytest.approx(
        once["misfit"]["fit"]["mean"], abs=0.02
    )
    back = once["moves"]["fence_offset"]
    assert twice["misfit"]["centre"]["mean"] - back == pytest.approx(
        once["misfit"]["centre"]["mean"], abs=0.02
    )
    no_contradiction(twice)


@pytest.mark.parametrize(
    ("later", "again"), [(timedelta(seconds=20), True), (timedelta(minutes=20), False)]
)
def test_only_what_is_logged_at_once_counts_as_maybe_the_same(
    later: timedelta, again: bool
) -> None:
    """Two pieces called tight tell more than one that is logged twice, after which nearly the same
    is known as after one.
    """
    at, plan = set_to(8.7, 75.0, 11.0), make_plan(in_play=("fit",))
    cuts = [
        make_cut(n, at, "tight", at=STARTED + (n - 1) * later, stated=("bit_height",))
        for n in (1, 2)
    ]
    one, two = (decide(make_setup(plan, at, cuts[:n]), History()).known.law("fit") for n in (1, 2))
    assert make_setup(plan, at, cuts).pieces()[1].again is again
    share = (one.mean - two.mean) / one.sd
    assert (abs(share) < 0.1) is again
    told = {n.code for n in advise(make_setup(plan, at, cuts), History()).notices}
    assert ("piece-twice" in told) is again


def test_who_is_asked_and_says_it_again_is_heard(shop: Shop) -> None:
    """Tight, and tighter as the bit went down: asked whether loose was meant. Said again at that
    height, it goes on down.
    """
    shop.started("--pitch 22.6 --only fit --words-only")
    shop.words("cut slightly tight --height 8.5")
    shop.words("cut tight --height 8.375")
    found = shop.json("cut tight --height 8.25")
    assert "sides-swapped" in by_code(found["notices"]) and found["moves"]["bit_height"] == 0
    found = shop.json("cut tight --height 8.25")
    assert "sides-swapped" not in by_code(found["notices"]) and found["moves"]["bit_height"] < 0


def test_a_side_of_the_centre_said_again_is_heard_too(shop: Shop) -> None:
    """In words alone, still near after moves out: asked whether far was meant, and not for ever
    once it is said again.
    """
    shop.started("--pitch 22.6 --only centre --words-only")
    shop.words("cut gap near --fence 75.1")
    for _ in range(3):
        found = shop.json("cut gap near --out 0.25")
        if "sides-swapped" in by_code(found["notices"]):
            break
    assert "sides-swapped" in by_code(found["notices"]) and found["moves"]["fence_offset"] == 0
    assert "sides-swapped" not in by_code(shop.json("cut gap near")["notices"])
