"""What now: why in a sentence, what is left, and where it goes on."""

from __future__ import annotations

from ....domain import SetUp
from ....domain.standing import ended
from ....domain.standing import standing as decided
from ....families.telling import PAGE, say, urgent
from ....render.answer import chance_of, outlook, standing, told
from ....render.short import left
from ....service import undoing
from ....service.bench import Workbench
from ....texts import tell
from ...bench import about_last, last_word, stand, takes_number
from ..desk import Sitting
from .common import Values, common, spoken


def now(sitting: Sitting, setup: SetUp, bench: Workbench) -> Values:
    """Return what follows from the newest answer."""
    answer = bench.look_at(setup)
    setup, found, ruler = answer.setup, answer.advice, bench.ruler
    stands, word = decided(setup, found), last_word(setup)
    over = setup.outcome is not None or setup.undone
    brief = [] if over else [*found.brief, *filter(urgent, found.reasons)]
    said = (say(remark, ruler, PAGE, short=True) for remark in brief)
    family = setup.plan.family
    return {
        **common(sitting, setup),
        "status": found.status,
        "over": over,
        "judging": stand(setup).at not in ("settings", "over"),
        "good": ended(setup) == "good" or stands.settled,
        "standing": standing(setup, found, found.pieces + 1, PAGE),
        "brief": [text for text in said if text],
        "left": left(found) if found.status == "tuning" and not over else "",
        "outlook": "" if over else outlook(found),
        "notices": [] if over else spoken(list(found.notices), ruler),
        "reasons": [] if over else spoken(list(found.reasons), ruler),
        "cautions": spoken(list(found.cautions), ruler),
        "chances": []
        if over
        else [
            (tell(aspect), chance_of(found, aspect))
            for aspect in family.aspects
            if aspect in family.setting_of
        ],
        "history": [(cut.piece, told(cut, ruler), cut.by) for cut in setup.cuts if not cut.slot],
        "number_open": bool(
            about_last(setup)
            and word is not None
            and word.size is None
            and takes_number(word)
            and not over
        ),
        "undone": undoing.undone_last(sitting.log, setup) if over else "",
        "word": "" if word is None else word.word,
    }
