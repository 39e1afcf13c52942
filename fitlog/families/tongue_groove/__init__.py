"""Tongue and groove: a groove cut from both faces by a bit beyond the board's middle, a tongue cut
from both faces lying flat.
"""
