"""What joints share that are cut from both faces in turn against one reference: tenons, tongues and
laps.
"""
