"""An invented family, for the tests: see `joint`."""
