"""Text into typed requests, for every front: the one place where what somebody typed is read.

`Reader` the person's lengths; `cuts` a trial cut: words, settings or moves, readings; `rows` the
lines of a table; `choices` words of an option; `wood` percents and temperatures. The words
themselves are in `language.phrases`. Nothing here prints, or knows a command line or a log.
"""

from __future__ import annotations

from .lengths import Reader

__all__ = ["Reader"]
