"""Getting the second pass of a housing back: see `families.recovering`."""

from __future__ import annotations

from ..sheets.recover import Way
from .craft import first_settings
from .names import SLOT

recovered = Way(SLOT, 1.0, "play", first_settings, "second-pass").recovered
