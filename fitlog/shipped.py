"""The data that comes with fitlog: beside the package in a checkout, inside it once installed, read
one way.
"""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable


def shipped(name: str) -> Traversable:
    """Return a shipped file by name; raises FileNotFoundError when it is not there."""
    package = files("fitlog")
    for folder in (package / "data", package / ".." / "data"):
        if (folder / name).is_file():
            return folder / name
    raise FileNotFoundError(name)
