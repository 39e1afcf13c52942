"""What the keeper of a server changed of a log's tables is told by name, wherever the log lies."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import quote

import pytest
from logs import fill, make_place, stock_up
from postgres import Server, driver
from shop import Shop

from fitlog.errors import Refused
from fitlog.log import open_log
from fitlog.log.care import upkeep

psycopg = driver()
# The superuser's, as who alone may switch off what keeps a reference.
CHANGES = [
    ("CREATE RULE nope AS ON INSERT TO {0}.verdict DO INSTEAD NOTHING", "verdict.nope"),
    ("ALTER TABLE {0}.verdict ENABLE ROW LEVEL SECURITY", "verdict"),
    ("ALTER TABLE {0}.reading SET UNLOGGED", "reading"),
    ("CREATE TABLE public.kid () INHERITS ({0}.preference)", "preference"),
    ("CREATE VIEW {0}.seen AS SELECT 1 AS x", "seen"),
    ("ALTER TABLE {0}.redo ENABLE REPLICA TRIGGER redo_no_update", "redo_no_update of {0}.redo"),
    ("ALTER TABLE {0}.redo DROP CONSTRAINT redo_check", "redo.redo_check"),
]


@pytest.mark.parametrize("schema", ["Shop", "a b", 'q"x', "o'x", "bit", "entry", "temp", "ünï"])
def test_a_log_is_sound_whatever_its_schema_is_called(server: Server, schema: str) -> None:
    called = '"' + schema.replace('"', '""') + '"'
    server.run(f"CREATE SCHEMA {called} AUTHORIZATION owner")
    try:
        with open_log(server.url(schema=quote(schema)), create=True) as log:
            fill(stock_up(log))
            found = upkeep.health(log)
            assert found.compared and found.faults == ()
    finally:
        server.run(f"DROP SCHEMA {called} CASCADE")


@pytest.mark.parametrize(("statement", "name"), CHANGES)
def test_what_is_not_as_it_was_laid_out_is_named(
    server: Server, shop: Shop, statement: str, name: str
) -> None:
    place = server.place()
    schema = place.rsplit("=", 1)[1]
    with open_log(place, create=True) as log:
        stock_up(log)
        server.run(statement.format(schema))
        faults = upkeep.health(log).faults
        server.run("DROP TABLE IF EXISTS public.kid")
    wanted = (name.format(schema), name.format(schema).replace(f"{schema}.", ""))
    assert any(f" {one} " in fault for fault in faults for one in wanted), faults


def test_a_rule_that_was_put_back_from_a_dump_is_the_same(server: Server) -> None:
    """A dump has a rule as the server spells it, whose brackets are others when read again."""
    place = server.place()
    schema = place.rsplit("=", 1)[1]
    with open_log(place, create=True) as log:
        stock_up(log)
        rules = server.run(
            "SELECT conrelid::regclass, conname, pg_get_constraintdef(oid) FROM pg_constraint "
            f"WHERE connamespace = '{schema}'::regnamespace AND contype = 'c'"
        )
        for table, rule, text in rules:
            server.run(
                f"ALTER TABLE {table} DROP CONSTRAINT {rule}",
                f"ALTER TABLE {table} ADD CONSTRAINT {rule} {text}",
            )
        assert upkeep.health(log).faults == ()


def test_a_table_or_a_column_that_is_gone_is_named(server: Server) -> None:
    for statement, name in (
        ("DROP TABLE {0}.fitlog_turn", "fitlog_turn"),
        ("ALTER TABLE {0}.entry DROP COLUMN role", "role"),
    ):
        place = server.place()
        with open_log(place, create=True) as log:
            stock_up(log)
        server.run(statement.format(place.rsplit("=", 1)[1]))
        with pytest.raises(Refused, match=name) as told, open_log(place, create=False) as log:
            upkeep.health(log)
        assert told.value.code == "damaged-log"


@pytest.mark.parametrize("kind", ["file", "server"])
def test_a_number_beyond_all_numbers_is_damage_and_no_traceback(
    kind: str, request: pytest.FixtureRequest, shop: Shop, tmp_path: Path
) -> None:
    """The JSON of either database takes 1e400, which reads as an infinity."""
    place = make_place(kind, request, tmp_path)
    with open_log(place.location, create=True) as log:
        stock_up(log)
    with place.plain() as plain:
        plain.execute('UPDATE machine SET parts = \'{"height": {"zero": 1e400}}\'')
    for command in ("export", "health"):
        said = shop.process("log", command, "--db", place.location, code=1)
        assert "machine 1" in said.out + said.err


@pytest.mark.parametrize("kind", ["file", "server"])
def test_a_document_nested_too_deep_is_named(
    kind: str, request: pytest.FixtureRequest, tmp_path: Path
) -> None:
    """It came by a plain shell: SQLite takes 1000 brackets in each other, PostgreSQL more."""
    place = make_place(kind, request, tmp_path)
    deep = 999 if kind == "file" else 3000
    with open_log(place.location, create=True) as log:
        fill(stock_up(log))
        with place.plain() as plain:
            plain.execute(
                "INSERT INTO advice (setup, entry, at, settings, document) SELECT setup, entry, "
                f"at, settings, '{'[' * deep}{']' * deep}' FROM advice WHERE id = 1"
            )
            (number,) = plain.execute("SELECT max(id) FROM advice").fetchone()
        assert any(fault.startswith(f"advice {number}: ") for fault in upkeep.health(log).faults)
