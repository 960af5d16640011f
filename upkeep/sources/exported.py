"""The text of an export, read line by line: entries as they stand, in the zone that its first line names."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from upkeep.book.bringing_back import Exported
from upkeep.entries.bookkeeping import Begin
from upkeep.entries.text import read_line
from upkeep.errors import BookDamaged, Refused, Unreadable
from upkeep.said import Numeral, said
from upkeep.units.instants import Zone

_ZONE = re.compile(r"# .*; moments are local time in (\S+)\Z")
_LINK = re.compile(r" link ([0-9a-f]{64})\Z")


def exported_lines(text: Path) -> Iterator[Exported]:
    """The entry lines of an export.

    Raises :class:`Refused` where the file is no text, :class:`BookDamaged` at the first line that cannot be read.
    """
    try:
        lines = text.read_text(encoding="utf-8").split("\n")
    except UnicodeDecodeError:
        raise Refused(said("{text} cannot be read as the text of an export: it is not UTF-8.", text=text)) from None
    except OSError as error:
        raise Unreadable(said("{text} cannot be read: {why}.", text=text, why=str(error.strerror))) from None
    zone = _zone_named(lines[0])
    for number, line in enumerate(lines, 1):
        if not line.strip() or line.startswith("#"):
            continue
        try:
            entry = read_line(line, zone or Zone("UTC"))
            if zone is None and isinstance(entry, Begin):
                zone = Zone(entry.zone)
                entry = read_line(line, zone)
        except Unreadable as error:
            raise BookDamaged(said("Line {line} cannot be read: {why}", line=Numeral(number), why=error.said)) from None
        link = _LINK.search(line.rstrip())
        yield Exported(number, entry, link[1] if link else None)


def _zone_named(first_line: str) -> Zone | None:
    """The zone in which the moments of an export stand, by its first line; None: that line names none."""
    named = _ZONE.match(first_line)
    return Zone(named[1]) if named else None
