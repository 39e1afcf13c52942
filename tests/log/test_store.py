"""The log, on a file and on a server alike: what goes in comes out, the catalogue keeps its rules.
The numbers are invented.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from logs import ASH, BIT, FIRST, FULL, OAK, PLAN, STAMP, T0, TABLE, make_place, refused, stock_up
from tables import parts

from fitlog.domain import Aspect, Fault, Reading, Said, SetUp, TrialCut
from fitlog.families.half_blind.names import FAULT_PLACES, WORDS, judged, say, set_to
from fitlog.families.half_blind.plan import DovetailPlan
from fitlog.log import Log, Preferences, Stamp, open_log

# What goes in comes out


def test_catalogue_round_trip(log: Log) -> None:
    assert log.bits() == [BIT]
    assert log.stocks() == [ASH, OAK]
    assert log.machines() == [TABLE]
    assert (log.bit("gREEN  8"), log.stock("Red Oak"), log.machine("THE TABLE")) == (
        BIT,
        OAK,
        TABLE,
    )


def test_set_up_round_trip(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    expected = SetUp(number, PLAN, FIRST, FIRST, T0, "mira")
    assert log.setup(number) == log.current() == expected
    entry = log.record(number, FULL, Stamp("jo", T0 + timedelta(hours=1)))
    cut = replace(FULL, entry=entry, by="jo", at=T0 + timedelta(hours=1))
    assert log.setup(number) == replace(expected, cuts=(cut,))
    ending = Stamp("jo", T0.astimezone(timezone(timedelta(hours=9))))
    log.close(number, "abandoned", ending)
    assert log.setup(number) == replace(expected, cuts=(cut,), outcome="abandoned", ended=T0)


def test_plan_without_machine_and_all_defaults(log: Log) -> None:
    plan = DovetailPlan(
        BIT,
        OAK,
        OAK,
        None,
        pitch=20.1,
        board_width=138.5,
        tail_thickness=18.3,
        pin_thickness=18.3,
        rabbet_depth=6.2,
    )
    assert log.setup(log.start(plan, FIRST, "{}", Stamp("", T0))).plan == plan


LENGTHS = st.floats(1e-6, 1e5)
LINES = st.text(st.characters(exclude_categories=("C", "Z")), max_size=30)


def said(aspect: Aspect) -> st.SearchStrategy[Said | None]:
    return st.none() | st.builds(
        say, st.just(aspect), st.sampled_from(WORDS[aspect]), st.none() | LENGTHS
    )


READINGS = st.one_of(
    st.builds(Reading, st.sampled_from(("pull_gap", "mouth", "tail_width")), LENGTHS),
    st.builds(Reading, st.sampled_from(("between_rods", "over_rods")), LENGTHS, rod=LENGTHS),
    st.builds(Reading, st.just("walls"), LENGTHS, other=LENGTHS),
)
SETTINGS = st.builds(set_to, LENGTHS, LENGTHS, st.floats(-1e5, 1e5))
FAULTS = st.lists(
    st.builds(Fault, st.sampled_from(FAULT_PLACES), st.none() | LENGTHS), max_size=3
).map(tuple)
CUTS = st.builds(
    TrialCut,
    st.just(0),
    st.just(1),
    SETTINGS,
    st.builds(judged, said("fit"), said("centre"), said("seat"), FAULTS),
    st.lists(READINGS, max_size=4).map(tuple),
    st.sampled_from(((), ("fence_offset",), ("bit_height", "fence_offset", "socket_depth"))),
    st.none() | SETTINGS,
    LINES,
    LINES,
    LINES,
    st.dictionaries(st.sampled_from(("width", "thickness")), LENGTHS),
)


@pytest.fixture(scope="module", params=["file", "server"])
def long_log(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Log]:
    place = make_place(request.param, request, tmp_path_factory.mktemp("long"))
    with open_log(place.location, create=True) as opened:
        yield stock_up(opened)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(cut=CUTS)
def test_any_cut_round_trip(long_log: Log, cut: TrialCut) -> None:
    number = long_log.start(PLAN, FIRST, "{}", STAMP)
    entry = long_log.record(number, cut, STAMP)
    assert long_log.setup(number).cuts == (
        replace(cut, entry=entry, by="mira", at=T0, machine="the table"),
    )
    long_log.close(number, "finished", STAMP)


def test_preferences_newest_wins(log: Log) -> None:
    assert log.preferences("mira") == Preferences("mm", None)
    log.prefer("mira", units="in", name="Mira", at=T0)
    log.prefer("mira", units="fraction", at=T0)
    assert log.preferences("mira") == Preferences("fraction", "Mira")
    assert log.preferences("jo") == Preferences()


def test_time_without_zone_and_bad_values_refused(log: Log) -> None:
    refused("naive-time", Stamp, "mira", datetime(2031, 1, 1))
    number = log.start(PLAN, FIRST, "{}", STAMP)
    refused("bad-size", log.record, number, replace(FULL, sizes={"width": float("nan")}), STAMP)
    refused("bad-setting", log.record, number, replace(FULL, stated=("speed",)), STAMP)
    refused("control-character", log.record, number, replace(FULL, note="\x1b[2J"), STAMP)
    refused("bad-size", log.record, number, replace(FULL, settings=set_to(1e7, 1, 1)), STAMP)
    refused("not-stored", log.show, number, FIRST, '{"cost": NaN}', STAMP)
    assert log.setup(number).cuts == ()


# The catalogue


def test_unknown_name_says_what_is_near_or_how_to_add(log: Log, tmp_path: Path) -> None:
    assert "Green 8" in refused("unknown-name", log.bit, "gren 8").hint
    with open_log(tmp_path / "empty.db", create=True) as empty:
        assert "fitlog stock add" in refused("unknown-name", empty.stock, "oak").hint


@pytest.mark.parametrize("kind", ["bit", "stock", "machine"])
def test_add_edit_retire_remove_alike(log: Log, kind: str) -> None:
    def do(verb: str, *args: Any, **changes: Any) -> Any:
        return getattr(log, f"{verb}_{kind}")(*args, **changes)

    get, everything = getattr(log, kind), getattr(log, kind + "s")
    old = everything()[0]
    refused("name-taken", do, "add", replace(old, name=old.name.upper()))
    do("add", replace(old, name="Äspe  two"))
    refused("name-taken", do, "add", replace(old, name="äspe two"))
    refused("name-taken", do, "edit", "äspe two", name=old.name)
    assert do("edit", "ÄSPE TWO", name="three") == get("three") == replace(old, name="three")
    do("retire", "three")
    assert (
        get("three").retired
        and get("three") not in everything()
        and get("three") in everything(True)
    )
    assert do("edit", "three", retired=False) == replace(old, name="three")
    do("remove", "three")
    refused("unknown-name", get, "three")
    log.start(PLAN, FIRST, "{}", STAMP)
    assert "set-up 1" in refused("in-use", do, "remove", old.name).message


def test_edit_is_validated(log: Log) -> None:
    refused("bad-size", log.edit_stock, "ash", thickness=-1.0)
    refused("unknown-name", log.edit_machine, "nowhere", parts={"height": {"backlash": 0.1}})
    assert log.stock("ash") == ASH


def test_sharpening_epochs(log: Log) -> None:
    first = log.start(PLAN, FIRST, "{}", STAMP)
    refused("still-tuning", log.sharpen, "green 8", 12.3, STAMP)
    log.close(first, "finished", STAMP)
    sharp = log.sharpen("green 8", 12.3, STAMP)
    assert sharp == log.bit("green 8") == replace(BIT, diameter=12.3, sharpenings=1)
    second = log.start(replace(PLAN, bit=sharp), FIRST, "{}", STAMP)
    log.close(second, "finished", STAMP)
    assert log.sharpen("green 8", None, STAMP) == replace(
        BIT, diameter=12.3, measured=False, sharpenings=2
    )
    log.edit_bit("green 8", angle=9.0, name="Green")
    then = [log.setup(n) for n in (first, second)]
    assert [s.plan.bit for s in then] == [
        replace(BIT, name="Green", angle=9.0),
        replace(BIT, name="Green", angle=9.0, diameter=12.3, sharpenings=1),
    ]
    assert [s.sharpenings for s in then] == [0, 1]


def test_edit_keeps_old_set_ups_readable(log: Log) -> None:
    log.sharpen(BIT.name, 12.0, STAMP)
    log.edit_bit(BIT.name, diameter=14.0)
    refused(
        "bad-size", log.edit_bit, BIT.name, neck=13.0
    )  # thinner than 14.0, not than the 12.6 of the past


def test_scale_zeros_are_those_of_the_set_up(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    log.edit_machine("the table", parts=parts(height_zero=5.0, fence_zero=6.0, backlash=0.2))
    assert log.setup(number).plan.machine == TABLE.with_parts(parts(backlash=0.2))
