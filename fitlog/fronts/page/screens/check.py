"""A look at a joint between real boards: what is asked, and what it says of the run."""

from __future__ import annotations

from ....domain import Aspect, SetUp
from ....families.screens import screens_of
from ....service.bench import Workbench
from ....service.run import in_run
from ....texts import tell
from ...bench import asked_of, gaps
from ..desk import Sitting
from .boards import last_said, least_joints, when
from .common import Values, common, sentence
from .dial import unit


def check(sitting: Sitting, setup: SetUp, bench: Workbench, counted: str) -> Values:
    """Return the questions about a joint, in their order. counted: joints cut by now, as this phone
    counted them, "" where it did not. Raises Refused: no-open-setup.
    """
    run, own = in_run(bench, setup), screens_of(setup.plan.family)
    family = setup.plan.family

    def question(aspect: Aspect) -> tuple[Aspect, str, list[tuple[str, str]]]:
        asks, tests = own.looked(setup.plan, aspect, bench.ruler)
        return aspect, sentence(asks), list(zip(family.words(aspect), tests, strict=True))

    return {
        **common(sitting, setup),
        "least": run.least,
        "counted": counted if counted.isdecimal() and len(counted) < 7 else "",
        "questions": [question(aspect) for aspect in asked_of(setup)],
        # What the second pass took is no number of a joint that has none.
        "numbers": {
            aspect: sentence(own.number(aspect))
            for aspect in asked_of(setup)
            if not (setup.plan.words_only or family.kind(aspect).shown_last)
        },
        "gaps": [(place, own.gap(place)) for place in gaps(family)],
        "unit": unit(bench.ruler),
        "when": when(last_said(setup, bench), run.least),
    }


def looked(sitting: Sitting, setup: SetUp, bench: Workbench) -> Values | str:
    """Return what the last look says; the screen to go to where nothing was looked at."""
    setup = bench.look_at(setup).setup
    run = last_said(setup, bench)
    if run is None:
        return f"/s/{setup.number}/check"
    return {
        **common(sitting, setup),
        "run": run,
        "after": least_joints(setup),
        "when": when(run, least_joints(setup)),
        "then": _then(setup, wait=run.off and not run.settings, off=run.off, stay=run.stay),
    }


def _then(setup: SetUp, *, wait: bool, off: bool, stay: bool) -> list[str]:
    """Return what is done where the run is to stop, in order."""
    if wait:
        return [
            tell(
                "The joints before it say otherwise, so nothing moves yet: look for a chip or a "
                "board that lifted, then look at the next joint."
            )
        ]
    if not off:
        return []
    stops = tell(
        "Unplugged, set this; the stops stay:"
        if stay
        else "Unplugged, set this; then the stops are others, see Real boards:"
    )
    if setup.outcome is None:
        return [stops, tell("Then try it on scrap, and judge that as a test piece.")]
    return [stops, tell("Then try it on scrap, and look at the next joint.")]
