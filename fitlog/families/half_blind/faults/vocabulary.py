"""What else the words of the symptoms are called, which words say nothing of them, and which are
asked about, since they may mean several things.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ....language.usual import Asked, usual
from ...faults import Words, words
from ..english.usual import ASKED, MEANT, SIDES

# What else a word of the table is called beside what `cut` hears, too; each line: the word, then
# its other names.
_SAME = """
gap gaps gappy open opens opening opened
baseline base shoulder shoulders
inside inner inwards
outside outer show face faces showface front
flank flanks cheek cheeks
edge edges
end ends
middle mid centre center
last lasts
first
tight tightens
loose loosens
later afterwards
run drift drifts drifted
across
only alone single
uneven unequal irregular
unaligned misaligned offset mismatch mismatched
higher taller
lower
far away
proud
shy
bottom bottoms bottomed bottoming
start starts begins beginning
then
rocks rock rocking wobbles wobble wobbly wobbling
twist twisted twists wind winding
warped warp warps warping
cup cups cupped cupping bow bows bowed bowing dished
ragged torn tear tears tearing tearout chipped chipping rough fuzzy furry splintered splinters
ragged blowout
burnt burned burn burns burning scorched scorch black smoke smoking smokes
wider wide widens widened
oversize oversized
taper tapers tapered tapering flared flares
runout eccentric
bent
shank
split splits splitting cracked crack cracks cracking
broke broken breaks break breaking snapped snap snaps snapping sheared shear
step steps stepped ridge ridges ledge lip
marks mark chatter chatters chattered ripples ripple wavy
lap laps
thin thinner
long longer
move moved moves moving
height heights
nothing none unchanged
twice double doubled overshot
much
sharpened sharpening sharpen reground
dull blunt
glue glued gluing glueing
springs
creeps creep crept creeping
clamp clamps clamped cramp cramps
moisture moist damp wet humid humidity swollen swelled swells swell swelling shrunk shrank
moisture shrinks shrink shrinking shrinkage
season winter summer seasons
dry dries dried
slipped slips slip slipping
collet chuck
snug
notclosing
tail tails
pin pins
bit bits cutter
slot slots
socket sockets
board boards
"""


def _heard_by_cut() -> Iterator[tuple[str, str]]:
    """Yield the single words that `cut` hears of one side alone, each with that side."""
    for parts, meaning in {**usual(MEANT, ASKED), **usual(SIDES)}.items():
        said = meaning.choices if isinstance(meaning, Asked) else (" ".join(meaning),)
        sides = {choice.split()[-1] for choice in said if choice}
        if len(parts) == len(sides) == 1 and sides <= SIDES.keys():
            yield parts[0], sides.pop()


# What a phrase is about: it tells two symptoms apart, and may stand beside any.
SOFT = words("tail pin bit slot socket board")
FILLERS = words(
    """
    a an it is it's its are was were the of at on in by to and or but with when where while as so be
    my our there this that fit fits fitted joint wood material whole
    side sides fence very slightly little quite somewhat always still did does do has have go goes
    going comes come home since after old i we see seen looks gets get became become becomes corner
    corners cuts same other others one ones two half all even along early out stands depth right
    good cut too changed changes change closed than together reached asked before high low
    itself another though i'm been being per each every again them they joints through few tries try
    tried closes close ok okay fine perfect now stand got gotten really just from up off down
    some once into onto over must between near because also here lot size grain short below
    stay stays stayed remains during sit sits sat hair touch frame drawer box went leaves leave left
    keep keeps kept made make makes something anything thing pushed push pulled pull needs need
    about enough seems feels felt look like bad badly worse again please why what my your both
    after before towards toward around line two three should would could will may might either
    """
)
CANON: dict[str, str] = {
    **{name: side for name, side in _heard_by_cut() if name not in FILLERS},
    **{name: row.split()[0] for row in _SAME.strip().splitlines() for name in row.split()},
}
# A clause with one of these and nothing wrong in it says which part is right: the rest is wrong.
GOOD = words("good fit fits fitted fine ok okay perfect closed closes home together")
SUBJECTS = words(
    "first last middle later start run edge end inside outside baseline flank across far dry lap"
) | (SOFT)
PARTING = words(", and but while though whereas yet")
NEGATIONS = words("no not never without isn't aren't don't doesn't won't can't cannot")

_NOT = (
    r"(?:won't|wont|will not|would ?n't|can't|cannot|can not|does ?n't|doesnt|does not|did ?n't|"
    r"did not|do ?n't|dont|do not|not|never) (?:quite |really |fully |want to )*"
)
_CLOSE = (
    r"(?:close|closing|shut|seat|seating|go (?:home|together|in|down)|come together|pull up|"
    r"fit together|fit|go)(?: up| fully| all the way| home| together)*"
)
PHRASES = (
    (
        rf"(?:{_NOT}(?:{_CLOSE} )?)(?:with|once|when|after|in)(?: the| it is| i| in)? glue\w*",
        "tight glue",
    ),
    (rf"(?:glue|glued|glue up) (?:and |it |then |the joint )*{_NOT}{_CLOSE}", "tight glue"),
    (r"glue[ -]up", "glue"),
    (rf"{_NOT}(?:meet|line up|align|match)\w*", "unaligned"),
    (rf"{_NOT}(?:do|change|move|help|matter)\w*(?: anything| a thing)?", "nothing"),
    (rf"{_NOT}{_CLOSE}", "notclosing"),
    (r"out of (?:line|alignment)", "unaligned"),
    (r"(?:very )?last tail", "only last"),
    (r"gap (?:at|along|on) (?:the )?bottom", "gap baseline"),
    (r"no (?:change|difference|effect)", "nothing"),
    (r"two times|2x|twice as much", "twice"),
    (r"tear[ -]out", "ragged"),
    (r"blow[ -]?(?:n )?out", "blowout"),
    (r"end (?:for|to) end", ""),
    (r"shows? through|showing through|came through|breaks? through|broke through", "lap"),
    (r"shows? face", "outside"),
    (r"(?:stick\w*|stuck|pok\w+) (?:out|up|past)", "proud"),
    (r"run[ -]?out", "runout"),
    (
        r"(?:opens?|opened|opening|springs?|sprang|sprung|pops?|popped|comes?|came)"
        r"(?: (?:back|up))* (?:again|back|open)(?: (?:again|up))?",
        "springs",
    ),
    (
        r"(?:bit|cutter)(?: has| had| keeps| is)? (?:crept|creeps|creeping|climbed|climbs|"
        r"climbing|moved|moves|moving|dropped|drops|dropping|slid|came|comes|coming|pulled|works)"
        r"(?: up| down| out| loose)*",
        "bit slipped",
    ),
    (r"(?:slid|crept|climbed|moved|loose) in (?:the |its )?collet", "slipped collet"),
    (r"(?:wood|boards?)(?: has| have)? moved", "moisture"),
    (r"out of (?:true|round)", "runout"),
)


class Question(NamedTuple):
    """Words that may mean several symptoms. lead: what is said before the choices."""

    said: Words
    codes: tuple[str, ...]
    lead: str = ""


_ALL_OVER = "tight or loose all along is the height: log it with fitlog cut"
# The first whose words were all said is asked.
QUESTIONS = (
    Question(words("gap baseline inside"), ("gap-baseline", "gap-inside")),
    Question(words("last uneven"), ("last-tails-tight", "last-tails-loose", "edges-do-not-meet")),
    Question(words("first uneven"), ("first-tails-tight", "edges-do-not-meet")),
    Question(
        words("creeps"), ("springs-open", "last-tails-tight", "later-joints-tight", "bit-slipped")
    ),
    Question(words("glue"), ("tight-with-glue", "springs-open", "moisture")),
    Question(words("notclosing"), ("gap-baseline", "tails-too-long", "stands-proud"), _ALL_OVER),
    Question(words("step"), ("flank-marks", "step-at-face", "edges-do-not-meet")),
    Question(words("bottom"), ("stands-proud", "tails-too-long")),
    Question(words("long"), ("tails-too-long", "stands-proud")),
    Question(words("wider"), ("slot-wider", "slot-oversize")),
    Question(words("split"), ("pins-split", "tails-broken")),
    Question(words("broke"), ("bit-broken", "tails-broken", "pins-split")),
    Question(words("bent"), ("slot-oversize", "board-cupped", "rocks")),
    Question(words("slipped"), ("bit-slipped", "springs-open")),
    Question(words("warped"), ("board-cupped", "rocks")),
    Question(words("uneven"), ("edges-do-not-meet", "last-tails-tight", "last-tails-loose")),
    Question(words("dull"), ("ragged", "burnt", "later-joints-tight")),
    Question(words("tight edge"), ("last-tails-tight", "first-tails-tight", "one-end-only")),
    Question(words("loose edge"), ("last-tails-loose", "one-end-only")),
    Question(words("tight end"), ("last-tails-tight", "first-tails-tight", "one-end-only")),
    Question(words("loose end"), ("last-tails-loose", "one-end-only")),
    Question(
        words("tight"),
        ("middle-tight", "last-tails-tight", "later-joints-tight", "starts-tight"),
        _ALL_OVER,
    ),
    Question(words("loose"), ("middle-loose", "last-tails-loose", "later-joints-loose"), _ALL_OVER),
    Question(words("snug"), ("middle-tight", "last-tails-tight"), _ALL_OVER),
    Question(words("dry"), ("moisture", "tight-with-glue")),
)
