"""The tables of the log, every one and every column with its meaning.

Tables and no table classes: rows become domain values in `rows`, never objects of a class here, and
every command would build such classes for nothing. Their CHECKs (`columns`) refuse nonsense, so
that a plain shell of the database cannot store it either.
Lengths are mm, angles degrees, moments ISO text in UTC, yes and no are 1 and 0. What a family of
joints names itself (settings, figures, aspects, words, readings) is kept by its names, numbers as
JSON objects: `settings ->> 'NAME'` reads one in a plain shell. No CHECK lists them; `rows` asks the
family.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import CheckConstraint, Table
from sqlalchemy.schema import SchemaItem
from sqlmodel import SQLModel

from ..domain import ABOUT, SAWN
from . import columns

KINDS = (
    "start",
    "cut",
    "choose",
    "finish",
    "abandon",
    "retract",
    "found",
    "finish-as-is",
    "redo",
    "note",
)


def _table(name: str, says: str, *parts: SchemaItem, **options: Any) -> Table:
    return Table(name, SQLModel.metadata, *parts, comment=says, **options)


BIT = _table(
    "bit",
    "A cutter as it is today; earlier diameters are in sharpening.",
    columns.id("number of the bit"),
    columns.name("name", "what the user calls it, whatever the case of the letters", unique=True),
    columns.size("diameter", "cutting diameter at the tip today, mm", 150),
    columns.yes("measured", "1: the diameter was measured, 0: it is the printed one"),
    columns.size("angle", "side angle from the axis of the bit, degrees", 45, 0),
    columns.size("cutting_length", "length of the flanks, mm", 150),
    columns.size(
        "neck", "thinnest part above the flanks, mm; NULL: where they end", 150, null=True
    ),
    columns.yes("retired", "1: no longer offered"),
    columns.digest(),
    CheckConstraint("neck IS NULL OR neck < diameter"),
)

STOCK = _table(
    "stock",
    "A kind of board.",
    columns.id("number of the stock"),
    columns.name("name", "what the user calls it, whatever the case of the letters", unique=True),
    columns.text("species", "wood or board material"),
    columns.size("thickness", "usual thickness, mm", 100, 1),
    columns.size("width", "usual width, mm", 2000, 10),
    columns.yes("retired", "1: no longer offered"),
    columns.size("moisture", "by a meter, % of the dry weight; NULL: not known", 40, 1, null=True),
    columns.number("temperature", "of the air it lay in, deg C; NULL: not said", 60, null=True),
    columns.column(
        "humidity",
        columns.REAL,
        "of that air, %; NULL: not said",
        "(humidity IS NULL) = (temperature IS NULL) AND humidity BETWEEN 1 AND 99",
    ),
    columns.choice("sawn", "how it was sawn; empty: not said", SAWN, default=""),
    columns.digest(),
)

MACHINE = _table(
    "machine",
    "A machine: the smallest moves its parts can be set by, and where their scales start.",
    columns.id("number of the machine"),
    columns.name("name", "what the user calls it, whatever the case of the letters", unique=True),
    columns.yes("retired", "1: no longer offered"),
    columns.members(
        "parts",
        "by the machine's part what is known of it: pack (what is stacked to set it), step, turn"
        " (travel per turn), backlash, zero"
        " (its scale less the truth), mm; between: it is set between its marks by eye too",
    ),
    columns.digest(),
)

SHARPENING = _table(
    "sharpening",
    "A bit was sharpened: its diameter is another from here on. Append-only.",
    columns.id("order of the sharpenings"),
    columns.ref("bit", "bit.id", "the bit"),
    columns.moment("when"),
    columns.by(),
    columns.size("diameter_before", "cutting diameter until then, mm", 150),
    columns.yes("measured_before", "1: that diameter was measured"),
    columns.size("diameter_after", "measured afterwards, mm; NULL: not yet", 150, null=True),
    columns.digest(),
)

ENTRY = _table(
    "entry",
    "The one order of the log: everything that happened to a set-up. Append-only.",
    columns.id("order of the log"),
    columns.choice("kind", "what happened", KINDS),
    # Deferred: a start writes its entry first and its set-up next, in one transaction.
    columns.ref("setup", "setup.id", "the set-up it happened to", later=True),
    columns.moment("when"),
    columns.by(),
    columns.name("machine", "name of the machine then in use; NULL: not said", null=True),
    columns.key("key", "what its writer calls it, to find it again; NULL: nothing"),
    columns.key("role", "the server's role that wrote it; NULL: in a file"),
    columns.digest(),
    sqlite_autoincrement=True,
)

SETUP = _table(
    "setup",
    "A set-up: what stays fixed from its start to its finish. Append-only.",
    columns.id("the number shown to users"),
    columns.ref("entry", "entry.id", "the entry that started it", unique=True),
    columns.name("joint", "the joint being tuned"),
    columns.ref("bit_id", "bit.id", "the bit"),
    columns.ref("stock_id", "stock.id", "stock of the tail board"),
    columns.ref("pin_stock_id", "stock.id", "stock of the pin board"),
    columns.ref("machine_id", "machine.id", "the machine; NULL: not said", null=True),
    columns.size("board_width", "width of the boards, mm", 2000, 10),
    columns.size("tail_thickness", "thickness of the tail board, mm", 100, 1),
    columns.size("pin_thickness", "thickness of the pin board, mm", 100, 1),
    columns.names("in_play", "what is tuned, with commas between", 1),
    columns.yes("words_only", "1: nothing is measured"),
    columns.text("scrap", "material of the test pieces, empty: the board's own"),
    columns.size("piece_width", "width of the test pieces, mm; NULL: the board's", null=True),
    columns.size("piece_thickness", "their thickness, mm; NULL: the board's", null=True),
    columns.count("sharpenings", "how often the bit had been sharpened"),
    columns.size("moisture", "of the tail board, %; NULL: not known", 40, 1, null=True),
    columns.size("pin_moisture", "of the pin board, %; NULL: not known", 40, 1, null=True),
    columns.size("scrap_moisture", "of the test pieces, %; NULL: not known", 40, 1, null=True),
    columns.members("figures", "what else the joint's family fixes at the start, lengths in mm"),
    columns.members("settings", "first settings advised, mm"),
    columns.members(
        "zeros",
        "zeros of the machine's scales then, by part, mm, of those that have one; NULL: no machine",
        null=True,
    ),
    CheckConstraint("(machine_id IS NULL) = (zeros IS NULL)"),
)

ADVICE = _table(
    "advice",
    "An advice as it was shown. Append-only.",
    columns.id("order of the advices"),
    columns.ref("setup", "setup.id", "the set-up"),
    columns.ref("entry", "entry.id", "newest entry of the log when it was shown"),
    columns.moment("when"),
    columns.members("settings", "settings to set, mm"),
    columns.json("document", "the JSON document shown"),
    columns.text("by", "to whom; NULL: not known", 200, null=True),
    columns.name("machine", "name of the machine it is for; NULL: not said", null=True),
    columns.digest(),
)

TRIAL_CUT = _table(
    "trial_cut",
    "One entry about a test piece, with the settings it was cut at. Append-only.",
    columns.ref("entry", "entry.id", "its entry in the log", key=True),
    columns.ref("advice", "advice.id", "the advice in force when it was logged"),
    columns.count("piece", "number of the test piece in its set-up", 1),
    columns.members("settings", "settings used, mm"),
    columns.names(
        "stated", "those the user gave, with commas between; the others are from the advice"
    ),
    columns.members("advised", "settings advised for it, mm; NULL: not known", null=True),
    columns.text("heard", "the words as typed"),
    columns.text("note", "the user's note"),
    columns.text("scrap", "material of this piece, empty: the set-up's"),
    columns.members("sizes", "of this piece where they are not the set-up's, mm"),
    columns.yes(
        "slot", "1: only a slot in waste, measured; its piece is the next one's number", default=0
    ),
    columns.before(
        "recut_of", "piece", "piece whose end was cut again for this one; NULL: a fresh end"
    ),
    columns.count(
        "after", "real joints cut when this one of them was looked at; NULL: a test piece", 1, True
    ),
)

VERDICT = _table(
    "verdict",
    "What was said of one aspect of a piece, or where a gap was seen. Append-only.",
    columns.id("order in which it was said"),
    columns.ref("cut", "trial_cut.entry", "the trial cut"),
    columns.word("aspect", "what was judged; fault: a gap no setting cures"),
    columns.word("word", "the word of the aspect, or the place of the gap"),
    columns.size("size", "the number said with it, mm; NULL: none", null=True),
)

READING = _table(
    "reading",
    "A number measured on a piece. Append-only.",
    columns.id("order in which it was measured"),
    columns.ref("cut", "trial_cut.entry", "the trial cut"),
    columns.word("kind", "what was measured"),
    columns.size("value", "the reading, mm; of two the one at the fence"),
    columns.size("rod", "diameter of the rods, mm; NULL: no rods", null=True),
    columns.size("other", "the second reading, mm; NULL: only one", null=True),
    CheckConstraint("rod IS NULL OR other IS NULL"),
)

FOUND = _table(
    "found",
    "What stood at the machine when somebody came back to a set-up. Append-only.",
    columns.ref("entry", "entry.id", "its entry in the log", key=True),
    columns.ref("advice", "advice.id", "the advice whose settings were remembered"),
    columns.members("settings", "settings found, those measured, mm"),
    CheckConstraint("settings <> '{}'"),
)

NOTE = _table(
    "note",
    "What is written down about a set-up, at any time. Append-only.",
    columns.ref("entry", "entry.id", "its entry in the log", key=True),
    columns.choice(
        "about",
        "title: what it is called, kept: where its sample is, of which the newest stands; outcome:"
        " what became of the work; note: anything else",
        ABOUT,
    ),
    columns.text("text", "what is written; empty: it has no title, or no sample, any more"),
)

RETRACTION = _table(
    "retraction",
    "An entry taken back, until that is taken back itself by a redo. Append-only.",
    columns.ref("entry", "entry.id", "the entry that takes back", key=True),
    columns.ref("retracted", "entry.id", "the entry taken back"),
    CheckConstraint("retracted < entry"),
)

REDO = _table(
    "redo",
    "A taking back that is taken back itself: what it took away stands again. Append-only.",
    columns.ref("entry", "entry.id", "the entry that brings back", key=True),
    columns.ref("redone", "retraction.entry", "the taking back that holds no longer", unique=True),
    CheckConstraint("redone < entry"),
)

PREFERENCE = _table(
    "preference",
    "What a user prefers; the newest row of a key stands. Append-only.",
    columns.id("order of the preferences"),
    columns.text("login", "who, as logged in", 200),
    columns.choice(
        "key",
        "units: of lengths; name: to be called by; machine: to be at",
        ("units", "name", "machine"),
    ),
    columns.text("value", "what is preferred", 200),
    columns.moment("when"),
    columns.digest(),
)
