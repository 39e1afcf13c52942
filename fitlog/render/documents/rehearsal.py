"""The JSON of `rehearse`."""

from __future__ import annotations

from ...document import Document, names_of
from ...simulation import Comparison, Conditions, Mean, Tally
from ..rehearsal import NOT_A_PROMISE


def comparison_document(found: Comparison) -> Document:
    """Return what the ways of working took in the same simulated shops."""
    plan = found.plan
    return {
        "setups": found.setups,
        "in_a_row": found.in_a_row,
        "seed": found.seed,
        **names_of(plan),
        "in_play": list(plan.in_play),
        "words_only": plan.words_only,
        "conditions": _conditions(found.conditions),
        "methods": {name: _method(tally) for name, tally in found.tallies.items()},
        "note": NOT_A_PROMISE,
    }


def _conditions(told: Conditions) -> dict[str, float | bool | None]:
    """Lengths in mm; chances as shares; readings: null where nobody reads."""
    return {
        "sds": told.sds,
        "slips": told.slips,
        "swaps": told.swaps,
        "readings": told.readings,
        "fence_zero_off": told.zeros_off.get("fence", 0.0),
        "height_zero_off": told.zeros_off.get("height", 0.0),
        "edges_off": told.edges_off,
        "repeats": told.repeats,
    }


def _method(tally: Tally) -> Document:
    """Shares are of all set-ups; one given up counts its 30 pieces, and as not inside."""
    return {
        "first": _mean(tally.mean_first()),
        "later": _mean(tally.mean_later()),
        "good_at_once": round(tally.good_at_once, 4),
        "over_3": round(tally.over(), 4),
        "unsolved": tally.unsolved,
        "inside": round(tally.share_within, 4),
        "given_up": round(tally.given_up, 4),
        "counts": {str(k): n for k, n in tally.counts.items()},
    }


def _mean(found: Mean) -> dict[str, float | int | None]:
    mean, se = (None if x is None else round(x, 4) for x in (found.mean, found.se))
    return {"mean": mean, "se": se, "n": found.n}
