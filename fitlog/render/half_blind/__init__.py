"""What only a half-blind dovetail has: its layouts and stops as screens, JSON and CSV, and the
drawings and tables of its sheet. `sheet.own` finds the latter by the family's folder.
"""
