"""The tenon cut by flipping: a rail's end passed over a straight bit on both faces, into a mortise
that is cut first.
"""
