"""The log, on a file and on a server alike: an advice is kept with whom it was shown to, and a cut
of theirs was made at it, whatever somebody else was shown since.
"""

from __future__ import annotations

from dataclasses import replace

from logs import FIRST, PLAIN, PLAN, STAMP, Place

from fitlog.log import Log, Stamp

MIRA, JO = STAMP, Stamp("jo", STAMP.at, STAMP.machine)
NEXT = FIRST.changed(bit_height=8.2)


def shown(place: Place) -> list[tuple[object, ...]]:
    return place.rows("SELECT by, machine FROM advice ORDER BY id")


def test_an_advice_says_to_whom_and_where_it_was_shown(log: Log, place: Place) -> None:
    assert log.start(PLAN, FIRST, "{}", MIRA) == 1
    log.show(1, FIRST, "{}", JO)
    log.show(1, NEXT, "{}", MIRA)
    assert shown(place) == [("mira", "the table"), ("jo", "the table"), ("mira", "the table")]


def test_what_somebody_saw_last_is_not_kept_again_and_what_another_saw_is(
    log: Log, place: Place
) -> None:
    log.start(PLAN, FIRST, "{}", MIRA)
    first = log.show(1, FIRST, "{}", JO)
    assert log.show(1, FIRST, "{}", JO) == first
    assert log.show(1, FIRST, "{}", MIRA) < first  # the start kept it
    assert len(shown(place)) == 2
    later = log.show(1, NEXT, "{}", JO)
    assert log.show(1, FIRST, "{}", MIRA) > later  # shown again, after another
    assert log.setup(1, "mira").other is None
    assert len(shown(place)) == 4


def test_each_reads_what_they_were_shown_and_what_another_was_since(log: Log) -> None:
    log.start(PLAN, FIRST, "{}", MIRA)
    entry = log.record(1, PLAIN, JO)
    log.show(1, NEXT, "{}", JO)
    hers, his, anybody = log.setup(1, "mira"), log.setup(1, "jo"), log.setup(1)
    assert hers.shown == FIRST and his.shown == anybody.shown == NEXT
    assert his.other is None and anybody.other is None and hers.other is not None
    assert hers.other[:2] == (NEXT, "jo") and hers.other.after < entry
    stranger = log.setup(1, "someone new")
    assert stranger.shown == NEXT and stranger.other is None
    assert log.current(by="mira") == hers
    log.show(1, FIRST, "{}", JO)  # the same again is nothing else
    assert log.setup(1, "mira").other is None


def test_a_cut_refers_to_the_advice_it_was_cut_by(log: Log, place: Place) -> None:
    log.start(PLAN, FIRST, "{}", MIRA)
    hers = log.setup(1, "mira").advice
    now = log.show(1, NEXT, "{}", JO)
    for number, by in ((1, hers), (2, None), (3, now + 99)):
        log.record(1, replace(PLAIN, piece=number), MIRA, advice=by)
    entry = log.log_found(1, {"bit_height": 8.6}, MIRA, advice=hers)
    referred = place.rows("SELECT advice FROM trial_cut ORDER BY entry")
    assert referred == [(hers,), (now,), (now,)]
    assert place.rows("SELECT entry, advice FROM found") == [(entry, hers)]
    assert log.found_entries(1)[0].remembered == FIRST
