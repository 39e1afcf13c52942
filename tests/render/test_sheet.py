"""`fitlog sheet`: full size means full size in every format, nothing meets or leaves the paper, a
file is whole or not.

Measured from outside: the PDF drawn to pixels by a library of its own (1 pt = 1/72 in, ISO 32000-1
8.3.2.3), the SVG as XML (1 pt = 1/72 in, CSS Values 3), the PNG by its pHYs chunk (ISO/IEC 15948,
11.3.5.3). Papers: A4 210 x 297 mm (ISO 216), Letter 8 1/2 x 11 in (ANSI/ASME Y14.1, from memory).
"""

from __future__ import annotations

import errno
import os
import struct
import sys
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pytest
from matplotlib.image import imread
from shop import Shop

MACHINE = {"height-turn": "1.6", "fence-step": "0.05", "height-zero": "0.3"}
CUTS = ("tight, gap far 0.5, proud 0.5", "slightly loose 0.4, centred, shy 0.2", "good, flush")
SIZES = {"a4": (210.0, 297.0), "letter": (8.5 * 25.4, 11 * 25.4)}
DPI = 600
INK = 128  # a pixel darker than this is ink


def tuned(shop: Shop, line: str = "--tails 7") -> Shop:
    return shop.built(_tune, line)


def _tune(shop: Shop, line: str) -> None:
    shop.started(line, machine=MACHINE)
    for cut in CUTS:
        shop.words(f"cut {cut}")


def drawn(path: Path, dpi: int = DPI) -> list[np.ndarray[Any, np.dtype[np.uint8]]]:
    """Each page of a PDF as grey pixels."""
    with pypdfium2.PdfDocument(path) as book:
        return [
            page.render(scale=dpi / 72, grayscale=True).to_numpy().squeeze().copy() for page in book
        ]


def text_of(path: Path) -> str:
    with pypdfium2.PdfDocument(path) as book:
        return "\n".join(page.get_textpage().get_text_bounded() for page in book)


def lines_across(pixels: Any, top: float, bottom: float, dpi: float = DPI) -> list[float]:
    """Middles, mm from the left, of the upright lines that cross the band from `top` to `bottom`,
    mm.
    """
    band = pixels[round(top / 25.4 * dpi) : round(bottom / 25.4 * dpi)]
    dark = np.concatenate([[False], (band < INK).mean(axis=0) > 0.35, [False]])
    starts, ends = np.flatnonzero(~dark[:-1] & dark[1:]), np.flatnonzero(dark[:-1] & ~dark[1:])
    return [float((a + b) / 2 / dpi * 25.4) for a, b in zip(starts, ends, strict=True)]


def strips_measured(
    facts: Any, pages: list[Any], dpi: float = DPI
) -> list[tuple[list[float], list[float]]]:
    """For each strip the upright lines through its tail ticks and through its pin ticks, mm from
    its left end.
    """
    found = []
    for number, _ in enumerate(facts["strips"], 1):
        both = []
        for marks in (("tail", "turned"), ("pin",)):
            tick = next(t for t in facts["ticks"] if t["strip"] == number and t["mark"] in marks)
            low, high = sorted((tick["y"], tick["y"] + (2.8 if tick["mark"] != "pin" else -2.8)))
            both.append(lines_across(pages[tick["page"] - 1], low + 0.3, high, dpi))
        left = both[1][0]  # no socket's pass lies on an edge; a slot's may, or off the board
        found.append(([x - left for x in both[0]], [x - left for x in both[1]]))
    return found


def near(places: list[float], wanted: float) -> bool:
    """Whether a line lies within 0.2 mm of where it should."""
    return any(abs(x - wanted) < 0.2 for x in places)


