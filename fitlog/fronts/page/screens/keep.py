"""What is written down about a set-up, and what of it can be taken away on paper."""

from __future__ import annotations

from ....domain import SetUp
from ....render.written import lines
from ....service.bench import Workbench
from ..desk import Sitting
from .common import Values, common


def keep(sitting: Sitting, setup: SetUp, bench: Workbench) -> Values:
    """Return what is written down. ended: an outcome can be said of it."""
    return {
        **common(sitting, setup),
        "written": lines(setup),
        "title": setup.noted("title"),
        "kept": setup.noted("kept"),
        "ended": setup.outcome == "finished" and not setup.undone,
        "undone": setup.undone,
    }
