"""The housing (dado): a groove across a side that takes a sheet."""
