"""The templates say nothing that could not be told in another language, and give each text its
values.
"""

from __future__ import annotations

import re
from pathlib import Path
from string import Formatter

import pytest
from jinja2 import Environment, nodes
from shop import ROOT

TEMPLATES = sorted((ROOT / "fitlog/fronts/page/templates").glob("*.html"))
NAME = "fitlog"  # the same in every language


def named(path: Path) -> str:
    return path.name


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_every_text_has_its_values(path: Path) -> None:
    tree = Environment().parse(path.read_text(encoding="utf-8"))
    for call in tree.find_all(nodes.Call):
        if not (isinstance(call.node, nodes.Name) and call.node.name == "tell"):
            continue
        given = {keyword.key for keyword in call.kwargs}
        if isinstance(call.args[0], nodes.Const):
            holes = {hole for _, hole, _, _ in Formatter().parse(call.args[0].value) if hole}
            assert holes == given, f"line {call.lineno}"


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_no_word_stands_outside_a_text(path: Path) -> None:
    tree = Environment().parse(path.read_text(encoding="utf-8"))
    data = "\0".join(one.data for one in tree.find_all(nodes.TemplateData))
    bare = re.sub(r"<[^>]*>|&\w+;", "", data).replace(NAME, "")
    assert not re.search(r"[A-Za-z]{2,}", bare), bare


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_nothing_runs_or_looks_otherwise_inside_a_page(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"<style|style=|\son\w+=|javascript:|<script(?! src=)|https?://", text)
    assert "|safe" not in text.replace(" ", "")
