"""The screens that are the sliding dovetail's own."""
