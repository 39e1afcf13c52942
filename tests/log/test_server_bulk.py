"""Many rows in one statement on a server: each is guarded as if it came alone, none costs a look at
the whole table, and each value arrives as it was.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from logs import T0, Place, fill, refused, stock_up
from postgres import Server, driver
from shop import Shop
from sqlalchemy import select

from fitlog.log import Log, open_log
from fitlog.log.rows import moment_text
from fitlog.log.schema import BIT, ENTRY, MACHINE
from fitlog.log.transfer import bulk
from fitlog.log.transfer.together import together

driver()
BITS = 400


@pytest.fixture
def place(server: Server) -> Place:
    return Place(server.place(), server)


@pytest.fixture
def filled(place: Place) -> Iterator[Log]:
    with open_log(place.location, create=True) as opened:
        yield fill(stock_up(opened))


def bits(log: Log, count: int) -> list[dict[str, Any]]:
    """Rows of new bits like the first, under the numbers after the last."""
    with log.store.reading() as connection:
        first = connection.execute(select(BIT).where(BIT.c.id == 1)).one()._mapping
        last = bulk.highest(connection, BIT)
    return [{**first, "id": last + n, "name": f"bit {n}"} for n in range(1, count + 1)]


def put(log: Log, rows: dict[str, list[dict[str, Any]]]) -> None:
    """Store rows in one transaction."""
    with together(log) as (_, connection):
        bulk.insert(connection, rows)


def test_a_guard_sees_the_rows_before_it_in_the_statement(filled: Log, place: Place) -> None:
    # No index forbids to take an entry back twice: the guard alone does.
    before = place.rows("SELECT count(*) FROM entry")
    with filled.store.reading() as connection:
        newest = select(ENTRY).where(ENTRY.c.kind == "cut").order_by(ENTRY.c.id.desc())
        cut = connection.execute(newest).first()
        last = bulk.highest(connection, ENTRY)
    assert cut is not None
    plain = {"kind": "retract", "setup": cut.setup, "by": "mira", "at": moment_text(T0)}
    twice = [last + 1, last + 2]
    rows = {
        "entry": [{**plain, "id": number} for number in twice],
        "retraction": [{"entry": number, "retracted": cut.id} for number in twice],
    }
    refused("not-stored", put, filled, rows)
    assert place.rows("SELECT count(*) FROM entry") == before
    put(filled, {name: those[:1] for name, those in rows.items()})
    assert place.rows("SELECT count(*) FROM entry") == [(before[0][0] + 1,)]


def test_no_row_costs_a_look_at_the_whole_table(filled: Log) -> None:
    rows = {"bit": bits(filled, BITS)}
    read = "SELECT sum(seq_tup_read) FROM pg_stat_xact_user_tables"
    with together(filled) as (_, connection):
        bulk.insert(connection, rows)
        # A look at all of them for each were half their square.
        assert connection.exec_driver_sql(read).scalar_one() < 2 * BITS


def test_a_value_arrives_as_it_was(filled: Log, place: Place) -> None:
    (row,) = bits(filled, 1)
    row |= {"name": "a \"b\" \\ 'c'; %s :d \u00e4 \u2603 \U0001f600", "diameter": 10 + 0.1 + 0.2}
    plain = select(MACHINE).where(MACHINE.c.id == 1)
    with filled.store.reading() as connection:
        machine = dict(connection.execute(plain).one()._mapping)
    machine |= {"id": 2, "name": "one more"}
    put(filled, {"bit": [row], "machine": [machine]})
    texts = place.rows("SELECT parts FROM machine ORDER BY id")
    assert texts == [(json.dumps(machine["parts"]),)] * 2 and machine["parts"]
    with filled.store.reading() as connection:
        there = connection.execute(select(BIT).where(BIT.c.id == row["id"])).one()
    assert dict(there._mapping) == row


def test_a_server_has_counted_the_rows_of_a_log_that_came_in(shop: Shop, place: Place) -> None:
    shop.started()
    whole = str(shop.home / "whole.json")
    shop.run("log", "export", whole)
    shop.run("log", "import", whole, "--db", place.location)
    # Without a count since they came it would take each table for as good as empty.
    counted = "SELECT reltuples FROM pg_class WHERE oid = CAST('{}' AS regclass)"
    for table in ("entry", "advice", "bit"):
        assert place.rows(counted.format(table)) == place.rows(f"SELECT count(*) FROM {table}")
