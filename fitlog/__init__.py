"""fitlog: log trial cuts of a machine-cut joint, get the next small correction, and remember."""

__version__ = "0.1.0"
