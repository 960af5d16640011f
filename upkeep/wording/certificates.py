"""What a form asks of the certificate of a calibration, and what was typed into it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from upkeep.entries.signing import Calibration
from upkeep.said import Said, said
from upkeep.units.measures import read_number

CERTIFICATE: Mapping[str, Said] = {
    "certificate": said("Number of the certificate"),
    "laboratory": said("Laboratory"),
    "received": said("Error as received, in its unit"),
    "left": said("Error as left, in its unit"),
    "uncertainty": said("Uncertainty, in its unit"),
    "due": said("Good until, like 2027-03-01"),
}
"""The fields in the order of a certificate, by the name of each.  All stay empty where none came with the gauge."""

_NUMBERS = ("received", "left", "uncertainty")


def lacking(typed: Mapping[str, str]) -> tuple[str, Said] | None:
    """The first field that lacks something, by name, and what; None: all is there, or nothing was typed at all."""
    if not any(_text(typed, name) for name in CERTIFICATE):
        return None
    for name, label in CERTIFICATE.items():
        text = _text(typed, name)
        if not text:
            return name, said("{field}: type it from the certificate, or leave all of it empty.", field=label)
        if name in _NUMBERS and read_number(text) is None:
            return name, said("{field}: type a number like 0.002 or -0,001.", field=label)
        if name == "due" and _day(text) is None:
            return name, said("{field}: type a day as year, month and day, like 2027-03-01.", field=label)
    return None


def certificate_of(typed: Mapping[str, str]) -> Calibration | None:
    """The certificate that was typed, nothing lacking; None: there is none."""
    if not any(_text(typed, name) for name in CERTIFICATE):
        return None
    received, left, uncertainty = (read_number(_text(typed, name)) or 0.0 for name in _NUMBERS)
    certificate, laboratory, due = (_text(typed, name) for name in ("certificate", "laboratory", "due"))
    return Calibration(certificate, laboratory, received, left, uncertainty, due)


def _text(typed: Mapping[str, str], name: str) -> str:
    return typed.get(name, "").strip()


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
