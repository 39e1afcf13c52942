"""The table of errors that `fitlog errors` shows, read from the source:
python tests/support/errortable.py [--write]

Every `Refused` and `NotUnderstood` of the package is found in its syntax tree: its
code, its exit code, what it says and what it advises. What is filled in at run time stands as FILE,
N or "..."; where that does not read well, WORDS has better ones. `test_error_table` keeps file
and source together.
"""

from __future__ import annotations

import ast
import json
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from shop import ROOT

from fitlog import errors

PACKAGE, DATA = ROOT / "fitlog", ROOT / "data" / "errors.json"
EXITS = {
    "Refused": errors.REFUSED,
    "NotUnderstood": errors.NOT_UNDERSTOOD,
}
MADE = {
    "no-{kind}": ("no-bit", "no-stock")
}  # codes with a part filled in, and what it is filled with
HOLES = {
    "path": "FILE",
    "file": "FILE",
    "folder": "FILE",
    "target": "FILE",
    "copy": "FILE",
    "name": "NAME",
    "where": "LOG",
    "number": "N",
    "setup": "N",
    "entry": "N",
    "piece": "N",
    "log": "LOG",
}
GROUPS = {  # by the parts that raise them, the longest name that matches
    "What you typed": (
        "language",
        *("fronts.cli.cut", "fronts.cli.check", "fronts.cli.joined"),
        "service.reader",
        "fronts.cli.shell",
        "fronts.cli.errors",
        "fronts.cli.bench",
        "fronts.bench.keys",
        "families.half_blind.faults",
        "domain.said",
        *("domain.cuts", "domain.notes"),
        "domain.checks",
        "domain.notes",
        "fronts.cli.progress",
        "fronts.cli.rehearse",
        "service.slips",
        "families.half_blind.doubts",
        "families.half_blind.speech",
        "service.odd_sizes",
        "service.firstly",
        "service.edits",
        "simulation",
    ),
    "Bits, stocks and machines": (
        "domain.shop",
        "domain.packs",
        "domain.machines",
        "domain.adjusters",
        "log.shelf",
        "log.catalogue",
        "service.session",
        "service.catalogue",
    ),
    "Boards, heights and layouts": (
        "families.half_blind.possible",
        "service.boards",
        "service.recovery",
        "families.half_blind.layouts",
        "families",
        "domain.setups",
        "domain.window",
        "domain.family",
        "advice.plain",
    ),
    "Set-ups and their cuts": (
        *("service.bench", "service.run"),
        "service.told",
        "service.possible",
        "service.undoing",
        "service.home",
        "service.cuts",
        "service.cut_rows",
        "service.again",
        "service.ending",
        "service.held",
        "service.noting",
        "domain.cuts",
        "service.reader.start",
        "log.entries",
        "log.log",
        "log.once",
        "log.undoing",
        "log.found",
        "fronts.bench.table",
        "fronts.cli.found",
    ),
    "The log": ("log", "fronts.cli.log", "fronts.cli.demo"),
    "A log on a server": ("log.postgres", "log.care.roles"),
    "Into and out of the log": (
        *("exchange", "fronts.cli.exchange", "service.exchange"),
        *("service.reader.rows", "service.reader.table"),
    ),
    "Files written": ("render", "newfile", "fronts.cli.sheet", "service.sheets"),
    "The page": ("fronts.page", "fronts.cli.page"),
}


