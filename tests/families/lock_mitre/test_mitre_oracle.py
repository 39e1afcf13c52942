"""Lock mitres drawn as polygons against the closed forms: 50 random cases each, with fixed seeds,
to 1e-6 mm; and the signs of what is measured by finite differences, on both branches of the corner.
"""

from __future__ import annotations

import random

import pytest

pytest.importorskip("shapely")
from mitres import flat, home, left_blunt, tongue, upright

from fitlog.families.lock_mitre import geometry as g

CASES = range(50)
SAME = 1e-6  # mm


def sizes(seed: int, *, equal: bool = True) -> tuple[float, float, float, float]:
    """Random x, z, flat and upright thickness, off by up to a millimetre each."""
    r = random.Random(seed)
    thick = r.uniform(12, 28)
    other = thick if equal else thick + r.uniform(-1.5, 1.5)
    return other / 2 + r.uniform(-1, 1), thick / 2 + r.uniform(-1, 1), thick, other


def measured(seed: int, x: float, z: float, thick: float, other: float) -> dict[str, float]:
    """What a straightedge shows of the drawn parts, and what is left of the flat's end."""
    shape = tongue(seed, 12.0)
    lies, stands = flat(shape, x, z, thick), upright(shape, x, z, other)
    turned, met, corner = home(lies, lies), home(stands, stands), home(lies, stands)
    return {
        "flats": turned.bounds[3] - lies.bounds[3],
        # The outside of an upright is away from the fence; turned it is at the low end of x.
        "uprights": met.bounds[2] - stands.bounds[2],
        "flat over": corner.bounds[0] - lies.bounds[0],
        "upright over": corner.bounds[3] - lies.bounds[3],
        "short": lies.bounds[0],
        "blunt": left_blunt(lies),
    }


@pytest.mark.parametrize("seed", CASES)
@pytest.mark.parametrize("equal", [True, False])
def test_the_closed_forms_are_what_is_measured(seed: int, equal: bool) -> None:
    x, z, thick, other = sizes(seed, equal=equal)
    found = measured(seed, x, z, thick, other)
    edge = g.edge(x, z, thick)
    assert found == pytest.approx(
        {
            "flats": g.flats(z, thick),
            "uprights": g.uprights(x, other),
            "flat over": g.flat_over(x, z, thick, other),
            "upright over": g.upright_over(x, z, thick, other),
            "short": max(0.0, edge),
            "blunt": max(0.0, -edge),
        },
        abs=SAME,
    )


def test_both_branches_are_among_the_cases() -> None:
    edges = [g.sharp(*sizes(seed)[:3]) for seed in CASES]
    assert 15 < sum(edges) < 35


@pytest.mark.parametrize("seed", CASES)
def test_a_corner_and_two_flats_tell_two_uprights(seed: int) -> None:
    x, z, thick, other = sizes(seed)
    found = measured(seed, x, z, thick, other)
    told = g.fence_from_corner(found["flat over"], found["flats"])
    assert told == pytest.approx(found["uprights"], abs=SAME)


# d(flats, uprights, flat over, upright over), sharp and blunt, by the reference for families,
# section 7.
BY = {
    "z": ((2, 0, -1, 1), (2, 0, 0, 2)),
    "x": ((0, 2, 1, -1), (0, 2, 2, 0)),
    "T": ((-1, -1, 0, 0), (-1, -1, -1, -1)),
}


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("what", BY)
def test_signs_by_finite_differences(seed: int, what: str) -> None:
    x, z, thick, _ = sizes(seed)
    step = 1e-4
    edge = g.edge(x, z, thick)
    assert abs(edge) > 2 * step  # not across the branch
    by = {"x": 0.0, "z": 0.0, "T": 0.0, what: step}

    def at(sign: int) -> list[float]:
        found = measured(
            seed, x + sign * by["x"], z + sign * by["z"], *(thick + sign * by["T"],) * 2
        )
        return [found[name] for name in ("flats", "uprights", "flat over", "upright over")]

    slopes = [(a - b) / (2 * step) for a, b in zip(at(1), at(-1), strict=True)]
    assert slopes == pytest.approx(BY[what][0 if edge >= 0 else 1], abs=1e-5)
