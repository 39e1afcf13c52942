"""Housings and rabbets alike: a cut in a side that takes a sheet or a panel, which is under its
nominal size.
"""
