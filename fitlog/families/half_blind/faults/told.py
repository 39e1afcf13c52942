"""What `fault` hands back to be shown."""

from __future__ import annotations

from dataclasses import dataclass

from ....domain import Remark, SetUp
from .diagnosis import Diagnosis
from .kinds import Symptom


@dataclass(frozen=True)
class Faults:
    """What is told of faults. setup: None where none was started yet; asked: the symptoms typed,
    their causes in order.

    log: what the log shows unasked.  list: all symptoms, where nothing was typed.
    """

    setup: SetUp | None
    log: tuple[Remark, ...]
    asked: tuple[Diagnosis, ...]
    list: tuple[Symptom, ...]
    cautions: tuple[Remark, ...]
