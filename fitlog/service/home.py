"""A person's own machine: which set-up is current there."""

from __future__ import annotations

import shlex

from ..domain import Machine, SetUp
from ..errors import Refused
from ..log import Log


def current_at(log: Log, home: Machine | None, by: str) -> SetUp:
    """Return the set-up last started or chosen, of those at `home` where there is one, as it is
    read for a person. Raises Refused: no-setup.
    """
    setup = log.current(home.name if home else None, by)
    if setup is None:
        where = f" at {home.name}" if home else ""
        raise Refused(
            "no-setup", "no set-up was started{where} yet", "begin with fitlog start", where=where
        )
    return setup


def require_here(home: Machine | None, setup: SetUp) -> None:
    """Refuse ("other-machine") to choose what would not be current here but, unasked, at somebody
    else's machine.
    """
    at = setup.plan.machine
    if home is None or (at is not None and at.name == home.name):
        return
    there = f", or go there: fitlog prefer --machine {shlex.quote(at.name)}" if at else ""
    where = f"at {at.name}" if at else "at no machine"
    hint = f"name it on each command (--setup {setup.number}){there}"
    raise Refused(
        "other-machine",
        "set-up {number} is {where} and you are at {machine}",
        "{advised}",
        number=setup.number,
        where=where,
        machine=home.name,
        advised=hint,
    )