MOVED = {
    "unwritable-file": "Files written",
    "file-exists": "Files written",
    "is-a-log": "Files written",
    "nothing-to-draw": "Files written",
    "log-gone": "The log",
    "log-unreachable": "The log",
    "bad-slot": "Set-ups and their cuts",
    "bad-lines": "Into and out of the log",
    "nothing-to-change": "What you typed",
    "bad-angle": "Bits, stocks and machines",
}
WORDS = {  # when, what to do: where the sentence of the source is mostly filled in at run time
    "absurd-size": (
        "a size that nothing of the trade has: a 500 mm board thickness",
        "check the unit: 12.7, 12.7mm, 1/2in",
    ),
    "absurd-value": (
        "a moisture, temperature or humidity that cannot be",
        "check the unit: 9%, 21C, 70F",
    ),
    "bad-choice": (
        "an option got a word it does not know, or two options exclude each other",
        "take one of those it names",
    ),
    "no-place": ('"shaved" does not say which side', "say shaved far or shaved near"),
    "bad-slot": (
        "a slot in waste is measured, not judged",
        "say how wide it is: fitlog cut --slot --mouth WIDTH",
    ),
    "other-joint": (
        "a set-up is of another joint than is asked for",
        "name one of that joint with --setup N",
    ),
    "bad-set": (
        "thicknesses to be stacked that cannot be read, or that make too many stacks",
        "name each with its thickness and how many there are: paper 0.1 x4",
    ),
    "already-ended": (
        "the set-up is finished or abandoned",
        "take that back with fitlog undo, or start another",
    ),
    "bad-aspect": ("no aspect is left to tune", "name fit, centre or seat"),
    "bad-degree": (
        "slightly and very at once, or beside a word that takes neither",
        "say only one of them",
    ),
    "bad-number": ("a piece without a whole number", "write a whole number from 1 on"),
    "bad-path": (
        "a path that names no file: empty, a folder, a device, a link that leads nowhere",
        "name a file",
    ),
    "bad-url": ("the URL of a log cannot be read", "write postgresql+psycopg://USER@HOST/DATABASE"),
    "broken-export": (
        "an export that is cut off or changed",
        "give a file that fitlog log export wrote, whole",
    ),
    "known-key": (
        "the `--key` is that of another deed",
        "give each deed a key of its own",
    ),
    "bad-key": (
        "a `--key` that is empty, over 100 characters or not printable",
        "give a word that no other deed has",
    ),
    "other-advice": (
        "somebody else was shown other settings since you were shown yours, and the cut names none",
        "say what it was cut at (`--height L`); `--yes` takes what you were shown",
    ),
    "far-setting": (
        "a setting far from the one advised, which a slipped point or unit explains, or nothing",
        "take what it asks about; as typed it is logged with --yes",
    ),
    "far-step": (
        "a step that no joint that went together shows",
        "take what it asks about; as typed it is logged with --yes",
    ),
    "history-changes": (
        "an edit after which earlier set-ups are read or shown otherwise",
        "say --correction or --yes where that is right; another cutter is a new bit",
    ),
    "odd-reading": (
        "a reading that only a slip explains, or walls far from alike",
        "take what it asks about; as typed it is logged with --yes",
    ),
    "odd-size": (
        "a size of a bit, a board or a first height that no shop has",
        "take what it asks about; as typed it is taken with --yes",
    ),
    "swapped-sizes": (
        "two sizes that look swapped",
        "take what it asks about; as typed they are taken with --yes",
    ),
    "turn-or-inch": (
        "a bare fraction of a move at a lift that counts turns",
        "write 1/8turn or 1/8in",
    ),
    "word-and-gap": (
        "a pull-apart gap that its word cannot have",
        "take what it asks about; as typed it is logged with --yes",
    ),
    "file-too-large": ("a table with more lines or bytes than trial cuts have", "split it"),
    "name-taken": ("something has that name already", "choose another name, or edit that one"),
    "no-columns": (
        "no column says how a piece was",
        "name the columns in its first line: date;height;fence;depth;said;note",
    ),
    "no-lap": (
        "a bit height that leaves no lap in the pin board",
        "stay below what it names, or give --pin-thickness",
    ),
    "no-matplotlib": (
        "a picture needs matplotlib",
        "run pip install '.[pictures]' in the checkout, or leave --picture out",
    ),
    "no-count": (
        "nothing says how many joints are cut by now",
        "count those of the set-up's real boards, the one looked at too: --after N",
    ),
    "no-piece": (
        "a move, --same-piece or --same-end before the first piece",
        "give the setting itself",
    ),
    "no-terminal": (
        "bench is a dialogue and needs a terminal",
        "log the piece with fitlog cut instead",
    ),
    "not-a-table": ("the file is no table of trial cuts", "export it as CSV from your spreadsheet"),
    "not-good": (
        "the set-up did not end with a good fit",
        "go on with it (fitlog use N), or name another with --from",
    ),
    "not-ready": (
        "the set-up is not ready",
        "tune on, or end it with fitlog finish --as-it-is or --abandon",
    ),
    "not-yet-ready": (
        "a joint of the real boards of a set-up that is still tuned",
        "log a test piece with fitlog cut; --yes takes it as a joint of the real boards",
    ),
    "not-retractable": ("a kind of entry that stays", "take back a cut or an end"),
    "nothing-kept": (
        "nothing says what the joint was",
        "measure the kept sample, or name its set-up with --from N",
    ),
    "pitch-and-height": ("pitch and height do not go together", "give one of the two"),
    "pitch-out-of-reach": (
        "the bit cannot make that pitch fit on this board",
        "take a pitch near what it names",
    ),
    "rabbet-too-deep": (
        "the rabbet leaves too little of the tail board",
        "take a thicker board, or a shallower --rabbet",
    ),
    "rabbet-too-shallow": (
        "the rabbet would stop on the round ends of the sockets",
        "leave --rabbet out, or give more",
    ),
    "stray-place": ("a place without what is there", "say gap far, gap baseline, ..."),
    "two-settings": (
        "a setting was given twice",
        "give the setting, or one move since the last piece",
    ),
    "unreadable-file": ("the file cannot be read", "name a file that you may read"),
    "bad-date": (
        "a date that cannot be read, or that no calendar has",
        "write 2031-03-04, or say --dates dmy or mdy",
    ),
    "bad-length": (
        "a length that cannot be read",
        "write 12.7, 12,7 mm, 1/2in, 1-1/16in or 4 thou",
    ),
    "bad-lines": (
        "lines of a table cannot be logged; nothing was",
        "correct them in the file, or say --skip-bad",
    ),
    "bad-name": (
        "a name is empty, too long or would be read as an option",
        "use 1 to 60 printable characters",
    ),
    "bad-note": (
        "a note, or what became of the work, without a word in it",
        "say it in a few words: fitlog note TEXT",
    ),
    "not-finished": (
        "the set-up is still tuning, or was abandoned: nothing became of it",
        "finish it first, or write it down with fitlog note TEXT --setup N",
    ),
    "bad-percent": ("a moisture or humidity that cannot be read", "write it like 9 or 8.5%"),
    "bad-reading": (
        "a reading that cannot be, or lacks its second number",
        "check the unit and what was measured",
    ),
    "migration-failed": (
        "an older log could not be brought up; it is as it was",
        "keep using the version that wrote it",
    ),
    "older-log": (
        "an older log that can only be read cannot be brought up",
        "let its owner open it once, or work on a copy: fitlog log restore FILE --db COPY",
    ),
    "bad-row": (
        "a row of an export makes no sense",
        "correct the row, or export the log again where it came from",
    ),
    "bad-scale": ("a rehearsal's cause is not known", "name one of those it lists"),
    "bad-setting": ("a setting is not known", "take bit height, fence offset or socket depth"),
    "bad-size": ("a size of zero or below, or no number", "give its size, or leave the number out"),
    "bad-temperature": (
        "a temperature that cannot be read",
        "write it like 21C or 70F (a bare number is in deg C)",
    ),
    "bad-window": ("a window whose low end lies above its high end", "give low, then high"),
    "bad-word": ("a word that this aspect does not have", "see fitlog cut --help"),
    "beyond-limit": (
        "a setting past a limit of the bit, the board or the fence",
        "check the unit; stay inside what it names",
    ),
    "contradiction": (
        "an aspect is said twice in one breath",
        "log what holds for this piece, one cut per piece",
    ),
    "control-character": (
        "a name or note holds a control character",
        "type it again as plain text",
    ),
    "damaged-log": (
        "the file is a log, but its pages or rows make no sense",
        "keep a copy, look with fitlog log health, then restore your latest backup",
    ),
    "dangling-degree": (
        "slightly or very without a word after it",
        "say slightly tight, very proud, ...",
    ),
    "disk-full": ("no room is left on the disk; nothing was stored", "make room, then try again"),
    "fewer-joints": (
        "fewer joints than at an earlier look",
        "count all joints of the set-up's real boards; --yes takes it as typed",
    ),
    "file-exists": (
        "the file to be written is there already",
        "say --force to write over it, or name another",
    ),
    "is-a-log": (
        "a log, a backup or an export of one would be written over",
        "name another file, or move that one away first",
    ),
    "in-use": (
        "something that set-ups refer to is to be removed",
        "retire it instead: fitlog bit retire NAME",
    ),
    "known-cuts": (
        "cuts of the table are in the set-up already",
        "say --again to log them all the same, or add a date column",
    ),
    "log-busy": (
        "another program kept the log locked, or its server is full",
        "close it or wait (an import may take some seconds), then try again",
    ),
    "log-gone": (
        "the log was moved, replaced or removed while it was open; nothing was stored",
        "put it back or plug its disk in, then try again",
    ),
    "log-moved-on": (
        "somebody else wrote to the set-up, or edited the thing of the catalogue, in between",
        "look at it with fitlog show N (fitlog bit show NAME), then say it again",
    ),
    "log-unreachable": (
        "the file or the server cannot be reached",
        "check disk, folder and permissions; of a server its name and port",
    ),
    "newer-export": ("an export of a newer version", "upgrade fitlog"),
    "newer-log": ("the log was written by a newer version", "upgrade fitlog"),
    "no-bit": ("the catalogue has no bit", "add one: fitlog bit add --help"),
    "no-layout": (
        "no layout ends alike at both edges",
        "change the width, the tails or --half-pin, or take another bit",
    ),
    "no-open-setup": (
        "the set-up has ended",
        "begin with fitlog start, choose another with fitlog use N, or fitlog undo --setup N",
    ),
    "no-permission": ("you may not read the log", "ask its owner, or name another with --db"),
    "no-room": (
        "no bit height is possible on this board",
        "take what it names: a thicker board, a longer bit",
    ),
    "no-setup": ("no set-up was started yet", "begin with fitlog start"),
    "no-size": (
        "a number after a word that takes none",
        "leave it out, or say the word it belongs to",
    ),
    "no-stock": ("the catalogue has no stock", "add one: fitlog stock add --help"),
    "no-word": ("a size in a table without its word", "say the word beside it"),
    "not-a-log": (
        "the file or schema is something else; it was left as it is",
        "name another with --db",
    ),
    "not-stored": ("a value breaks a rule of the log; nothing was stored", "check what was given"),
    "nothing-said": (
        "no word says anything of the piece",
        "say how it fits: fitlog cut slightly tight",
    ),
    "nothing-to-change": ("an edit names nothing to change", "see fitlog bit edit --help"),
    "nothing-to-repeat": (
        "no set-up with what is named ended good yet",
        "leave --again out, or name any other with --again N",
    ),
    "retired": (
        "what is to be repeated has a bit, a stock or a machine that is retired",
        "name another, or bring it back: fitlog bit edit NAME --restore",
    ),
    "nothing-to-undo": ("nothing is left to take back in the set-up", "see fitlog review"),
    "other-machine": (
        "the set-up is at another machine than yours",
        "name it: --setup N, or choose it with fitlog use N",
    ),
    "out-of-range": ("an option's number is out of its range", "give one inside it"),
    "read-only-log": (
        "the log may be read but not written",
        "change the permissions, or name another with --db",
    ),
    "server-log": (
        "a log on a server is backed up and restored there",
        "ask its keeper to run the command it names",
    ),
    "stray-number": ("a number that belongs to no word", "say the word, then its size"),
    "text-too-long": ("too many characters", "shorten it and try again"),
    "tight-with-gap": ("a tight joint does not come apart", "say tight without a number"),
    "unclear-symptom": ("what is seen is not clear enough", "take one that fitlog fault lists"),
    "undone-setup": ("the set-up was undone", "bring it back with fitlog redo --setup N"),
    "unknown-name": (
        "no bit, stock, machine or person has that name",
        "take one that it lists, or add it",
    ),
    "unknown-language": (
        "FITLOG_LANGUAGE names a language that fitlog does not speak",
        "leave it out, or choose one that it lists",
    ),
    "unknown-option": (
        "something that looks like an option but is none",
        "the command's --help lists them",
    ),
    "unknown-piece": ("the set-up has no such piece", "take one that it lists"),
    "unknown-setup": ("there is no such set-up", "take one of the newest, which it lists"),
    "unknown-units": ("no such preferred unit", "say mm, inch or fraction"),
    "unknown-version": (
        "the log has a layout that this version does not know",
        "open it with the version that wrote it",
    ),
    "unknown-word": ("a word that means nothing here", "take one that fitlog cut --help lists"),
    "unsound-log": (
        "health found something wrong",
        "copy the log, then fitlog log restore FILE --replace",
    ),
    "unwritable-file": (
        "a file could not be written",
        "name a file in a folder that you can write to",
    ),
    "usage": (
        "an option or a command that is not there, or options that exclude each other",
        "see the command's --help",
    ),
    "which-one": ("several are in the catalogue", "name one: --bit NAME, --stock NAME"),
}


