"""What a key means where the dialogue stands: the next view, and the deed to do if it is one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ...domain import Family, Said
from ...families.screens import Typed, screens_of
from ...texts import tell
from .stand import Stand, takes_number

Kind = Literal[
    "cut", "word", "skip", "gap", "number", "setting", "reading", "slot", "undo", "finish", "leave"
]
Mode = Literal["", "typing", "gap", "help", "finish"]
_TYPED = 24  # characters of a number; longer ones are no length
_ENTER, _BACK, _ESC = ("\r", "\n"), ("\x7f", "\x08"), "esc"
_LEAVE = ("q", "\x04")
_YES = "y"  # another key than the one that typed what is doubted


@dataclass(frozen=True, slots=True)
class Deed:
    """What is to be done. what: the aspect, the place of a gap, the setting or the kind of reading;
    text: the word, or what was typed, and `other` the second number of a reading; meant: it was
    asked about, and confirmed as typed.
    """

    kind: Kind
    what: str = ""
    text: str = ""
    other: str = ""
    meant: bool = False


@dataclass(frozen=True, slots=True)
class View:
    """What is on the screen beside the advice; nothing of it but `stand` outlives the process.

    family: of the joint, whose names the keys are dealt to.  word: what a measured number would
    belong to.  ready: all is settled.  field: what is being typed, a setting, a kind of reading or
    "number", and `typed` so far; first: the first of two numbers.  line: a short answer to a key
    that did nothing, or a refusal. asked: what is doubted, and done when `y` confirms it; typing it
    again asks again.
    """

    family: Family
    stand: Stand
    word: Said | None = None
    ready: bool = False
    mode: Mode = ""
    field: str = ""
    typed: str = ""
    first: str = ""
    page: int = 0
    line: str = ""
    asked: Deed | None = None

    @property
    def judged(self) -> bool:
        """Whether there is a piece that can be spoken of."""
        return self.stand.piece > (1 if self.stand.at == "settings" else 0)

    @property
    def numbered(self) -> bool:
        """Whether the last word can be given a number."""
        return self.word is not None and takes_number(self.word)


Pressed = tuple[View, Deed | None]


def press(view: View, key: str) -> Pressed:
    """Return the view after a key and the deed it asks for; a key without a meaning changes only
    the bottom line.

    key: one character, "esc", or a name of more than one character for what is no answer ("arrow").
    """
    asked, view = view.asked, replace(view, line="", asked=None)
    if asked is not None and key == _YES:
        return view, replace(asked, meant=True)
    if view.mode == "typing":
        return _typing(view, key)
    if view.mode == "help":
        return replace(view, page=view.page + 1) if key == " " else _plain(view), None
    if view.mode == "gap":
        return _gap(view, key)
    if view.mode == "finish":
        return (
            (_plain(view), Deed("finish"))
            if key == "F"
            else (replace(_plain(view), line=tell("Not finished.")), None)
        )
    return _anywhere(view, key) or _here(view, key)


def gaps(family: Family) -> tuple[str, ...]:
    """Return the places of a gap that can be asked for."""
    return family.faults[:-1]


def measured_at(view: View) -> dict[str, str]:
    """Return the readings that can be typed where the dialogue stands, by their keys."""
    return {typed.key: kind for kind, typed in read_at(view.family, view.stand.at).items()}


def read_at(family: Family, at: str) -> dict[str, Typed]:
    """Return the readings that are taken at a question, or at "settings", by kind; those by which
    no aspect is read, as the sheet that goes in, with the first question.
    """
    own = screens_of(family)
    if at == "settings":
        kinds: tuple[str, ...] = (own.waste,) if own.waste else ()
    else:
        kinds = family.kind(at).read_by
        if at == family.asked[0]:
            of_one = {name for kind in family.kinds for name in kind.read_by}
            kinds += tuple(name for name in own.readings() if name not in (*of_one, own.waste))
    return {kind: typed for kind, typed in own.readings().items() if kind in kinds}


def _plain(view: View) -> View:
    return replace(view, mode="", field="", typed="", first="", page=0)


def _anywhere(view: View, key: str) -> Pressed | None:
    """The keys that mean the same on every screen."""
    if key in _LEAVE:
        return view, Deed("leave")
    if key == "?":
        return replace(view, mode="help", page=0), None
    if key == "u":
        return view, Deed("undo")
    if view.stand.at == "over" or not view.judged:
        return None
    if key == "f" and gaps(view.family):
        return replace(view, mode="gap"), None
    if key == "m":
        return _measure(view), None
    return None


def _measure(view: View) -> View:
    if view.word is None:
        return replace(view, line=tell("m adds a number to a word: say the word first."))
    if not takes_number(view.word):
        return replace(view, line=tell('"{word}" takes no number.', word=view.word.word))
    return replace(view, mode="typing", field="number")


def _here(view: View, key: str) -> Pressed:
    at = view.stand.at
    if at == "over":
        return _nothing(view, key)
    if at == "settings":
        return _settings(view, key)
    if key == "s":
        return view, Deed("skip", at)
    if (kind := measured_at(view).get(key)) is not None:
        return replace(view, mode="typing", field=kind), None
    word = _behind(view.family.words(at), key)
    return (view, Deed("word", at, word)) if word else _nothing(view, key)


def _behind(choices: Sequence[str], key: str) -> str | None:
    """Return what is behind a digit: 1 is the first."""
    place = "123456789".find(key) if len(key) == 1 else -1
    return choices[place] if 0 <= place < len(choices) else None


def _settings(view: View, key: str) -> Pressed:
    if key == " " or key in _ENTER:
        return view, Deed("cut")
    typed = {**screens_of(view.family).keys(), **measured_at(view)}
    if key in typed:
        return replace(view, mode="typing", field=typed[key]), None
    if key == "F" and view.ready:
        return replace(view, mode="finish"), None
    if key == "F":
        return replace(
            view,
            line=tell("Not ready yet. To end it all the same: q, then fitlog finish --as-it-is."),
        ), None
    return _nothing(view, key)


def _gap(view: View, key: str) -> Pressed:
    place = _behind(gaps(view.family), key)
    if place is not None:
        return _plain(view), Deed("gap", place)
    return (_plain(view), None) if key == _ESC else _nothing(view, key)


def _typing(view: View, key: str) -> Pressed:
    if key == _ESC:
        return replace(_plain(view), line=tell("Dropped.")), None
    if key in _BACK:
        return replace(view, typed=view.typed[:-1]), None
    if key in _ENTER:
        return _typed(view)
    if len(key) == 1 and key.isascii() and (key.isalnum() or key in ' ./,-"'):
        return (
            (replace(view, typed=view.typed + key), None)
            if len(view.typed) < _TYPED
            else _nothing(view, key)
        )
    return _nothing(view, key)


def _typed(view: View) -> Pressed:
    """Take what was typed. The view stays: what is refused can be mended, and the deed's own answer
    closes it.
    """
    text = view.typed.strip()
    if not text:
        return replace(_plain(view), line=tell("Dropped.")), None
    if view.field == "number":
        return view, Deed("number", "", text)
    if view.field in view.family.place:
        return view, Deed("setting", view.field, text)
    if view.family.readings[view.field] and not view.first:
        return replace(view, first=text, typed=""), None
    kind: Kind = "slot" if view.stand.at == "settings" else "reading"
    first, other = (view.first, text) if view.first else (text, "")
    return view, Deed(kind, view.field, first, other)


def _nothing(view: View, key: str) -> Pressed:
    shown = key if len(key) == 1 and key.isprintable() and key.isascii() else tell("That key")
    return replace(
        view, line=tell("{shown} means nothing here; the keys are below.", shown=shown)
    ), None
