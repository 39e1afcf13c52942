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
    "between": "`fitlog machine edit NAME --between {part}`",
    "stack": "`fitlog machine edit NAME --part {part}=SPEC`",
    "fault-gap": "`fitlog fault gap {place}`",
    "fault-move": "`fitlog fault move {kind}`",
    "fault-later": "`fitlog fault later joints {word}`",
    "start": "`fitlog start`",
    "finish": "`fitlog finish`",
    "found": "`fitlog found --height L` (--fence, --depth)",
    "scrap-width": "start --scrap-width",
    "only": "start --only fit,seat",
    "plan": "fitlog plan",
    "start-anew": "fitlog undo --yes, then start with --pitch {pitch} --tails {tails}{spacing}",
    "start-with": "fitlog undo --yes, then the same start with {option}",
    "walls-later": "fitlog cut --same-piece --walls NEAR FAR",
    "stops": "`fitlog stops --why`",
}
KEYS: Spelling = {
    **COMMANDS,
    "judge-later": "The piece before this one is not judged, so nothing was learnt from it. u goes "
    "back to its questions.",
    "walls": "key w, when it is judged",
    "slot": "type it with o",
    "same-end": "",
    "finish": "F",
}
PAGE: Spelling = {
    **COMMANDS,
    "undo": "Take back",
    "undo-piece": "Take back, for each answer about piece {piece}",
    "judge-later": "The piece before this one is not judged, so nothing was learnt from it: take "
    "its answers back and judge it, or cut another.",
    "gap-where": "a gap, under the words",
    "walls": "the walls, when it is judged",
    "slot": "type it under Set otherwise",
    "same-end": "",
    "finish": "Finish",
    "start": "Start another",
    "stops": "Real boards",
    "found": "Measure first",
    "fault-gap": "What is wrong?",
    "fault-move": "What is wrong?",
    "fault-later": "What is wrong?",
    "walls-later": "the walls, when it is judged",
}
