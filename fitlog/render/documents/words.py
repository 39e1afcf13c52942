"""The JSON of `words`."""

from __future__ import annotations

from collections.abc import Mapping

from ...advice.spoken import Spoken
from ...document import Document, window
from ...service.asked import Words


def words_document(told: Words, own: Mapping[str, str]) -> Document:
    """Return a person's scales of words. own: their phrases, each with what it means; others: who
    else has logged a cut; setups: how many are finished.
    """
    return {
        "person": told.person,
        "others": list(told.others),
        "setups": told.setups,
        "own": dict(own),
        **{aspect: {**_scale(found), **_aims(found)} for aspect, found in told.scales.items()},
    }


def _aims(found: Spoken) -> Document:
    """What is aimed at by the word `good` of an aspect that only a trial settles, for each set of
    edges.
    """
    sets = found.sets if found.kind.tried else ()
    return {f"aim_{name}" if name else "aim": window(found.good(name)) for name in sets}


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
            for word, (low, high, low_sd, high_sd) in zip(found.kind.words, ends, strict=True)
        ],
        "noise": round(found.scale.noise, 4),
        "noise_interval90": [round(x, 4) for x in found.scale.noise_range],
    }
