"""The use cases, one file each: nothing here prints, asks or parses.

`bench` the life of a set-up (start, record, retract, advise, finish, review); `boards` layouts and
stops; `faults`, `lookback`, `recovery`; `asked` what they are asked and hand back; `possible` what
cannot be set or have been cut.
"""

from __future__ import annotations

from .asked import Answer, Reported, Wanted
from .bench import Workbench

__all__ = ["Answer", "Reported", "Wanted", "Workbench"]
