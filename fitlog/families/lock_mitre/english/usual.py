"""What makers say of a lock mitre beside the words of the grammar, in English.

Which words they use: common practice, no source. "Proud" and "shy" are said of all three steps; the
name before them tells which, and without one it is the two flats, which come first.
"""

from __future__ import annotations


def _of(pattern: str, *names: str) -> str:
    return "; ".join(pattern.format(name) for name in names)


_FLATS = ("height", "flats", "two flats", "turned flat", "turned piece", "turned one")
_UPRIGHTS = ("fence", "uprights", "two uprights", "turned upright")
_CORNER = ("flat", "corner", "flat board")
# Each word as it is of the two flats, of the two uprights and of the corner.
SHARED = {
    **dict.fromkeys(("proud", "out", "over"), ("proud", "out", "over")),
    **dict.fromkeys(("shy", "in", "under"), ("shy", "in", "under")),
    **dict.fromkeys(("flush", "level", "even"), ("flush", "level", "even")),
}
MEANT = {
    "height": "turned flat",
    "fence": "turned upright",
    "corner": "flat board",
    "proud": f"""
        sticks up; sits up; stands proud; stand proud; sits proud; sit proud; as cut piece low;
        {_of("{0} high", *_FLATS)}
        """,
    "shy": f"""
        sits low; sit low; sits shy; below; set back; as cut piece high; as cut high;
        {_of("{0} low", *_FLATS)}
        """,
    "flush": "dead flush; bang flush; dead level",
    "out": "stands out; sticks out; " + _of("{0} high", *_UPRIGHTS),
    "in": _of("{0} low", *_UPRIGHTS),
    "over": _of("{0} high", *_CORNER) + "; upright shy; upright sits shy; overhangs",
    "under": _of("{0} low", *_CORNER) + "; upright proud; upright stands proud",
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