@dataclass(frozen=True)
class Told:
    """One place that refuses something. module: dotted, below fitlog."""

    code: str
    exit_code: int
    module: str
    when: str
    remedy: str


@cache
def every() -> tuple[Told, ...]:
    """Everything the package refuses, in the order of its files."""
    return tuple(told for path in sorted(PACKAGE.rglob("*.py")) for told in of_file(path))


def of_file(path: Path) -> Iterator[Told]:
    """What one file refuses."""
    module = ".".join(path.relative_to(PACKAGE).with_suffix("").parts).removesuffix(".__init__")
    tree = ast.parse(path.read_text(encoding="utf-8"))
    scopes = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]
    for call in (node for node in ast.walk(tree) if isinstance(node, ast.Call) and node.args):
        kind = getattr(call.func, "id", "")
        if kind == "Refused" and any(
            s.name == "doubted" for s in scopes if s.lineno <= call.lineno <= (s.end_lineno or 0)
        ):
            continue  # its callers say what is refused
        if kind not in (*EXITS, "doubted") or isinstance(
            call.args[0], ast.Attribute
        ):  # what another one said
            continue
        inside = [s for s in scopes if s.lineno <= call.lineno <= (s.end_lineno or 0)]
        near = ast.Module([*tree.body, *(inside[-1:])], [])
        (code,) = texts(call.args[0], near, call.lineno)[:1]
        when, remedy = (
            shortest(part, near, call.lineno)
            for part in (*call.args[1 : 2 if kind == "doubted" else 3], ast.Constant(""))[:2]
        )
        for name in MADE.get(code, (code,)):
            yield Told(name, EXITS.get(kind, errors.REFUSED), module, when, remedy)


