"""As found: whether a remembered setting may have moved since a set-up was last worked on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from .. import defaults
from ..advice.found import Finding, finding, left_at
from ..document import Document, found_values, on_scale, remarks_document
from ..domain import SETTING_OF, Advice, Remark, SetUp, remark
from ..language.units import Ruler
from ..log import Absence, Log
from .possible import check_settings

if TYPE_CHECKING:
    from .bench import Workbench

AT_MOST = timedelta(hours=defaults.AS_FOUND_HOURS)


def found(bench: Workbench, setup: SetUp, settings: Mapping[str, float]) -> Finding:
    """Log what was found at the machine, true mm by setting; return what to dial from there.

    Raises Refused: no-open-setup, and what `possible` says of settings that cannot be.
    """
    bench.require_open(setup)
    check_settings(setup.plan, replace(left_at(setup), **settings), dict(settings), None, None)
    entry = bench.log.log_found(setup.number, settings, bench.stamp(setup.plan.machine))
    # What is to be dialled is the advice as it stands now: pieces may have come in since the one
    # last shown.
    now = bench.answer(setup.number)
    return finding(replace(now.setup, shown=now.advice.settings), entry, settings)


def with_as_found(log: Log, by: str, setup: SetUp, advice: Advice) -> Advice:
    """Put first, on an open set-up at a known machine, that its remembered settings may
    have moved.
    """
    if setup.plan.machine is None or setup.outcome is not None or setup.undone:
        return advice
    now = datetime.now(UTC)
    notice = as_found(setup, log.absence(setup.number, now, AT_MOST), by, now)
    return advice if notice is None else replace(advice, notices=(notice, *advice.notices))


def as_found(setup: SetUp, absence: Absence, by: str, now: datetime) -> Remark | None:
    """Return the notice that the settings may have moved since a set-up's last deed; None where
    nothing speaks for it.

    Asked of an open set-up at a machine that is known. by: who is about to cut.
    """
    assert setup.plan.machine is not None
    machine, last, other = setup.plan.machine.name, absence.last, absence.other
    days = (now - last.at) // timedelta(days=1)
    if other is None and last.by == by and now - last.at <= AT_MOST:
        return None
    return remark(
        "as-found",
        machine=machine,
        other=None if other is None else (other.by == by, other.by, other.setup),
        last=None if last.by == by else last.by or "",
        days=days,
    )


def finding_document(told: Finding, ruler: Ruler) -> Document:
    """Return a finding as JSON: settings as the user's scales read them, mm, null where nothing was
    measured.
    """
    machine, names = told.setup.plan.machine, tuple(SETTING_OF.values())
    return {
        "setup": told.setup.number,
        "entry": told.entry,
        "found": found_values(told.found, machine),
        "left": on_scale(told.left, machine),
        "off": {n: round(told.off[n], 4) if n in told.found else None for n in names},
        "settings": on_scale(told.setup.shown, machine),
        "moves": {n: round(told.moves[n], 4) if n in told.found else None for n in names},
        "cautions": remarks_document(told.cautions, ruler),
    }
