"""Which refusals say nothing of an answer: it is kept on the phone, and said again."""

LATER = ("log-busy", "log-unreachable", "disk-full", "log-gone", "read-only-log")
# Nor does what is refused before the page: who may come in, and how often.
WAITS = (
    *LATER,
    *("wrong-host", "cross-site", "too-slow", "too-often"),
    *("not-paired", "only-reads", "phones-unkept"),
)
