"""How a new log is laid out in a PostgreSQL database: the tables of `schema`, and functions that
refuse what `ddl` does.

A trigger here calls a function; WHEN cannot look into other rows. Every function stays in the
schema it was made in.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlalchemy import Column, ForeignKeyConstraint, Table
from sqlalchemy.dialects import postgresql
from sqlalchemy.schema import CreateTable

from ...newfile import APPLICATION_ID
from .. import digests, layout

_DIALECT: Any = postgresql.dialect  # not typed there
APPLICATION, TABLE = "fitlog", "fitlog_layout"
# Writers take turns, those at a plain shell too: one key for each schema that a log is in.
TURN = f"({APPLICATION_ID}::bigint << 32) | {{schema}}::bigint"
MARK = f"""CREATE TABLE {TABLE} (
    application text NOT NULL CHECK (application = '{APPLICATION}'),
    version integer NOT NULL PRIMARY KEY CHECK (version > 0)
)"""
_TURN_HERE = TURN.format(schema="(SELECT relnamespace FROM pg_class WHERE oid = TG_RELID)")
FUNCTIONS = (
    """CREATE FUNCTION fitlog_refuse() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION '%', TG_ARGV[0] USING ERRCODE = 'integrity_constraint_violation';
END $$""",
    f"""CREATE FUNCTION fitlog_turn() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    PERFORM pg_advisory_xact_lock({_TURN_HERE});
    RETURN NULL;
END $$""",
    # No sequence: a number is the one after the last, with no gap after a rollback and nothing to
    # grant.
    """CREATE FUNCTION fitlog_next(of_table text) RETURNS bigint
    LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
DECLARE
    following bigint;
BEGIN
    EXECUTE format('SELECT coalesce(max(id), 0) + 1 FROM %I', of_table) INTO following;
    RETURN following;
END $$""",
    # As `digests.chained` does.
    f"""CREATE FUNCTION {digests.FUNCTION}(before text, said text) RETURNS text
    LANGUAGE sql IMMUTABLE AS $$
SELECT encode(sha256(convert_to(before || E'\\n' || said, 'UTF8')), 'hex')
$$""",
)


def statements() -> Iterator[str]:
    """Yield the statements that lay out an empty log in the current schema; run them in one
    transaction.
    """
    yield MARK
    yield from FUNCTIONS
    tables = (*layout.CATALOGUE, *layout.APPEND_ONLY)
    for table in tables:
        yield create(table)
        yield from _comments(table)
    for table in tables:
        yield from sorted(map(_link, table.foreign_key_constraints))
    for table in tables:
        yield from _guards(table)
    for table in layout.CATALOGUE:
        yield f"CREATE UNIQUE INDEX {table.name}_of_name ON {table.name} (lower(name))"
    yield "CREATE UNIQUE INDEX verdict_of_aspect ON verdict (cut, aspect) WHERE aspect <> 'fault'"
    yield "CREATE UNIQUE INDEX entry_of_key ON entry (key)"
    yield from (f"CREATE INDEX {index}" for index in layout.INDEXED)
    yield (
        "COMMENT ON TABLE fitlog_layout IS 'Whose tables these are, and the number of their "
        "layout; the highest stands.'"
    )
    yield f"INSERT INTO fitlog_layout VALUES ('{APPLICATION}', {layout.VERSION})"


def create(table: Table) -> str:
    """Return the CREATE statement of a table, its references excepted: two tables refer to each
    other.
    """
    sql = str(CreateTable(table, include_foreign_key_constraints=[]).compile(dialect=_DIALECT()))
    sql = sql.strip().replace("%%", "%")  # doubled for a driver that is given values
    return sql.replace(
        "id BIGSERIAL NOT NULL", f"id BIGINT DEFAULT fitlog_next('{table.name}') NOT NULL"
    )


def _link(link: ForeignKeyConstraint) -> str:
    (part,) = link.elements
    later = " DEFERRABLE INITIALLY DEFERRED" if link.deferrable else ""
    target, column = part.target_fullname.split(".")
    return (
        f"ALTER TABLE {link.table.name} ADD FOREIGN KEY ({_quoted(part.parent)}) "
        f"REFERENCES {target} ({column}) ON DELETE RESTRICT{later}"
    )


def _comments(table: Table) -> Iterator[str]:
    yield f"COMMENT ON TABLE {table.name} IS {_text(str(table.comment))}"
    for column in table.columns:
        # The text of a JSON object must be called one before a name of it can be read here.
        says = str(column.comment).replace(" ->> ", "::json ->> ")
        yield f"COMMENT ON COLUMN {table.name}.{_quoted(column)} IS {_text(says)}"


def _guards(table: Table) -> Iterator[str]:
    """Yield the triggers of a table. Those of one moment fire in the order of their names: the turn
    is taken first.
    """
    name = table.name
    yield (
        f"CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON {name} "
        "FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn()"
    )
    same = layout.same(table).replace("name = NEW.name", "lower(name) = lower(NEW.name)")
    yield from _refuse(name, "overwrite", "INSERT", layout.exists(f"{name} WHERE {same}"))
    yield _never(name, "empty", "TRUNCATE")
    if table in layout.APPEND_ONLY:
        yield _never(name, "update", "UPDATE")
        yield _never(name, "delete", "DELETE")
    if name in layout.KIND_OF:
        kind = layout.KIND_OF[name]
        wrong = f"(SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM '{kind}'"
        yield from _refuse(name, "kind", "INSERT", wrong, f"its entry is no {kind}")
    if name in layout.USED_BY:
        used = " OR ".join(map(layout.exists, layout.USED_BY[name]))
        yield from _refuse(name, "in_use", "DELETE", used, "the log refers to it")


def _never(table: str, name: str, event: str) -> str:
    return (
        f"CREATE TRIGGER {table}_no_{name} BEFORE {event} ON {table} "
        f"FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('{layout.ONLY}')"
    )


def _refuse(table: str, name: str, event: str, when: str, why: str = layout.ONLY) -> Iterator[str]:
    function = f"{table}_no_{name}"
    yield (
        f"CREATE FUNCTION {function}() RETURNS trigger LANGUAGE plpgsql SET search_path FROM "
        "CURRENT AS $$\n"
        f"BEGIN\n    IF {when} THEN\n        RAISE EXCEPTION '{why}' USING ERRCODE = "
        "'integrity_constraint_violation';\n"
        f"    END IF;\n    RETURN {'OLD' if event == 'DELETE' else 'NEW'};\nEND $$"
    )
    yield (
        f"CREATE TRIGGER {function} BEFORE {event} ON {table} FOR EACH ROW EXECUTE FUNCTION "
        f"{function}()"
    )


def _quoted(column: Column[object]) -> str:
    return str(_DIALECT().identifier_preparer.format_column(column))


def _text(words: str) -> str:
    return "'" + words.replace("'", "''") + "'"
