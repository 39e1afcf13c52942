"""Today's layout of a log: its number, its tables by how they may change, and the rules that every
store keeps in its own SQL.
"""

from __future__ import annotations

from sqlalchemy import Table

from . import schema

VERSION = 6
ONLY = "the log is append-only"

CATALOGUE = (schema.BIT, schema.STOCK, schema.MACHINE)
APPEND_ONLY = (
    schema.SHARPENING,
    schema.ENTRY,
    schema.SETUP,
    schema.ADVICE,
    schema.TRIAL_CUT,
    schema.VERDICT,
    schema.READING,
    schema.FOUND,
    schema.NOTE,
    schema.RETRACTION,
    schema.REDO,
    schema.PREFERENCE,
)

# What makes a row the same row. INSERT OR REPLACE would delete it without asking the DELETE
# trigger.
SAME_ROW = {
    "setup": "id = NEW.id OR entry = NEW.entry",
    "trial_cut": "entry = NEW.entry",
    "found": "entry = NEW.entry",
    "note": "entry = NEW.entry",
    "verdict": "id = NEW.id OR (cut = NEW.cut AND aspect = NEW.aspect AND aspect <> 'fault')",
    # An entry can be taken back again once that was undone by a redo, not before.
    "retraction": "entry = NEW.entry OR (retracted = NEW.retracted"
    " AND NOT EXISTS (SELECT 1 FROM redo WHERE redone = retraction.entry))",
    "redo": "entry = NEW.entry OR redone = NEW.redone",
    "bit": "id = NEW.id OR name = NEW.name",
    "stock": "id = NEW.id OR name = NEW.name",
    "machine": "id = NEW.id OR name = NEW.name",
}
KIND_OF = {
    "setup": "start",
    "trial_cut": "cut",
    "found": "found",
    "note": "note",
    "retraction": "retract",
    "redo": "redo",
}
USED_BY = {
    "bit": ("setup WHERE bit_id = OLD.id", "sharpening WHERE bit = OLD.id"),
    "stock": ("setup WHERE OLD.id IN (stock_id, pin_stock_id)",),
    "machine": ("setup WHERE machine_id = OLD.id",),
}
INDEXED = (
    "entry_of_setup ON entry (setup, kind)",
    "entry_of_kind ON entry (kind, id)",
    "entry_by ON entry (kind, by, setup)",
    "setup_of_bit ON setup (bit_id, id)",
    "setup_of_boards ON setup (bit_id, stock_id, pin_stock_id, id)",
    "setup_of_stock ON setup (stock_id, id)",
    "setup_of_pin_stock ON setup (pin_stock_id, id)",
    "setup_at_machine ON setup (machine_id, id)",
    "advice_of_setup ON advice (setup, id)",
    "retraction_of ON retraction (retracted)",
    "reading_of_cut ON reading (cut)",
    "fault_of_cut ON verdict (cut)",
    "sharpening_of_bit ON sharpening (bit)",
)


def same(table: Table) -> str:
    """Return the condition under which a row that is there is the one to be put in."""
    return SAME_ROW.get(table.name, "id = NEW.id")


def exists(rows: str) -> str:
    """Return the condition that there are `rows`: a table and its WHERE."""
    return f"EXISTS (SELECT 1 FROM {rows})"
