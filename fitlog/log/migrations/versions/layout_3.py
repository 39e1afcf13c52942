"""Layout 3: the step of a depth stop, scales set between their marks; slots in waste; set-ups
finished as they are; redo.

Written out, not taken from `schema`, which goes on changing. Files and servers have had layout 2.
"""

from __future__ import annotations

from typing import Any

from alembic import op
from sqlalchemy import CheckConstraint, Column, Double, Integer, Text, text
from sqlalchemy.types import REAL

from fitlog.log.migrations.told import add, make, reword

revision = "3"
down_revision = "2"

KINDS = "'start', 'cut', 'choose', 'finish', 'abandon', 'retract', 'found'"
MORE = f"{KINDS}, 'finish-as-is', 'redo'"
SCALES = (
    "'', 'height', 'fence', 'depth', 'height,fence', 'height,depth', 'fence,depth', "
    "'height,fence,depth'"
)
TAKEN_BACK = "An entry taken back, until that is taken back itself by a redo. Append-only."
BROUGHT_BACK = (
    "A taking back that is taken back itself: what it took away stands again. Append-only."
)
IS_THERE = """EXISTS (SELECT 1 FROM retraction WHERE entry = NEW.entry OR (retracted = NEW.retracted \
AND NOT EXISTS (SELECT 1 FROM redo WHERE redone = retraction.entry)))"""
INDEX = "CREATE INDEX retraction_of ON retraction (retracted)"

FILE = f"""
CREATE TABLE redo (
    -- {BROUGHT_BACK}
    -- the entry that brings back
    entry INTEGER NOT NULL CHECK (entry > 0),
    -- the taking back that holds no longer
    redone INTEGER NOT NULL CHECK (redone > 0),
    PRIMARY KEY (entry),
    CHECK (redone < entry),
    FOREIGN KEY(entry) REFERENCES entry (id) ON DELETE RESTRICT,
    UNIQUE (redone),
    FOREIGN KEY(redone) REFERENCES retraction (entry) ON DELETE RESTRICT
) STRICT

CREATE TRIGGER redo_no_overwrite BEFORE INSERT ON redo WHEN EXISTS \
(SELECT 1 FROM redo WHERE entry = NEW.entry OR redone = NEW.redone)
BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END

CREATE TRIGGER redo_no_update BEFORE UPDATE ON redo WHEN 1
BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END

CREATE TRIGGER redo_no_delete BEFORE DELETE ON redo WHEN 1
BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END

CREATE TRIGGER redo_no_kind BEFORE INSERT ON redo WHEN (SELECT kind FROM entry WHERE id = NEW.entry) IS NOT 'redo'
BEGIN SELECT RAISE(ABORT, 'its entry is no redo'); END

DROP TRIGGER retraction_no_overwrite

CREATE TRIGGER retraction_no_overwrite BEFORE INSERT ON retraction WHEN {IS_THERE}
BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END

{INDEX}
"""


def _guard(name: str, words: str, when: str, why: str = "the log is append-only") -> str:
    return f"""{words} FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF {when} THEN
        RAISE EXCEPTION '{why}' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$"""


SERVER = f"""
ALTER TABLE entry DROP CONSTRAINT entry_kind_check

ALTER TABLE entry ADD CONSTRAINT entry_kind_check CHECK (kind IN ({MORE}))

ALTER TABLE retraction DROP CONSTRAINT retraction_retracted_key

COMMENT ON TABLE retraction IS '{TAKEN_BACK}'

CREATE TABLE redo (
    entry BIGINT NOT NULL CHECK (entry > 0),
    redone BIGINT NOT NULL CHECK (redone > 0),
    PRIMARY KEY (entry),
    CHECK (redone < entry),
    UNIQUE (redone)
)

COMMENT ON TABLE redo IS '{BROUGHT_BACK}'

COMMENT ON COLUMN redo.entry IS 'the entry that brings back'

COMMENT ON COLUMN redo.redone IS 'the taking back that holds no longer'

ALTER TABLE redo ADD FOREIGN KEY (entry) REFERENCES entry (id) ON DELETE RESTRICT

ALTER TABLE redo ADD FOREIGN KEY (redone) REFERENCES retraction (entry) ON DELETE RESTRICT

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON redo FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn()

{
    _guard(
        "redo_no_overwrite",
        "CREATE",
        "EXISTS (SELECT 1 FROM redo WHERE entry = NEW.entry OR redone = NEW.redone)",
    )
}

CREATE TRIGGER redo_no_overwrite BEFORE INSERT ON redo FOR EACH ROW EXECUTE FUNCTION redo_no_overwrite()

CREATE TRIGGER redo_no_empty BEFORE TRUNCATE ON redo FOR EACH STATEMENT EXECUTE FUNCTION \
fitlog_refuse('the log is append-only')

CREATE TRIGGER redo_no_update BEFORE UPDATE ON redo FOR EACH STATEMENT EXECUTE FUNCTION \
fitlog_refuse('the log is append-only')

CREATE TRIGGER redo_no_delete BEFORE DELETE ON redo FOR EACH STATEMENT EXECUTE FUNCTION \
fitlog_refuse('the log is append-only')

{
    _guard(
        "redo_no_kind",
        "CREATE",
        "(SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'redo'",
        "its entry is no redo",
    )
}

CREATE TRIGGER redo_no_kind BEFORE INSERT ON redo FOR EACH ROW EXECUTE FUNCTION redo_no_kind()

{_guard("retraction_no_overwrite", "CREATE OR REPLACE", IS_THERE)}

{INDEX}

DO $$
DECLARE
    right_ record;
BEGIN
    FOR right_ IN SELECT privilege_type AS what,
        CASE grantee WHEN 0 THEN 'PUBLIC' ELSE quote_ident(pg_get_userbyid(grantee)) END AS whom
        FROM pg_class, aclexplode(relacl) WHERE oid = 'retraction'::regclass AND grantee <> relowner
    LOOP
        EXECUTE 'GRANT ' || right_.what || ' ON redo TO ' || right_.whom;
    END LOOP;
END $$
"""


def upgrade() -> None:
    """From layout 2."""
    add("machine", *_of_machine())
    add(
        "trial_cut",
        Column(
            "slot",
            Integer,
            CheckConstraint("slot IN (0, 1)"),
            nullable=False,
            server_default=text("0"),
            comment="1: only a slot in waste, measured; its piece is the next one's number",
        ),
    )
    if op.get_bind().dialect.name != "sqlite":
        make(SERVER)
        return
    reword("entry", (f"({KINDS})", f"({MORE})"))
    reword(
        "retraction",
        ("UNIQUE (retracted), \n\t", ""),
        ("An entry taken back. Append-only.", TAKEN_BACK),
    )
    make(FILE)


def _of_machine() -> list[Column[Any]]:
    return [
        Column(
            "depth_step",
            REAL().with_variant(Double(), "postgresql"),
            CheckConstraint("depth_step > 0 AND depth_step <= 5"),
            comment="smallest step of the socket depth's stop, mm",
        ),
        Column(
            "between_marks",
            Text,
            CheckConstraint(f"between_marks IN ({SCALES})"),
            nullable=False,
            server_default="",
            comment="scales set by eye between their marks too, with commas; empty: none",
        ),
    ]
