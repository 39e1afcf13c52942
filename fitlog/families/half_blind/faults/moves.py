"""Moves that do not do what was asked, and fits that change with the bit itself. Common practice,
no source.
"""

from __future__ import annotations

from ...faults import Cause, Symptom, words

_GAUGE = (
    "Unplugged, put a dial indicator (or a rule and a feeler) on the bit's tip: wind up "
    "{over}, note it, wind down "
    "the same: what is missing is the play."
)
_PLAY = Cause(
    "backlash",
    4,
    "The lift has play: after a change of direction the first part of a turn moves nothing.",
    _GAUGE,
    "Always come up to a height from below: go at least {over} under it, then up. Store the play "
    "({store_play}).",
    ("play_mm", "over_mm"),
    (("backlash", 1.5), ("down", 2.0), ("nothing-log", 2.0), ("no-play", 0.3)),
)
_LOCKED = Cause(
    "lock-held",
    3,
    "The lock was on, or the height was pulled back when it was locked.",
    "Unplugged, measure the bit's height before and after locking: it must stay within {step}.",
    "Unlock, move, lock, then measure the height itself, not the dial; log that height.",
    (),
    (("nothing-log", 1.5),),
)
_TOO_SMALL = Cause(
    "move-too-small-to-feel",
    2,
    "The move was too small for words: {asked} of height is {felt} of clearance.",
    "One word's band is about {band} of clearance wide: cut again at the same setting, and take "
    "the pull-apart gap with a "
    "feeler, which moves as much as the bit.",
    "Move at least {feelable} to feel it in a word, or measure the gap.",
    ("felt_mm", "feelable_mm"),
)
_OLD_BOARD = Cause(
    "one-board-only",
    2,
    "Only one of the two boards was cut anew: the higher of the two cuts decides the fit.",
    "Were both the tail piece and the pin piece cut at the new height?",
    "Cut both pieces anew at each height; with unequal heights log the larger.",
    (),
    (("lowered", 2.0),),
)
_PLAY_TAKEN = Cause(
    "play-taken-up",
    3,
    "The lift's play came on top of the move, because the move before ran the other way.",
    _GAUGE,
    "Come up to every height from below, at least {over} under it; then the play is always on the "
    "same side.",
    ("play_mm", "over_mm"),
    (("backlash", 1.5), ("twice-log", 2.0), ("no-play", 0.3)),
)
_DIAL = Cause(
    "dial-misread",
    2,
    "The scale counts otherwise than it is read: a turn is another travel, or a mark stands for "
    "two.",
    "Wind ten whole turns, measure the travel, divide by ten{turn_known}.",
    "Store the true travel ({store_travel}).",
    (),
    (("twice-log", 1.5),),
)
_SLIPPED = Cause(
    "lift-slipped",
    2,
    "The lift or the bit slipped in its lock or collet while it was cut.",
    "Unplugged, measure the bit's height after the cut: is it what was set?",
    "Unplugged, clean and tighten the collet (shank fully in, then backed out {back}), lock the "
    "lift, cut the same setting again.",
    (),
    (("down", 1.3),),
)
_SHARPER = Cause(
    "diameter-smaller",
    5,
    "The bit lost diameter: both boards' cuts are narrower, which tightens by twice the loss.",
    "Unplugged, measure across the tip's edges and compare: {d} less is {twice} of clearance.",
    "Say its new diameter ({bit_sharpen}), and cut a test piece at what is then advised.",
    ("d", "twice_mm", "sharp_mm"),
    (("sharpened", 1.5),),
    "The loss over tan of the angle, {sharp} lower, keeps the fit.",
)

SYMPTOMS = (
    Symptom(
        "move-did-nothing",
        "move nothing",
        "Nothing changes when the height is moved",
        (words("move nothing"), words("height nothing"), words("nothing")),
        (_PLAY, _LOCKED, _OLD_BOARD, _TOO_SMALL),
        words("move height first"),
        "the move that was asked",
        0.2,
    ),
    Symptom(
        "move-overshot",
        "move twice",
        "A move of the height did twice as much as was asked",
        (words("move twice"), words("height twice"), words("move much"), words("twice")),
        (_PLAY_TAKEN, _DIAL, _SLIPPED),
        words("move height much"),
        "the move that was asked",
        0.2,
    ),
    Symptom(
        "tight-after-sharpening",
        "sharpened tight",
        "The old height is tight since the bit was sharpened",
        (words("sharpened tight"), words("sharpened")),
        (
            _SHARPER,
            Cause(
                "height-lost",
                2,
                "The height's zero was lost with the bit: it sits higher in its collet than "
                "before.",
                "Unplugged, measure the bit's height at the tip itself, not by the dial.",
                "Unplugged, shank fully in, then backed out {back}; set the height from the table "
                "to the tip anew.",
            ),
            Cause(
                "angle-changed",
                1,
                "The grinding changed the flanks' angle.",
                "Measure one slot with two sizes of rods: read between both, they give the angle.",
                "Store the new angle ({bit_edit}), and tune as with a new bit.",
            ),
        ),
        words("tight loose height"),
        "the diameter lost",
        0.1,
    ),
)
