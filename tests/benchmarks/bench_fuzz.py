"""Hostile input to everything that reads text: lengths, phrases, tables of trial cuts, exports of a
log.

    python tests/benchmarks/bench_fuzz.py --cases 25000        # for each of the four
    python tests/benchmarks/bench_fuzz.py --only lengths --cases 100000

Whatever comes, the answer is a value or a `FitlogError`, never another exception. What is read is
compared with a reading of its own: a number by exact fractions from the grammar that made the text
(the international inch, NIST SP 811), a table by the phrases that went into it, an export by
rebuilding every row that was stored through the domain.
"""

from __future__ import annotations

import argparse
import math
import re
import sys
import time
import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

import beside  # noqa: F401
from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT)]

from fitlog.errors import FitlogError  # noqa: E402
from fitlog.exchange.columns import Columns  # noqa: E402
from fitlog.exchange.sheet import read_sheet  # noqa: E402
from fitlog.families.half_blind.names import ASPECTS, FAULT_PLACES, WORDS  # noqa: E402
from fitlog.families.half_blind.speech import SPEECH  # noqa: E402
from fitlog.language.phrases import parse_phrases  # noqa: E402
from fitlog.language.units import UNITS, parse_length  # noqa: E402
from fitlog.service.reader.rows import Table, read_cuts  # noqa: E402

MM = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "in": Fraction(254, 10),
    '"': Fraction(254, 10),
    "inch": Fraction(254, 10),
    "thou": Fraction(254, 10_000),
    "": None,
}
NOISE = (
    "0123456789.,/-+ "
    "\t\"'=;:@%#'eExX\u00bd\u0663\u2212\u202e\x1b\x00\u00a0mincthoutrd\n\r\u200b\ud800"
)
TOKENS = (
    *[
        "slightly",
        "very",
        "tight",
        "loose",
        "good",
        "centred",
        "gap",
        "far",
        "near",
        "shaved",
        "flush",
        "proud",
        "shy",
        "baseline",
        "inside",
        "flank",
        "a",
        "bit",
        "too",
    ],
    "0.3",
    "0,3",
    "1/64",
    "in",
    "mm",
    "-1",
    "1e9",
    "9" * 50,
    ",",
    ";",
    ".",
    "--up",
    "and",
    "\x1b[2J",
    "\u202e",
    "",
    "not",
)
HEADERS = (
    "date",
    "height (in)",
    "Height",
    "fence",
    "DEPTH",
    "said",
    "fit",
    "gap",
    "centre",
    "seat",
    "step",
    "mouth",
    "note",
    "who",
    "piece",
    "time",
    "walls",
    "",
    "taken back",
    "between rods",
    "said ",
    "=x",
    "\x1b[0m",
)
COLUMNS = Columns(SPEECH)
NOW = datetime(2031, 6, 1, tzinfo=UTC)


@st.composite
def lengths(draw: st.DrawFn) -> tuple[str, str, Fraction | None]:
    """Text, preferred units, and the mm that it stands for by the grammar that made it; None where
    nothing is promised.
    """
    units = draw(st.sampled_from(UNITS))
    if draw(st.integers(0, 2)) == 0:
        return draw(st.text(NOISE, max_size=12) | st.text(max_size=12)), units, None
    unit, sign = draw(st.sampled_from(sorted(MM))), draw(st.sampled_from(["", "-", "+"]))
    if draw(st.booleans()):
        whole, part = (
            draw(st.integers(0, 99_999)),
            draw(st.text("0123456789", min_size=1, max_size=6)),
        )
        number, text = Fraction(f"{whole}.{part}"), f"{whole}{draw(st.sampled_from('.,'))}{part}"
        factor = MM[unit] or (Fraction(1) if units == "mm" else MM["in"])
    else:
        bottom = draw(st.sampled_from([2, 4, 8, 16, 32, 64]))
        whole, top = draw(st.integers(0, 40)), draw(st.integers(1, bottom - 1))
        number, text = (
            whole + Fraction(top, bottom),
            (f"{whole} " if whole else "") + f"{top}/{bottom}",
        )
        unit = unit if unit in ("in", '"', "inch", "") else ""
        factor = MM["in"]
    assert factor is not None
    return (
        f"{sign}{text}{draw(st.sampled_from(['', ' ']))}{unit}",
        units,
        number * factor * (-1 if sign == "-" else 1),
    )


def check_length(case: tuple[str, str, Fraction | None]) -> None:
    """The number is what exact arithmetic says, or the text is refused in one sentence."""
    text, units, expected = case
    try:
        found = parse_length(text, units=units)
    except FitlogError as error:
        assert expected is None and error.message.isprintable() and error.hint, (
            case,
            error.message,
        )
        return
    assert math.isfinite(found.mm)
    if expected is not None:
        assert found.mm == float(expected), case
    elif sign := re.fullmatch(r"([0-9]*)([\u00bc-\u00be\u215b-\u215e])", text.strip()):
        # The sign of a fraction, which is of an inch: what Unicode says that it is worth.
        worth = int(sign[1] or 0) + unicodedata.numeric(sign[2])
        assert math.isclose(found.mm, worth * 25.4), text
    else:  # noise that was read: what digits it has, in no other unit than a known one
        known = r"[0-9.,/+\-\u2212 \t\u00a0a-zA-Z\"\u2033\u201d\u2044\u00bc-\u00be\u215b-\u215e]+"
        assert re.fullmatch(known, text.strip()), text


