"""How many pieces are still to be cut: a number while it is one to go by."""

from __future__ import annotations

import pytest
from paging import paged
from shop import Shop

from fitlog.families.example import example_of
from fitlog.render.answer import MOST_TOLD


@pytest.mark.parametrize("coarse", [False, True])
def test_a_number_of_pieces_that_nobody_could_go_by_is_not_told(shop: Shop, coarse: bool) -> None:
    for command in example_of("tenon").BEFORE[:2]:
        shop.run(*command)
    step = "1/64in" if coarse else "0.05"
    shop.words(f"machine add other --height-step {step} --fence-step {step}")
    shop.run(*example_of("tenon").EXAMPLE, "--machine", "other")
    reckoned = shop.json("next")["pieces_left"]
    assert (round(reckoned) > MOST_TOLD) == coarse
    with paged(shop.db) as page:
        now = page.get("/s/1/now").text
    for told in (shop.words("next").out, now):
        assert ("Several more." in told) == coarse and ("About four more." in told) != coarse
    for told in (shop.words("why").out, now):
        assert ("several pieces." in told) == coarse
        assert (f"about {reckoned:.1f} pieces." in " ".join(told.split())) != coarse
