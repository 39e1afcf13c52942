"""The log: append-only, in one SQLite file or a PostgreSQL database, with a small catalogue beside
it.

It keeps what was done and said, never an estimate, and knows nothing of joints or of chances.
"""

from __future__ import annotations

from .found import Absence, Deed, LoggedFound
from .log import Log, open_log
from .preferences import Preferences
from .reading import LoggedCut
from .rows import Stamp

__all__ = ["Absence", "Deed", "Log", "LoggedCut", "LoggedFound", "Preferences", "Stamp", "open_log"]