def shortest(node: ast.expr, near: ast.AST, line: int) -> str:
    """What an argument says, with what is filled in at run time left open."""
    found = [text for text in texts(node, near, line) if text]
    filled = re.sub(r"\{(\w+)[^{}]*\}", lambda hole: HOLES.get(hole[1], "..."), "".join(found[:1]))
    return re.sub(r"\s+", " ", filled)


def texts(node: ast.expr, near: ast.AST, line: int) -> list[str]:
    """The texts that an expression may be; a name stands for what was last put into it before."""
    match node:
        case ast.Constant(value=str(text)):
            return [text]
        case ast.JoinedStr(values=parts):
            return [
                "".join(
                    _hole(p.value) if isinstance(p, ast.FormattedValue) else str(p.value)
                    for p in parts
                )
            ]  # type: ignore[attr-defined]
        case ast.Call(func=ast.Name(id="tell"), args=[told, *_]):
            return texts(told, near, line)
        case ast.IfExp(body=one, orelse=other):
            return [*texts(one, near, line), *texts(other, near, line)]
        case ast.BoolOp(values=values):
            return [text for value in values for text in texts(value, near, line)]
        case ast.BinOp(left=left, op=ast.Add(), right=right):
            return [
                a + b for a in texts(left, near, line)[:1] for b in texts(right, near, line)[:1]
            ]
        case ast.Name(id=name):
            put = [
                (n.lineno, n.value)
                for n in ast.walk(near)
                if isinstance(n, ast.Assign) and _puts(n, name)
            ]
            before = [value for at, value in put if at <= line] or [value for _, value in put]
            return texts(before[-1], near, line) if before else []
    return []


