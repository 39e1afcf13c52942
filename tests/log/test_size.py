"""A log of any length: every question finds its rows by an index, and no question grows with the
log.

No times here: SQLite's own plans (https://www.sqlite.org/eqp.html) and its count of steps, which
are the same on every machine. `bench_size.py` has the times.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from bigshop import BITS, MACHINES, PEOPLE, STOCKS, make
from questions import SMALL, heard
from recent import recent
from shop import Shop
from sqlalchemy import event
from sqlalchemy.engine import Engine

from fitlog import defaults
from fitlog.domain import SetUp
from fitlog.log import Log, open_log

NO_TABLE = ("CONSTANT ROW", "(subquery", "anon_", "pragma_", "sqlite_master")
ON_THE_SAME = ("--bit", BITS[0].name, "--stock", STOCKS[0].name)
COMMANDS: tuple[tuple[str, ...], ...] = (
    ("next",),
    ("cut", "slightly tight"),
    ("undo",),
    ("review", *ON_THE_SAME),
    ("review",),
    ("show",),
    ("finish", "--as-it-is"),
    ("start", *ON_THE_SAME, "--machine", MACHINES[0].name),
    ("words",),
    ("bit", "show", BITS[0].name),
)
FEW = (2, 4)  # cuts a set-up


@pytest.fixture
def stored(shop: Shop) -> Shop:
    return shop.built(_store)


def _store(shop: Shop) -> None:
    make(shop.db, 60, cuts=FEW)


def plans_of(shop: Shop, *command: str) -> dict[str, list[str]]:
    """The plan of every statement that a command runs, by its SQL."""
    found: dict[str, list[str]] = {}

    def note(driver: sqlite3.Connection, sql: str, parameters: Any) -> None:
        if sql.split()[0] in ("SELECT", "WITH", "INSERT"):
            found[" ".join(sql.split())] = [
                row[3] for row in driver.execute(f"EXPLAIN QUERY PLAN {sql}", parameters)
            ]

    with heard(note):
        shop.run(*command)
    return found


def scanned(plan: list[str]) -> list[str]:
    """The tables that a plan reads from one end on."""
    lines = [line.removeprefix("SCAN ") for line in plan if line.startswith("SCAN ")]
    return [
        line for line in lines if not line.startswith(NO_TABLE) and line.split()[0] not in SMALL
    ]


def test_no_question_of_a_command_reads_a_whole_table(stored: Shop) -> None:
    seen: dict[str, list[str]] = {}
    for command in COMMANDS[:-2]:
        seen |= plans_of(stored, *command)
    assert len(seen) > 30
    # Before an INSERT the plan also names the rows that a foreign key might wait for; SQLite looks
    # at them only while one does (https://www.sqlite.org/foreignkeys.html, section 4.2), which the
    # count of steps below confirms.
    found = {
        sql: plan for sql, plan in seen.items() if not sql.startswith("INSERT") and scanned(plan)
    }
    # `review` of everything goes down the set-ups by their numbers, and stops at its limit.
    (newest,) = found
    numbers = "SELECT setup.id FROM setup WHERE NOT (EXISTS"
    assert "ORDER BY setup.id DESC LIMIT ? OFFSET ?) ORDER BY" in newest and numbers in newest
    plan = found[newest]
    assert scanned(plan) == ["setup"]
    of_numbers = plan[plan.index("SCAN setup") :][:5]  # and no B-TREE to put them in order
    assert plan.count("USE TEMP B-TREE FOR ORDER BY") == 1 and not any(
        "B-TREE" in line for line in of_numbers
    )


INDEXES = (
    ("trial_cut JOIN entry", "entry_of_setup (setup=? AND kind=?)"),
    ("FROM verdict", "fault_of_cut (cut=?)"),
    ("taken_back.retracted = entry.id AND NOT", "retraction_of (retracted=?)"),
    (
        "brought_back.redone = taken_back.entry",
        "brought_back USING COVERING INDEX sqlite_autoindex_redo_1 (redone=?)",
    ),
    ("FROM reading", "reading_of_cut (cut=?)"),
    ("max(kept_advice.id)", "kept_advice USING COVERING INDEX advice_of_setup (setup=?)"),
    ("taken_back.entry)))) AND setup.bit_id = ? AND (EXISTS", "setup_of_bit (bit_id=?"),
    (
        "setup.bit_id = ? AND setup.stock_id = ? AND setup.pin_stock_id = ?",
        "setup_of_boards (bit_id=? AND stock_id=?",
    ),
    ("taken_back.entry)))) AND setup.machine_id = ?", "setup_at_machine (machine_id=?"),
    ("taken_back.entry)))) AND setup.stock_id = ? AND (EXISTS", "setup_of_stock (stock_id=?"),
    (
        "taken_back.entry)))) AND setup.pin_stock_id = ? AND (EXISTS",
        "setup_of_pin_stock (pin_stock_id=?",
    ),
    ("DISTINCT logged.setup", "entry_by (kind=? AND by=?"),
    ("logged.kind = ? AND (EXISTS", "entry_of_kind (kind=?)"),
)


def test_which_index_answers_what(stored: Shop) -> None:
    stored.run("finish", "--as-it-is")
    seen = plans_of(stored, "next") | plans_of(stored, *COMMANDS[7])
    for asked, index in INDEXES:
        plans = [plan for sql, plan in seen.items() if asked in sql]
        found = plans and all(any(index in line for line in plan) for plan in plans)
        assert found, (asked, plans, list(seen))


def steps_of(shop: Shop, *command: str) -> int:
    """How many steps SQLite's machine takes for a command, in hundreds."""
    count = 0

    def one_more() -> int:
        nonlocal count
        count += 1
        return 0

    def watch(driver: sqlite3.Connection, _: Any) -> None:
        driver.set_progress_handler(one_more, 100)

    event.listen(Engine, "connect", watch)
    try:
        shop.run(*command)
    finally:
        event.remove(Engine, "connect", watch)
    return count


