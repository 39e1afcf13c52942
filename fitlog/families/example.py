"""How a set-up of a joint begins in an empty shop: each family's module `example`, all invented."""

from __future__ import annotations

from importlib import import_module
from typing import Protocol, cast

from . import folder_of

Command = tuple[str, ...]


class Example(Protocol):
    """BEFORE: the commands that fill an empty catalogue; EXAMPLE: the one that starts a set-up."""

    BEFORE: tuple[Command, ...]
    EXAMPLE: Command


def example_of(joint: str) -> Example:
    """Return how a joint begins; raise `Refused` for one this version does not know."""
    return cast(Example, import_module(f"{folder_of(joint)}.example"))
