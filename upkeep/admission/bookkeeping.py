"""Admission of what is said of the book itself: entries struck, notes."""

from __future__ import annotations

from datetime import timedelta
from typing import ClassVar

from upkeep.admission.subject import Judges, SubjectAdmission, entry_in_effect
from upkeep.entries.bookkeeping import Begin, Note, Seen, Strike
from upkeep.entries.jobs import Lock
from upkeep.entries.planning import Define
from upkeep.errors import Refused
from upkeep.plant.model import Role
from upkeep.said import Moment, Numeral, either, said
from upkeep.units.instants import utc_text


class BookAdmission(SubjectAdmission):
    """Judges strikes and notes: an undo in time, a reason after that, and whose entry it is."""

    def _check_strike(self, entry: Strike) -> None:
        old = entry_in_effect(self._context, entry.entry)
        if isinstance(old.entry, Begin):
            raise Refused(said("The first entry is the beginning of this book; it cannot be struck."))
        if isinstance(old.entry, Define):
            raise Refused(said("A definition cannot be struck; correct the definition files and load them again."))
        written = old.entry.recorded_at or old.entry.at
        own = entry.by == old.entry.by
        if isinstance(old.entry, Lock) and not own:
            raise Refused(
                said(
                    "Only its owner strikes a lock. Where the owner is away, it comes off the list by the plant's "
                    "procedure ('unlock', with a witness and the reason)."
                )
            )
        undo = own and (entry.recorded_at or entry.at) - written <= timedelta(seconds=self._known.facts.undo_seconds)
        if undo:
            return
        if not entry.because:
            raise Refused(
                said(
                    "#{entry} was written {written}: an entry can be undone for {seconds} s only. Strike it "
                    "with a reason instead; both stay in the book.",
                    entry=Numeral(old.id),
                    written=Moment(written, self._known.zone),
                    seconds=Numeral(self._known.facts.undo_seconds),
                )
            )

    def _check_note(self, note: Note) -> None:
        if not note.text.strip():
            raise Refused(said("The note is empty; say what is worth knowing."))
        if note.restored:
            self._check_may_restore(note)

    def _check_may_restore(self, note: Note) -> None:
        """Restoring is a keeper's right; where none was named, or all have left, the lead's."""
        person, keepers = self._known.person(note.by), self._known.keepers_on(self._known.zone.day(note.at))
        if not keepers and Role.LEAD not in person.roles:
            raise Refused(
                said(
                    "This book has no keeper; then the maintenance lead alone may restore it, and {person} is not one.",
                    person=person.name,
                )
            )
        if keepers and person.id not in keepers:
            raise Refused(
                said(
                    "Only a keeper of this book may restore it: {keepers}.",
                    keepers=either(self._known.names[keeper] for keeper in keepers),
                )
            )

    def _check_seen(self, seen: Seen) -> None:
        from upkeep.answers.unseen import unseen  # with all that is asked

        if seen.item not in self._known.tasks:
            self._known.item(seen.item)
        self._counter.settle()
        context = self._context.at(seen.at)
        if seen.since not in {utc_text(one.since) for one in unseen(context) if one.about == seen.item}:
            raise Refused(
                said(
                    "Nothing about {item} waits to be seen since that moment; see 'strokebook questions'.",
                    item=seen.item,
                )
            )

    JUDGES: ClassVar[Judges] = {Strike: _check_strike, Note: _check_note, Seen: _check_seen}
