"""Nothing that every family does not say: see `advice.plain`."""
