"""As found: whether a remembered setting may have moved since a set-up was last worked on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from .. import defaults
from ..advice.found import Finding, finding, left_at
from ..domain import Advice, Remark, SetUp, remark
from ..families.names import typed_by
from ..log import Absence, Log
from .asked import Bench
from .possible import check_settings

AT_MOST = timedelta(hours=defaults.AS_FOUND_HOURS)


def found(bench: Bench, setup: SetUp, settings: Mapping[str, float]) -> Finding:
    """Log what was found at the machine, true mm by setting; return what to dial from there.

    Raises Refused: no-open-setup, log-moved-on, what `possible` says of settings that cannot be.
    """
    bench.require_open(setup)
    check_settings(setup.plan, left_at(setup).changed(**settings), dict(settings), {})
    stamp = bench.stamp(setup.plan.machine)
    entry = bench.log.log_found(
        setup.number, settings, stamp, seen=setup.newest, advice=setup.advice
    )
    # What is to be dialled is the advice as it stands now: pieces may have come in since the one
    # last shown.
    now = bench.answer(setup.number)
    return finding(now.setup, entry, settings)


def last_found(bench: Bench, setup: SetUp) -> Finding | None:
    """Return what was found last at the machine, with what to dial from there as it stands now;
    None where a piece was cut since, or nothing was found.
    """
    logged = [one for one in bench.log.found_entries(setup.number) if not one.retracted]
    last = setup.last_piece()
    cut = [cut.entry for cut in setup.cuts if last is not None and cut.piece == last.number]
    if not logged or logged[-1].entry < min(cut, default=0):
        return None
    return finding(setup, logged[-1].entry, logged[-1].settings)


def since_last_here(log: Log, setup: SetUp) -> Absence | None:
    """Return what stands between the last deed of an open set-up at a known machine and now; None
    of any other.
    """
    if setup.plan.machine is None or setup.outcome is not None or setup.undone:
        return None
    return log.absence(setup.number, datetime.now(UTC), AT_MOST)


def with_as_found(advice: Advice, setup: SetUp, absence: Absence | None, by: str) -> Advice:
    """Put first, where there was an absence, that the remembered settings may have moved."""
    notice = None if absence is None else as_found(setup, absence, by, datetime.now(UTC))
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
    family = setup.plan.family
    return remark(
        "as-found",
        typed=tuple(f"{typed_by(family, name)}L" for name in family.names),
        machine=machine,
        other=None if other is None else (other.by == by, other.by, other.setup),
        last=None if last.by == by else last.by or "",
        days=days,
    )
