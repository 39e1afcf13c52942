"""Layout 2: how moist a board is, how many tails it has, how its slots are spaced; what is found
standing at a machine; which machine a person is at; indexes for large logs.

Written out, not taken from `schema`, which goes on changing. Only files have ever had layout 1.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import CheckConstraint, Column, Integer, Text
from sqlalchemy.types import REAL

from fitlog.log.migrations.told import add, make, reword

revision = "2"
down_revision = None

FOUND = """
CREATE TABLE found (
    -- What stood at the machine when somebody came back to a set-up. Append-only.
    -- its entry in the log
    entry INTEGER NOT NULL CHECK (entry > 0),
    -- the advice whose settings were remembered
    advice INTEGER NOT NULL CHECK (advice > 0),
    -- bit height found, mm; NULL: not measured
    bit_height REAL CHECK (bit_height > 0 AND bit_height <= 1000000),
    -- fence offset found, mm; NULL: not measured
    fence_offset REAL CHECK (fence_offset > 0 AND fence_offset <= 1000000),
    -- socket depth found, mm; NULL: not measured
    socket_depth REAL CHECK (socket_depth BETWEEN -1000000 AND 1000000),
    PRIMARY KEY (entry),
    CHECK (bit_height IS NOT NULL OR fence_offset IS NOT NULL OR socket_depth IS NOT NULL),
    FOREIGN KEY(entry) REFERENCES entry (id) ON DELETE RESTRICT,
    FOREIGN KEY(advice) REFERENCES advice (id) ON DELETE RESTRICT
) STRICT

CREATE TRIGGER found_no_overwrite BEFORE INSERT ON found WHEN EXISTS (SELECT 1 FROM found WHERE entry = NEW.entry)
BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END

CREATE TRIGGER found_no_update BEFORE UPDATE ON found WHEN 1
BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END

CREATE TRIGGER found_no_delete BEFORE DELETE ON found WHEN 1
BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END

CREATE TRIGGER found_no_kind BEFORE INSERT ON found WHEN (SELECT kind FROM entry WHERE id = NEW.entry) IS NOT 'found'
BEGIN SELECT RAISE(ABORT, 'its entry is no found'); END
"""
INDEXES = """
DROP INDEX entry_of_setup

DROP INDEX advice_of_setup

CREATE INDEX entry_of_setup ON entry (setup, kind)

CREATE INDEX advice_of_setup ON advice (setup, id)

CREATE INDEX entry_of_kind ON entry (kind, id)

CREATE INDEX entry_by ON entry (kind, by, setup)

CREATE INDEX setup_of_bit ON setup (bit_id, id)

CREATE INDEX setup_of_boards ON setup (bit_id, stock_id, pin_stock_id, id)

CREATE INDEX setup_of_stock ON setup (stock_id, id)

CREATE INDEX setup_of_pin_stock ON setup (pin_stock_id, id)

CREATE INDEX setup_at_machine ON setup (machine_id, id)
"""


def upgrade() -> None:
    """From layout 1."""
    add("stock", *_of_stock())
    add("setup", *_of_setup())
    reword("entry", ("'abandon', 'retract')", "'abandon', 'retract', 'found')"))
    reword(
        "preference",
        ("('units', 'name')", "('units', 'name', 'machine')"),
        ("name: to be called by", "name: to be called by; machine: to be at"),
    )
    make(FOUND)
    make(INDEXES)


def _of_stock() -> list[Column[Any]]:
    return [
        Column(
            "moisture",
            REAL,
            CheckConstraint("moisture >= 1 AND moisture <= 40"),
            comment="by a meter, % of the dry weight; NULL: not known",
        ),
        Column(
            "temperature",
            REAL,
            CheckConstraint("temperature BETWEEN -60 AND 60"),
            comment="of the air it lay in, deg C; NULL: not said",
        ),
        Column(
            "humidity",
            REAL,
            CheckConstraint(
                "(humidity IS NULL) = (temperature IS NULL) AND humidity BETWEEN 1 AND 99"
            ),
            comment="of that air, %; NULL: not said",
        ),
        Column(
            "sawn",
            Text,
            CheckConstraint("sawn IN ('', 'flat', 'quarter')"),
            nullable=False,
            server_default="",
            comment="how it was sawn; empty: not said",
        ),
    ]


def _of_setup() -> list[Column[Any]]:
    return [
        Column(
            "tails",
            Integer,
            CheckConstraint("tails BETWEEN 1 AND 200"),
            comment="how many tails the real board has; NULL: not said",
        ),
        Column(
            "spacing",
            REAL,
            CheckConstraint("spacing > 0 AND spacing <= 1000000"),
            comment="of the slots, mm; NULL: the pitch, pins and tails alike",
        ),
        *(
            Column(
                name,
                REAL,
                CheckConstraint(f"{name} >= 1 AND {name} <= 40"),
                comment=f"of the {what}, %; NULL: not known",
            )
            for name, what in (
                ("moisture", "tail board"),
                ("pin_moisture", "pin board"),
                ("scrap_moisture", "test pieces"),
            )
        ),
    ]
