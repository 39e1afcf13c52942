"""What a maker sees at the machine fits the terminal beside it: rows counted at both widths, with
nothing left out that is to be set or minded; the standing cautions in full once a day.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from fnmatch import fnmatchcase

import pytest
from shop import Shop
from terminal import ESCAPE, on_terminal

from fitlog.families.half_blind.names import HALF_BLIND
from fitlog.families.screens import screens_of
from fitlog.families.telling import catalogue
from fitlog.fronts.cli import session

# Columns: rows of a screen, and with a question, a note or a caution.
ROWS = {80: (16, 20), 40: (20, 24)}
CARE = ("A new height", "Never move the fence", "No second pass", "Was piece", "Gap ", "One step")
CARE += ("Rounded to", "The fence seems", "The lift seems", "Piece 2, ")
WAYS = {
    "bit_height": "up down",
    "fence_offset": "out in",
    "socket_depth": "deeper shallower",
}
FIRST_OF_ALL, AS_BEFORE = "Local codes", "The cautions hold as before"
CATALOGUE = {
    "mm": (
        "bit add dove --diameter 14.3 --angle 10 --cutting-length 15",
        "stock add board --species ash --thickness 18 --width 150",
        "machine add table --height-turn 1.6 --fence-step 0.05 --backlash 0.1",
    ),
    "fraction": (
        "bit add dove --diameter 1/2in --angle 14 --cutting-length 1/2in",
        "stock add board --species ash --thickness 3/4in --width 6in",
        "machine add table --height-turn 1/16in --fence-step 1/64in --backlash 4thou",
    ),
}
SIZES = {
    "mm": {"near": "70.52", "far": "70.03", "gap": "0.4", "step": "0.5"},
    "fraction": {"near": "2-25/32in", "far": "2-49/64in", "gap": "1/64in", "step": "1/64in"},
}
# A whole set-up: tight, loose, shaved on either side, a gap that no setting cures, ready.
CUTS = (
    "cut tight, proud {step} --walls {near} {far}",
    "cut loose {gap}, gap near {gap}, very shy {gap}",
    "cut slightly tight, gap far {gap}, very proud {gap}",
    "cut good, gap near {gap}, proud {step}",
    "cut good, gap baseline {step}",
    "cut good, centred, proud {step}",
    "cut good, centred, flush",
    "finish --as-it-is",
)


def stocked(shop: Shop, units: str = "mm") -> None:
    shop.words(f"prefer --units {units}")
    for line in CATALOGUE[units]:
        shop.words(f"{line} --yes" if "machine" not in line else line)


def shown(shop: Shop, line: str, columns: int) -> str:
    code, text = on_terminal(shop, *line.split(), columns=columns)
    assert code == 0, text
    return ESCAPE.sub("", text).strip("\n")


def rows_of_care(text: str) -> int:
    """The rows of the paragraphs that are a question, a note or a caution."""
    care, rows = False, 0
    for line in text.splitlines():
        care = line.startswith(CARE) or (care and line.startswith("  "))
        rows += care
    return rows


@pytest.mark.parametrize("units", CATALOGUE)
@pytest.mark.parametrize("columns", ROWS)
def test_every_screen_fits_and_lacks_no_move_and_no_caution(
    shop: Shop, columns: int, units: str
) -> None:
    stocked(shop, units)
    shop.words("start --yes")
    most, with_care = ROWS[columns]
    if (columns, units) == (40, "fraction"):
        most += 1  # a mark with its decimal takes two rows where millimetres take one
    for line in ("next", *CUTS, "next"):
        text = shown(shop, line.format(**SIZES[units]), columns)
        rows = text.count("\n") + 1
        assert rows <= with_care, text
        assert rows - rows_of_care(text) <= most, text
        assert all(len(row) < columns for row in text.splitlines()), text
        flat, told = " ".join(text.split()), shop.json("next")
        if told["ended"] is not None:
            continue
        for name, move in (told["moves"] or {}).items():
            way = WAYS[name]
            assert abs(move) < 5e-3 or way.split()[move < 0] in flat, text
        for caution in told["cautions"] if told["moves"] else ():
            assert caution["text"].split("; ")[-1].lower()[:25] in flat.lower(), text
        if told["centre_by"] == "walls" and told["status"] == "tuning":
            assert "No second pass" in flat


def test_a_note_without_room_is_counted_and_why_has_it(shop: Shop) -> None:
    stocked(shop)
    shop.words("start --yes")
    for line in CUTS[:2]:
        shop.words(line.format(**SIZES["mm"]))
    text = shown(shop, "next", 40)
    wait = re.search(r"Why, ([0-9]+) notes?: fitlog why", " ".join(text.split()))
    notes = shop.json("next")["notices"]
    assert wait is not None and 0 < int(wait[1]) <= len(notes)
    why = " ".join(shop.words("why").out.split())
    assert all(" ".join(note["text"].split()) in why for note in notes)
    assert "twice" not in text and "twice" in why


@pytest.mark.parametrize("columns", ROWS)
def test_the_standing_cautions_stand_in_full_once_a_day(
    shop: Shop, columns: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    stocked(shop)
    first = shown(shop, "start --yes", columns)
    assert FIRST_OF_ALL in first and AS_BEFORE not in first and "Tail piece" in first
    shop.words("undo --yes")
    again = " ".join(shown(shop, "start --yes", columns).split())
    assert FIRST_OF_ALL not in again and AS_BEFORE in again
    # The cautions that belong to a step are as they were.
    assert "never take a hand off to reach a switch" in again and "square block" in again
    assert FIRST_OF_ALL in " ".join(shop.words("why").out.split())
    assert [c["code"] for c in shop.json("next")["cautions"]][:1] == ["first-of-all"]
    shop.words("cut tight --yes")
    assert FIRST_OF_ALL in shop.words("why").out
    shop.words("finish --abandon")
    later = datetime.now(UTC) + timedelta(days=1)
    monkeypatch.setattr(session, "now", lambda: later)
    next_day = shown(shop, "start --yes", columns)
    assert FIRST_OF_ALL in next_day and "Tail piece" not in next_day


def test_another_person_another_machine_or_none_is_told_all(shop: Shop) -> None:
    stocked(shop)
    shop.words("machine add other --fence-step 0.1")
    shop.words("start --machine table --yes")

    def told(line: str) -> bool:
        shop.words("undo --yes")
        return FIRST_OF_ALL in shop.words(line).out

    assert not told("start --machine table --yes")
    assert told("start --machine other --yes")
    shop.words("prefer --name Wren")
    assert told("start --machine table --yes") and not told("start --machine table --yes")


def test_cuts_from_a_table_showed_nobody_a_caution(shop: Shop) -> None:
    stocked(shop)
    table = shop.home / "cuts.csv"
    table.write_text("fit,height,fence,depth\ngood,13.5,75,12.5\n")
    shop.run("log", "import", str(table), "--bit", "dove", "--stock", "board", "--machine", "table")
    shop.words("finish --abandon")
    assert FIRST_OF_ALL in shop.words("start --yes").out


def test_a_dial_is_kept_and_the_move_told_as_it_is_read(shop: Shop) -> None:
    """Divisions of 0.025 mm: all that is advised is on one."""
    shop.words("bit add dove --diameter 14.3 --angle 10 --cutting-length 15")
    shop.words("stock add board --species ash --thickness 18 --width 150")
    assert "travel per turn" in shop.refused("machine", "add", "lift", "--dial", "60")
    shop.words("machine add lift --height-turn 1.5 --dial 60")
    assert shop.json("machine list")["machines"][0]["height_dial"] == 60
    shop.words("start")
    answer = shop.json("cut tight")
    move = answer["moves"]["bit_height"] / 0.025
    assert move == pytest.approx(round(move), abs=0.01) and move < -1
    assert f"down {-round(move)} divisions, " in shop.words("next").out
    export = shop.home / "out.jsonl"
    shop.run("log", "export", str(export))
    shop.run("log", "import", str(export), "--db", str(shop.home / "other.db"))
    listed = shop.words(f"machine list --json --db {shop.home / 'other.db'}").document
    assert listed["machines"][0]["height_dial"] == 60
    shop.words("machine edit lift --part height=none")
    shop.words("machine edit lift --height-turn 1.5")
    assert shop.json("machine list")["machines"][0]["height_dial"] is None


@pytest.mark.parametrize(
    ("only", "wanted"),
    [
        ("", [("tail", 2, 3), ("pin", 2, 3)]),
        ("--only fit", [("tail", 3, 6)]),
        ("--only centre", [("tail", 2, 3)]),
    ],
)
def test_the_test_stock_is_listed_where_it_is_asked_for(
    shop: Shop, only: str, wanted: list[tuple[str, int, int]]
) -> None:
    """Each piece takes an end of tail and one of pin stock; the fit alone two of the tail's."""
    stocked(shop)
    told = shop.json(f"start --pieces 3 --pin-thickness 22 --yes {only}")["test_stock"]
    assert [(scrap["what"], scrap["count"], scrap["ends"]) for scrap in told] == wanted
    thick = {"tail": 18, "pin": 22}
    for scrap in told:
        assert (scrap["width"], scrap["thickness"]) == (150, thick[scrap["what"]])
        assert scrap["length"] >= 300
    assert shop.json("next")["test_stock"] is None
    shop.words("undo --yes")
    shop.words("prefer --units fraction")
    text = shop.words(f"start --pieces 3 --yes {only}").out
    assert text.index("To prepare for 3 test pieces") < text.index("Unplugged, set:")
    assert "12 in long or more" in text and " mm" not in text
    assert ("no rabbet" in text) == bool(only)


@pytest.mark.parametrize("pieces", ["0", "-1", "200", "2000000000000"])
def test_a_number_of_pieces_that_nobody_cuts_is_refused(shop: Shop, pieces: str) -> None:
    stocked(shop)
    assert "two or three are usual" in shop.refused("start", "--pieces", pieces, "--yes")


@pytest.mark.parametrize(
    "code",
    [
        *("limit-fit", "as-found", "gap-baseline", "gap-where", "not-good", "piece-unjudged"),
        *("no-second-pass", "fence-side", "new-height", "frozen", "a-caution-to-come"),
    ],
)
def test_what_must_be_minded_never_waits(code: str) -> None:
    assert not [one for one in screens_of(HALF_BLIND).may_wait if fnmatchcase(code, one)]


def test_what_may_wait_is_said_somewhere() -> None:
    known = catalogue(HALF_BLIND.name).sentences
    for pattern in screens_of(HALF_BLIND).may_wait:
        assert any(fnmatchcase(code, pattern) for code in known), pattern
