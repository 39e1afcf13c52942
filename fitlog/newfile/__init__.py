"""Every file that a command writes goes through here: whole or not at all, and never over a log."""

from .door import Part, Place, file_named, part_of, place_of, whole_file, written
from .logs import APPLICATION_ID, COMPANIONS, log_there

__all__ = [
    "APPLICATION_ID",
    "COMPANIONS",
    "Part",
    "Place",
    "file_named",
    "log_there",
    "part_of",
    "place_of",
    "whole_file",
    "written",
]
