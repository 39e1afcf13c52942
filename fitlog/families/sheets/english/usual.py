"""What makers say of a cut for a sheet beside the words of the grammar, in English.

Which words they use, and where several are meant: common practice, no source.
"""

from __future__ import annotations

MEANT = {
    "right": """
        depth spot on; depth bang on; spot on depth; deep enough; on depth
        """,
    "deep": "too deep; cut too deep; over depth; goes too deep",
    "shallow": "not deep enough; too shallow; cut too shallow; under depth",
    "gap bottom": """
        wont bottom; doesnt bottom; does not bottom; stays off the bottom; wont seat; wobbles;
        wobbly
        """,
    "gap lean": "leans; sheet leans; gap on one face; gap one face; open on one face",
}
WHEN = {
    "right": "as deep as wanted, within a sheet of paper",
    "deep": "deeper than wanted",
    "shallow": "not as deep as wanted",
    "gap bottom": "the sheet does not reach the bottom",
    "gap lean": "closed on one face, open on the other",
}
