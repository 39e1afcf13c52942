"""A log in a PostgreSQL database."""
