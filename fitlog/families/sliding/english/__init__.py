"""The sliding dovetail's own sentences and names, in English."""

from __future__ import annotations

from . import boards, care, faults, reasons, recipe, recovery

NAMES = reasons.NAMES
SENTENCES = {
    **boards.SENTENCES,
    **care.SENTENCES,
    **faults.SENTENCES,
    **reasons.SENTENCES,
    **recipe.SENTENCES,
    **recovery.SENTENCES,
}
SHORT = recipe.SHORT
