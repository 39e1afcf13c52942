"""What the tests of the log from a shell share."""

from __future__ import annotations

import pytest
from shop import Shop


@pytest.fixture
def busy(shop: Shop) -> Shop:
    """A shop with two pieces cut, one of them taken back."""
    return shop.built(_work)


def _work(shop: Shop) -> None:
    shop.started()
    for line in ("cut tight, gap far 0.4", "cut loose --walls 63.1 63.5", "undo"):
        shop.words(line)
