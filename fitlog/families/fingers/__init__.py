"""Box (finger) joints, whichever way the fingers are spaced: what a sled with a key (`box`) and
steps of the fence (`box_steps`) have in common.
"""
