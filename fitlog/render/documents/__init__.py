"""The machine-readable form of every answer: typed answers in, one JSON document out.

Lengths are mm, settings as the person's own scales read them, every key always there. What the log
keeps too, the advice, is in `fitlog.document`, below the use cases.
"""
