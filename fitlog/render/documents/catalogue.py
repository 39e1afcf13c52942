"""The JSON of the catalogue."""

from __future__ import annotations

from ...advice.bits import BitLaw
from ...document import Document
from ...domain import Bit, Machine, Stock


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
