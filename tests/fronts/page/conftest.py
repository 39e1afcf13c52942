"""A browser, and the page's server at a shop's log, for the tests of what a browser does."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from typing import Any

import pytest
from browsing import Phone, Served, playing
from shop import BIT, STOCK, Shop

JO = dict.fromkeys(("LOGNAME", "USER"), "jo")


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playing() as one:
        yield one


@pytest.fixture
def at_the_end() -> Iterator[ExitStack]:
    with ExitStack() as stack:
        yield stack


@pytest.fixture
def serve(shop: Shop, at_the_end: ExitStack) -> Callable[..., Served]:
    """What serves the shop's log."""

    def serving(*options: str) -> Served:
        made = Served(shop.home, shop.db, *options)
        at_the_end.callback(made.end)
        return made

    return serving


@pytest.fixture
def served(shop: Shop, serve: Callable[..., Served]) -> Served:
    """A shop with one set-up begun by Jo, and the page's server at its log."""
    shop.run("bit", "add", "half", *BIT, env=JO)
    shop.run("stock", "add", "elm", *STOCK, env=JO)
    shop.run("start", "--title", "chest", env=JO)
    return serve()


@pytest.fixture
def opens(browser: Any, at_the_end: ExitStack) -> Callable[..., Phone]:
    """What opens a phone at a server."""

    def open_(server: Served, width: int = 360, **options: Any) -> Phone:
        phone = Phone(browser, server, width, **options)
        at_the_end.callback(phone.close)
        return phone

    return open_
