"""Admission: whether one entry may go into this book as it stands - the checks that need more than the entry itself."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from upkeep.admission import rules as checks
from upkeep.admission.bookkeeping import BookAdmission
from upkeep.admission.changing import ChangeoverAdmission
from upkeep.admission.checking import CheckAdmission
from upkeep.admission.counting import CountAdmission
from upkeep.admission.faults import FaultAdmission
from upkeep.admission.fitting import FittingAdmission
from upkeep.admission.jobs import JobAdmission
from upkeep.admission.keys import KeysAdmission
from upkeep.admission.lives import LifeAdmission
from upkeep.admission.planning import WeekAdmission
from upkeep.admission.readings import RunAdmission
from upkeep.admission.resting import RestAdmission
from upkeep.admission.signing import SignAdmission
from upkeep.admission.spares.outside import OutsideAdmission
from upkeep.admission.spares.shelf import ShelfAdmission
from upkeep.admission.subject import SubjectAdmission, entry_in_effect
from upkeep.admission.suspect import SuspectAdmission
from upkeep.answers.people.who_may import check_may
from upkeep.entries.bookkeeping import Strike
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.planning import Define
from upkeep.entries.signing import Verify
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.keeping.projecting import Projector
from upkeep.keeping.recounting import Counted
from upkeep.said import Numeral, Said, said
from upkeep.views.rights import Wish

_SUBJECTS: tuple[type[SubjectAdmission], ...] = (
    CountAdmission, FittingAdmission, SignAdmission, FaultAdmission, RestAdmission, CheckAdmission, SuspectAdmission,
    LifeAdmission, JobAdmission, KeysAdmission, BookAdmission, ChangeoverAdmission, ShelfAdmission,
    OutsideAdmission, WeekAdmission,
)  # fmt: skip

JUDGED_BY: Mapping[type[Entry], type[SubjectAdmission]] = {
    kind: subject for subject in _SUBJECTS for kind in subject.JUDGES
}
"""The admission that judges each class of entry; the beginning and the definitions go another way into the book."""


class Admission:
    """Judges one entry against the book, inside the running transaction.  ``notes`` are told to the writer."""

    def __init__(self, context: Context, projector: Projector) -> None:
        self._context, self._projector = context, projector
        self.notes: list[Said] = []

    def admitted(self, entry: Entry) -> tuple[Entry, Recorded | None]:
        """The entry as it goes into the book, and the one it replaces; raises :class:`Refused` with the reason."""
        self._check_enterer(entry)
        person = checks.check_signer(self._context.known, entry.by, entry.at)
        check_may(self._context, Wish.of(entry), person, entry.at)
        replaced = self._entry_replaced(entry)
        admission = JUDGED_BY[type(entry)](self._context, self._projector, replaced)
        entry = admission.admitted(entry)
        self.notes += admission.notes
        return entry, replaced

    def counted(self, run: Sequence[Count], first: int) -> Counted:
        """A run of counts, numbered from ``first`` on, as :class:`RunAdmission` gives it; who wrote them is looked up
        once for all counts of a person and day.  Raises :class:`Refused` with the reason."""
        for count in {(count.by, count.origin.entered_by, count.at.date()): count for count in run}.values():
            checks.check_signer(self._context.known, count.by, count.at)
            self._check_enterer(count)
        return RunAdmission(self._context, self._projector.counter).admitted(run, first)

    def _check_enterer(self, entry: Entry) -> None:
        if entry.origin.entered_by is not None:
            written = entry.recorded_at or self._context.moment
            checks.check_signer(self._context.known, entry.origin.entered_by, written)

    def _entry_replaced(self, entry: Entry) -> Recorded | None:
        if entry.corrects is None:
            return None
        old = entry_in_effect(self._context, entry.corrects)
        if type(old.entry) is not type(entry) or isinstance(entry, Verify | Strike | Define):
            raise Refused(
                said(
                    "Entry #{entry} is a different kind of entry; correct it with one of the same kind, or strike it.",
                    entry=Numeral(old.id),
                )
            )
        if not entry.because:
            raise Refused(
                said(
                    "Say why #{entry} is corrected; both values and the reason stay in the book.", entry=Numeral(old.id)
                )
            )
        return old
