"""The craft of the half-blind dovetail: see `advice.craft` for what each function promises."""

from __future__ import annotations

from ...advice.opening import first_settings

__all__ = ["first_settings"]
