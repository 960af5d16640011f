"""Admission of parts that left for ever, of pictures and remarks; and that nothing comes back that left."""

from __future__ import annotations

import re
from datetime import datetime
from typing import ClassVar

from upkeep.admission.subject import Judges, SubjectAdmission, entry_in_effect
from upkeep.entries.checking import Check
from upkeep.entries.entry import Recorded
from upkeep.entries.faults import Fault
from upkeep.entries.lives import ENDS, Picture, Remark, Retire
from upkeep.entries.signing import Sign
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.keeping.holds import gone_by
from upkeep.said import Moment, Numeral, Quoted, Said, listed, said
from upkeep.units.instants import from_utc_text, utc_text

_SHA256 = re.compile(r"[0-9a-f]{64}\Z")


def check_not_gone(context: Context, item: str, at: datetime, what: Said) -> None:
    """Refuses what would bring an item back that left for ever by then; ``what`` would."""
    gone = gone_by(context, item, at)
    if gone is not None:
        raise Refused(
            said(
                "{item} is gone for good ({end}, {moment}, #{entry}): it cannot be {what}. Check the id on "
                "the metal; if it never left, strike #{entry}.",
                item=item,
                end=gone.end,
                moment=Moment(from_utc_text(gone.at), context.known.zone),
                entry=Numeral(gone.entry),
                what=what,
            )
        )


class LifeAdmission(SubjectAdmission):
    """Judges the ends of parts, pictures and remarks."""

    def _check_retire(self, entry: Retire) -> None:
        item = self._known.item(entry.item)
        if entry.end not in ENDS:
            raise Refused(
                said(
                    "{end} is not a way for a part to end. Use one of: {ends}.",
                    end=Quoted(entry.end),
                    ends=listed(ENDS),
                )
            )
        gone = self._context.wear_history.retired(item.id)
        if gone is not None and gone.entry != entry.corrects:
            raise Refused(
                said(
                    "{item} has already left for good (#{entry}: {end}); if that is wrong, correct it.",
                    item=item.id,
                    entry=Numeral(gone.entry),
                    end=gone.end,
                )
            )
        last = self._rows.last_fitting(item.id)
        if last is None:
            return
        if last.start > utc_text(entry.at):
            again = Moment(from_utc_text(last.start), self._known.zone)
            raise Refused(
                said(
                    "{item} was fitted again {again} (#{entry}); it cannot have left before that.",
                    item=item.id,
                    again=again,
                    entry=Numeral(last.started_by),
                )
            )
        if last.until is None:
            self.notes.append(
                said("{item} is still in {inside}: take it out first ('unfit').", item=item.id, inside=last.inside)
            )

    def _check_picture(self, entry: Picture) -> None:
        self._known.item(entry.item)
        if entry.of is not None:
            self._check_belongs(entry, entry_in_effect(self._context, entry.of))
        if entry.scale is not None and not 0 < entry.scale < float("inf"):
            raise Refused(said("The scale of a picture is how many points of it are one millimetre: more than 0."))
        if not _SHA256.match(entry.sha256):
            raise Refused(said("A picture is kept with the SHA-256 checksum of its file: 64 characters, 0-9 and a-f."))
        if not entry.file or not entry.file.isprintable():
            raise Refused(said("A picture is kept with its file name, which must be printable characters."))

    def _check_belongs(self, entry: Picture, target: Recorded) -> None:
        if not isinstance(target.entry, Sign | Check | Fault):
            raise Refused(
                said(
                    "A picture belongs to a sign-off, a check or a fault; #{entry} is none of them.",
                    entry=Numeral(target.id),
                )
            )
        if target.entry.item != entry.item:
            raise Refused(
                said(
                    "#{entry} is about {other}, not about {item}.",
                    entry=Numeral(target.id),
                    other=target.entry.item,
                    item=entry.item,
                )
            )

    def _check_remark(self, entry: Remark) -> None:
        item = self._known.item(entry.item)
        if entry.task is not None and self._known.task(entry.task) not in self._known.tasks_on(item):
            raise Refused(
                said(
                    "{task} is not a task on {item}; name one that is, or just the item.", task=entry.task, item=item.id
                )
            )
        if not entry.text.strip():
            raise Refused(said("The remark is empty; write what the lead should know."))

    JUDGES: ClassVar[Judges] = {Retire: _check_retire, Picture: _check_picture, Remark: _check_remark}
