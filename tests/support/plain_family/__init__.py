"""An invented family that a test declares as plain data: see `joint`."""
