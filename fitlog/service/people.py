"""Who the log knows, for somebody who says a name and has no login on this computer."""

from __future__ import annotations

from ..log import Log
from .session import Session


def people(log: Log, owner: str) -> dict[str, str]:
    """Return everybody whom the log knows: logins, each with its name; who logged cuts under a name
    that is no login's now is one of that name. owner: a login that is among them in any case.
    """
    named = log.named()
    found = {owner: named.get(owner, owner), **named}
    known = {name.casefold() for name in found.values()}
    return found | {name: name for name in log.people() if name.casefold() not in known}


def login_of(log: Log, owner: str, name: str) -> tuple[str, str]:
    """Return whose preferences hold for a name, and the name as the log writes it: a name before a
    login, the owner's before others'. Somebody new reads lengths as the owner does.
    """
    found, wanted = people(log, owner), name.casefold()
    for said in (found, {login: login for login in found}):
        for login, known in said.items():
            if known.casefold() == wanted:
                return login, found[login]
    units = log.preferences(owner).units
    if units != "mm":  # which nobody needs to say
        Session(log, name).prefer(units=units)
    return name, name
