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
# The same of a panel that must stay free in its groove.
FREE_TESTS = {
    "very tight": "won't go in by hand",
    "tight": "goes in and stays where it is",
    "slightly tight": "slides by hand, drags",
    "good": "moves by itself, doesn't rattle",
    "slightly loose": "moves too easily, no noise",
    "loose": "wags in its groove",
    "very loose": "rattles",
}
PROUD = (
    "sticks up; sits up; above; stands proud; sits proud; stands out; sticks out; sits above; "
    "sits high; above flush; proud of face"
)
SHY = "below; below flush; sits below; sits low; sits shy; set back; sunk; sits under; shy of face"
FLUSH = """
    level; dead level; dead flush; bang flush; faces level; faces flush; all flush; even; level to
    the touch; boards flush; boards level; surfaces flush; surfaces level
    """
_UP = "proud; high; stands proud; sits proud; sits high; sticks up; sits up; stands out; sticks out"
_DOWN = "shy; low; below; sits low; sits below; sits shy; set back; sunk; lies below"


def higher(one: str, other: str) -> dict[str, str]:
    """Return the phrases of a step that name the board which stands out, or the one that does
    not. one: the board whose face is spoken of, other: the one that it is compared with.
    """

    def of(board: str, how: str) -> str:
        return "; ".join(f"{board} {word.strip()}" for word in how.split(";"))

    return {
        "proud": f"{PROUD}; {of(one, _UP)}; {of(other, _DOWN)}",
        "shy": f"{SHY}; {of(one, _DOWN)}; {of(other, _UP)}",
    }


CLOSED = """
    tight shoulders; shoulders tight; shoulder tight; shoulders down; both closed; no gap; no gap at
    shoulder; no gap at shoulders; no light; no light at either shoulder; shut; shoulders shut
    """
OPEN = """
    gap at shoulder; gap at shoulders; gap at both shoulders; both shoulders gap; shoulder gap;
    shoulders gap; shoulders open; shoulder open; shoulder stands off; shoulders stand off; stands
    off; bottoms; bottoms out; bottoming; shoulders up; shoulder gaps; shoulders gape
    """
TIP = """
    tapered; taper; tapers; thinner at tip; thin at tip; thicker at shoulder; loose at tip; wedge
    shaped; tip loose
    """
LINE = """
    one shoulder open; one shoulder gaps; gap at one shoulder; one side open; shoulders not in line;
    shoulders out of line; shoulders dont line up
    """
NOTHING = """
    this one; whole thing; all along; all round; by eye; id say; i would say; this time; overall;
    here; pulled out by hand; holds its weight; holds its own weight; drops when shaken
    """
MEANT = {
    "very tight": """
        wont go in; wont start; wont go; wont enter; jammed solid; stuck
        fast; hammer
        """,
    "tight": """
        mallet; needs a mallet; light mallet; light mallet taps; mallet taps; light taps; taps in; a
        mallet would drive it; mallet would drive it
        """,
    "slightly tight": """
        firm push; needs a firm push; hard push; half way by hand; half by hand; not all the way;
        stiff push; goes half way; sticks half way; stuck half way
        """,
    "good": """
        perfect; just right; spot on; lovely fit; nice fit; perfect fit; fits well; firm hand;
        firm hand in;
        firm hand pressure; push fit; by hand; goes in by hand; pulls out by hand
        """,
    "slightly loose": "slides in; slides in easily; too easy; bit too easy",
    "loose": """
        sloppy; floppy; wobbles; wobbly; too thin; drops out; falls out; drops out when turned over;
        wags; play
        """,
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
    "slightly tight / good": "snug; hand tight; goes in; goes home; pushes home; needs a push",
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
