"""The lock mitre: everything that is true of it and of no other joint."""
