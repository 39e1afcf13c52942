"""The machine-readable form of an answer: one JSON document, lengths in mm, every key
always there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from .domain import (
    ASPECTS,
    SETTING_OF,
    WORDS,
    Advice,
    Bit,
    Machine,
    Misfit,
    Piece,
    Remark,
    Settings,
    Settled,
    SetUp,
    Stock,
    Window,
)
from .domain.standing import ended, ended_at, for_real_boards, standing
from .families.telling import say
from .language.units import Ruler
from .log import LoggedCut, LoggedFound

Document = dict[str, Any]


def on_scale(settings: Settings, machine: Machine | None) -> dict[str, float]:
    """Return settings as the user's own scales read them, mm."""
    return {name: round(value, 4) for name, value in settings.on_scale(machine).items()}


def found_values(found: Mapping[str, float], machine: Machine | None) -> dict[str, float | None]:
    """Return settings found, true mm by name, as the user's own scales read them; None for what was
    not measured.
    """
    zero = zeros(machine)
    return {name: round(found[name] + zero[name], 4) if name in found else None for name in zero}


def zeros(machine: Machine | None) -> dict[str, float]:
    """Return what each setting's scale shows more than the truth, mm."""
    height, fence = (machine.height_zero, machine.fence_zero) if machine else (0.0, 0.0)
    return {"bit_height": height, "fence_offset": fence, "socket_depth": 0.0}


def found_row(logged: LoggedFound, machine: Machine | None) -> Document:
    """Return what was found once, as `show` tells it. remembered: the settings in force then."""
    return {
        "entry": logged.entry,
        "retracted": logged.retracted,
        "found": found_values(logged.settings, machine),
        "remembered": on_scale(logged.remembered, machine),
        "by": logged.by,
        "at": moment(logged.at),
        "machine": logged.machine,
    }


def advice_document(setup: SetUp, advice: Advice, ruler: Ruler) -> Document:
    """Return the document that `start`, `cut`, `next`, `undo`, `redo` and `finish` print.

    standing: the code of how it stands; ended: how it ended, null while open.  real: what to set
    for the real boards; chance_real: that they then come out inside.  settled_by: by what each
    settled aspect is.  centre_by: how the next piece shows the centre, "turn", "walls" or "".
    slot_saves: test pieces that a measured slot would save now, null for none.  ruler: of the
    texts.
    """
    plan, last, how = setup.plan, setup.last_piece(), standing(setup, advice)
    return {
        "setup": setup.number,
        "joint": plan.joint,
        "status": "abandoned" if setup.undone else advice.status,
        "standing": how.code,
        "ended": how.ended,
        "in_play": list(plan.in_play),
        "settled": list(advice.settled),
        "settled_by": {a: _settled_by(advice.settled_by.get(a)) for a in ASPECTS},
        "centre_by": advice.centre_by,
        "slot_saves": None if advice.slot_saves is None else round(advice.slot_saves, 2),
        "pieces": advice.pieces,
        "fixed": {
            "pitch": round(plan.pitch, 4),
            "board_width": round(plan.board_width, 4),
            "rabbet_depth": round(plan.rabbet_depth, 4),
            "rabbet_bit": plan.rabbet_bit,
        },
        "last": _last(last, plan.machine) if last else None,
        "settings": on_scale(advice.settings, plan.machine),
        "real": on_scale(for_real_boards(setup, advice), plan.machine),
        "moves": {k: round(v, 4) for k, v in advice.moves.items()} if advice.moves else None,
        "chance_good": _chances(advice.chance_good),
        "chance_inside": _chances(advice.chance_inside),
        "chance_real": _chances(advice.chance_real),
        "window": {a: _window(advice.window.get(a)) for a in ASPECTS},
        "misfit": {a: _misfit(advice.misfit.get(a)) for a in ASPECTS},
        "pieces_left": round(advice.pieces_left, 2),
        "reasons": remarks_document(advice.reasons, ruler),
        "notices": remarks_document(advice.notices, ruler),
        "cautions": remarks_document(advice.cautions, ruler),
    }


def _settled_by(by: Settled | None) -> Document | None:
    return None if by is None else {"way": by.way, "chance": round(by.chance, 4), "piece": by.piece}


def review_row(setup: SetUp, status: str) -> Document:
    """Return one set-up as `review` lists it; first_moves: how far from the first.

    settings: those of its last piece, carried over to the real boards' own size.  ended: how it
    ended, null while open.
    """
    plan, last, real = setup.plan, setup.last_piece(), ended_at(setup)
    return {
        "setup": setup.number,
        "bit": plan.bit.name,
        "stock": plan.stock.name,
        "pin_stock": plan.pin_stock.name,
        "machine": plan.machine.name if plan.machine else None,
        "started": moment(setup.started),
        "finished": moment(setup.ended),
        "status": status,
        "ended": ended(setup),
        "pieces": len(setup.pieces()),
        "settings": on_scale(real, plan.machine) if real else None,
        "first_moves": _first_moves(setup, last) if last else None,
    }


