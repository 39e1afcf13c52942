"""What nobody would mean by what was typed: that of every box joint, see `families.doubting`."""

from ..fingers.doubts import far, hears, read, said, start

__all__ = ["far", "hears", "read", "said", "start"]
