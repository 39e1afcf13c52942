"""The families that fitlog knows, as what each declares: no geometry, so that the log and the
readers of text may ask here too.
"""

from __future__ import annotations

from ..domain import Family
from ..errors import Refused
from .half_blind.names import HALF_BLIND

FAMILIES: dict[str, Family] = {HALF_BLIND.name: HALF_BLIND}


def family_of(joint: str) -> Family:
    """Return what the family of a joint declares; raise `Refused` for one this version does not
    know.
    """
    if joint not in FAMILIES:
        raise Refused(
            "unknown-joint", f"this version does not know the joint {joint!r}", "update fitlog"
        )
    return FAMILIES[joint]
