"""A recovered exposure: shown as the second pass of a housing is."""

from ..housing.recovery import recovered_document, recovery

__all__ = ["recovered_document", "recovery"]
