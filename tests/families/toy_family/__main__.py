"""The command line with the invented family registered, for a process of its own."""

from fitlog import families
from fitlog.cli import app

from .joint import PEGS, PegsPlan

families.register(PEGS, PegsPlan, "toy_family")
app()
