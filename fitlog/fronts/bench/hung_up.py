"""The end of a dialogue whose terminal is gone."""

from __future__ import annotations


class HungUp(Exception):
    """The terminal is gone or the process is told to end. number: the signal."""

    def __init__(self, number: int) -> None:
        super().__init__(number)
        self.number = number