def _puts(node: ast.Assign, name: str) -> bool:
    return any(isinstance(target, ast.Name) and target.id == name for target in node.targets)


def _hole(node: ast.expr) -> str:
    if isinstance(node, ast.Name) and node.id == "kind":
        return "{kind}"
    names = [part.id for part in ast.walk(node) if isinstance(part, ast.Name)]
    names += [part.attr for part in ast.walk(node) if isinstance(part, ast.Attribute)]
    return next((HOLES[name] for name in names if name in HOLES), "...")


def group_of(module: str) -> str:
    """Under which heading a part's errors stand."""
    found = {
        part: name for name, parts in GROUPS.items() for part in parts if module.startswith(part)
    }
    return found[max(found, key=len)]


def rows() -> list[dict[str, object]]:
    """One row for each code, by group, then in alphabetical order."""
    by_code: dict[str, list[Told]] = {}
    for told in every():
        by_code.setdefault(told.code, []).append(told)
    order = list(GROUPS)
    found = []
    for code, places in sorted(by_code.items()):
        at = {told: order.index(group_of(told.module)) for told in places}
        group = MOVED.get(code) or order[min(at.values())]
        told = next((t for t in places if order[at[t]] == group and t.remedy), places[0])
        when, remedy = WORDS.get(code, (told.when, told.remedy))
        exits = sorted({t.exit_code for t in places})
        found.append({"code": code, "exit": exits, "group": group, "when": when, "remedy": remedy})
    return sorted(found, key=lambda row: order.index(str(row["group"])))


def table() -> str:
    """The whole file, a row a line."""
    lines = (json.dumps(row, ensure_ascii=False) for row in rows())
    return "[\n" + ",\n".join(lines) + "\n]\n"


if __name__ == "__main__":
    if "--write" in sys.argv:
        DATA.write_text(table(), encoding="utf-8")
    else:
        print(table(), end="")
