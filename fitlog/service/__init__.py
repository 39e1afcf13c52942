"""The use cases, one file each, typed request in and typed answer out: nothing here prints or asks.

`session` one person at one log, the door of every front; `reader` alone turns text into requests,
within the `limits`; `bench` the life of a set-up (start, record, retract, advise, finish, review);
`catalogue` bits, stocks and machines; `boards` layouts and stops; `faults`, `lookback`, `recovery`;
`cuts`, `exchange` tables and whole logs; `asked` what they are asked and hand back; `possible` what
cannot be set or have been cut; `slips`, `odd_sizes` what no shop would mean.
"""

from __future__ import annotations

from ..families.wanted import Wanted
from ..log import Log
from .asked import Answer, Reported
from .bench import Workbench

__all__ = ["Answer", "Log", "Reported", "Wanted", "Workbench"]
