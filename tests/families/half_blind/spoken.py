"""What joiners say of a test piece: sentences with what is logged, with the choices that they are
asked about, or with what is suggested. Registers: British, American, careful, careless, with slips
of the hand. Invented from usual speech: common practice, no source.
"""

from __future__ import annotations

# By what is logged: as a verdict is shown, its aspects in the family's order.
LOGGED = {
    "good": """
        perfect; spot on; it's a lovely fit; just right; bang on; fits like a glove; nailed it; goes
        together with a light push; Perfect!; fits perfectly; it holds its own weight; ok; couldn't
        be better; great fit; ideal; really good; fine; light hand pressure; fits nicely
        """,
    "slightly tight": """
        a tad tight; a hair tight; a touch tight; a shade stiff; a bit too tight; tight by a hair;
        firm push; firm hand pressure; it's a wee bit tight; a smidge tight; binds a bit; needs a
        firm push; slightly on the stiff side; a little sticky; a whisker tight; i think its a bit
        to tight; a fraction tight
        """,
    "tight": """
        binds; it binds; stiff; too stiff; light taps; needs tapping; a few taps with the mallet;
        tite; taps home; too tight; it is binding; it's bound; needs a light mallet
        """,
    "very tight": """
        won't go in; wont go in; it will not go in; it doesn't go in; does not go in; really tight;
        can't get it in; cannot get it together; far too tight; way too tight; much too tight; much
        too stiff; won't start; needs a big hammer; extremely tight; stuck fast; couldn't get it to
        go in; didn't go in at all; impossible to get in
        """,
    "slightly loose": """
        a hair loose; a bit slack; a bit sloppy; slightly sloppy; a touch loose; slight play; drops
        when shaken; falls out when shaken; a little wiggly; loose by a hair; too easy; won't stay
        together; a tad on the loose side
        """,
    "loose": "sloppy; slack; it's slack; wags; it wiggles; too sloppy",
    "very loose": """
        falls apart; it just falls apart; falls out; rattles; very sloppy; far too slack; fell
        apart; much too loose; drops out; it rattles around; really sloppy; comes apart by itself
        """,
    "loose 0.40": "sloppy 0.4; slack by 0,4; 0.4 slack",
    "gap near": """
        gap at the fence; there's a gap at the fence; gap on the fence side; open at the fence; gap
        by the fence; gap nearest the fence; gap toward the fence; shaved at the fence; gap near
        """,
    "gap near 0.20": """
        gap at the fence 0.2; gap at the fence of 0.2; 0.2 gap at the fence; gap on the fence side
        by about 0.2
        """,
    "gap far": """
        gap away from the fence; gap on the side away from the fence; open on the far side; gap
        opposite the fence; gap at the far side; shaved the far side; gap furthest from the fence
        """,
    "centred": "centered; dead centre; dead center; it's central; bang in the middle; on center",
    "flush": """
        dead flush; bang flush; level; dead level; perfectly flush; it's flush to the touch; all
        flush; flush as you like; sits flush; flush with the face; nice and flush
        """,
    "slightly proud": """
        a hair proud; a touch proud; proud by a hair; stands a hair proud; sits a bit proud; a shade
        proud; a whisker proud; a tad proud; the tails are a bit proud
        """,
    "proud": "stands proud; sticks out; sits proud; standing proud; tails stick out; pokes out",
    "proud 0.20": """
        stands proud by 0.2; proud by 0.2; 0.2 proud; about 0.2 proud; proud by about 0.2; proud of
        flush by 0.2; sticks out 0.2; sticking out by 0,2 mm; ~0.2 proud; 0.2mm proud; too proud by
        0.2; it stands 0.2 proud; roughly 0.2mm proud; 0.2 mm too proud
        """,
    "proud 0.40": "1/64 proud; 1/64in proud; proud by 1/64; stands proud by about 1/64 in",
    "shy": "sunk; sunken; recessed; it's recessed; below flush; set back; sits low; tails are sunk",
    "slightly shy": "a hair shy; slightly sunk; a bit recessed; a hair sunk; shy by a whisker",
    "shy 0.30": """
        recessed 0.3; sunk 0.3; sunk by 0.3; recessed by about 0.3mm; 0.3 shy; 0.3 sunk; 0.3 below
        flush; below flush by 0.3; shy of flush by 0.3; sits below flush by 0.3
        """,
    "gap baseline": """
        gap at the shoulder; gap along the shoulder; gappy shoulder; open shoulder; gap baseline;
        gap along the base line
        """,
    "gap baseline 0.20": "gap at the shoulder 0.2; gap at the shoulder of 0.2; 0.2 gap baseline",
    "gap inside": "gap in the inside corner; gap on the inside; open on the inside",
    "gap flank": "gap at the cheek; one cheek open; gap along one flank",
    "gap": "gappy; there's a gap; I can see a gap; has a gap",
    "good, centred, flush": "spot on, dead centre and dead flush; perfect, centered, level",
    "slightly loose, gap near 0.20, shy 0.30": """
        a bit sloppy, gap at the fence 0.2, sunk 0.3; 0.3 sunk, 0.2 gap at the fence, a bit slack
        """,
    "tight, proud 0.20": """
        binds, stands proud by 0.2; binds and is 0.2 proud; stiff, sticks out 0.2
        """,
}
# By the choices, as they are typed.
ASKED = {
    "good / slightly tight": """
        snug; it's snug; hand tight; nice and tight; push fit; a bit snug; friction fit; snug fit
        """,
    "slightly tight / tight": "very snug; too snug; stiff fit",
    "tight / very tight": """
        needs a mallet; it needs a mallet; jams; jammed; needs a hammer; needs persuading; stuck;
        only goes in with a mallet; needs a thump
        """,
    "slightly tight / tight / very tight": """
        sticks; tighter; quite tight; fairly tight; rather stiff; pretty tight; not loose enough
        """,
    "good / slightly loose": "slides in; easy; drops in; goes in easily; slip fit; slides together",
    "slightly loose / loose": "some play; a bit of play; there's some play; a bit of slop",
    "slightly loose / loose / very loose": """
        looser; not tight enough; quite loose; rather sloppy; fairly slack
        """,
    "loose / very loose": "wobbly; it wobbles; lots of play; a lot of slop; floppy; too much play",
    "good / slightly tight / slightly loose": """
        not bad; nearly there; pretty good; good enough; nice
        """,
    "very tight / tight / proud": """
        won't go home; wont seat; doesn't close; will not go all the way; won't close up; stops
        short
        """,
    "gap near / gap far": """
        off centre; off center; it's off centre; not centred; off to one side; gap on one side; gap
        on the left; a bit off centre; too far from the fence; not quite centered
        """,
    "proud / shy": """
        step; a step; not flush; there's a step; not quite flush; pins stand proud; a ledge; pin
        board proud; too deep; not level
        """,
    "slightly proud / proud / very proud": "quite proud; rather proud; fairly proud",
    "slightly shy / shy / very shy": "quite shy; rather sunk; fairly recessed",
    "flush / slightly proud / slightly shy": "nearly flush; almost flush; just about flush",
    "gap baseline / gap inside": "gap at the bottom; gap in the corner",
    "gap baseline / gap inside / gap flank": "gaps; gap on the outside; gap on both sides",
}
# Slips of the hand, with what is suggested.
SLIPS = {
    "thight": "tight",
    "tigth": "tight",
    "lose": "loose",
    "loosse": "loose",
    "slakc": "slack",
    "snugg": "snug",
    "slopy": "sloppy",
    "flsuh": "flush",
    "fluhs": "flush",
    "prowd": "proud",
    "recesed": "recessed",
    "neds a mallet": "needs a mallet",
    "falls aprt": "falls apart",
    "stands prod": "stands proud",
    "hadn tight": "hand tight",
    "won't og in": "won't go in",
    "gap at the fnece": "gap at the fence",
    "slighty tight": "slightly",
    "deda flush": "dead flush",
    "perfct": "perfect",
    "bidns": "binds",
}
# What no setting cures and no aspect has: never logged, nothing of another aspect suggested.
NEITHER = """
    middle tail tight; the last tail binds; first tail loose; one end tight; only one tail goes in;
    board split; cracked; needs glue; burnt; no gap; wonky; rubbish; terrible; better; worse;
    not very tight; seat tight; good -; banana; shoulder tight
    """
