"""What a workbook in the form of ISO/IEC 29500 (.xlsx) says of its cells besides their values.

The library that reads the values passes over hidden rows' being hidden and formulas' having failed.  Both stand in the
sheet's XML, as attributes of ``row`` (18.3.1.73) and ``c`` (18.3.1.4); the base of day numbers in ``workbookPr``
(18.2.28).  Numbers of sections from memory.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Mapping
from dataclasses import field
from pathlib import Path
from xml.etree import ElementTree

from upkeep.frozen import frozen

_HIDDEN = re.compile(rb'<(?:\w+:)?row\s[^>]*?\br="(\d+)"[^>]*?\bhidden="(?:1|true)"')
_HIDDEN_FIRST = re.compile(rb'<(?:\w+:)?row\s[^>]*?\bhidden="(?:1|true)"[^>]*?\br="(\d+)"')
_FAILED = re.compile(rb'<(?:\w+:)?c\s([^>]*?\bt="e"[^>]*?)>(.*?)</(?:\w+:)?c>', re.DOTALL)
_PLACE = re.compile(rb'\br="([A-Z]+)(\d+)"')
_SHOWN = re.compile(rb"<(?:\w+:)?v>([^<]*)</")
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"

_MOST_BYTES = 300_000_000
"""A sheet that unpacks to more than this is not looked into: its values are refused for their size anyway."""


@frozen
class Marks:
    """The numbers of hidden rows, the words of failed formulas by row and column (from 0), and the base of days."""

    hidden: frozenset[int] = frozenset()
    errors: Mapping[tuple[int, int], str] = field(default_factory=dict)
    old_days: bool = False


def marks_of(path: Path) -> dict[str, Marks]:
    """The marks by sheet; none for a workbook of another form."""
    if not zipfile.is_zipfile(path):
        return {}
    with zipfile.ZipFile(path) as packed:
        if "xl/workbook.xml" not in packed.namelist():
            return {}
        workbook = ElementTree.fromstring(packed.read("xl/workbook.xml"))
        targets = {
            each.get("Id"): each.get("Target", "")
            for each in ElementTree.fromstring(packed.read("xl/_rels/workbook.xml.rels"))
        }
        old_days = any(
            each.get("date1904") in ("1", "true") for each in workbook.iter() if each.tag.endswith("}workbookPr")
        )
        marks = {}
        for sheet in (each for each in workbook.iter() if each.tag.endswith("}sheet")):
            target = targets.get(sheet.get(_RELATION), "")
            inside = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
            if inside in packed.namelist() and packed.getinfo(inside).file_size <= _MOST_BYTES:
                marks[sheet.get("name", "")] = _marks(packed.read(inside), old_days)
        return marks


def _marks(xml: bytes, old_days: bool) -> Marks:
    hidden = {int(number) for pattern in (_HIDDEN, _HIDDEN_FIRST) for number in pattern.findall(xml)}
    errors = {}
    for attributes, inside in _FAILED.findall(xml) if b't="e"' in xml else ():
        place, shown = _PLACE.search(attributes), _SHOWN.search(inside)
        if place and shown:
            errors[int(place[2]) - 1, _column(place[1])] = shown[1].decode("ascii", "replace")
    return Marks(frozenset(hidden), errors, old_days)


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - ord("A") + 1
    return number - 1