# --- true scale -----------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", SIZES)
def test_a_printed_page_measures_as_it_says(shop: Shop, paper: str) -> None:
    tuned(shop)
    target = shop.home / "page.pdf"
    facts = shop.json(f"sheet --paper {paper} --out {target}")
    stops = shop.json("stops")["stops"]
    assert facts["files"] == [str(target)] and facts["page_size"] == pytest.approx(SIZES[paper])
    with pypdfium2.PdfDocument(target) as book:
        assert len(book) == facts["pages"] == 1
        assert [side * 25.4 / 72 for side in book[0].get_size()] == pytest.approx(
            SIZES[paper], abs=0.01
        )
    pages = drawn(target)
    bar = facts["bars"][0]
    ends = [
        x
        for x in lines_across(pages[0], bar["y"] + 0.3, bar["y"] + 1.4)
        if bar["x"] - 1 < x < bar["x"] + 101
    ]
    assert len(ends) == 3 and ends[-1] - ends[0] == pytest.approx(100, abs=0.2)
    ((tails, pins),) = strips_measured(facts, pages)
    assert pins[-1] == pytest.approx(150, abs=0.2), "from the marked edge to the other one"
    for stop in stops:
        assert near(tails if stop["board"] == "tail" else pins, stop["from_edge"]), stop
        assert stop["edges"] != "both" or near(tails, 150 - stop["from_edge"]), "the board turned"
    assert len(pins) == 2 + sum(stop["board"] == "pin" for stop in stops), (
        "no line but the edges and the ticks"
    )


@pytest.mark.parametrize(
    ("paper", "width", "tails"),
    [pytest.param("a4", 600, 20, marks=pytest.mark.long), ("letter", 201, 8)],
)
def test_a_wider_board_is_broken_into_full_size_strips(
    shop: Shop, paper: str, width: int, tails: int
) -> None:
    shop.started(f"--width {width} --tails {tails}")
    target = shop.home / "wide.pdf"
    facts, stops = shop.json(f"sheet --paper {paper} --out {target}"), shop.json("stops")["stops"]
    room = SIZES[paper][0] - 20
    assert len(facts["strips"]) >= (width - 20) / (room - 20)
    pages = drawn(target)
    measured, seen = strips_measured(facts, pages), set()
    for (start, (tail_x, pin_x)), strip in zip(
        ((s["from"], lines) for s, lines in zip(facts["strips"], measured, strict=True)),
        facts["strips"],
        strict=True,
    ):
        for stop in stops:
            if strip["from"] <= stop["from_edge"] <= strip["to"]:
                assert near(
                    tail_x if stop["board"] == "tail" else pin_x, stop["from_edge"] - start
                ), stop
                seen.add(stop["stop"])
    assert len(seen) == len(stops)
    for one, next_ in pairwise(facts["strips"]):
        assert one["to"] - next_["from"] == pytest.approx(20)
    pairs: dict[str, list[float]] = {}
    for match in facts["matches"]:
        strip = facts["strips"][match["strip"] - 1]
        tick = next(t for t in facts["ticks"] if t["strip"] == match["strip"])
        at = match["x"] - strip["x"] + strip["from"]
        pairs.setdefault(match["match"], []).append(at)
        assert near(
            lines_across(pages[tick["page"] - 1], match["y"] + 9, match["y_end"] - 9), match["x"]
        )
    assert len(pairs) == len(facts["strips"]) - 1 and all(
        a == pytest.approx(b) for a, b in pairs.values()
    )
    assert {bar["page"] for bar in facts["bars"]} == {tick["page"] for tick in facts["ticks"]}


