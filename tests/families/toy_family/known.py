"""The invented family, known for as long as a test patches what is registered."""

from __future__ import annotations

import pytest

from fitlog import families
from fitlog.families import names

from .joint import PEGS, PegsPlan


def make_known(monkeypatch: pytest.MonkeyPatch) -> None:
    """Register the pegs; undone with the patch."""
    monkeypatch.setattr(names, "FAMILIES", dict(names.FAMILIES))
    monkeypatch.setattr(families, "FAMILIES", names.FAMILIES)
    monkeypatch.setattr(names, "PLANS", dict(names.PLANS))
    monkeypatch.setattr(families, "PLANS", names.PLANS)
    monkeypatch.setattr(families, "FOLDERS", dict(families.FOLDERS))
    families.register(PEGS, PegsPlan, "toy_family")
