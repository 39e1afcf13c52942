"""Settings as found at the machine, and what to dial from there."""

from __future__ import annotations

from ....domain import SetUp
from ....render.found import found_cells, said_of
from ....service.bench import Workbench
from ....service.found import last_found
from ....texts import tell
from ..desk import Sitting
from .common import Values, common
from .dial import unit


def found(sitting: Sitting, setup: SetUp, bench: Workbench, *, again: bool) -> Values:
    """Return what is asked, and what was found last since the last piece. Raises Refused:
    no-open-setup. again: it is measured once more.
    """
    bench.require_open(setup)
    setup, ruler = bench.look_at(setup).setup, bench.ruler
    told = None if again else last_found(bench, setup)
    return {
        **common(sitting, setup),
        "heads": [tell(h) for h in ("setting", "found", "left at", "moved", "set to", "dial")],
        "rows": [] if told is None else found_cells(told, ruler),
        "more": [] if told is None else said_of(told, ruler),
        "fields": [(kind.name, tell(kind.noun)) for kind in setup.plan.family.settings],
        "unit": unit(ruler),
    }
