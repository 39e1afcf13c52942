"""`fitlog sheet --label`: true size in every format, all that finds a sample again, nothing cut
off, never too small to read.

Measured from outside: the PDF's page in points (1 pt = 1/72 in, ISO 32000-1 8.3.2.3), the SVG as
XML, the PNG by its pHYs chunk (ISO/IEC 15948, 11.3.5.3).
"""

from __future__ import annotations

import re
import struct
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pypdfium2
import pytest
from papers import NAMES, boxes, drawn_job
from shop import Shop

from fitlog.errors import Refused
from fitlog.language.units import Ruler
from fitlog.render.sheet import draw
from fitlog.render.sheet.label import label
from fitlog.render.sheet.paper import LEAST, Page, Words

MACHINE = {"height-turn": "1.6", "fence-step": "0.05", "height-zero": "0.3"}
SIZES = ((62.0, 29.0), (57.15, 31.75), (90.0, 29.0), (38.0, 90.0), (100.0, 150.0))


def tuned(shop: Shop) -> Shop:
    return shop.built(_tune)


def _tune(shop: Shop) -> None:
    shop.started("--tails 6", machine=MACHINE)
    shop.words("cut tight, gap far 0.5, proud 0.5")
    shop.words("cut slightly loose 0.4, centred, shy 0.2")
    shop.words("cut good, flush")


def text_of(path: Path) -> str:
    with pypdfium2.PdfDocument(path) as book:
        assert len(book) == 1
        return " ".join(book[0].get_textpage().get_text_bounded().split())


@pytest.mark.parametrize(
    ("units", "typed", "size"),
    [
        ("mm", "62 29", (62.0, 29.0)),
        ("fraction", "2 1/4in 1 1/4in", (57.15, 31.75)),
        ("inch", "2.25 1.25", (57.15, 31.75)),
        ("fraction", "62mm 29mm", (62.0, 29.0)),
    ],
)
def test_a_label_is_as_large_as_it_was_asked(
    shop: Shop, units: str, typed: str, size: tuple[float, float]
) -> None:
    tuned(shop)
    shop.words(f"prefer --units {units}")
    made = shop.home / "label.pdf"
    before = shop.everything()
    facts = shop.json(f"sheet --label {typed} --out {made}")
    assert shop.everything() == before, "the log is only read"
    assert facts["page_size"] == pytest.approx(size) and facts["files"] == [str(made)]
    assert facts["type"] >= 6 and facts["standing"] == "ready"
    with pypdfium2.PdfDocument(made) as book:
        assert [n * 25.4 / 72 for n in book[0].get_size()] == pytest.approx(size, abs=0.02)
    shop.words(f"sheet --label {typed} --out {shop.home / 'label.svg'}")
    root = ElementTree.parse(shop.home / "label.svg").getroot()
    points = [float(root.attrib[side].removesuffix("pt")) for side in ("width", "height")]
    assert [n * 25.4 / 72 for n in points] == pytest.approx(size, abs=0.01)
    shop.words(f"sheet --label {typed} --out {shop.home / 'label.png'}")
    png = (shop.home / "label.png").read_bytes()
    dots = struct.unpack(">II", png[16:24])
    per_metre = struct.unpack(">IIB", png[png.index(b"pHYs") + 4 :][:9])[0]
    assert [1000 * n / per_metre for n in dots] == pytest.approx(size, abs=0.1)


def test_it_says_what_finds_a_sample_again(shop: Shop) -> None:
    tuned(shop)
    made = shop.home / "label.pdf"
    told = shop.run("sheet", "--label", "62", "29", "--out", str(made))
    assert "100 %" in told.out and str(made) in told.err
    text = text_of(made)
    at = shop.json("next")["settings"]
    for said in (
        *("Set-up 1", "READY", "half-blind dovetail", "marsh, 13.1 mm, 9 deg", "elm", "good"),
        f"height {at['bit_height']:.2f} mm on the scale, {at['bit_height'] - 0.3:.2f} mm true",
        *(f"fence {at['fence_offset']:.2f} mm", f"depth {at['socket_depth']:.2f} mm"),
        f"pitch {shop.json('next')['fixed']['pitch']:.2f} mm",
        shop.json("review")["setups"][0]["started"][:10],
    ):
        assert said in text, (said, text)


