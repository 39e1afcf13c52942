"""What makers say of a lock mitre beside the words of the grammar, in English.

Which words they use: common practice, no source. "Proud" and "shy" are said of all three steps; the
pair or the board that is named tells which, and without one it is the two flats, which come first.
"""

from __future__ import annotations

_PROUD = (
    "{0} proud; {0} stands proud; {0} stand proud; {0} sits proud; {0} sit proud; {0} high; "
    "{0} stands out; {0} sticks out"
)
_SHY = "{0} shy; {0} low; {0} below; {0} sits low; {0} sit low; {0} under; {0} set back"
_FLUSH = "{0} flush; {0} level; {0} even; {0} dead level"


def _of(pattern: str, *names: str) -> str:
    return "; ".join(pattern.format(name) for name in names)


_FLATS = ("height", "flats", "two flats", "turned flat", "turned piece", "turned one")
_UPRIGHTS = ("fence", "uprights", "two uprights", "turned upright")
MEANT = {
    "proud": f"""
        {_of(_PROUD, *_FLATS)}; sticks up; sits up; stands proud; sits proud; as cut piece low
        """,
    "shy": f"{_of(_SHY, *_FLATS)}; sits low; sits shy; as cut piece high; as cut high",
    "flush": f"{_of(_FLUSH, *_FLATS)}; dead flush; bang flush; flats flush",
    "out": _of(_PROUD, *_UPRIGHTS) + "; fence out; uprights out; turned upright out",
    "in": _of(_SHY, *_UPRIGHTS) + "; fence in; uprights in; turned upright in",
    "level": _of(_FLUSH, *_UPRIGHTS),
    "over": _of(_PROUD, "flat", "corner", "flat board") + "; upright shy; flat over; overhangs",
    "under": _of(_SHY, "flat", "corner", "flat board") + "; upright proud; flat under",
    "even": _of(_FLUSH, "corner", "flat"),
    "tight": "wont close; wont go home; needs a clamp; binds; jams",
    "loose": "sloppy; slack; play; rattles; wags",
    "good": "fits well; nice fit; perfect fit; slides home; goes home",
    "gap inside": """
        open inside; open on inside; closes outside open inside; gap on inside; inside open; heel
        open
        """,
    "": "whole thing; by eye; id say; i would say; this time; overall; here",
}
ASKED = {
    "flush / level / even": "all flush; everything flush; bang on; spot on",
}
WHEN = {
    "proud": "two flats, one turned over: the turned one stands above the other",
    "shy": "two flats, one turned over: the turned one lies below the other",
    "flush": "two flats, one turned over: level to the touch",
    "out": "two uprights, one turned: the turned one stands out",
    "in": "two uprights, one turned: the turned one lies in",
    "level": "two uprights, one turned: level to the touch",
    "over": "the end of the flat stands over the upright's outside",
    "under": "the upright's outside stands over the end of the flat",
    "even": "flat and upright meet in one edge",
    "gap inside": "closed outside, open on the inside",
}
# A fault, which `cut` doesn't take: what is not alike all along, or was spoilt.
FAULTY = frozenset(
    (
        *("varies", "along", "square", "angle", "twisted", "bowed", "warped", "cupped", "batch"),
        *("bite", "snipe", "chipped", "torn", "burnt", "kicked", "edge"),
    )
)
