"""What joiners say of a sliding dovetail beside the words of the grammar, in English.

Which words they use, and where several are meant: common practice, no source. How far a tongue goes
by hand at each word is what the dialogue asks by.
"""

from __future__ import annotations

# How each word of the fit is told from its neighbours by hand.
FIT_TESTS = {
    "very tight": "won't start",
    "tight": "a third of the way by hand, no further",
    "slightly tight": "half by hand, then firm taps home",
    "good": "over half by hand, light taps home; holds its own weight",
    "slightly loose": "all the way home by hand",
    "loose": "falls home by itself",
    "very loose": "rattles in the socket",
}
# When a word that is asked about is the one that is meant.
WHEN = {
    "closed": "no light at either shoulder",
    "open": "a feeler goes in at both shoulders",
}
MEANT = {
    "very tight": """
        wont go in; wont start; wont go; wont enter; wont go in at all; wont go together; jammed
        solid; stuck fast; hard mallet; needs a hard mallet
        """,
    "tight": """
        third by hand; goes third by hand; third of way by hand; goes in third; third of way; light
        mallet taps; light taps; needs a mallet
        """,
    "good": """
        perfect; just right; spot on; lovely fit; nice fit; perfect fit; fits well; light hand;
        light taps home; goes two thirds by hand; two thirds by hand
        """,
    "slightly loose": """
        home by hand; goes home by hand; slides home by hand; all the way by hand; goes all the way
        by hand
        """,
    "loose": "falls; falls home; falls in; drops in; falls in by itself; wags",
    "very loose": "rattles; falls out; falls apart; rattles about",
    "closed": """
        shoulders closed; shoulder closed; tight shoulders; shoulders tight; shoulders down; both
        closed; no gap; no gap at shoulder; no gap at shoulders; no light; shut; shoulders shut
        """,
    "open": """
        gap; gap at shoulder; gap at shoulders; gap at both shoulders; gap both shoulders; both
        shoulders gap; shoulder gap; shoulders gap; shoulders open; shoulder open; shoulder stands
        off; shoulders stand off; stands off; bottoms; bottoms out; bottoming; shoulders up
        """,
    "": "this one; whole thing; all along; by eye; id say; i would say; this time; overall; here",
}
# What may be meant, as it is typed, with the phrases that are asked about.
ASKED = {
    "slightly tight / good": """
        half by hand; half by hand and taps home; half way by hand; goes half by hand; goes half way
        by hand; halfway by hand; goes halfway by hand; goes half way; goes halfway; goes half way
        in; goes halfway in; half way in; halfway in; slides half way; slides halfway; slides half
        way in; slides halfway in; taps home; tap it home; taps in; snug; goes in; push fit; firm
        push
        """,
    "slightly loose / loose": "play; some play; bit of play; slack; sloppy; moves",
    "tight / very tight": "jams; stuck; needs force; wont budge; binds",
    "closed / slightly open": "nearly closed; almost closed; hairline; hair of light",
}
# A fault, which `cut` doesn't take: one joint that is not alike all over, or what spoilt it.
FAULTY = frozenset(
    (
        *("one", "middle", "start", "end", "ends", "later", "first", "last", "glue", "split"),
        *("broke", "chipped", "torn", "twisted", "bowed", "cupped", "slipped", "deeper", "root"),
        *("leans", "crooked"),
    )
)