@pytest.mark.long
def test_no_command_takes_more_steps_on_a_longer_log(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Once there are more set-ups than are remembered of each bit, machine, wood and person, more
    of them cost nothing.
    """
    monkeypatch.setattr(defaults, "HISTORY_NEWEST", 2)
    monkeypatch.setattr(defaults, "BIT_NEWEST", 2)
    shorter, longer = Shop(tmp_path), Shop(tmp_path)
    shorter.db, longer.db = tmp_path / "shorter.db", tmp_path / "longer.db"
    make(shorter.db, 300, cuts=FEW)
    make(longer.db, 1200, cuts=FEW)
    ratios = {}
    for command in (
        c for c in COMMANDS if c != ("words",)
    ):  # which says how many set-ups are finished: it counts them
        few, many = (steps_of(shop, *command, "--db", str(shop.db)) for shop in (shorter, longer))
        ratios[" ".join(command)] = round(many / few, 2)
    # Four times the log. `review` finds a few more to list; `start` asks each set-up of the bit
    # whether it is open.
    assert max(ratios.values()) < 1.3, ratios
    assert (
        max(
            ratios[line]
            for line in ("next", "cut slightly tight", "undo", "show", "finish --as-it-is")
        )
        < 1.05
    ), ratios


@pytest.fixture(scope="module")
def long_log(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Log, list[SetUp]]]:
    path = tmp_path_factory.mktemp("long") / "log.db"
    make(path, 200, cuts=FEW)
    with open_log(path, create=False) as log:
        yield log, [s for s in reversed(log.setups()) if s.outcome == "finished"]


@pytest.mark.parametrize(("newest", "pieces"), [(1, 1), (3, 2), (8, None), (None, 1), (None, None)])
def test_the_log_hands_out_the_newest_of_each_relation(
    long_log: tuple[Log, list[SetUp]], newest: int | None, pieces: int | None
) -> None:
    log, finished = long_log
    for setup in finished[::20]:
        plan, people = setup.plan, {PEOPLE[0], PEOPLE[setup.number % 8]}
        assert plan.machine is not None
        found = log.finished(
            bit=plan.bit.name,
            machine=plan.machine.name,
            stocks=[plan.stock.name, plan.pin_stock.name],
            people=people,
            before=setup.number,
            newest=newest,
            pieces=pieces,
        )
        assert found == recent(
            [s for s in finished if s.number < setup.number], plan, people, newest, pieces
        )


def test_pages_of_the_review_are_the_whole(long_log: tuple[Log, list[SetUp]]) -> None:
    log, _ = long_log
    paged: list[SetUp] = []
    while page := log.setups(
        stock=STOCKS[3].name, limit=4, before=paged[-1].number if paged else None
    ):
        paged += page
    assert paged == log.setups(stock=STOCKS[3].name) and len(paged) > 4


def test_review_shows_the_newest_and_says_so(stored: Shop) -> None:
    every = stored.json("review --all")["setups"]
    assert len(every) > 50
    assert stored.json("review")["setups"] == every[:50]
    result = stored.words("review --last 3 --json")
    assert result.document["setups"] == every[:3] and "fitlog review --all" in result.err
    assert stored.words("review --all").err == ""
    assert stored.words(f"review --last {len(every)}").err == ""
    stored.refused("review", "--last", "0", code=2)


def test_who_has_cut(long_log: tuple[Log, list[SetUp]]) -> None:
    log, finished = long_log
    assert log.people() == sorted({cut.by for setup in log.setups() for cut in setup.cuts})
    assert log.count_finished() == len(finished)
    mine = [s for s in finished if any(c.by == PEOPLE[2] for c in s.cuts)]
    assert log.finished_by(PEOPLE[2]) == mine and log.finished_by(PEOPLE[2], 3) == mine[-3:]


def test_the_generated_log_is_sound(stored: Shop) -> None:
    with closing(sqlite3.connect(stored.db)) as plain:
        assert plain.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert plain.execute("PRAGMA foreign_key_check").fetchall() == []
        with pytest.raises(sqlite3.IntegrityError, match="append-only"):
            plain.execute("DELETE FROM entry")
