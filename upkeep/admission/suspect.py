"""Admission of what becomes of suspect product: judged lines, restricted windows, deviation permits."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from upkeep.admission.subject import Judges, SubjectAdmission
from upkeep.answers.alarms import Alarms
from upkeep.answers.suspect.hold_lists import SuspectViews
from upkeep.counting.strokes import strokes_since_new
from upkeep.entries.suspect import DISPOSITIONS, Disposition, Permit, Restriction
from upkeep.errors import NotFound, Refused
from upkeep.said import Join, Moment, Numeral, Quoted, listed, said, term
from upkeep.units.instants import from_utc_text
from upkeep.units.quantities import in_strokes
from upkeep.views.suspect import SuspectLine

MOST_STROKES = 100_000
"""The longest deviation permit, in strokes.  Plant default, no source."""


class SuspectAdmission(SubjectAdmission):
    """Judges dispositions, restrictions and deviation permits by role and reason."""

    def _with_strokes(self, entry: Disposition) -> Disposition:
        if entry.how not in DISPOSITIONS:
            raise Refused(
                said(
                    "{how} is not a disposition. Use one of: {ways}.", how=Quoted(entry.how), ways=listed(DISPOSITIONS)
                )
            )
        if not entry.because:
            raise Refused(said("Say what was found and where the product is; it stays with the line."))
        line = self._line(entry)
        if not line.open and entry.corrects is None and line.judged is not None:
            raise Refused(
                said(
                    "That line already has a disposition ({how}, {by}, #{entry}). If that is wrong, correct #{entry}.",
                    how=line.judged.how,
                    by=line.judged.by,
                    entry=Numeral(line.judged.entry),
                )
            )
        self._check_pieces(entry, line)
        return replace(entry, strokes=line.strokes)

    def _check_pieces(self, entry: Disposition, line: SuspectLine) -> None:
        """Refuses quantities that cannot be; tells how many pieces of the line they leave out."""
        told = dict(entry.pieces)
        if not told:
            return
        if len(told) < len(entry.pieces) or (entry.how != "sorted" and set(told) != {entry.how}):
            raise Refused(
                said(
                    "A line of which some pieces are {how} and others not was sorted: give 'sorted', and how many "
                    "became what, each once.",
                    how=term(entry.how, "disposition"),
                )
            )
        pieces = sum(told.values())
        if pieces > line.strokes:
            raise Refused(
                said(
                    "These are {pieces} pieces, and the line has at most {strokes}. Count again; nothing was written.",
                    pieces=pieces,
                    strokes=in_strokes(line.strokes),
                )
            )
        if pieces < line.low:
            self.notes.append(
                said(
                    "{pieces} pieces are told of; the line has at least {strokes}. Where the others are stays open.",
                    pieces=pieces,
                    strokes=in_strokes(line.low),
                )
            )

    def _line(self, entry: Disposition) -> SuspectLine:
        at = max(entry.at, entry.recorded_at or entry.at)
        hold_list = SuspectViews(self._context.at(at)).hold_list(entry.list)
        since = from_utc_text(entry.since)
        for line in hold_list.lines:
            if line.press == entry.press and line.since == since:
                return line
        named = [
            said(
                "{row}: {press} since {moment}",
                row=Numeral(line.row),
                press=line.press,
                moment=Moment(line.since, self._known.zone),
            )
            for line in hold_list.lines
        ]
        raise NotFound(
            said("line in this hold list:"),
            f"#{entry.list}",
            [],
            said("It has {lines}.", lines=listed(named, Join.SEMICOLON) if named else said("no line")),
        )

    def _check_restriction(self, entry: Restriction) -> None:
        if not entry.because:
            raise Refused(said("Give the calculation that lets the window begin later; it stays with the list."))
        hold_list = SuspectViews(self._context.at(entry.at)).hold_list(entry.list)
        counts = self._context.judge.counts
        first = strokes_since_new(counts, hold_list.item, hold_list.start).best
        last = strokes_since_new(counts, hold_list.item, hold_list.end).best
        if not first <= entry.strokes <= last:
            raise Refused(
                said(
                    "The window runs from {first} to {last} of {item}; {strokes} is outside it.",
                    first=first,
                    last=in_strokes(last),
                    item=hold_list.item,
                    strokes=entry.strokes,
                )
            )

    def _check_permit(self, entry: Permit) -> None:
        item = self._known.item(entry.item)
        if not entry.because:
            raise Refused(
                said("Say why {item} may run despite this; whoever lets it run answers for it.", item=item.id)
            )
        if not 1 <= entry.strokes <= MOST_STROKES:
            raise Refused(
                said(
                    "A deviation permit is for 1 to {most}, not for {strokes}.",
                    most=in_strokes(MOST_STROKES),
                    strokes=entry.strokes,
                )
            )
        press = self._counter.press_at(item.id, entry.at)
        alarms = Alarms(self._context)
        if not list(alarms.bars_on(press, item.id, entry.at) if press else alarms.bars(item.id, entry.at)):
            raise Refused(
                said("{item} is neither held nor past a hard stop; it needs no deviation permit.", item=item.id)
            )
        self.notes.append(
            said(
                "{item} may do {strokes} more, going by the highest estimate; then the deviation permit ends "
                "by itself. The hold stays.",
                item=item.id,
                strokes=in_strokes(entry.strokes),
            )
        )

    JUDGES: ClassVar[Judges] = {Disposition: _with_strokes, Restriction: _check_restriction, Permit: _check_permit}
