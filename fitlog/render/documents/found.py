"""The JSON of `found`."""

from __future__ import annotations

from ...advice.found import Finding
from ...document import Document, found_values, on_scale, remarks_document
from ...language.units import Ruler


def finding_document(told: Finding, ruler: Ruler) -> Document:
    """Return a finding as JSON: settings as the user's scales read them, mm, null where nothing was
    measured.
    """
    machine, names = told.setup.plan.machine, told.setup.plan.family.names
    return {
        "setup": told.setup.number,
        "entry": told.entry,
        "found": found_values(told.left.family, told.found, machine),
        "left": on_scale(told.left, machine),
        "off": {n: round(told.off[n], 4) if n in told.found else None for n in names},
        "settings": on_scale(told.setup.shown, machine),
        "moves": {n: round(told.moves[n], 4) if n in told.found else None for n in names},
        "cautions": remarks_document(told.cautions, ruler),
    }
