"""The six-digit number that lets a phone in: shown at the computer alone, for a short time, good
once.

Guessing: five tries end a number, and the pause before the next one doubles each time, so that a
day of it tries some 150 of the million.
"""

from __future__ import annotations

import hmac
import secrets
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from math import ceil

from ...errors import Refused

HOLDS = 300.0  # s that a number is good for
TRIES = 5  # wrong ones, from all addresses, that end a number
TRIES_EACH = 4  # wrong ones that keep an address from trying for as long as a number holds
_PAUSE, _LONGEST = 60.0, 3600.0  # s before the next number after one that was ended so
_ADDRESSES = 1000  # of which wrong ones are remembered


@dataclass(slots=True)
class _Number:
    digits: str
    until: float
    tries: int = 0


class Pairing:
    """The number at hand. A new one is made, and shown, when a phone that wants to come in finds
    none that still holds: what nobody asks for is no number to be guessed.
    """

    def __init__(
        self, shown: Callable[[str, float], None], clock: Callable[[], float] = time.monotonic
    ) -> None:
        """shown: is told each new number, and how long it holds (s)."""
        self._shown, self._clock = shown, clock
        self._number: _Number | None = None
        self._wrong: OrderedDict[str, list[float]] = OrderedDict()
        self._next, self._pause = 0.0, _PAUSE

    def ask(self) -> None:
        """See to it that a number holds. Raises Refused: too-many-tries."""
        now = self._clock()
        if self._number is not None and now < self._number.until:
            return
        if now < self._next:
            raise _too_many(self._next - now)
        self._number = _Number(f"{secrets.randbelow(10**6):06d}", now + HOLDS)
        self._shown(self._number.digits, HOLDS)

    def spend(self, typed: str, address: str) -> None:
        """Use the number up with what was typed on a phone. Raises Refused: wrong-number,
        old-number, too-many-tries.
        """
        now, before = self._clock(), self._number
        wrong = [at for at in self._wrong.get(address, ()) if now - at < HOLDS]
        if len(wrong) >= TRIES_EACH:
            raise _too_many(wrong[0] + HOLDS - now)
        self.ask()
        number = self._number
        assert number is not None
        if number is not before:
            raise Refused(
                "old-number",
                "that number was used or has expired",
                "type the one that the computer shows now",
            )
        if hmac.compare_digest(typed.encode(), number.digits.encode()):
            self._number, self._pause = None, _PAUSE
            self._wrong.pop(address, None)
            return
        number.tries += 1
        self._wrong[address] = [*wrong, now]
        if len(self._wrong) > _ADDRESSES:
            self._wrong.popitem(last=False)
        if number.tries >= TRIES:
            self._number, self._next = None, now + self._pause
            self._pause = min(2 * self._pause, _LONGEST)
        raise Refused(
            "wrong-number",
            "that is not the number",
            "type the six digits that the computer shows",
        )


def _too_many(wait: float) -> Refused:
    return Refused(
        "too-many-tries",
        "too many wrong numbers were typed",
        "wait {minutes} min, or have the page started anew at the shop's computer",
        minutes=ceil(wait / 60),
    )