def test_svg_and_png_measure_alike(shop: Shop) -> None:
    tuned(shop)
    facts = shop.json(f"sheet --out {shop.home / 'page.svg'}")
    root = ElementTree.parse(shop.home / "page.svg").getroot()
    points = [float(root.attrib[side].removesuffix("pt")) for side in ("width", "height")]
    assert [n * 25.4 / 72 for n in points] == pytest.approx(SIZES["a4"])
    assert [float(n) for n in root.attrib["viewBox"].split()[2:]] == pytest.approx(
        [n / 25.4 * 72 for n in SIZES["a4"]]
    )
    at = {}
    for group in root.iter("{http://www.w3.org/2000/svg}g"):
        path = group.find("{http://www.w3.org/2000/svg}path")
        if path is not None and group.get("id", "").partition("-")[0] in ("bar", "tail", "pin"):
            assert group.get("transform") is None and group.attrib["id"] not in at
            at[group.attrib["id"]] = float(path.attrib["d"].split()[1]) * 25.4 / 72
    assert at["bar-100"] - at["bar-0"] == pytest.approx(100, abs=0.01)
    for stop in shop.json("stops")["stops"]:
        assert at[f"{stop['board']}-{stop['stop']}-1"] - at["tail-2-1"] == pytest.approx(
            stop["from_edge"] - facts["ticks"][1]["from_edge"], abs=0.01
        )
    words = " ".join(text.text or "" for text in root.iter("{http://www.w3.org/2000/svg}text"))
    assert "bit height" in words and "MARKED EDGE" in words, "text stays text"
    shop.words(f"sheet --out {shop.home / 'page.png'}")
    png = (shop.home / "page.png").read_bytes()
    pixels = struct.unpack(">II", png[16:24])
    per_metre = struct.unpack(">IIB", png[png.index(b"pHYs") + 4 :][:9])
    assert per_metre[2] == 1 and per_metre[0] == per_metre[1]
    assert [1000 * n / per_metre[0] for n in pixels] == pytest.approx(SIZES["a4"], abs=0.1)
    grey = imread(shop.home / "page.png")[..., 0] * 255
    ((tails, pins),) = strips_measured(facts, [grey], per_metre[0] * 0.0254)
    for stop in shop.json("stops")["stops"]:
        assert near(tails if stop["board"] == "tail" else pins, stop["from_edge"]), stop


# --- what it says ---------------------------------------------------------------------------------


@pytest.mark.parametrize("units", ["mm", pytest.param("inch", marks=pytest.mark.long), "fraction"])
def test_the_page_says_what_the_log_says(shop: Shop, units: str) -> None:
    tuned(shop)
    shop.words(f"prefer --units {units}")
    target = shop.home / "page.pdf"
    before = shop.everything()
    told = shop.run("sheet", "--out", str(target))
    assert shop.everything() == before and str(target) in told.err and "100 %" in told.out
    text = " ".join(text_of(target).split())
    for line in shop.words("stops").out.splitlines():
        if line.startswith("Bit height"):
            height, fence, depth = (
                part.rsplit(" ", 0)[-1] for part in line.rstrip(".").split(", ")
            )
            assert (
                height.removeprefix("Bit height ") in text
                and depth.removeprefix("socket depth ") in text
            )
            assert fence.rsplit(") ", 1)[-1] in text
    for said in (
        "READY",
        "marsh",
        "elm (invented)",
        "bench",
        "MARKED EDGE",
        "OTHER EDGE",
        "tight, gap far",
        "good, flush",
        "Print at 100 %",
        "Unplug the router",
        "Rabbet the tails",
        "pitch",
        "lap",
        "mouth",
        "half-pin",
    ):
        assert said in text, said
    assert "NOT SETTLED" not in text


def test_a_set_up_that_is_still_tuning_is_marked(shop: Shop) -> None:
    shop.started("--tails 6")
    text = shop.home / "page.pdf"
    shop.words(f"sheet --out {text}")
    assert "NOT SETTLED" in text_of(text) and "None yet" in text_of(text)
    inked = drawn(text, 100)[0]
    assert (inked[40:80, 600:] < INK).mean() > 0.2, "white on black, in the corner"


def test_black_and_white_within_the_margins(shop: Shop) -> None:
    shop.started("--width 600 --tails 20")
    target = shop.home / "page.pdf"
    shop.words(f"sheet --paper letter --out {target}")
    with pypdfium2.PdfDocument(target) as book:
        for page in book:
            pixels = page.render(scale=200 / 72).to_numpy()[..., :3].astype(int)
            assert np.ptp(pixels, axis=2).max() == 0, "every pixel is grey"
            rows, columns = np.nonzero(pixels.min(axis=2) < 250)
            edge = 10 / 25.4 * 200
            assert min(rows) >= edge and min(columns) >= edge
            assert max(rows) <= pixels.shape[0] - edge and max(columns) <= pixels.shape[1] - edge


