"""A groove in one pass of a bit as wide: its fence tunes the faces, the tongue the fit. No outside
source: these are promises of the tool itself; the shop is invented. The geometry is drawn in
`test_flip_oracle`.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from at_work import document, start, stocked
from flips_at_work import tongue
from shop import Shop, by_code, sentence

from fitlog.domain import Settings
from fitlog.families import joint_of, word_sets

ONCE = ("--given", "passes=one")


def once(at: Mapping[str, float]) -> str:
    """What an honest person says of boards grooved in one pass by a fence that is 0.4 mm off."""
    plan = tongue(passes="one")
    joint, settings = joint_of(plan), Settings.named(plan.family, at)
    fit, faces = (joint.nominal(a, settings, plan.figures()) for a in ("fit", "faces"))
    fit, faces = fit + 0.1, faces + 0.4
    words = [plan.family.words("fit")[sum(fit > e for e in word_sets(plan.joint, "fit")[""])]]
    level = abs(faces) <= 0.08
    words.append("flush" if level else f"{'proud' if faces > 0 else 'shy'} {abs(faces):.2f}")
    return ", ".join([*words, "closed"])


def test_the_fence_of_a_groove_in_one_pass_tunes_the_faces(shop: Shop) -> None:
    stocked(shop, "tongue-groove")
    told = [document(shop, *start("tongue-groove"), *ONCE)]
    assert told[0]["in_play"] == ["fit", "faces", "shoulder"]
    assert told[0]["settings"]["groove_fence"] == pytest.approx(9.0)  # the middle of 18 mm
    while told[-1]["status"] == "tuning" and len(told) < 15:
        told.append(document(shop, "cut", *once(told[-1]["settings"]).split(" ")))
    assert told[-1]["status"] == "ready"
    assert told[1]["moves"]["groove_fence"] == pytest.approx(0.4, abs=0.05)
    assert "fresh-groove" in by_code(told[1]["notices"])
    assert not {"near-side", "faces-by-thickness"} & {
        c for t in told for c in by_code(t["notices"])
    }
    whole = " ".join(shop.words("stops").out.split())
    assert "one pass each" in whole and "climb cut" not in whole.replace("never a climb cut", "")
    shop.words("finish")
    later = document(shop, *start("tongue-groove"), *ONCE)
    assert later["settings"]["groove_fence"] == pytest.approx(9.4, abs=0.06)


def test_a_groove_in_one_pass_is_cut_on_either_side_of_the_middle(shop: Shop) -> None:
    """No pass of it is a climb cut; from both faces nothing tunes the faces."""
    stocked(shop, "tongue-groove").run(*start("tongue-groove"), *ONCE)
    shop.run("cut", "good,", "shy", "0.3", "--set", "groove_fence=8.7")
    again = document(shop, "cut", "good,", "flush", "--same-end")
    assert again["last"]["settings"]["groove_fence"] < 8.7
    text = " ".join(shop.words("why").out.split())
    assert "one pass, never turned" in text and "turn the other face" not in text
    shop.words("finish --as-it-is")
    error = shop.run(*start("tongue-groove"), "--only", "faces", code=1).err
    sentence(error)
    assert "nothing is left to tune" in error and "fit or shoulder" in error