def check_phrase(case: tuple[str, str]) -> None:
    """What is heard has words and sizes that the domain takes, and says nothing that no
    token said.
    """
    text, units = case
    try:
        verdict = parse_phrases(text, SPEECH, units=units)
    except FitlogError as error:
        assert error.message.isprintable() and error.hint.isprintable(), case
        return
    low = text.lower()
    for aspect in ASPECTS:
        said = verdict.of(aspect)
        if said is not None:
            assert said.word in WORDS[aspect] and (said.size is None or 0 < said.size <= 10)
            assert said.word.split()[-1].replace("centred", "cent") in low, case
    assert all(
        f.place in FAULT_PLACES and (f.size is None or 0 < f.size <= 10) and "gap" in low
        for f in verdict.faults
    )


@st.composite
def tables(draw: st.DrawFn) -> bytes:
    """Bytes of a table: any bytes, or headers and cells with any separator, quoting and
    encoding.
    """
    if draw(st.integers(0, 4)) == 0:
        return draw(st.binary(max_size=200))
    cell = (
        st.sampled_from(TOKENS)
        | st.text(NOISE.replace("\ud800", ""), max_size=8)
        | st.sampled_from(
            [
                "4.3.2031",
                "3/4/2031",
                "9,5",
                "12.7 mm",
                "5/8in",
                "slightly tight",
                "gap far 0,3",
                "good",
                "flush",
                "1",
            ]
        )
    )
    headers = draw(st.lists(st.sampled_from(HEADERS), min_size=1, max_size=7))
    lines = [headers, *draw(st.lists(st.lists(cell, max_size=8), max_size=5))]
    mark, quote = draw(st.sampled_from(",;\t")), draw(st.booleans())
    text = "\r\n".join(mark.join(f'"{c}"' if quote else c for c in line) for line in lines)
    return text.encode(
        draw(st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252", "latin-1"])),
        "replace",
    )


def check_table(data: bytes) -> None:
    """Every line is read, or named with a problem; what is read is what the phrase parser makes of
    its words.
    """
    try:
        sheet = read_sheet(data, COLUMNS)
        cuts, problems, back = read_cuts(sheet, Table("mm", columns=COLUMNS, order=None, now=NOW))
    except FitlogError as error:
        assert error.message.isprintable() and error.hint, data
        return
    assert {c.line for c in cuts}.isdisjoint(p.line for p in problems)
    assert len(cuts) + len({p.line for p in problems}) + back == len(sheet.lines) + len(
        sheet.problems
    ), data
    assert all(p.message.isprintable() and p.hint.isprintable() for p in problems), data
    for cut in cuts:
        cells = next(line.cells for line in sheet.lines if line.number == cut.line)
        assert cut.heard.isprintable() and cut.note.isprintable() and cut.by.isprintable()
        if cells.get("said") and not any(
            cells.get(key)
            for key in ("fit", "centre", "seat", "faults", "centre_size", "seat_size")
        ):
            assert cut.verdict == parse_phrases(cells["said"], SPEECH)
        for key, length in cut.settings.items():
            assert math.isfinite(length.mm)
            if sheet.columns[key].unit == "in" and re.fullmatch(r"[0-9]+([.,][0-9]+)?", cells[key]):
                assert length.mm == float(Fraction(cells[key].replace(",", ".")) * MM["in"]), cells[
                    key
                ]  # type: ignore[operator]


PHRASES = st.tuples(
    st.lists(st.sampled_from(TOKENS) | st.text(NOISE, max_size=6), max_size=8).map(" ".join)
    | st.text(max_size=20),
    st.sampled_from(UNITS),
)
CHECKS: tuple[str, ...] = ("lengths", "phrases", "tables", "exports")


@contextmanager
def case_of(name: str) -> Iterator[tuple[st.SearchStrategy[Any], Callable[[Any], None]]]:
    """Give what makes the cases of a check, and the check."""
    if name == "exports":
        from spoilt import Exports

        exports = Exports()
        with exports.folder:
            yield exports.strategy(), exports.check
        return
    yield {
        "lengths": (lengths(), check_length),
        "phrases": (PHRASES, check_phrase),
        "tables": (tables(), check_table),
    }[name]


def run(name: str, cases: int, seed: int) -> int:
    """Run a check on so many cases; return how many there were. Raises AssertionError for the first
    that fails.
    """
    count = 0
    with case_of(name) as (strategy, check):

        @_seeded(seed)
        @settings(
            max_examples=cases,
            deadline=None,
            database=None,
            suppress_health_check=list(HealthCheck),
        )
        @given(strategy)
        def all_cases(case: Any) -> None:
            nonlocal count
            count += 1
            check(case)

        all_cases()
    return count


_seeded = seed


def main() -> None:
    """Run the checks that were asked for; print their cases."""
    wanted = argparse.ArgumentParser(description=__doc__)
    wanted.add_argument("--cases", type=int, default=25_000)
    wanted.add_argument("--only", choices=CHECKS)
    wanted.add_argument("--seed", type=int, default=1)
    given_ = wanted.parse_args()
    sys.path[:0] = [str(ROOT / "tests")]
    for name in CHECKS if given_.only is None else (given_.only,):
        began = time.perf_counter()
        count = run(name, given_.cases, given_.seed)
        print(
            f"{name}: {count:,} cases, none wrong, {time.perf_counter() - began:.0f} s", flush=True
        )


if __name__ == "__main__":
    main()
