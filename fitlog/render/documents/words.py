"""The JSON of `words`."""

from __future__ import annotations

from ...advice.spoken import Spoken
from ...document import Document, window
from ...families.half_blind.names import WORDS
from ...service.asked import Words


def words_document(told: Words) -> Document:
    """Return a person's scales of words. others: who else has logged a cut; setups: how many are
    finished.
    """
    fit = told.fit
    tails = {"aim": window(fit.good()), "aim_many_tails": window(fit.good(many_tails=True))}
    return {
        "person": told.person,
        "others": list(told.others),
        "setups": told.setups,
        "fit": {**_scale(fit), **tails},
        "seat": _scale(told.seat),
    }


def _scale(found: Spoken) -> Document:
    """A scale of words. low, high: where a word's band ends, null where it is open; *_sd: how sure
    that is.
    """
    edges = [None, *(round(e, 4) for e in found.scale.edges), None]
    sds = [None, *(round(s, 4) for s in found.scale.edge_sds), None]
    ends = zip(edges, edges[1:], sds, sds[1:], strict=False)
    return {
        "learned": found.learned,
        "met": found.met,
        "missing": found.missing,
        "words": [
            {"word": word, "low": low, "high": high, "low_sd": low_sd, "high_sd": high_sd}
            for word, (low, high, low_sd, high_sd) in zip(WORDS[found.aspect], ends, strict=True)
        ],
        "noise": round(found.scale.noise, 4),
        "noise_interval90": [round(x, 4) for x in found.scale.noise_range],
    }
