"""A recovered setting of a box joint by steps: shown as that of one on a sled."""

from ..box.recovery import recovered_document, recovery

__all__ = ["recovered_document", "recovery"]
