"""The log holds any family: what its plan, its settings and its words are goes in and comes out
again the same, through an export too; what is none of its own is refused.
"""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from itertools import count
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from logs import (
    ASH,
    BIT,
    FIRST,
    FULL,
    OAK,
    PLAN,
    STAMP,
    T0,
    TABLE,
    Place,
    make_place,
    refused,
    stock_up,
    undigested,
)
from toy_family.joint import PEGS, PegsPlan, set_to

from fitlog import families
from fitlog.domain import Fault, Plan, Reading, Settings, TrialCut, Verdict
from fitlog.exchange.document import rows_of
from fitlog.families import names
from fitlog.families.half_blind.names import HALF_BLIND
from fitlog.log import Log, open_log
from fitlog.service.exchange import read_log, write_log

HOURS = count()
LENGTHS = st.floats(1e-6, 1e5)
SIGNED = st.floats(-1e5, 1e5)
PEGS_PLAN = PegsPlan(BIT, OAK, ASH, TABLE, 138.5, 18.3, 12.1, spacing=30.0)


@pytest.fixture(scope="module", autouse=True)
def known() -> Iterator[None]:
    """The invented family, known for these tests."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(names.FAMILIES, PEGS.name, PEGS)
        patch.setitem(names.PLANS, PEGS.name, PegsPlan)
        yield


def verdicts(family: Any) -> st.SearchStrategy[Verdict]:
    said = [
        st.none()
        | st.builds(family.said, st.just(k.name), st.sampled_from(k.words), st.none() | LENGTHS)
        for k in family.kinds
    ]
    gaps = st.lists(
        st.builds(Fault, st.sampled_from(family.faults), st.none() | LENGTHS),
        max_size=3,
        unique_by=lambda gap: gap.place,
    )
    return st.builds(
        lambda found, faults: Verdict(tuple(s for s in found if s is not None), tuple(faults)),
        st.tuples(*said),
        gaps,
    )


def readings(family: Any) -> st.SearchStrategy[tuple[Reading, ...]]:
    kinds = [
        st.builds(Reading, st.just(kind), LENGTHS, **({second: LENGTHS} if second else {}))
        for kind, second in family.readings.items()
    ]
    return st.lists(st.one_of(kinds), max_size=4).map(tuple)


def lengths(family: Any) -> st.SearchStrategy[Settings]:
    kinds = st.tuples(*(LENGTHS if s.positive else SIGNED for s in family.settings))
    return st.builds(Settings, st.just(family), kinds)


def lived(family: Any, plans: st.SearchStrategy[Plan]) -> st.SearchStrategy[tuple[Any, ...]]:
    """A plan, its first settings, a cut and what was found, of a family."""
    cut = st.builds(
        TrialCut,
        st.just(0),
        st.just(1),
        lengths(family),
        verdicts(family),
        readings(family),
        st.sets(st.sampled_from(family.names)).map(
            lambda s: tuple(n for n in family.names if n in s)
        ),
        st.none() | lengths(family),
        sizes=st.dictionaries(st.sampled_from(("width", "thickness")), LENGTHS),
    )
    return st.tuples(plans, lengths(family), cut, lengths(family))


DOVETAILS = st.builds(
    lambda **figures: replace(PLAN, **figures),
    pitch=st.floats(1, 30),
    rabbet_depth=LENGTHS,
    rabbet_bit=st.sampled_from(("same", "straight")),
    wanted_step=st.floats(-3, 3),
    by_eye=st.booleans(),
    spaced=st.booleans(),
    many_tails=st.booleans(),
    tails=st.none() | st.integers(1, 200),
    spacing=st.none() | st.floats(30, 138),
    machine=st.sampled_from((None, TABLE)),
    in_play=st.sampled_from((("seat", "fit"), ("centre",), HALF_BLIND.aspects)),
)
PEGGED = st.builds(
    lambda **figures: replace(PEGS_PLAN, **figures),
    spacing=LENGTHS,
    machine=st.sampled_from((None, TABLE)),
    in_play=st.sampled_from((("place",), PEGS.aspects)),
)


@pytest.fixture(scope="module", params=["file", "server"])
def both(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    """A log, and another of the same kind that it is exported to."""
    with (
        open_log(
            make_place(request.param, request, tmp_path_factory.mktemp("a")).location, create=True
        ) as one,
        open_log(
            make_place(request.param, request, tmp_path_factory.mktemp("b")).location, create=True
        ) as two,
    ):
        yield stock_up(one), two


def text_of(log: Log) -> str:
    out = io.StringIO()
    write_log(log, out.write)
    return out.getvalue()


@settings(max_examples=25, deadline=None, derandomize=True)
@given(case=lived(HALF_BLIND, DOVETAILS) | lived(PEGS, PEGGED))
def test_any_family_goes_in_and_comes_out(both: tuple[Log, Log], case: tuple[Any, ...]) -> None:
    log, other = both
    plan, first, cut, found = case
    stamp = replace(STAMP, at=T0 + timedelta(hours=next(HOURS)))
    number = log.start(plan, first, "{}", stamp)
    entry = log.record(number, cut, stamp)
    one = next(iter(plan.family.names))
    log.log_found(number, {one: found[one]}, stamp)
    log.show(number, found, '{"a": 1}', stamp)
    log.close(number, "finished", stamp)
    setup = log.setup(number)
    assert (setup.plan, setup.first, setup.shown) == (plan, first, found)
    assert type(setup.plan) is type(plan)
    assert setup.cuts == (replace(cut, entry=entry, by="mira", at=stamp.at, machine="the table"),)
    assert [(f.settings, f.remembered) for f in log.found_entries(number)] == [
        ({one: found[one]}, first)
    ]
    if number % 10 == 0:  # what comes in twice is refused by nobody and adds nothing
        text = text_of(log)
        read_log(other, rows_of(io.StringIO(text)), "me")
        assert [s for s in other.setups() if s.number == number] == [setup]
        assert not read_log(other, rows_of(io.StringIO(text)), "me").merged.added


def test_the_log_refuses_what_is_of_another_family(log: Log) -> None:
    number = log.start(PEGS_PLAN, set_to(10.0, 17.0), "{}", STAMP)
    refused("bad-setting", log.log_found, number, {"bit_height": 8.0}, STAMP)
    refused("bad-setting", log.record, number, FULL, STAMP)
    refused("bad-setting", log.show, number, FIRST, "{}", STAMP)
    assert log.setup(number).cuts == () and log.setup(number).shown == set_to(10.0, 17.0)


DAMAGE = {
    "a name of nobody": ("trial_cut", "settings", lambda s: {**s, "lever": 1.0}, "'lever'"),
    "one missing": (
        "trial_cut",
        "settings",
        lambda s: {"fence_offset": 3.0},
        "bit_height is missing",
    ),
    "no number": ("trial_cut", "settings", lambda s: {**s, "bit_height": "high"}, "no number"),
    "a yes": ("trial_cut", "settings", lambda s: {**s, "bit_height": True}, "no number"),
    "infinite": ("trial_cut", "settings", lambda s: '{"bit_height": 1e999}', "bit_height"),
    "far": ("trial_cut", "settings", lambda s: {**s, "bit_height": 1e9}, "cannot be"),
    "a size of nobody": ("trial_cut", "sizes", lambda s: {"length": 3.0}, "'length'"),
    "no figure": ("setup", "figures", lambda f: {**f, "colour": 1.0}, "'colour'"),
    "a figure missing": ("setup", "figures", lambda f: {"tails": 4}, "pitch is missing"),
    "a word for a figure": ("setup", "figures", lambda f: {**f, "tails": "four"}, "tails"),
    "a part of no name": ("machine", "parts", lambda p: {"": {"step": 0.1}}, "a part"),
    "no figure of a part": ("machine", "parts", lambda p: {"lid": {"colour": 0.1}}, "colour"),
    "no stack": ("machine", "parts", lambda p: {"lid": {"pack": "paper"}}, "'paper'"),
    "a part of two kinds": (
        "machine",
        "parts",
        lambda p: {"lid": {"pack": "paper 0.1", "step": 0.1}},
        "stacks",
    ),
    "a word of nobody": ("verdict", "word", lambda _: "snug", "'snug'"),
    "an aspect of nobody": ("verdict", "aspect", lambda _: "hue", "'hue'"),
    "a reading of nobody": ("reading", "kind", lambda _: "luck", "'luck'"),
}


@pytest.mark.parametrize("damage", DAMAGE)
def test_a_row_that_makes_no_sense_is_one_sentence(log: Log, place: Place, damage: str) -> None:
    table, column, change, why = DAMAGE[damage]
    number = log.start(PLAN, FIRST, "{}", STAMP)
    log.record(number, FULL, STAMP)
    ((was,),) = place.rows(f"SELECT {column} FROM {table} ORDER BY 1 LIMIT 1")
    text = change(json.loads(was)) if was.startswith("{") else change(was)
    with place.plain() as plain:
        if place.server is None:
            for (name,) in plain.execute(
                "SELECT name FROM sqlite_master WHERE type = 'trigger'"
            ).fetchall():
                plain.execute(f"DROP TRIGGER {name}")
        else:
            plain.execute(f"ALTER TABLE {table} DISABLE TRIGGER USER")
        mark = "?" if place.server is None else "%s"
        new = text if isinstance(text, str) else json.dumps(text)
        plain.execute(f"UPDATE {table} SET {column} = {mark} WHERE {column} = {mark}", (new, was))
    error = refused("damaged-log", log.setup, number)
    assert why in error.message and "backup" in error.hint


def test_a_joint_of_a_newer_fitlog_is_kept_by_its_name(log: Log, tmp_path: Any) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    log.record(number, FULL, STAMP)
    text = undigested(text_of(log)).replace(HALF_BLIND.name, "newer joint")
    for old, new in (("slightly loose", "roomy"), ("socket_depth", "lever"), ('"fit"', '"hug"')):
        text = text.replace(old, new)
    with open_log(tmp_path / "other.db", create=True) as other:
        read_log(other, rows_of(io.StringIO(text)), "me")
        (setup,) = other.setups()
        assert setup.plan.joint == "newer joint"
        assert dict(setup.first) == {"bit_height": 8.7, "fence_offset": 70.2, "lever": 9.1}
        assert str(setup.cuts[0].verdict.said[0]) == "roomy 0.40"
        assert not any(said.settles for said in setup.cuts[0].verdict.said)
        assert undigested(text_of(other)) == text
        refused("unknown-joint", families.joint_of, setup.plan)
        refused("unknown-joint", other.log_found, setup.number, {"lever": 2.0}, STAMP)
        refused("unknown-joint", other.start, setup.plan, setup.first, "{}", STAMP)
