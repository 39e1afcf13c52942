"""The half-blind dovetail's own sentences and names, in English."""

from __future__ import annotations

from . import (
    boards,
    brief,
    care,
    fault_signs,
    faults,
    layouts,
    pieces,
    reasons,
    recipe,
    recovery,
    stops,
)

NAMES = reasons.NAMES
SENTENCES = {
    **boards.SENTENCES,
    **care.SENTENCES,
    **fault_signs.SENTENCES,
    **faults.SENTENCES,
    **layouts.SENTENCES,
    **pieces.SENTENCES,
    **reasons.SENTENCES,
    **recipe.SENTENCES,
    **recovery.SENTENCES,
    **stops.SENTENCES,
}
SHORT = brief.SHORT
