"""The screens that are the housing's own."""
