"""The craft of the half-blind dovetail: see `advice.craft` for what each function promises."""

from __future__ import annotations

from ...advice.opening import first_settings
from .possible import check, check_slot

__all__ = ["check", "check_slot", "first_settings"]