def test_a_set_up_that_is_tuning_is_not_called_ready(shop: Shop) -> None:
    shop.started("--tails 6")
    shop.words(f"sheet --label 62 29 --out {shop.home / 'label.pdf'}")
    text = text_of(shop.home / "label.pdf")
    assert "NOT SETTLED" in text and "READY" not in text


def test_boards_too_narrow_for_a_layout_have_a_label_all_the_same(shop: Shop) -> None:
    shop.started("--width 17 --yes")
    assert "--tails" in shop.refused("sheet", "--out", str(shop.home / "sheet.pdf"))
    assert shop.json(f"sheet --label 62 29 --out {shop.home / 'label.pdf'}")["setup"] == 1


def check(page: Page, size: tuple[float, float]) -> float:
    """All texts inside the label and none on another; the size of its type."""
    with draw.set_up():
        found = boxes(page)
    assert (page.width, page.height) == size and found
    for text, (left, low, right, top) in found:
        assert min(left, low, size[0] - right, size[1] - top) >= 1.0, text
    for (one, a), (other, b) in combinations(found, 2):
        over = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
        assert min(over) < 0.15, (one, other, over)
    (points,) = {mark.size for mark in page.marks if isinstance(mark, Words)}
    return points


@pytest.mark.parametrize("seed", range(len(NAMES)))
def test_nothing_is_cut_off_whatever_it_is_of(seed: int) -> None:
    """Seeded names, units and settings: it is whole and legible, or refused with a size that is
    taken.
    """
    job, _, ruler = drawn_job(seed)
    refused = 0
    for wide, high in SIZES:
        with draw.set_up():
            try:
                page = label(job, wide, high, ruler, draw.measure, NAMES[seed])
            except Refused as error:
                assert error.code == "label-too-small"
                refused += 1
                high = float(error.values["least"])  # type: ignore[arg-type]
                page = label(job, wide, high, ruler, draw.measure, NAMES[seed])
        assert check(page, (wide, high)) >= LEAST
        texts = " ".join(m.text for m in page.marks if isinstance(m, Words))
        assert f"Set-up {job.setup.number}" in texts
    assert refused < len(SIZES), "the largest holds everything"


def test_a_larger_label_has_no_smaller_type() -> None:
    job, _, _ = drawn_job(1)
    sizes = []
    for times in (1.0, 1.2, 1.5, 2.0, 4.0):
        with draw.set_up():
            page = label(replace(job), 62.0 * times, 40.0 * times, Ruler("fraction"), draw.measure)
        sizes.append(check(page, (62.0 * times, 40.0 * times)))
    assert sizes == sorted(sizes) and sizes[0] < sizes[-1] <= 14


@pytest.mark.parametrize(
    ("typed", "code", "why"),
    [
        ("20 10", 1, "mm high or more"),
        ("5 29", 1, "label's width"),
        ("620 290", 1, "62 mm"),
        ("62 2900", 1, "label's height"),
        ("62 x", 2, "label's height"),
        ("62 29 --mouth 9.1", 2, "--mouth"),
        ("62 29 --tails 5", 2, "--tails"),
        ("62 29 --paper letter", 2, "--paper"),
    ],
)
def test_what_cannot_be_is_one_sentence(shop: Shop, typed: str, code: int, why: str) -> None:
    tuned(shop)
    made = shop.home / "label.pdf"
    assert why in shop.refused("sheet", "--out", str(made), "--label", *typed.split(), code=code)
    assert not made.exists()


def test_in_fractions_a_label_is_asked_for_in_eighths(shop: Shop) -> None:
    tuned(shop)
    shop.words("prefer --units fraction")
    made = shop.home / "label.pdf"
    told = shop.refused("sheet", "--label", "1in", "1/2in", "--out", str(made))
    found = re.search(r"take one ((?:\d+ )?\d+(?:/[248])? in) high or more", told)
    assert found and not made.exists(), told
    assert shop.json(f"sheet --label 1in {found[1].replace(' in', 'in')} --out {made}")["type"] >= 6


def test_its_name_and_what_is_there_already(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    tuned(shop)
    monkeypatch.chdir(shop.home)
    assert shop.json("sheet --label 62 29")["files"] == ["set-up-1-label.pdf"]
    first = Path("set-up-1-label.pdf").read_bytes()
    assert "--force" in shop.refused("sheet", "--label", "62", "29")
    shop.words("sheet --label 62 29 --force")
    assert Path("set-up-1-label.pdf").read_bytes() == first and not Path("set-up-1.pdf").exists()
