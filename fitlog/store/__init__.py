"""The log: one append-only SQLite file with a small catalogue beside it.

It keeps what was done and said, never an estimate, and knows nothing of joints or of chances.
"""

from __future__ import annotations

from .log import Log, open_log
from .preferences import Preferences
from .reading import LoggedCut
from .rows import Stamp

__all__ = ["Log", "LoggedCut", "Preferences", "Stamp", "open_log"]
