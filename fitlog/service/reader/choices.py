"""Choices as they were typed: words of an option, aspects, scales."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ...domain import Aspect
from ...errors import NotUnderstood, nearest
from ...families.names import first_joint, joints, machine_parts
from ...families.typed import speech_of
from ...language.units import quoted


def one_of(word: str, known: Sequence[str], option: str) -> str:
    """Return an option's word in lower case; raise NotUnderstood for one it does not know."""
    if word.lower() in known:
        return word.lower()
    raise NotUnderstood(
        "bad-choice",
        "{option} cannot be {word!r}",
        "{advised}",
        option=option,
        word=word,
        advised=nearest(word, tuple(known)),
    )


def joint_of(text: str | None) -> str:
    """Return the joint that is named, or begins so as no other does; the one registered first where
    none is. Raises NotUnderstood.
    """
    if text is None:
        return first_joint()
    known = {_plain(name): name for name in joints()}
    shorter = [name for name in known if name.startswith(f"{_plain(text)} ")]
    if _plain(text) not in known and len(shorter) == 1:  # half-blind
        return known[shorter[0]]
    if _plain(text) not in known:
        raise NotUnderstood(
            "bad-choice",
            "no joint is called {typed}",
            "known: {known}",
            typed=quoted(text),
            known=", ".join(joints()),
        )
    return known[_plain(text)]


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").split())


def pair_of(text: str, option: str) -> tuple[str, str]:
    """Return the name and the value of a NAME=VALUE; raises NotUnderstood."""
    name, given, value = text.partition("=")
    if not given or not name.strip() or not value.strip():
        raise NotUnderstood(
            "bad-choice",
            "{option} {typed} is no name with its value",
            "write it like {option} NAME=VALUE",
            option=option,
            typed=quoted(text),
        )
    return name.strip(), value.strip()


def named(name: str, known: Iterable[str], what: str) -> str:
    """Return the one of the known names that is meant: in any case, with - for _ or blanks, as an
    option or not; raises NotUnderstood. what: they are, as "setting of the ...".
    """
    found = {_plain(one.replace("_", " ")): one for one in known}
    key = _plain(name.replace("_", " ").removeprefix("--"))
    if key not in found:
        raise NotUnderstood(
            "bad-choice",
            "{name} is no {what}",
            "known: {known}" if found else "leave it out",
            name=quoted(name),
            what=what,
            known=", ".join(found.values()),
        )
    return found[key]


def aspects_of(text: str | None, joint: str | None = None) -> tuple[Aspect, ...]:
    """Return the aspects that --only names, all of them without it; raises NotUnderstood. joint:
    whose; None: that of the family registered first.
    """
    speech = speech_of(joint or first_joint())
    known = tuple(speech.family.setting_of)
    if text is None:
        return known
    said = text.replace(",", " ").lower().split()
    words = [speech.spellings.get(word, word) for word in said]
    for word in words:
        one_of(word, known, "--only")
    if not words:
        raise NotUnderstood(
            "bad-choice",
            "--only names no aspect",
            "name some of {known}",
            known=",".join(known),
        )
    return tuple(a for a in known if a in words)


def scales_of(text: str | None) -> tuple[str, ...] | None:
    """Return the scales that --between names, none for "none"; None when it was not given. Raises
    NotUnderstood.
    """
    if text is None or text.strip().lower() == "none":
        return None if text is None else ()
    known = machine_parts()
    words = [one_of(word, known, "--between") for word in text.replace(",", " ").split()]
    if not words:
        raise NotUnderstood(
            "bad-choice",
            "--between names no scale",
            "name some of {known}, or none",
            known=",".join(known),
        )
    return tuple(part for part in known if part in words)
