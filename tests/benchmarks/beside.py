"""Lets a benchmark that is run by its path find the tests' helpers, which pytest finds
by itself.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1] / "support"))
