"""What fitlog talks about, as frozen and validated values. Lengths are millimetres, angles degrees.

A value of these classes is always sound: building one from nonsense raises `Refused`. The table
rows of the log are a different thing (see `store`); they are rebuilt into these on every read.
"""

from __future__ import annotations

from .adjusters import Adjuster, adjuster, set_adjuster
from .advice import Advice, Misfit, Remark, Settled, Status, Value, remark
from .checks import NAME_LIMIT, TEXT_LIMIT, UNITS, clean_name, clean_text, positive, unit_word
from .cuts import Figures, Piece, TrialCut, merge
from .family import Family, SettingKind
from .machines import LIFT, NOTHING_KNOWN, Machine, Part, PartChanges, edited
from .notes import ABOUT, STANDING, About, Note
from .packs import Pack, Shim, pack_of
from .said import Aspect, AspectKind, Fault, Reading, Said, Verdict
from .settings import Settings
from .setups import Other, Plan, SetUp
from .shop import HUMIDITIES, MOISTURES, SAWN, TEMPERATURES, Bit, Stock
from .window import Window

__all__ = [
    "ABOUT",
    "HUMIDITIES",
    "LIFT",
    "MOISTURES",
    "NAME_LIMIT",
    "NOTHING_KNOWN",
    "SAWN",
    "STANDING",
    "TEMPERATURES",
    "TEXT_LIMIT",
    "UNITS",
    "About",
    "Adjuster",
    "Advice",
    "Aspect",
    "AspectKind",
    "Bit",
    "Family",
    "Fault",
    "Figures",
    "Machine",
    "Misfit",
    "Note",
    "Other",
    "Pack",
    "Part",
    "PartChanges",
    "Piece",
    "Plan",
    "Reading",
    "Remark",
    "Said",
    "SetUp",
    "SettingKind",
    "Settings",
    "Settled",
    "Shim",
    "Status",
    "Stock",
    "TrialCut",
    "Value",
    "Verdict",
    "Window",
    "adjuster",
    "clean_name",
    "clean_text",
    "edited",
    "merge",
    "pack_of",
    "positive",
    "remark",
    "set_adjuster",
    "unit_word",
]
