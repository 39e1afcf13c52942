"""How a new log is laid out in a PostgreSQL database: the tables of `schema`, and functions that
refuse what `ddl` does.

A trigger here calls a function; WHEN cannot look into other rows. Every function stays in the
schema it was made in, and looks for temporary tables last: who writes cannot put one before a table
of the log.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlalchemy import Column, ForeignKeyConstraint, Table
from sqlalchemy.dialects import postgresql
from sqlalchemy.schema import CreateTable

from .. import digests, entries, layout, schema

_DIALECT: Any = postgresql.dialect  # not typed there
LEAST = 11  # the PostgreSQL that first has sha256() and EXECUTE FUNCTION, by its release notes
APPLICATION, TABLE = "fitlog", "fitlog_layout"
# Writers take turns, those at a plain shell too: by a lock on an empty table, which nobody holds
# without a right to it. It keeps no reader out.
TURN = "LOCK TABLE fitlog_turn IN EXCLUSIVE MODE"
AT_ONCE = 40  # statements of a request: done long before a server is taken for silent
MOST_SKIPPED = (
    1_000_000  # numbers that even the owner leaves out at once: the last is never reached
)
# Whatever path the session has: what is made has this one, and `SET ... FROM CURRENT` keeps it.
PATH = "SELECT set_config('search_path', quote_ident(current_schema()) || ', pg_temp', true)"
MARK = f"""CREATE TABLE {TABLE} (
    application text NOT NULL CHECK (application = '{APPLICATION}'),
    version integer NOT NULL PRIMARY KEY CHECK (version > 0)
)"""
TURNS = "CREATE TABLE fitlog_turn ()"
_OWNS = "pg_has_role((SELECT relowner FROM pg_class WHERE oid = TG_RELID), 'USAGE')"


def _function(named: str, body: str, *declared: str) -> str:
    """Return the statement that makes a trigger's function."""
    lines = "".join(f"    {line};\n" for line in declared)
    return (
        f"CREATE FUNCTION {named}() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT "
        f"AS $$\n{'DECLARE' if lines else ''}{lines and chr(10)}{lines}BEGIN\n{body}\nEND $$"
    )


def _unless(wrong: str, why: str) -> str:
    return (
        f"    IF {wrong} THEN\n        RAISE EXCEPTION '{why}' USING ERRCODE = "
        "'integrity_constraint_violation';\n    END IF;"
    )


def _whole() -> str:
    """Return the condition that an entry lacks the row that its kind calls for."""
    rows = {kind: f"{table} WHERE entry = NEW.id" for table, kind in layout.KIND_OF.items()}
    rows["start"] += " AND id = NEW.setup"
    return " OR ".join(
        f"NEW.kind = '{kind}' AND NOT {layout.exists(row)}" for kind, row in rows.items()
    )


FUNCTIONS = (
    _function(
        "fitlog_refuse",
        "    RAISE EXCEPTION '%', TG_ARGV[0] USING ERRCODE = 'integrity_constraint_violation';",
    ),
    _function("fitlog_turn", f"    {TURN};\n    RETURN NULL;"),
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
    # The owner may keep the numbers of a log that is imported.
    _function(
        "fitlog_number",
        _unless(
            f"NEW.id <> following AND NOT ({_OWNS} AND NEW.id <= following + {MOST_SKIPPED})",
            "a number is the one after the last",
        )
        + "\n    RETURN NEW;",
        "following bigint := fitlog_next(TG_TABLE_NAME)",
    ),
    _function("fitlog_role", "    NEW.role := session_user;\n    RETURN NEW;"),
    _function(
        "fitlog_whole",
        _unless(_whole(), "an entry lacks what belongs to it") + "\n    RETURN NULL;",
    ),
    # What a piece was said to be is said with it, not later and by another.
    _function(
        "fitlog_together",
        _unless(
            f"NOT {_OWNS} AND (SELECT xmin FROM trial_cut WHERE entry = NEW.cut) IS DISTINCT FROM "
            "mod(txid_current(), 4294967296)::text::xid",
            layout.ONLY,
        )
        + "\n    RETURN NEW;",
    ),
    # As `digests.chained` does.
    f"""CREATE FUNCTION {digests.FUNCTION}(before text, said text) RETURNS text
    LANGUAGE sql IMMUTABLE SET search_path FROM CURRENT AS $$
SELECT encode(sha256(convert_to(before || E'\\n' || said, 'UTF8')), 'hex')
$$""",
)
_OF_ITS_ENTRY = (
    "{0} JOIN entry AS own ON own.id = NEW.entry WHERE {0}.{1} AND {0}.setup = own.setup"
)
_UNDOABLE = ", ".join(f"'{kind}'" for kind in entries.UNDOABLE)
# What a row refers to is of the same set-up as its entry.
BELONGS = {
    "trial_cut": _OF_ITS_ENTRY.format("advice", "id = NEW.advice"),
    "found": _OF_ITS_ENTRY.format("advice", "id = NEW.advice"),
    "retraction": _OF_ITS_ENTRY.format(
        "entry", f"id = NEW.retracted AND entry.kind IN ({_UNDOABLE})"
    ),
    "redo": _OF_ITS_ENTRY.format("entry", "id = NEW.redone"),
}


