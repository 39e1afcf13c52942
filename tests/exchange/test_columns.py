"""A table's columns: each word heads one thing, in every family; what is shared with a setting is
told apart.

No outside source: these are promises of the tool itself.
"""

from __future__ import annotations

import pytest

from fitlog.exchange.columns import Columns
from fitlog.families.names import FAMILIES
from fitlog.families.typed import speech_of

TABLES = [Columns(speech_of(joint)) for joint in FAMILIES]


@pytest.mark.parametrize("table", TABLES, ids=list(FAMILIES))
def test_every_header_means_one_column(table: Columns) -> None:
    headers = [word for words in table.words.values() for word in words]
    assert len(headers) == len(set(headers))
    for key in table.words:
        assert table.meaning(table.head(key)) == (key, "mm" if key in table.lengths else "")


@pytest.mark.parametrize("table", TABLES, ids=list(FAMILIES))
def test_an_aspect_with_a_setting_s_name_heads_its_own_columns(table: Columns) -> None:
    """Its name alone would be either; with "word" or "size" behind it, it never is the setting."""
    for aspect in table.speech.family.aspects:
        assert table.meaning(f"{aspect} word") == (table.word(aspect), "")
        assert table.meaning(f"{aspect} size (in)") == (table.size(aspect), "in")
