"""What the tests of the shell share."""

from __future__ import annotations

from pathlib import Path

import pytest
from shop import Shop, make_shop


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    """An empty shop in a folder of its own."""
    return make_shop(tmp_path, monkeypatch)