def statements() -> Iterator[str]:
    """Yield the statements that lay out an empty log in the current schema; run them in one
    transaction.
    """
    yield PATH
    yield MARK
    yield TURNS
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
    yield "COMMENT ON TABLE fitlog_turn IS 'Locked by who writes, so that one waits for another.'"
    yield f"INSERT INTO fitlog_layout VALUES ('{APPLICATION}', {layout.VERSION})"


def requests() -> Iterator[str]:
    """Yield the same in few requests, each for one way to the server and back: the first two by
    themselves, whose refusals are told apart.
    """
    path, mark, *others = statements()
    yield from (path, mark)
    yield from (";\n".join(others[at : at + AT_ONCE]) for at in range(0, len(others), AT_ONCE))


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
    if "id" in table.c:
        yield _each(name, "number", "BEFORE INSERT")
    yield _never(name, "empty", "TRUNCATE")
    if table in layout.APPEND_ONLY:
        yield _never(name, "update", "UPDATE")
        yield _never(name, "delete", "DELETE")
    if name in layout.KIND_OF:
        kind = layout.KIND_OF[name]
        wrong = f"(SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM '{kind}'"
        yield from _refuse(name, "kind", "INSERT", wrong, f"its entry is no {kind}")
    if name in BELONGS:
        wrong = f"NOT {layout.exists(BELONGS[name])}"
        yield from _refuse(name, "stranger", "INSERT", wrong, "it refers to another set-up")
    if table is schema.ENTRY:
        yield _each(name, "role", "BEFORE INSERT")
        yield _each(name, "whole", "AFTER INSERT", deferred=True)
    if table in (schema.VERDICT, schema.READING):
        yield _each(name, "together", "BEFORE INSERT")
    if table in layout.CATALOGUE:
        yield from _refuse(name, "renumber", "UPDATE", "NEW.id <> OLD.id")
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
    row = "OLD" if event == "DELETE" else "NEW"
    yield _function(function, f"{_unless(when, why)}\n    RETURN {row};")
    yield (
        f"CREATE TRIGGER {function} BEFORE {event} ON {table} FOR EACH ROW EXECUTE FUNCTION "
        f"{function}()"
    )


def _each(table: str, name: str, moment: str, *, deferred: bool = False) -> str:
    """Return the statement that has `fitlog_NAME` look at every row."""
    kind, later = ("CONSTRAINT ", " DEFERRABLE INITIALLY DEFERRED") if deferred else ("", "")
    return (
        f"CREATE {kind}TRIGGER {table}_{name} {moment} ON {table}{later} "
        f"FOR EACH ROW EXECUTE FUNCTION fitlog_{name}()"
    )


def _quoted(column: Column[object]) -> str:
    return str(_DIALECT().identifier_preparer.format_column(column))


def _text(words: str) -> str:
    return "'" + words.replace("'", "''") + "'"
