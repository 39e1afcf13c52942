"""The tables of the log, one class each, every column with its meaning.

A class here is the shape of a row and validates nothing; the CHECKs of `columns` do, so that a
plain shell of the database cannot store nonsense either. `rows` turns rows into domain values.
Lengths are mm, angles degrees, moments ISO text in UTC, yes and no are 1 and 0. What a family of
joints names itself (settings, figures, aspects, words, readings) is kept by its names, numbers as
JSON objects: `settings ->> 'NAME'` reads one in a plain shell. No CHECK lists them; `rows` asks the
family.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import CheckConstraint, Table
from sqlmodel import SQLModel

from ..domain import SAWN
from . import columns

KINDS = ("start", "cut", "choose", "finish", "abandon", "retract", "found", "finish-as-is", "redo")


class BitRow(SQLModel, table=True):
    """A cutter as it is today; earlier diameters are in sharpening."""

    __tablename__ = "bit"
    __table_args__ = (CheckConstraint("neck IS NULL OR neck < diameter"),)
    id: int = columns.id("number of the bit")
    name: str = columns.name(
        "name", "what the user calls it, whatever the case of the letters", unique=True
    )
    diameter: float = columns.size("diameter", "cutting diameter at the tip today, mm", 150)
    measured: bool = columns.yes(
        "measured", "1: the diameter was measured, 0: it is the printed one"
    )
    angle: float = columns.size("angle", "side angle from the axis of the bit, degrees", 45, 0)
    cutting_length: float = columns.size("cutting_length", "length of the flanks, mm", 150)
    neck: float | None = columns.size(
        "neck", "thinnest part above the flanks, mm; NULL: where they end", 150, null=True
    )
    retired: bool = columns.yes("retired", "1: no longer offered")


class StockRow(SQLModel, table=True):
    """A kind of board."""

    __tablename__ = "stock"
    id: int = columns.id("number of the stock")
    name: str = columns.name(
        "name", "what the user calls it, whatever the case of the letters", unique=True
    )
    species: str = columns.text("species", "wood or board material")
    thickness: float = columns.size("thickness", "usual thickness, mm", 100, 1)
    width: float = columns.size("width", "usual width, mm", 2000, 10)
    retired: bool = columns.yes("retired", "1: no longer offered")
    moisture: float | None = columns.size(
        "moisture", "by a meter, % of the dry weight; NULL: not known", 40, 1, null=True
    )
    temperature: float | None = columns.number(
        "temperature", "of the air it lay in, deg C; NULL: not said", 60, null=True
    )
    humidity: float | None = columns.column(
        "humidity",
        columns.REAL,
        "of that air, %; NULL: not said",
        "(humidity IS NULL) = (temperature IS NULL) AND humidity BETWEEN 1 AND 99",
    )
    sawn: str = columns.choice("sawn", "how it was sawn; empty: not said", SAWN, default="")


class MachineRow(SQLModel, table=True):
    """A machine: the smallest moves its parts can be set by, and where their scales start."""

    __tablename__ = "machine"
    id: int = columns.id("number of the machine")
    name: str = columns.name(
        "name", "what the user calls it, whatever the case of the letters", unique=True
    )
    retired: bool = columns.yes("retired", "1: no longer offered")
    parts: dict[str, Any] = columns.members(
        "parts",
        "by the machine's part what is known of it: pack (what is stacked to set it), step, turn"
        " (travel per turn), backlash, zero"
        " (its scale less the truth), mm; between: it is set between its marks by eye too",
    )


class SharpeningRow(SQLModel, table=True):
    """A bit was sharpened: its diameter is another from here on. Append-only."""

    __tablename__ = "sharpening"
    id: int = columns.id("order of the sharpenings")
    bit: int = columns.ref("bit", "bit.id", "the bit")
    at: str = columns.moment("when")
    by: str = columns.by()
    diameter_before: float = columns.size("diameter_before", "cutting diameter until then, mm", 150)
    measured_before: bool = columns.yes("measured_before", "1: that diameter was measured")
    diameter_after: float | None = columns.size(
        "diameter_after", "measured afterwards, mm; NULL: not yet", 150, null=True
    )


class EntryRow(SQLModel, table=True):
    """The one order of the log: everything that happened to a set-up. Append-only."""

    __tablename__ = "entry"
    __table_args__ = ({"sqlite_autoincrement": True},)
    id: int = columns.id("order of the log")
    kind: str = columns.choice("kind", "what happened", KINDS)
    # Deferred: a start writes its entry first and its set-up next, in one transaction.
    setup: int = columns.ref("setup", "setup.id", "the set-up it happened to", later=True)
    at: str = columns.moment("when")
    by: str = columns.by()
    machine: str | None = columns.name(
        "machine", "name of the machine then in use; NULL: not said", null=True
    )


class SetupRow(SQLModel, table=True):
    """A set-up: what stays fixed from its start to its finish. Append-only."""

    __tablename__ = "setup"
    __table_args__ = (CheckConstraint("(machine_id IS NULL) = (zeros IS NULL)"),)
    id: int = columns.id("the number shown to users")
    entry: int = columns.ref("entry", "entry.id", "the entry that started it", unique=True)
    joint: str = columns.name("joint", "the joint being tuned")
    bit_id: int = columns.ref("bit_id", "bit.id", "the bit")
    stock_id: int = columns.ref("stock_id", "stock.id", "stock of the tail board")
    pin_stock_id: int = columns.ref("pin_stock_id", "stock.id", "stock of the pin board")
    machine_id: int | None = columns.ref(
        "machine_id", "machine.id", "the machine; NULL: not said", null=True
    )
    board_width: float = columns.size("board_width", "width of the boards, mm", 2000, 10)
    tail_thickness: float = columns.size(
        "tail_thickness", "thickness of the tail board, mm", 100, 1
    )
    pin_thickness: float = columns.size("pin_thickness", "thickness of the pin board, mm", 100, 1)
    in_play: str = columns.names("in_play", "what is tuned, with commas between", 1)
    words_only: bool = columns.yes("words_only", "1: nothing is measured")
    scrap: str = columns.text("scrap", "material of the test pieces, empty: the board's own")
    piece_width: float | None = columns.size(
        "piece_width", "width of the test pieces, mm; NULL: the board's", null=True
    )
    piece_thickness: float | None = columns.size(
        "piece_thickness", "their thickness, mm; NULL: the board's", null=True
    )
    sharpenings: int = columns.count("sharpenings", "how often the bit had been sharpened")
    moisture: float | None = columns.size(
        "moisture", "of the tail board, %; NULL: not known", 40, 1, null=True
    )
    pin_moisture: float | None = columns.size(
        "pin_moisture", "of the pin board, %; NULL: not known", 40, 1, null=True
    )
    scrap_moisture: float | None = columns.size(
        "scrap_moisture", "of the test pieces, %; NULL: not known", 40, 1, null=True
    )
    figures: dict[str, Any] = columns.members(
        "figures", "what else the joint's family fixes at the start, lengths in mm"
    )
    settings: dict[str, Any] = columns.members("settings", "first settings advised, mm")
    zeros: dict[str, Any] | None = columns.members(
        "zeros",
        "zeros of the machine's scales then, by part, mm, of those that have one; NULL: no machine",
        null=True,
    )


class AdviceRow(SQLModel, table=True):
    """An advice as it was shown. Append-only."""

    __tablename__ = "advice"
    id: int = columns.id("order of the advices")
    setup: int = columns.ref("setup", "setup.id", "the set-up")
    entry: int = columns.ref("entry", "entry.id", "newest entry of the log when it was shown")
    at: str = columns.moment("when")
    settings: dict[str, Any] = columns.members("settings", "settings to set, mm")
    document: str = columns.json("document", "the JSON document shown")


class TrialCutRow(SQLModel, table=True):
    """One entry about a test piece, with the settings it was cut at. Append-only."""

    __tablename__ = "trial_cut"
    entry: int = columns.ref("entry", "entry.id", "its entry in the log", key=True)
    advice: int = columns.ref("advice", "advice.id", "the advice in force when it was logged")
    piece: int = columns.count("piece", "number of the test piece in its set-up", 1)
    settings: dict[str, Any] = columns.members("settings", "settings used, mm")
    stated: str = columns.names(
        "stated", "those the user gave, with commas between; the others are from the advice"
    )
    advised: dict[str, Any] | None = columns.members(
        "advised", "settings advised for it, mm; NULL: not known", null=True
    )
    heard: str = columns.text("heard", "the words as typed")
    note: str = columns.text("note", "the user's note")
    scrap: str = columns.text("scrap", "material of this piece, empty: the set-up's")
    sizes: dict[str, Any] = columns.members(
        "sizes", "of this piece where they are not the set-up's, mm"
    )
    slot: bool = columns.yes(
        "slot", "1: only a slot in waste, measured; its piece is the next one's number", default=0
    )


class VerdictRow(SQLModel, table=True):
    """What was said of one aspect of a piece, or where a gap was seen. Append-only."""

    __tablename__ = "verdict"
    id: int = columns.id("order in which it was said")
    cut: int = columns.ref("cut", "trial_cut.entry", "the trial cut")
    aspect: str = columns.word("aspect", "what was judged; fault: a gap no setting cures")
    word: str = columns.word("word", "the word of the aspect, or the place of the gap")
    size: float | None = columns.size("size", "the number said with it, mm; NULL: none", null=True)


class ReadingRow(SQLModel, table=True):
    """A number measured on a piece. Append-only."""

    __tablename__ = "reading"
    __table_args__ = (CheckConstraint("rod IS NULL OR other IS NULL"),)
    id: int = columns.id("order in which it was measured")
    cut: int = columns.ref("cut", "trial_cut.entry", "the trial cut")
    kind: str = columns.word("kind", "what was measured")
    value: float = columns.size("value", "the reading, mm; of two the one at the fence")
    rod: float | None = columns.size("rod", "diameter of the rods, mm; NULL: no rods", null=True)
    other: float | None = columns.size("other", "the second reading, mm; NULL: only one", null=True)


class FoundRow(SQLModel, table=True):
    """What stood at the machine when somebody came back to a set-up. Append-only."""

    __tablename__ = "found"
    __table_args__ = (CheckConstraint("settings <> '{}'"),)
    entry: int = columns.ref("entry", "entry.id", "its entry in the log", key=True)
    advice: int = columns.ref("advice", "advice.id", "the advice whose settings were remembered")
    settings: dict[str, Any] = columns.members("settings", "settings found, those measured, mm")


class RetractionRow(SQLModel, table=True):
    """An entry taken back, until that is taken back itself by a redo. Append-only."""

    __tablename__ = "retraction"
    __table_args__ = (CheckConstraint("retracted < entry"),)
    entry: int = columns.ref("entry", "entry.id", "the entry that takes back", key=True)
    retracted: int = columns.ref("retracted", "entry.id", "the entry taken back")


class RedoRow(SQLModel, table=True):
    """A taking back that is taken back itself: what it took away stands again. Append-only."""

    __tablename__ = "redo"
    __table_args__ = (CheckConstraint("redone < entry"),)
    entry: int = columns.ref("entry", "entry.id", "the entry that brings back", key=True)
    redone: int = columns.ref(
        "redone", "retraction.entry", "the taking back that holds no longer", unique=True
    )


class PreferenceRow(SQLModel, table=True):
    """What a user prefers; the newest row of a key stands. Append-only."""

    __tablename__ = "preference"
    id: int = columns.id("order of the preferences")
    login: str = columns.text("login", "who, as logged in", 200)
    key: str = columns.choice(
        "key",
        "units: of lengths; name: to be called by; machine: to be at",
        ("units", "name", "machine"),
    )
    value: str = columns.text("value", "what is preferred", 200)
    at: str = columns.moment("when")


def _table(model: type[SQLModel]) -> Table:
    return SQLModel.metadata.tables[str(model.__tablename__)]


BIT, STOCK, MACHINE, SHARPENING = (
    _table(BitRow),
    _table(StockRow),
    _table(MachineRow),
    _table(SharpeningRow),
)
ENTRY, SETUP, ADVICE, RETRACTION = (
    _table(EntryRow),
    _table(SetupRow),
    _table(AdviceRow),
    _table(RetractionRow),
)
TRIAL_CUT, VERDICT, READING = _table(TrialCutRow), _table(VerdictRow), _table(ReadingRow)
FOUND, PREFERENCE, REDO = _table(FoundRow), _table(PreferenceRow), _table(RedoRow)
