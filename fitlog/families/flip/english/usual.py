"""What makers say of parts cut from both faces beside the words of the grammar, in English.

Which words they use, and where several are meant: common practice, no source.
"""

from __future__ import annotations

from ...half_blind.english import usual as dovetails

# How each word of a flat push fit is told from its neighbours by hand.
PUSH_TESTS = {
    "very tight": "won't start, or only by a hammer",
    "tight": "a mallet would drive it",
    "slightly tight": "firm hand, not all the way",
    "good": "firm hand in, pulled out by hand",
    "slightly loose": "slides in, holds its weight",
    "loose": "drops out when turned over",
    "very loose": "rattles",
}
PROUD = (
    "sticks up; sits up; above; stands proud; sits proud; stands out; sticks out; sits above; "
    "sits high; above flush; proud of face"
)
SHY = "below; below flush; sits below; sits low; sits shy; set back; sunk; sits under; shy of face"
FLUSH = "level; dead level; dead flush; bang flush; faces level; faces flush; all flush; even"
CLOSED = """
    shoulders closed; shoulder closed; tight shoulders; shoulders tight; shoulders down; both
    closed; no gap; no gap at shoulder; no gap at shoulders; no light; shut; shoulders shut
    """
OPEN = """
    gap at shoulder; gap at shoulders; gap at both shoulders; both shoulders gap; shoulder gap;
    shoulders gap; shoulders open; shoulder open; shoulder stands off; shoulders stand off; stands
    off; bottoms; bottoms out; bottoming; shoulders up
    """
TIP = """
    tapered; taper; tapers; thinner at tip; thin at tip; thicker at shoulder; loose at tip; wedge
    shaped; tip loose
    """
LINE = """
    one shoulder open; one shoulder gaps; gap at one shoulder; one side open; shoulders not in line;
    shoulders out of line; shoulders dont line up
    """
NOTHING = "this one; whole thing; all along; by eye; id say; i would say; this time; overall; here"
MEANT = {
    "very tight": """
        far too fat; far too thick; wont go in; wont start; wont go; wont enter; jammed solid; stuck
        fast; hammer
        """,
    "tight": "mallet; needs a mallet; light mallet; mallet taps; light taps; taps in",
    "slightly tight": """
        firm push; needs a firm push; hard push; half way by hand; half by hand; not all the way;
        stiff push
        """,
    "good": """
        perfect; just right; spot on; lovely fit; nice fit; perfect fit; fits well; firm hand;
        firm hand pressure; push fit; by hand; goes in by hand; pulls out by hand
        """,
    "slightly loose": "slides in; slides in easily; too easy; bit too easy",
    "loose": "sloppy; too thin; drops out; falls out; drops out when turned over; wags; play",
    "very loose": "rattles; rattles about; falls about",
    "flush": FLUSH,
    "proud": PROUD,
    "shy": SHY,
    "closed": CLOSED,
    "open": OPEN,
    "gap tip": TIP,
    "gap line": LINE,
    "": NOTHING,
}
ASKED = {
    "slightly tight / good": "snug; goes in; goes home; needs a push; taps home",
    "closed / slightly open": "nearly closed; almost closed; hairline; hair of light",
    "tight / very tight": "too fat; too thick; fat; jams; stuck; binds; needs force; wont budge",
}
SIDES = dovetails.SIDES
WHEN = {
    "proud": "its face stands out over the other's",
    "shy": "it lies below the other's",
    "flush": "level to the touch",
    "closed": "no light at either shoulder",
    "open": "a feeler goes in at both shoulders",
    "gap tip": "thinner at the tip than at the shoulder",
    "gap line": "one shoulder closed, the other open",
}
# A fault, which `cut` doesn't take: what is not alike from piece to piece, or was spoilt.
FAULTY = frozenset(
    (
        *("some", "later", "first", "last", "split", "broke", "chipped", "torn", "twisted"),
        *("bowed", "cupped", "warped", "slipped", "burnt", "ridge", "snipe"),
    )
)
