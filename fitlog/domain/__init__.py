"""What fitlog talks about, as frozen and validated values. Lengths are millimetres, angles degrees.

A value of these classes is always sound: building one from nonsense raises `Refused`. The table
rows of the log are a different thing (see `store`); they are rebuilt into these on every read.
"""

from __future__ import annotations

from .adjusters import PART_OF, Adjuster, adjuster
from .advice import Advice, Misfit, Remark, Settled, Status, Value, remark
from .checks import NAME_LIMIT, TEXT_LIMIT, board_size, clean_name, clean_text, finite, positive
from .said import (
    ASPECTS,
    FAULT_PLACES,
    READING_KINDS,
    SETTLING_WORD,
    WORDS,
    Aspect,
    Fault,
    Reading,
    Said,
    Verdict,
)
from .setups import (
    HALF_BLIND,
    MOST_TAILS,
    SETTING_OF,
    Piece,
    Plan,
    Settings,
    SetUp,
    TrialCut,
    Window,
    merge,
    tail_count,
)
from .shop import ADJUSTED, HUMIDITIES, MOISTURES, SAWN, TEMPERATURES, Bit, Machine, Stock

__all__ = [
    "ADJUSTED",
    "ASPECTS",
    "FAULT_PLACES",
    "HALF_BLIND",
    "HUMIDITIES",
    "MOISTURES",
    "MOST_TAILS",
    "NAME_LIMIT",
    "PART_OF",
    "READING_KINDS",
    "SAWN",
    "SETTING_OF",
    "SETTLING_WORD",
    "TEMPERATURES",
    "TEXT_LIMIT",
    "WORDS",
    "Adjuster",
    "Advice",
    "Aspect",
    "Bit",
    "Fault",
    "Machine",
    "Misfit",
    "Piece",
    "Plan",
    "Reading",
    "Remark",
    "Said",
    "SetUp",
    "Settings",
    "Settled",
    "Status",
    "Stock",
    "TrialCut",
    "Value",
    "Verdict",
    "Window",
    "adjuster",
    "board_size",
    "clean_name",
    "clean_text",
    "finite",
    "merge",
    "positive",
    "remark",
    "tail_count",
]
