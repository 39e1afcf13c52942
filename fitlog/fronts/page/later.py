"""Which refusals say nothing of an answer: it is kept on the phone, and said again."""

LATER = ("log-busy", "log-unreachable", "disk-full", "log-gone", "read-only-log")
