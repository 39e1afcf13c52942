"""Who works in inches or in fractions reads no millimetre: every command's answer and refusal, the
printed sheet and the texts of every fault.
"""

from __future__ import annotations

import re

import pytest
from shop import Shop

from fitlog.families.half_blind.faults.table import SYMPTOMS
from fitlog.fronts.cli import COMMANDS

METRIC = re.compile(r"\b(?:mm|cm|millimet\w+|m/s)\b")
# A number that is no size in inches may have been meant so; a fraction never was.
MEANT = re.compile(r"did you mean [0-9.]+ mm\?")
SHORT = re.compile(r"\+- ?0 in|\+- ?0\.000 in|[0-9] in [+-] [0-9]+ thou")

# In the order of a set-up's life; what is refused stands beside what is done.
LINES = (
    "prefer --name Wren",
    "bit add half --diameter 1/2 --angle 14deg --cutting-length \u00bd",
    "bit add odd --diameter 1/2 --angle 7,5\u00b0 --cutting-length 1/2in",
    "stock add pine --species pine --thickness 3/4 --width 5\u00bd --moisture 9",
    "machine add table --fence-step 1/64 --height-step 1/64 --depth-step 1/64",
    "machine add slow --fence-step 1",
    "machine add slow --backlash 9",
    "bit add x --diameter 3 --angle 14 --cutting-length 1/2",
    "bit add x --diameter 5/8 --angle 40 --cutting-length 1/2",
    "bit add x --diameter 5/8 --angle 1:8 --cutting-length 1/2",
    "bit add x --diameter 9in --angle 14 --cutting-length 1/2",
    "stock add y --species oak --thickness 20in --width 5",
    "stock add y --species oak --thickness 5 --width 3/4",
    "plan --width 5\u00bd",
    "plan --width 5\u00bd --tails 6",
    "plan --width 5\u00bd --tails 40",
    "plan --width 5\u00bd --groove 1/4 --at 3/8",
    "plan --width 5\u00bd --groove 1/4 --at 1/16",
    "plan --width 5\u00bd --groove 1/4 --at 5-3/8",
    "plan --width 5\u00bd --groove 1/4 --at 3/8 --groove-depth 11/16",
    "start --machine table --bit half --height 3/4in",
    "start --machine table --bit half --height 1/64",
    "start --machine table --bit half --pitch 4",
    "start --machine table --bit half --pitch 5/8 --height 3/8",
    "start --machine table --bit half --pitch 33/64",
    "start --machine table --bit half --pitch 0.7857in --tails 50",
    "start --machine table --bit half --spacing 1/2",
    "start --machine table --bit half --rabbet 1/64",
    "start --machine table --bit half --rabbet 5/8",
    "start --machine table --bit half --proud 1in",
    "start --machine table --bit half --pin-thickness 1/8",
    "start --machine table --bit half --width 1/8",
    "start --machine table --bit half --tails 6",
    "cut --slot --mouth 0.29in",
    "cut tight, gap far 1/64, proud 1/32",
    "next",
    "why",
    "cut loose abc",
    "cut loose --height abc",
    "cut loose 5in",
    "cut loose 1/8turn",
    "cut good, centred, proud 1",
    "cut good --height 9in",
    "cut good --height 1/2 --yes",
    "cut good --depth 1/64",
    "cut good --fence 1/64",
    "cut good 1/128, centred, flush --height 13/32 --walls 2 31/64 2 31/64",
    "undo",
    "redo",
    "found --fence 2-3/4",
    "note a knot --title chest",
    "outcome 1 loose",
    "show",
    "progress",
    "stops",
    "stops --why",
    "stops --tails 9",
    "stops --width 3-1/2 --thickness 11/16,3/4 --boards 2drawers",
    "stops --width 3-1/2 --thickness 11/16,3/4 --why",
    "stops --pin-thickness 3/8",
    "stops --thickness 3/8",
    "stops --width 13/16in",
    "stops --width 3,4",
    "stops --boards nonsense",
    "plan --like 1 --width 3-1/2,5\u00bd",
    "plan --like 1 --width 3,4",
    "plan --like 1 --width 13/16",
    "fault gap baseline 1/8turn",
    "fault gap baseline 9in",
    "recover --bit half --pitch 25/32 --tail-width 0.49in",
    "recover --bit half --pitch 33/64 --tail-width 0.49in",
    "words",
    "review",
    "review nowhere --width 5in",
    "rehearse --setups 2",
    "rehearse --readings 1in",
    "rehearse --edges-off 1in",
    "rehearse --fence-zero-off 9in",
    "finish",
    "outcome 1 tight with glue",
    "check good 1/64 --after 12",
    "check tight --after 13",
    "check very tight --after 14",
    "check tight --after 15",
    "check tight --after 5",
    "use 1",
    "sheet --out sheet.pdf",
    "sheet --label 2-1/4 1-1/4 --out label.pdf",
    "sheet --label 1 1/2 --out label.pdf --force",
    "sheet --mouth 1/64 --out sheet.pdf --force",
    "sheet --label 62 29",
    "review",
    "show",
    "progress",
    "bit list",
    "bit show half",
    "bit edit half --diameter 0.47in",
    "stock list",
    "machine list",
    "bit add plain --diameter 3/8 --angle 0 --cutting-length 1in",
    "plan --joint box --bit plain",
    "plan --joint tenon --bit plain --given clear=20in",
    "plan --joint sliding --bit half --given side=40in --given shelves=2",
    "plan --joint sliding --bit half --given side=40in --given shelves=49",
    "plan --joint rabbet --bit plain",
    "start --machine table --bit half",
    "finish --abandon",
    "bench",
)
NO_LENGTHS = {"log", "demo", "errors", "joints", "page"}  # of their own unit, of every one, or none


