"""The sentences and names of a rabbet, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue
from ...sheets import english as shared
from ...sheets.english import learnt, thickness


def exposure_from(t: Tongue, *, sheet: float, sold: bool, taught: int, sd: float) -> str:
    """The first exposure."""
    return (
        f"Exposure: {thickness(t, sheet, sold=sold)} as the mate{learnt(taught)}; the step of the "
        f"faces is known to +-{t.ruler.doubt(sd)}, so it begins on the narrow side: a mate that "
        "stands proud is passed again."
    )


def bearing_from(t: Tongue, *, bearing: float) -> str:
    """The exposure for a back."""
    return f"Exposure: the {t.size(bearing)} that the back is to bear on."


def back_from(t: Tongue, *, sheet: float, sold: bool, taught: int, sd: float) -> str:
    """The first height for a back."""
    return (
        f"Height: {thickness(t, sheet, sold=sold)} as the back{learnt(taught)}, known to "
        f"+-{t.ruler.doubt(sd)}; a trifle more is wanted, so that the back never stands proud."
    )


def scraps(t: Tongue, *, thick: float, long: float) -> str:
    """What a trial is cut in. long: mm."""
    return (
        f"A scrap of the real side, {t.size(thick)} thick, {t.size(long)} or longer; an offcut of "
        "what goes into the rabbet, at its thickest."
    )


def cut(t: Tongue, *, exposure: float, height: float) -> str:
    """The passes."""
    return (
        f"A light pass first, then {t.length(exposure)} of the bit out of the fence and "
        f"{t.length(height)} high, past a push block, a backing board behind end grain."
    )


def cut_short(t: Tongue, *, exposure: float, height: float) -> str:
    """The passes."""
    return f"A light pass, then {t.length(exposure)} out of the fence, {t.length(height)} high."


def sides(t: Tongue, *, exposure: float, height: float) -> str:
    """All sides."""
    return (
        f"All sides a light pass first, then {t.length(exposure)} of the bit out of the fence and "
        f"{t.length(height)} high; across the grain before along it, the same face to the table."
    )


def back_size(t: Tongue, *, bearing: float) -> str:
    """How large a back is."""
    return (
        f"A back is larger than the inside of the case by twice {t.size(bearing)}, less a trifle: "
        "cut it to the case as it stands."
    )


def recovered_from(t: Tongue, *, play: float | None, setup: int | None, sheet: float) -> str:
    """What a recovered exposure comes from. play: how far the kept mate stood proud, mm."""
    if play is None:
        return f"As the good rabbet of set-up {setup} was cut, for today's mate of {t.size(sheet)}."
    how = "proud" if play >= 0 else "shy"
    return (
        f"The kept mate stands {t.length(abs(play))} {how} of its rabbet: that is aimed at, for "
        f"today's of {t.size(sheet)}."
    )


def mate(t: Tongue) -> str:
    """How a mate is tried in its rabbet."""
    return (
        "Hold the mate in and lay a straightedge over the faces: say how it stands over the side's "
        f"end, and how deep the rabbet is ({t.act('read', typed='cut_depth=L')}). A mate that "
        "stands proud is passed again on the same edge."
    )


_BACK = "Lay the back in, a straightedge over the edge: say whether it lies shy (deep) or proud."
SENTENCES: dict[str, Sentence] = {
    **shared.SENTENCES,
    "exposure-from": exposure_from,
    "bearing-from": bearing_from,
    "back-from": back_from,
    "rabbet-scraps": scraps,
    "rabbet-cut": cut,
    "rabbet-mate": mate,
    "rabbet-back": same(_BACK),
    "sides-rabbet": sides,
    "back-size": back_size,
    "width-recovered": recovered_from,
    "recovered-check": same("Cut one end in scrap first and hold today's mate in."),
    "mates-sorted": same(
        "Sort the mates: the thickest goes where the rabbet is cut last, which may be passed again."
    ),
    "bit-in-fence": same(
        "The bit stands in the fence, whose faces close up to it; the work bears on fence and "
        "table all the way, with featherboards, and is never between bit and fence."
    ),
}
SHORT: dict[str, Sentence | None] = {
    **shared.SHORT,
    "rabbet-scraps": None,
    "rabbet-cut": cut_short,
    "rabbet-mate": same("Hold the mate in: its step over the end, and the depth."),
    "rabbet-back": same("Lay the back in: deep (it lies shy) or shallow (proud)?"),
}
NAMES = {
    **shared.NAMES,
    "face head": "Face",
    "face setting": "exposure",
    "face misfit": "step, mate proud above zero",
    "face figures": "sure enough at this exposure",
    "face figures before": "by the exposure as measured",
    "face goes": "the rabbet gets {way}",
    "face stays": "the exposure stays",
    "face zero of": "exposure",
    "face to measure": "how far the bit really stands out of the fence",
}
