"""The half-blind dovetail with one bit: everything that is true of this joint and of no other."""
