"""How a tenon that was got back looks: as every joint cut from both faces."""

from ..flip.recovery import recovered_document, recovery

__all__ = ["recovered_document", "recovery"]
