"""What else the words of the symptoms are called, and which words say nothing of them."""

from __future__ import annotations

from ...faults import words

# What else a word of the table is called; each line: the word, then its other names.
_SAME = """
gap gaps gappy open opens opening
baseline base shoulder shoulders
inside inner inwards
outside outer show face showface front
flank flanks cheek cheeks
edge edges
end ends
middle mid centre center
last lasts
first
tight tighter tightens bind binds binding jam jams stick sticks hard
loose looser loosens slack sloppy rattles rattle rattling wags
later afterwards
run drift drifts drifted
across
only alone single
uneven unequal misaligned offset
higher lower taller
far away
proud
shy
bottom bottoms bottomed bottoming
start starts begins beginning
then
rocks rock rocking wobbles wobble
twist twisted twists wind winding
ragged torn tear tears tearout chipped rough fuzzy
burnt burned burn burns scorched black
slot slots
wider wide widens widened flared
split splits splitting cracked crack cracks broke broken
step steps stepped ridge ridges
marks mark
lap laps
thin thinner
move moved moves moving
height heights
nothing none unchanged
twice double doubled overshot
much
sharpened sharpening sharpen reground
"""
FILLERS = words(
    """
    a an it is it's its are was were the of at on in by to and or but with when where while as so be
    my our there this that fit fits joint board boards tail tails pin pins socket sockets bit wood
    side sides fence very slightly little quite somewhat always still did does do has have go goes
    going comes come home since after old i we see seen looks gets get became become becomes corner
    corners cuts same other others one ones two half all even along early out stands depth right
    good cut too changed changes change whole closed than together reached asked before high low
    itself another though i'm been being per each every again them they joints through few tries try
    tried closes close ok fine now stand got gotten really just from
    """
)
PHRASES = (
    (
        r"(?:do|does|did|will|is|are)(?: ?n't| not|nt) (?:quite )?(?:meet|line up|align|match)\w*",
        "uneven",
    ),
    (
        r"(?:do|does|did)(?: ?n't| not|nt) (?:do|change|move|help|matter)\w*(?: anything| a "
        r"thing)?",
        "nothing",
    ),
    (r"(?:very )?last tail", "only last"),
    (
        r"first tails? (?:are |is )?(?:bind|bound|tight|stick|jam)\w*(?: and| but|,)? (?:the "
        r")?last (?:tails? |ones? )?"
        r"(?:are |is )?(?:fit|good|fine|ok|loose)\w*",
        "first tight",
    ),
    (r"gap (?:at|along|on) (?:the )?bottom", "gap baseline"),
    (r"no (?:change|difference|effect)", "nothing"),
    (r"two times|2x|twice as much", "twice"),
    (r"tear[ -]out", "ragged"),
    (r"end (?:for|to) end", ""),
    (r"shows? through|showing through", "lap"),
    (r"shows? face", "outside"),
)
CANON: dict[str, str] = {
    name: row.split()[0] for row in _SAME.strip().splitlines() for name in row.split()
}
NEGATIONS = words("no not never without isn't aren't don't doesn't won't can't cannot")