# --- files ----------------------------------------------------------------------------------------


def test_its_name_and_what_is_there_already(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    tuned(shop)
    monkeypatch.chdir(shop.home)
    assert shop.json("sheet")["files"] == ["set-up-1.pdf"]
    first = Path("set-up-1.pdf").read_bytes()
    shop.words("cut loose")
    assert "--force" in shop.refused("sheet") and Path("set-up-1.pdf").read_bytes() == first
    shop.words("sheet --force")
    changed = Path("set-up-1.pdf").read_bytes()
    shop.words("sheet --setup 1 --force")
    assert changed != first and Path("set-up-1.pdf").read_bytes() == changed, (
        "the same log, the same bytes"
    )
    assert not list(Path().glob(".fitlog*"))


def test_any_name_is_only_text(shop: Shop) -> None:
    """Neither a formula nor a tag; letters that the type lacks are said without a warning."""
    tuned(shop)
    name = "m$x^2$<&>\u9ce9\U0001fa9a"
    shop.run("bit", "edit", "marsh", "--name", name)
    for ending in ("pdf", "svg"):
        told = shop.run("sheet", "--out", str(shop.home / f"odd.{ending}"))
        assert told.err.count("\n") == 1 and told.err.startswith("The sheet is in")
    assert "m$x^2$<&>" in text_of(shop.home / "odd.pdf")
    assert any(
        name in (e.text or "") for e in ElementTree.parse(shop.home / "odd.svg").getroot().iter()
    )


def test_pictures_of_several_pages_are_numbered(shop: Shop) -> None:
    shop.started("--width 600 --tails 20")
    named = [str(shop.home / name) for name in ("w.svg", "w-2.svg")]
    Path(named[1]).write_text("older")
    assert "w-2.svg" in shop.refused("sheet", "--out", named[0]) and not Path(named[0]).exists()
    assert shop.json(f"sheet --force --out {named[0]}")["files"] == named
    assert all(ElementTree.parse(name).getroot().tag.endswith("svg") for name in named)


@pytest.mark.parametrize("name", ["page.svg", "page.pdf", "page.png"])
def test_a_failure_leaves_what_was_there(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    def full(*_: Any, **__: Any) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    tuned(shop)
    target = shop.home / name
    target.write_bytes(b"older")
    monkeypatch.setattr("matplotlib.figure.Figure.savefig", full)
    assert "No space left" in shop.refused("sheet", "--force", "--out", str(target))
    assert target.read_bytes() == b"older" and not list(shop.home.glob(".fitlog*"))


@pytest.mark.parametrize(
    ("line", "code", "why"),
    [
        ("sheet --paper foolscap", 2, "foolscap"),
        ("sheet --out deed.doc", 1, "deed.doc"),
        ("sheet --setup 9", 1, "9"),
        ("sheet --tails 0", 1, "0 tails"),
        ("sheet --tails 90", 1, "90 tails"),
        ("sheet --out no/such/page.pdf", 1, "folder"),
        ("sheet", 1, "--tails"),
    ],
)
def test_what_cannot_be_is_one_sentence(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, line: str, code: int, why: str
) -> None:
    monkeypatch.chdir(shop.home)
    shop.started("--width 17 --yes" if line == "sheet" else "--tails 6")
    assert why in shop.refused(*line.split(), code=code)
    assert not [*Path().glob("*.pdf"), *Path().glob(".fitlog*")]


def test_without_matplotlib_it_says_how_to_get_it(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    tuned(shop)
    monkeypatch.setitem(sys.modules, "matplotlib.figure", None)
    told = shop.refused("sheet", "--out", str(shop.home / "page.pdf"))
    assert "matplotlib" in told and "[pictures]" in told and "--picture" not in told
