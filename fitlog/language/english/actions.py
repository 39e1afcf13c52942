"""How each front spells an action, in English: a command, a key, a place
to touch."""

from __future__ import annotations

from ..saying import Spelling

COMMANDS: Spelling = {
    "undo": "`fitlog undo`",
    "undo-piece": "`fitlog undo --piece {piece}`",
    "judge-later": "Piece {piece} is logged but not judged, so nothing was learnt from it: say "
    "what it showed with `fitlog cut --same-piece WORDS`, or cut another.",
    "gap-where": "`fitlog cut --same-piece gap far`",
    "walls": "`--walls NEAR FAR`{them}",
    "depth": "`--depth`",
    "slot": "log it with `fitlog cut --slot --mouth L`",
    "confirm": "log it with `--scrap {scrap}`",
    "same-end": " (log it with `--same-end`)",
    "leave-out": "it can be left out",
    "between": "`fitlog machine edit NAME --between {part}`",
    "stack": "`fitlog machine edit NAME --part {part}=SPEC`",
    "fault-gap": "`fitlog fault gap {place}`",
    "fault-move": "`fitlog fault move {kind}`",
    "fault-later": "`fitlog fault later joints {word}`",
    "start": "`fitlog start`",
    "finish": "`fitlog finish`",
    "found": "`fitlog found {first}`{others}",
    "scrap-width": "start --scrap-width",
    "only": "start --only fit,seat",
    "plan": "fitlog plan",
    "start-anew": "fitlog undo --yes, then start with --pitch {pitch} --tails {tails}",
    "start-wide": "fitlog undo --yes, then start with --pitch {pitch} --tails {tails} --spacing "
    "{spacing}",
    "start-with": "fitlog undo --yes, then the same start with {option}",
    "walls-later": "fitlog cut --same-piece --walls NEAR FAR",
    "log-walls": "fitlog cut --walls",
    "read": "--read {typed}",
    "read-later": "fitlog cut --same-piece --read {typed}",
    "read-waste": "fitlog cut --slot --read {typed}",
    "given": "--given {figure}=L",
    "scrap-thickness": "--scrap-thickness",
    "pin-thickness": "--pin-thickness",
    "of-tails": "with --tails {tails}",
    "fault-size": "behind the words",
    "keep": "{command}",
    "stops": "`fitlog stops --why`",
}
KEYS: Spelling = {
    **COMMANDS,
    "judge-later": "The piece before this one is not judged, so nothing was learnt from it. u goes "
    "back to its questions.",
    "walls": "key w, when it is judged",
    "slot": "type it with o",
    "leave-out": "s leaves it out",
    "same-end": "",
    "finish": "F",
}
_COMPUTER = "at the shop's computer: "  # of what no phone does, and has no place to touch
PAGE: Spelling = {
    "undo": "Take back",
    "undo-piece": "Take back, for each answer about piece {piece}",
    "judge-later": "The piece before this one is not judged, so nothing was learnt from it: take "
    "its answers back and judge it, or cut another.",
    "gap-where": "a gap, under the words",
    "walls": "the walls, when it is judged",
    "depth": 'the depth, under "Set otherwise"',
    "slot": 'type it under "A cut in waste, measured"',
    "leave-out": '"not judged" leaves it out',
    "confirm": _COMPUTER + "fitlog cut --scrap {scrap}",
    "same-end": "",
    "between": _COMPUTER + "fitlog machine edit NAME --between {part}",
    "stack": _COMPUTER + "fitlog machine edit NAME --part {part}=SPEC",
    "finish": "Finish",
    "start": "Start another",
    "stops": "Real boards",
    "found": "Measure first",
    "fault-gap": "What is wrong?",
    "fault-move": "What is wrong?",
    "fault-later": "What is wrong?",
    "scrap-width": _COMPUTER + "fitlog start --scrap-width",
    "only": _COMPUTER + "fitlog start --only fit,seat",
    "plan": "fitlog plan at the shop's computer",
    "start-anew": "take the start back, then start with the figures pitch {pitch} and tails "
    "{tails}",
    "start-wide": "take the start back, then start with the figures pitch {pitch}, tails {tails} "
    "and spacing {spacing}",
    "start-with": _COMPUTER + "fitlog undo --yes, then the same start with {option}",
    "walls-later": "the walls, when it is judged",
    "log-walls": "the walls, when a piece is judged",
    "read": "a bar under the words, when it is judged",
    "read-later": "a bar under the words, when the next piece is judged",
    "read-waste": 'under "A cut in waste, measured"',
    "given": "the figure {figure}, said at a start,",
    "scrap-thickness": _COMPUTER + "fitlog start --scrap-thickness",
    "of-tails": "of {tails} tails",
    "pin-thickness": _COMPUTER + "fitlog stops --pin-thickness",
    "fault-size": 'under "For a size of your own"',
    "keep": _COMPUTER + "{command}",
}
