"""What each screen speaks of, as values for its template: one module a screen."""
