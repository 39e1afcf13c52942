"""The command line's app under its stable name."""

from .fronts.cli import app

__all__ = ["app"]
