"""Random numbers by name: a draw depends only on its key, never on what was drawn before it.

So two ways of working meet the same bit, the same day and the same piece, whatever each of them
asks for (common random numbers). The bits come from a published hash (BLAKE2b, RFC 7693), so that
they are the same on every machine.
"""

from __future__ import annotations

import struct
from hashlib import blake2b
from statistics import NormalDist

_QUANTILE = NormalDist().inv_cdf
_WORDS = struct.Struct("<4Q").unpack
_UNIT = 2.0**-53


def uniforms(*key: object) -> tuple[float, float, float, float]:
    """Return four independent draws between 0 and 1, both ends excluded, that belong to `key`
    (texts and numbers).
    """
    words = _WORDS(blake2b(repr(key).encode(), digest_size=32).digest())
    first, second, third, fourth = (((word >> 11) + 0.5) * _UNIT for word in words)
    return first, second, third, fourth


def as_normal(uniform: float) -> float:
    """Return the standard normal draw that a uniform one stands for (its quantile)."""
    return _QUANTILE(uniform)


def normal(*key: object) -> float:
    """Return the standard normal draw that belongs to `key`."""
    return _QUANTILE(uniforms(*key)[0])
