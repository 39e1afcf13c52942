"""A box joint by steps: touched as one on a sled."""

from ..box.seen import drawing

__all__ = ["drawing"]
