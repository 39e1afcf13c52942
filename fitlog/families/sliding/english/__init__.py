"""The sliding dovetail's own sentences and names, in English."""

from __future__ import annotations

from . import boards, care, faults, reasons, recipe

NAMES = reasons.NAMES
SENTENCES = {
    **boards.SENTENCES,
    **care.SENTENCES,
    **faults.SENTENCES,
    **reasons.SENTENCES,
    **recipe.SENTENCES,
}
SHORT = recipe.SHORT
