"""Before something is taken back or ended: what that would be."""

from __future__ import annotations

from ....domain import SetUp
from ....domain.standing import standing as decided
from ....families.telling import PAGE
from ....render.answer import standing
from ....service import undoing
from ....service.bench import Workbench
from ..desk import Sitting
from .common import Values, common


def back(sitting: Sitting, setup: SetUp, bench: Workbench) -> Values:
    """Return what would be taken back, and what could be brought back. whole: the start is all that
    is left.
    """
    return {
        **common(sitting, setup),
        "whole": undoing.only_begun(sitting.log, setup),
        "undone": undoing.undone_last(sitting.log, setup),
    }


def finish(sitting: Sitting, setup: SetUp, bench: Workbench) -> Values:
    """Return how the set-up stands before it is ended."""
    answer = bench.look_at(setup)
    return {
        **common(sitting, answer.setup),
        "ready": answer.advice.status == "ready",
        "settled": decided(answer.setup, answer.advice).settled,
        "standing": standing(answer.setup, answer.advice, answer.advice.pieces + 1, PAGE),
    }
