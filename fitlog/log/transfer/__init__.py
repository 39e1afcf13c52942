"""A log's rows out to another log and in from one, in bulk."""
