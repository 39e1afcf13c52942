"""The rabbet: a step along a side's edge that takes a mate at a corner, or a back."""
