"""The sliding dovetail by its names: what is set, what is judged and in which words, what is
measured.
"""

from __future__ import annotations

from dataclasses import replace

from ...domain.family import Family, SettingKind
from ...domain.said import AspectKind
from ...domain.settings import Settings

HEIGHT, TONGUE, EXPOSURE = "socket_height", "tongue_height", "exposure"
FIT, SHOULDER = "fit", "shoulder"
LONG, LONGEST = "long slide", "longest slide"  # other sets of edges between the words of the fit

SLIDING = Family(
    "sliding",
    (
        SettingKind(
            HEIGHT,
            "the socket height",
            "height",
            ("up", "down"),
            positive=True,
            from_below=True,
            with_figures={"socket": 1.0},
            scraps="the sockets",
        ),
        # The tongue's end is planed: it only gets shorter. Its stage is the exposure's, since a
        # tongue that is still too thick goes in nowhere and shows no shoulder.
        SettingKind(
            TONGUE,
            "the tongue height",
            "tongue",
            ("longer", "shorter"),
            positive=True,
            stage=1,
            free="-",
        ),
        SettingKind(
            EXPOSURE,
            "the exposure",
            "exposure",
            ("more", "less"),
            positive=True,
            with_figures={"thickness": 0.5},
            stage=1,
            free="+",
        ),
    ),
    (
        AspectKind(
            FIT,
            (
                "very tight",
                "tight",
                "slightly tight",
                "good",
                "slightly loose",
                "loose",
                "very loose",
            ),
            "good",
            EXPOSURE,
            0,
            tried=True,
            driver=SHOULDER,
            unread=("very tight", "tight"),
            read_by=("pull_gap", "play"),
            scaled=True,
        ),
        AspectKind(
            SHOULDER,
            ("closed", "slightly open", "open", "very open"),
            "closed",
            TONGUE,
            1,
            unread=("closed",),
        ),
    ),
    readings={
        "pull_gap": "",
        "play": "",
        "mouth": "",
        "between_rods": "rod",
        "over_rods": "rod",
        "wide_end": "",
    },
    fixed=("board_width", "one_face", "socket_height"),
    spoken="sliding dovetail",
)
# With one face cut, the exposure follows the shelf's thickness by all of it.
ONE_FACE = replace(
    SLIDING,
    settings=(*SLIDING.settings[:2], replace(SLIDING.settings[2], with_figures={"thickness": 1.0})),
)
WORDS = {kind.name: kind.words for kind in SLIDING.kinds}


def set_to(socket_height: float, tongue_height: float, exposure: float) -> Settings:
    """Return settings of the sliding dovetail, mm."""
    return Settings(SLIDING, (socket_height, tongue_height, exposure))