def cut_row(logged: LoggedCut, setup: SetUp) -> Document:
    """Return one entry about a piece, with the settings that had been advised for it. piece: None
    for a slot in waste.
    """
    cut, machine = logged.cut, setup.plan.machine
    return {
        "entry": cut.entry,
        "piece": None if cut.slot else cut.piece,
        "slot": cut.slot,
        "retracted": logged.retracted,
        "settings": on_scale(cut.settings, machine),
        "stated": list(cut.stated),
        "advised": on_scale(cut.advised, machine) if cut.advised else None,
        "said": said(cut.verdict),
        "readings": [
            {"kind": r.kind, "value": r.value, "rod": r.rod, "other": r.other} for r in cut.readings
        ],
        "note": cut.note,
        "scrap": cut.scrap,
        "by": cut.by,
        "at": moment(cut.at),
        "machine": cut.machine,
    }


def said(verdict: Any) -> Document:
    """Return a verdict as words with their sizes in mm."""
    spoken: Document = {a: str(verdict.of(a)) if verdict.of(a) else None for a in ASPECTS}
    spoken["faults"] = [str(f) for f in verdict.faults]
    return spoken


def bit_document(bit: Bit) -> Document:
    """Return a bit of the catalogue."""
    return {
        "name": bit.name,
        "diameter": bit.diameter,
        "angle": bit.angle,
        "cutting_length": bit.cutting_length,
        "measured": bit.measured,
        "neck": bit.neck,
        "sharpenings": bit.sharpenings,
        "retired": bit.retired,
    }


def cuts_like(law: Any) -> Document:
    """Return what a bit really measures, mm and degrees, each with one standard deviation."""
    return {
        "diameter": round(law.diameter.mean, 4),
        "diameter_sd": round(law.diameter.sd, 4),
        "angle": round(law.angle_deg.mean, 4),
        "angle_sd": round(law.angle_deg.sd, 4),
        "setups": law.taught,
        "since_sharpening": law.fresh,
    }


def words_document(
    person: str, others: Sequence[str], setups: int, fit: Any, seat: Any
) -> Document:
    """Return a person's scales of words. others: who else has logged a cut; setups: how many are
    finished.
    """
    tails = {"aim": _window(fit.good()), "aim_many_tails": _window(fit.good(many_tails=True))}
    return {
        "person": person,
        "others": list(others),
        "setups": setups,
        "fit": {**_scale(fit), **tails},
        "seat": _scale(seat),
    }


def _scale(found: Any) -> Document:
    """A scale of words. low, high: where a word's band ends, null where it is open; *_sd: how sure
    that is.
    """
    edges = [None, *(round(e, 4) for e in found.scale.edges), None]
    sds = [None, *(round(s, 4) for s in found.scale.edge_sds), None]
    ends = zip(edges, edges[1:], sds, sds[1:], strict=False)
    return {
        "learned": found.learned,
        "met": found.met,
        "missing": found.missing,
        "words": [
            {"word": word, "low": low, "high": high, "low_sd": low_sd, "high_sd": high_sd}
            for word, (low, high, low_sd, high_sd) in zip(WORDS[found.aspect], ends, strict=True)
        ],
        "noise": round(found.scale.noise, 4),
        "noise_interval90": [round(x, 4) for x in found.scale.noise_range],
    }


def stock_document(stock: Stock) -> Document:
    """Return a stock of the catalogue. moisture: by a meter, %; temperature, deg C, and humidity,
    %, of its air.
    """
    return {
        "name": stock.name,
        "species": stock.species,
        "thickness": stock.thickness,
        "width": stock.width,
        "moisture": stock.moisture,
        "temperature": stock.temperature,
        "humidity": stock.humidity,
        "sawn": stock.sawn or None,
        "retired": stock.retired,
    }


def machine_document(machine: Machine) -> Document:
    """Return a machine of the catalogue."""
    return {
        "name": machine.name,
        "height_step": machine.height_step,
        "height_turn": machine.height_turn,
        "fence_step": machine.fence_step,
        "depth_step": machine.depth_step,
        "between": list(machine.between),
        "backlash": machine.backlash,
        "height_zero": machine.height_zero,
        "fence_zero": machine.fence_zero,
        "retired": machine.retired,
    }


def moment(at: datetime | None) -> str | None:
    """Return a time as ISO 8601 in UTC to the second."""
    return None if at is None else at.strftime("%Y-%m-%dT%H:%M:%SZ")


def _last(piece: Piece, machine: Machine | None) -> Document:
    return {
        "piece": piece.number,
        "settings": on_scale(piece.settings, machine),
        "stated": list(piece.stated),
        "said": said(piece.verdict),
    }


def _first_moves(setup: SetUp, last: Piece) -> dict[str, float]:
    return {
        name: round(getattr(last.settings, name) - getattr(setup.first, name), 4)
        for name in SETTING_OF.values()
    }


def _chances(chances: dict[str, float | None]) -> dict[str, float | None]:
    return {name: None if chance is None else round(chance, 4) for name, chance in chances.items()}


def _window(window: Window | None) -> list[float] | None:
    return None if window is None else [round(window.low, 4), round(window.high, 4)]


def _misfit(misfit: Misfit | None) -> Document | None:
    if misfit is None:
        return None
    return {
        "mean": round(misfit.mean, 4),
        "sd": round(misfit.sd, 4),
        "interval90": [round(x, 4) for x in misfit.interval90],
    }


def remarks_document(remarks: Sequence[Remark], ruler: Ruler) -> list[Document]:
    """Return remarks with their stable codes and their sentences, in a person's units."""
    return [{"code": r.code, "aspect": r.aspect, "text": say(r, ruler)} for r in remarks]
