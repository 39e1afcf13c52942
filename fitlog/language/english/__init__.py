"""English: the sentences that belong to no family; a family's own lie in its folder."""

from __future__ import annotations

from . import advice, brief, care, moisture, odd, run, shop

SENTENCES = {
    **advice.SENTENCES,
    **brief.SENTENCES,
    **care.SENTENCES,
    **moisture.SENTENCES,
    **odd.SENTENCES,
    **run.SENTENCES,
    **shop.SENTENCES,
}
SHORT = {**brief.SHORT, **shop.SHORT}
