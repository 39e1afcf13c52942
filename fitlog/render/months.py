"""Pieces per set-up month by month, as a table with bars of characters."""

from __future__ import annotations

from collections.abc import Mapping

from ..advice.months import Months, Split, Taken, month_text
from ..language.units import counted
from ..texts import tell
from .blocks import bar, has_blocks
from .screen import Screen, plain

_PIPE_WIDTH, _WIDEST = 80, 120
_LONG_GAP = 4  # empty months in a row that are told in one line
_MONTH, _COUNT, _MEAN, _SHARE, _PART = 7, 8, 6, 7, 12  # widths of the columns


def months(
    screen: Screen, found: Months, asked: Mapping[str, str], uncounted: Mapping[str, int]
) -> None:
    """Print what finished set-ups took. asked: what it was narrowed to; uncounted: what is not
    counted, by name.
    """
    screen.line()
    screen.head(title(asked))
    screen.line()
    width = min(screen.width, _WIDEST) if screen.terminal else _PIPE_WIDTH
    for text in lines(found, width, blocks=screen.terminal and has_blocks(screen)):
        print(plain(text), file=screen.stream)
    screen.line()
    for text in totals(found):
        screen.line(text, indent="  ")
    screen.line(explained(uncounted))


def title(asked: Mapping[str, str]) -> str:
    """Say what is shown."""
    narrowed = ", ".join(f"{what} {name}" for what, name in asked.items())
    return tell("Test pieces per finished set-up, month by month") + (
        f" ({narrowed})" if narrowed else ""
    )


def totals(found: Months) -> list[str]:
    """Say what all months took together, the first set-ups with a bit and its boards apart from
    repeats.
    """
    parts = (
        (tell("All"), found.total.every),
        (tell("First with a bit and its boards"), found.total.first),
        (tell("Repeats"), found.total.later),
    )
    both = found.total.first.setups and found.total.later.setups
    return [f"{name}: {_told(taken)}." for name, taken in (parts if both else parts[:1])]


def _told(taken: Taken) -> str:
    return tell(
        "{mean:.2f} pieces, {share:.0%} good at the first piece (of {setups})",
        mean=taken.mean,
        share=taken.share,
        setups=counted(taken.setups, "set-up"),
    )


def explained(uncounted: Mapping[str, int]) -> str:
    """Say how it was counted."""
    left_out = [f"{count} {name}" for name, count in uncounted.items() if count]
    tail = tell(" Not counted: {left_out}.", left_out=", ".join(left_out)) if left_out else ""
    return tell(
        "A set-up counts in the month it was finished in (UTC). A mean of few set-ups is a "
        "rough one.{tail}",
        tail=tail,
    )


def lines(found: Months, width: int, *, blocks: bool) -> list[str]:
    """Return a line a month, none longer than `width` - 1 characters (39 at least); ASCII without
    `blocks`.
    """
    fixed = _MONTH + _COUNT + _MEAN + _SHARE + 2
    parts = width - 1 - fixed - 2 * _PART >= 16
    room = min(48, width - 1 - fixed - (2 * _PART if parts else 0))
    head = f"{tell('month'):<{_MONTH}}{tell('set-ups'):>{_COUNT}}{tell('mean'):>{_MEAN}}"
    head += f"{tell('at once'):>{_SHARE + 1}}"
    if parts:
        head += f"{tell('first'):>{_PART}}{tell('repeats'):>{_PART}}"
    top = max((split.every.mean or 0.0 for _, split in found.rows), default=0.0)
    out, empty = [head], list[str]()
    for when, split in found.rows:
        if not split.every.setups:
            empty.append(f"{month_text(when):<{_MONTH}}{'-':>{_COUNT}}")
            continue
        out += (
            empty
            if len(empty) < _LONG_GAP
            else [f"{'...':<{_MONTH}}{'-':>{_COUNT}}  {tell('for {n} months', n=len(empty))}"]
        )
        empty = []
        out.append(
            _line(
                month_text(when), split, parts, bar((split.every.mean or 0.0) / top * room, blocks)
            )
        )
    return out


def _line(month: str, split: Split, parts: bool, drawn: str) -> str:
    every = split.every
    counts = f"{every.setups:>{_COUNT}}{every.mean:>{_MEAN}.2f}{every.share:>{_SHARE + 1}.0%}"
    text = f"{month:<{_MONTH}}{counts}"
    if parts:
        text += f"{_of(split.first):>{_PART}}{_of(split.later):>{_PART}}"
    return f"{text} {drawn}".rstrip()


def _of(taken: Taken) -> str:
    return (
        tell("{mean:.2f} of {setups}", mean=taken.mean, setups=taken.setups)
        if taken.setups
        else "-"
    )
