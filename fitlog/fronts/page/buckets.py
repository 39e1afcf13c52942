"""How often somebody may ask: token buckets, one a key, and who counts as one."""

from __future__ import annotations

import time
from collections import OrderedDict
from collections.abc import Callable
from contextlib import suppress
from ipaddress import ip_address, ip_network

_MOST = 4096  # keys that are remembered; of who was not heard the longest the bucket is full anyway


def asker(host: str) -> str:
    """Return who asks from an address; of IPv6 the network, since one device has many of it."""
    with suppress(ValueError):
        if (address := ip_address(host.partition("%")[0])).version == 6:
            return str(ip_network((address, 64), strict=False))
    return host


class Buckets:
    """Buckets of one size. rate: tokens a second; size: how many one holds."""

    def __init__(
        self, rate: float, size: float, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._rate, self._size, self._clock = rate, size, clock
        self._held: OrderedDict[object, tuple[float, float]] = OrderedDict()

    def take(self, key: object) -> bool:
        """Take a token out of a key's bucket; False where it is empty."""
        now = self._clock()
        held, at = self._held.pop(key, (self._size, now))
        held = min(self._size, held + (now - at) * self._rate)
        taken = held >= 1
        self._held[key] = (held - 1 if taken else held), now
        if len(self._held) > _MOST:
            self._held.popitem(last=False)
        return taken