@pytest.fixture(params=["fraction", "inch"])
def units(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def metric(said: str) -> list[str]:
    """The lines that speak of millimetres, or of a length as nobody should read it."""
    lines = MEANT.sub("", said).splitlines()
    return [line for line in lines if METRIC.search(line) or SHORT.search(line)]


def test_no_command_speaks_of_millimetres(
    shop: Shop, units: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert {line.split()[0] for line in LINES} == COMMANDS.keys() - NO_LENGTHS
    monkeypatch.chdir(shop.home)
    shop.words(f"prefer --units {units}")
    found = {}
    codes = set()
    for line in LINES:
        told = shop.words(line, code=None)
        codes.add(told.code)
        if wrong := metric(told.out + told.err):
            found[line] = wrong
    assert not found
    assert codes == {0, 1, 2}
    pypdfium2 = pytest.importorskip("pypdfium2")
    for name in ("sheet.pdf", "label.pdf"):
        with pypdfium2.PdfDocument(shop.home / name) as book:
            printed = "\n".join(page.get_textpage().get_text_bounded() for page in book)
        assert "in" in printed and not metric(printed), name


def test_no_fault_speaks_of_millimetres(shop: Shop, units: str) -> None:
    shop.started()
    shop.words(f"prefer --units {units}")
    for line in ("fault", *(f"fault {symptom.words}" for symptom in SYMPTOMS)):
        told = shop.words(line, code=None)
        assert not metric(told.out + told.err), line


def test_a_size_typed_as_a_fraction_was_not_meant_in_mm(shop: Shop, units: str) -> None:
    shop.stocked()
    shop.words(f"prefer --units {units}")
    for height in ("3/4in", "3/4", "\u00be"):
        told = shop.refused("start", "--height", height)
        assert "did you mean" not in told and "give the bit height between" in told


def test_millimetres_are_found() -> None:
    """The sweep would see what it is there for."""
    assert metric("2 mm") and metric("at 52 m/s") and metric("37/64 in - 8 thou")
    assert metric("known to +-0 in") and not metric("37/64 in (0.571)")
