"""What joiners say of a half-blind dovetail beside the words of the grammar, in English.

Which words they use, and where several are meant: common practice, no source. What a hand feels at
each word of the fit is what the dialogue asks by.
"""

from __future__ import annotations

# How each word of the fit is told from its neighbours by hand.
FIT_TESTS = {
    "very tight": "hard mallet, or won't start",
    "tight": "light mallet taps",
    "slightly tight": "firm hand pressure",
    "good": "light hand, holds its own weight",
    "slightly loose": "slips together, drops when shaken",
    "loose": "wags",
    "very loose": "rattles, falls apart",
}
# When a word that is asked about is the one that is meant.
WHEN = {
    "proud": "the tails stand out of the end",
    "shy": "the tails lie below the end",
    "flush": "level to the touch",
    "gap near": "the second pass shaved the wall at the fence",
    "gap far": "it shaved the wall away from the fence",
    "centred": "it shaved neither",
    "gap baseline": "even, along the shoulder",
    "gap inside": "on the inside corner only",
    "gap flank": "one flank tight, the other open",
}
# Other names of a word that takes a degree, one word each; `fault` knows these, too.
SIDES = {
    "tight": "tite; stiff; stiffish; binds; bind; binding; bound; tightish; sticky; firmish",
    "loose": "slack; slackish; sloppy; slop; loosish; looseish; wags; wag; wiggles; wiggly; wiggle",
    "proud": "protrudes; protruding; projects; projecting",
    "shy": "sunk; sunken; recessed; recess; inset",
}
MEANT = {
    "very tight": """
        wont go in; wont go in at all; wont start; wont go; wont enter; wont go together; wont go in
        even with mallet; wont get it in; wont get it together; wont get it to go in; wont get it to
        start; wont push it in even with mallet; needs a hard mallet; needs a big hammer; needs a
        sledgehammer; needs hard blows; hard blows; hard mallet; heavy mallet; needs a heavy mallet;
        needs a good thump; hammer it in; have to hammer it; had to hammer it in; jammed solid;
        stuck fast; impossible to get in; no chance of going in; solid jam; rammed home
        """,
    "tight": """
        tapped in; tapped home; tight as a drum; light mallet; light mallet taps; light taps; mallet
        taps; a few taps; few light taps; few taps with mallet; gentle taps; tap it home; taps home;
        taps together; needs tapping; needs a tap; needs a few taps; needs light taps; needs a light
        mallet; soft mallet; needs a soft mallet; taps in; taps in with mallet; rubber mallet; had
        to tap it; had to tap it in; had to tap it home; needed light taps; needed a few taps;
        needed tapping
        """,
    "slightly tight": """
        firm push; firm hand; firm hand pressure; needs a firm push; needs a good push; hard push;
        needs firm pressure; push it hard; stiff push; good hard push; firm hand push; needs a hard
        push; needs leaning on; have to lean on it
        """,
    "good": """
        cracking fit; cracking; smashing; mint; on the money; brilliant; superb; awesome; fantastic;
        dialed in; dialled in; spot on fit; bang on fit; top notch; perfect; perfectly good; perfect
        fit; fits perfectly; just right; spot on; bang on; lovely; lovely fit; nice fit; ideal;
        ideal fit; great; great fit; excellent; beautiful; fits like a glove; goes together with a
        light push; like a glove; light hand; light hand pressure; light push; gentle push; easy
        push; light push fit; holds its own weight; very good; really good; good fit; fits well;
        fits nicely; fits lovely; fine; ok; okay; sweet; sweet fit; nailed it; wont be better; well
        fitted
        """,
    "slightly loose": """
        drops when shaken; falls when shaken; too easy; bit too easy; goes in too easily; slides in
        too easily; falls out when shaken; falls apart when shaken; drops off when shaken; wont hold
        its own weight; wont stay together; shakes loose; slight play; slight slop
        """,
    "very loose": """
        falls apart; falling apart; fell apart; falls out; falling out; fell out; falls off; fell
        off; drops off; drops apart; drops out; comes apart by itself; rattles; rattling; rattles
        around; rattly; rattle; flops about; flopping about; like a barn door; falls to bits; just
        falls apart; miles too loose
        """,
    "centred": """
        centered; central; dead centre; dead center; on centre; on center; spot on centre; bang on
        centre; bang in the middle; perfectly centred; perfectly centered; well centred; nicely
        centred; dead central; exactly centred; no gap either side; no gap at either side; dead
        centred; dead centered
        """,
    "gap near": """
        gap fence; gap at fence; gap by fence; gap at the fence side; gap on the fence side; gap
        fence side; gap on fence; gap near fence; gap against fence; gap next to fence; fence side
        gap; gap nearest the fence; gap towards fence; gap toward fence; gap close to fence; open at
        fence; open on fence side; open at the fence side; shaved at fence; shaved fence side;
        shaved by fence; shaved near fence; shaved the wall at the fence; gap along fence; opening
        at fence
        """,
    "gap far": """
        gap away from fence; gap opposite fence; gap far from fence; gap furthest from fence; gap
        farthest from fence; gap on the side away from the fence; open far side; open at far side;
        open away from fence; shaved away from fence; shaved opposite fence; shaved far wall; shaved
        the far side; gap off fence; gap on the side opposite the fence; open on the far side; gap
        other side from fence; shaved far from fence
        """,
    "flush": """
        dead flush; bang flush; perfectly flush; flush as you like; dead level; level; spot on
        flush; exactly flush; nicely flush; all flush; sits flush; sitting flush; flush to touch;
        flush with end; flush with face; bang level; perfectly level; level with end; nice and
        flush; flush all round; flush all over; flush everywhere; pretty much flush
        """,
    "proud": """
        sticks up; sticking up; sits up; above; stands proud; standing proud; sits proud; sitting
        proud; is left proud; stands out; standing out; stood proud; sticks out; sticking out; stick
        out; stuck out; pokes out; poking out; stands above; sits above; sits high; sitting high;
        stands high; tails proud; tail board proud; tail proud; above flush; proud of flush; proud
        of end; proud of face; tails stand proud; stand proud; tail board stands proud; tails stick
        out; tail board sticks out; sits above flush; proud of surface
        """,
    "shy": """
        below; sub flush; subflush; below flush; under flush; sits below; sits below flush; sits
        low; sitting low; sits shy; shy of flush; shy of end; shy of face; set back; sunk in; sunk
        below; sinks in; sank in; sunk below flush; sits sunken; sits recessed; tails shy; tail
        board shy; tail board sunk; tails sunk; tails recessed; sits under; below surface; below
        end; stops below
        """,
    "gap baseline": """
        gap at the shoulder; gap shoulder; gap at shoulders; gap shoulders; gap along shoulder; gap
        along the baseline; gap along base line; gap at base line; gap base line; gap base; gap at
        the base; shoulder gap; shoulder open; open shoulder; gappy shoulder; gappy at the shoulder;
        open at baseline; open at shoulder; shoulder stays open; gappy baseline; gappy at the
        baseline; gap on shoulder line; gap on shoulder
        """,
    "gap inside": """
        gap in the inside corner; gap inside corner; gap in inner corner; gap in inside; gap inner
        corner; open inside; open on the inside; gap on inner side
        """,
    "gap flank": """
        gap at cheek; gap cheek; one cheek open; one flank open; gap at one flank; gap at one cheek;
        open flank; cheek gap; gap along one flank; gap along flank
        """,
    "gap": "gappy; theres gap; has gap; got gap; see a gap; can see a gap",
    "": """
        this one; whole thing; all along; all round; all over; tail board; at moment; by eye; id
        say; i would say; id call it; ive got; this time; for me; to me; as well; overall; here;
        this piece; sits; again; stands; stand; standing; sitting; stood
        """,
}
# What may be meant, as it is typed, with the phrases that are asked about.
ASKED = {
    "good / slightly tight": """
        slides right in with a push; goes in with hand pressure; just goes in; snug but goes in;
        goes in; goes in snug; goes home; snug; snug fit; needs a push; needs a shove; nice and
        snug; hand tight; nice and tight; snugly; push fit; good and snug; hand press; press fit;
        friction fit; pushes together; goes in with a push; finger tight; hand pressure; piston fit;
        goes together by hand; goes in by hand; pushes together by hand; bit snug; slightly snug;
        snug push; good tight fit; nice tight fit; good and tight; goes together; thumb pressure;
        suction fit; firm; firm fit; airtight
        """,
    "slightly tight / tight": """
        goes in hard; goes in stiff; hard to get together; very snug; too snug; hard to push; stiff
        fit; hard to get in; drags
        """,
    "tight / very tight": """
        hammered in; hammered home; wont budge; wont move; tight as; needs a mallet; needs a hammer;
        needs a hammering; needs persuading; needs persuasion; needs a clamp; needs clamping; jams;
        jammed; jam; stuck; mallet; hammer; hit it; had to hit it; needs a thump; needs a whack;
        needs beating in; needs force; needs some force; knocked together; knock it together; mallet
        fit; mallets in; only goes in with a mallet; goes in with a mallet; needs a knock; forced;
        rock solid
        """,
    "slightly tight / tight / very tight": """
        crazy tight; bloody tight; sticks; stick; sticking; catches; catching; grabs; tighter;
        stiffer; hard; hard going; not loose enough; wont slide; interference fit; a fight; force
        fit; not loose
        """,
    "good / slightly loose": """
        slides right in; goes right in; pops in; drops right in; easy; easy fit; goes in easily;
        slides in; slides together; slides on; slip fit; sliding fit; drops in; falls together; goes
        in easy; free; slides; slides home; slides in easily; goes together easily; easy going;
        slips in easily; smooth; slides nicely; drops in nicely; running fit; slips together; slips
        on; slips in
        """,
    "slightly loose / loose": """
        bit of wiggle; some wiggle; little wiggle; play; some play; has play; bit of play; little
        play; little bit of play; touch of play; bit of slop; bit of movement; moves; some movement;
        gives a bit; some slop; has slop; easy as; moves about; has some play; clearance
        """,
    "slightly loose / loose / very loose": "looser; not tight enough; not tight; shaky; roomy",
    "loose / very loose": """
        wobbly; wobbles; wobble; wobbling; floppy; flops; lot of play; lots of play; loads of play;
        too much play; plenty of play; moves a lot; all over the place; loose as a goose; baggy;
        wobbles about; lots of slop; loads of slop; lot of slop; flappy
        """,
    "good / slightly tight / tight": "no play; zero play; zero slop; no movement; wont wiggle",
    "good / slightly tight / slightly loose": """
        nice; very nice; decent; pretty good; fairly good; quite good; nearly good; not bad; nearly
        there; almost; almost good; good enough; not quite right; almost perfect; nearly perfect;
        not good; slightly off; acceptable; not quite good; reasonable; will do; passable; alright;
        all right
        """,
    "very tight / tight / proud": """
        wont bottom out; wont bottom; wont go to bottom; wont go home; wont fit; wont fit together;
        wont close; wont close up; wont seat; wont go all the way; wont go fully home; wont go down;
        stops short; wont pull up; wont go right in; wont go in all the way; wont come together;
        wont go in fully; bottoms out; goes half way; stops half way
        """,
    "gap near / gap far": """
        off centre; off center; not centred; not centered; off to one side; to one side; gap on one
        side; gap one side; gap left; gap on left; gap right; gap on right; not central; bit off
        centre; bit off center; slightly off centre; slightly off center; gap on other side; gap at
        one side; lopsided; not in the middle; offset; not quite centred; not quite centered; too
        near fence; too close to fence; too far from fence; shaved one side; shaved one wall;
        uncentred; uncentered; gap at back; gap at front; gap on the back; out of centre; gap to one
        side; gap front; gap back; eccentric; gap left side; gap right side; way off centre; way off
        center
        """,
    "centred / gap near / gap far": "nearly centred; almost centred; roughly centred",
    "proud / shy": """
        high; low; too high; too low; bit high; bit low; step; slight step; not flush; bit of a
        step; not quite flush; not level; not quite level; ledge; uneven; pins proud; pin board
        proud; pin board stands proud; pins stand proud; pins stand out; pin board sticks out; pins
        stick out; too deep; too shallow; goes in too far; went in too far; not deep enough;
        unlevel; pin proud; pins shy; pin board shy; pins sunk; pin board sunk; slightly off flush;
        has a step; small step; depth off; wrong depth; out of flush
        """,
    "flush / slightly proud / slightly shy": """
        flush enough; nearly flush; almost flush; just about flush; roughly flush; more or less
        flush; close to flush; flushish; almost level; nearly level
        """,
    "flush / centred": "dead even; true; straight; aligned; lines up; square; dead on; in line",
    "gap baseline / gap inside": """
        gap at the bottom; gap bottom; gap in the corner; gap corner; gap at corner; gap on bottom
        """,
    "gap baseline / gap inside / gap flank": """
        open joint; joint open; gap outside; gap on the outside; gap all round; gap at the front
        face; gap show face; gap on the show face; gaps; gaps all over; gap both sides; gap on both
        sides; gap at the end; gap end; gap pins; gap tails; gap at the pins; gap at the tails; gap
        between; gap top; gap at the top; gap in the joint; gap socket
        """,
}
# A fault, which `cut` doesn't take: one joint that is not alike all over, or what spoilt it.
FAULTY = frozenset(
    (
        "middle",
        "last",
        "first",
        "later",
        "outer",
        "one",
        "only",
        "both",
        "start",
        "end",
        "ends",
        "some",
        "other",
        "others",
        "uneven",
        "glue",
        "glued",
        "crack",
        "cracked",
        "split",
        "broke",
        "broken",
        "chipped",
        "burnt",
        "burned",
        "ragged",
        "torn",
        "tearout",
        "rocks",
        "twisted",
        "warped",
        "cupped",
        "bent",
        "slipped",
        "wet",
        "damp",
        "swollen",
        "snapped",
        "splintered",
        "dull",
        "rounded",
        "fuzzy",
        "shoulder",
        "cheek",
    )
)
