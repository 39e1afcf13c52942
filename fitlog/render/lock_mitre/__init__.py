"""Screens of the lock mitre alone."""
