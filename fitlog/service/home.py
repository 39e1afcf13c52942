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
        raise Refused(
            "no-setup",
            "no set-up was started at {machine} yet" if home else "no set-up was started yet",
            "begin with fitlog start",
            machine=home.name if home else "",
        )
    return setup


def require_here(home: Machine | None, setup: SetUp) -> None:
    """Refuse ("other-machine") to choose what would not be current here but, unasked, at somebody
    else's machine.
    """
    at = setup.plan.machine
    if home is None or (at is not None and at.name == home.name):
        return
    raise Refused(
        "other-machine",
        "set-up {number} is at {other} and you are at {machine}"
        if at
        else "set-up {number} is at no machine and you are at {machine}",
        "name it on each command (--setup {number}), or go there: fitlog prefer --machine {there}"
        if at
        else "name it on each command (--setup {number})",
        number=setup.number,
        machine=home.name,
        other=at.name if at else "",
        there=shlex.quote(at.name) if at else "",
    )
