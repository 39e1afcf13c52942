"""The command line's app, with every command, under its stable name."""

from .fronts.cli import COMMANDS, app_of

app = app_of(COMMANDS)

__all__ = ["app"]
