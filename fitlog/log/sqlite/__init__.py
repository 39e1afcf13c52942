"""A log in one SQLite file."""
