"""The screens that are the rabbet's own."""
