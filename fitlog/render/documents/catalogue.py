"""The JSON of the catalogue."""

from __future__ import annotations

from dataclasses import replace

from ...advice.bits import BitLaw
from ...advice.wear import Wear
from ...document import Document
from ...domain import NOTHING_KNOWN, Bit, Machine, Part, Stock
from ...families.names import in_order

# What of a machine's part has a key of its own: the first joint's machine has had them always.
OWN_KEYS = {
    "height": ("step", "turn", "dial", "backlash", "zero", "between"),
    "fence": ("step", "zero", "between"),
    "depth": ("step", "between"),
}


def thing(item: Bit | Stock | Machine) -> Document:
    """Return one thing of the catalogue."""
    if isinstance(item, Bit):
        return bit(item)
    return _stock(item) if isinstance(item, Stock) else _machine(item)


def bit(bit: Bit) -> Document:
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


def _stock(stock: Stock) -> Document:
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


def _machine(machine: Machine) -> Document:
    """Return a machine of the catalogue."""
    lift, fence = machine.part("height"), machine.part("fence")
    more = {name: _part(part) for name, part in machine.parts.items() if beyond(name, part)}
    return {
        "name": machine.name,
        "height_step": lift.step,
        "height_turn": lift.turn,
        "height_dial": lift.dial,
        "fence_step": fence.step,
        "depth_step": machine.step("depth"),
        "between": in_order(machine.between),
        "backlash": lift.backlash,
        "height_zero": lift.zero,
        "fence_zero": fence.zero,
        **({"parts": more} if more else {}),
        "retired": machine.retired,
    }


_OF_PART = ("step", "turn", "dial", "backlash", "zero", "between")


def beyond(name: str, part: Part) -> bool:
    """Tell whether more is known of a part than what has a key, or a column, of its own."""
    own = {what: getattr(NOTHING_KNOWN, what) for what in OWN_KEYS.get(name, ())}
    return replace(part, **own) != NOTHING_KNOWN


def _part(part: Part) -> Document:
    """Return all that is known of a part; pack: what is stacked to set it, thicknesses in mm."""
    return {
        **{what: getattr(part, what) for what in _OF_PART},
        "pack": part.pack and part.pack.text(),
    }


def cuts_like(law: BitLaw) -> Document:
    """Return what a bit really measures, mm and degrees, each with one standard deviation."""
    return {
        "diameter": round(law.diameter.mean, 4),
        "diameter_sd": round(law.diameter.sd, 4),
        "angle": round(law.angle_deg.mean, 4),
        "angle_sd": round(law.angle_deg.sd, 4),
        "setups": law.taught,
        "since_sharpening": law.fresh,
    }


def wears(wear: Wear) -> Document:
    """Return how a bit wears: joints of real boards cut since it was sharpened, runs in which one
    was looked at, and their drift in common, mm a joint, null where it is not told from noise.
    """
    law = wear.drift
    drift = None if law is None else {"mean": round(law.mean, 5), "sd": round(law.sd, 5)}
    return {"joints": wear.joints, "runs": wear.runs, "drift_per_joint": drift}
