"""Admission of what moves on the shelf: received, taken, put back, counted, ordered."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import ClassVar, TypeVar

from upkeep.admission.subject import Judges, SubjectAdmission, entry_in_effect
from upkeep.answers.shelf.stock import Shelf
from upkeep.entries.shelf.moves import Buy, CountShelf, GiveBack, Issue, Receive, ShelfMove
from upkeep.errors import Refused
from upkeep.keeping.holds import gone_by
from upkeep.plant.line_names import LineName
from upkeep.plant.values.spare import Spare
from upkeep.said import Numeral, Quoted, Said, in_turn, listed, said, said_many, term
from upkeep.units.instants import utc_text
from upkeep.wording.shelf import in_units

MOST = 1_000_000
"""Pieces in one move."""

M = TypeVar("M", bound=ShelfMove)


class ShelfAdmission(SubjectAdmission):
    """Judges moves on the shelf by what the spare is, and by what lies there."""

    def _receive(self, entry: Receive) -> Receive:
        spare = self._spare(entry.spare)
        entry = self._checked(replace(entry, spare=spare.id), spare)
        shelf = self._shelf(entry)
        stock = shelf.stock(spare.id)
        for piece in entry.pieces if entry.corrects is None else ():
            if piece in stock.pieces:
                raise Refused(said("{item} lies on the shelf already.", item=piece))
        if spare.pack > 1 and entry.number % spare.pack and not entry.because:
            raise Refused(_box_or_piece(spare, entry.number))
        if shelf.is_obsolete(spare):
            self.notes.append(_obsolete(spare))
        return replace(entry, bought=self._order_for(entry, shelf, spare))

    def _order_for(self, entry: Receive, shelf: Shelf, spare: Spare) -> int | None:
        """The order that spares came for: the one named, else the first that is open."""
        still_open = [one.entry for one in shelf.coming(spare) if one.item is None]
        if entry.bought is None:
            return still_open[0] if still_open else None
        bought = entry_in_effect(self._context, entry.bought).entry
        if not isinstance(bought, Buy) or bought.spare != spare.id:
            raise Refused(said("#{entry} is no order for {spare}.", entry=Numeral(entry.bought), spare=spare.id))
        return entry.bought

    def _issue(self, entry: Issue) -> Issue:
        spare = self._spare(entry.spare)
        entry = self._checked(replace(entry, spare=spare.id), spare)
        self._check_line(entry)
        if entry.line is None and not entry.because.strip():
            raise Refused(said("Say what {spare} is taken for: a line (item/task), or a reason.", spare=spare.id))
        stock = self._shelf(entry).stock(spare.id)
        for piece in entry.pieces:
            if piece not in stock.pieces:
                raise Refused(
                    said(
                        "{item} does not lie on the shelf. There: {pieces}.",
                        item=piece,
                        pieces=listed(sorted(stock.pieces)) if stock.pieces else said("none of them"),
                    )
                )
        self.notes += left_said(spare, stock.number, stock.number - entry.number)
        return entry

    def _give_back(self, entry: GiveBack) -> GiveBack:
        spare = self._spare(entry.spare)
        entry = self._checked(replace(entry, spare=spare.id), spare)
        self._check_line(entry)
        stock = self._shelf(entry).stock(spare.id)
        if entry.line is not None and spare.part is None and entry.number > stock.bag(entry.line):
            raise Refused(
                said(
                    "For {line} {n} of {spare} were taken and not used; no more than that come back.",
                    line=entry.line,
                    n=stock.bag(entry.line),
                    spare=spare.id,
                )
            )
        return entry

    def _count(self, entry: CountShelf) -> CountShelf:
        spare = self._spare(entry.spare)
        entry = self._checked(replace(entry, spare=spare.id), spare, may_be_none=True)
        if self._replaced is not None and isinstance(self._replaced.entry, CountShelf):
            return replace(entry, should=self._replaced.entry.should)
        should = max(0, self._shelf(entry).stock(spare.id).number_of(entry.batch))
        if spare.pack > 1 and entry.number and not entry.because:
            boxes = entry.number * spare.pack == should or should * spare.pack == entry.number
            if boxes and should != entry.number:
                raise Refused(
                    said(
                        "The book has {should}, and you counted {found}: was that boxes of {pack}? Enter pieces; if it "
                        "is right as it stands, give a reason (--because).",
                        should=in_units(should, spare.unit),
                        found=in_units(entry.number, spare.unit),
                        pack=spare.pack,
                    )
                )
        self.notes += list(self._difference(entry, spare, should))
        return replace(entry, should=should)

    def _difference(self, entry: CountShelf, spare: Spare, should: int) -> list[Said]:
        stock = self._shelf(entry).stock(spare.id)
        told: list[Said] = []
        if entry.number != should:
            few, many = said("fewer"), said("more")
            told.append(
                said(
                    "{n} {way} of {spare} than the book had ({should}); the difference stays on record.",
                    n=abs(entry.number - should),
                    way=few if entry.number < should else many,
                    spare=spare.id,
                    should=should,
                )
            )
        if spare.part is None:
            return told
        missing = [
            item
            for item, batch in stock.pieces.items()
            if item not in entry.pieces and (entry.batch is None or batch == entry.batch)
        ]
        if missing:
            told.append(
                said(
                    "Not there: {items}. If one was fitted, write that down ('fit'); its life begins wrong without it.",
                    items=listed(missing),
                )
            )
        return told

    def _buy(self, entry: Buy) -> Buy:
        spare = self._spare(entry.spare)
        if not 1 <= entry.number <= MOST:
            raise Refused(said("Order at least one."))
        if spare.pack > 1 and entry.number % spare.pack and not entry.because:
            raise Refused(_box_or_piece(spare, entry.number))
        if date.fromisoformat(entry.expected) < self._known.zone.day(entry.at):
            raise Refused(said("{day} is before the day of the order.", day=date.fromisoformat(entry.expected)))
        if self._shelf(entry).is_obsolete(spare):
            self.notes.append(_obsolete(spare))
        return replace(entry, spare=spare.id)

    # What all share

    def _spare(self, key: str) -> Spare:
        spare = self._known.spare(key)
        if spare.id != key:
            self.notes.append(said("{name} is {spare} here: {title}.", name=key, spare=spare.id, title=spare.title))
        return spare

    def _shelf(self, entry: ShelfMove | Buy) -> Shelf:
        return Shelf(self._context.at(max(entry.at, self._context.moment)))

    def _checked(self, entry: M, spare: Spare, *, may_be_none: bool = False) -> M:
        if not (0 if may_be_none else 1) <= entry.number <= MOST:
            raise Refused(said("Say how many: a whole number from 1 to 1,000,000."))
        if spare.part is None and entry.pieces:
            raise Refused(said("{spare} is counted; its pieces have no ids of their own.", spare=spare.id))
        if spare.part is not None:
            self._check_pieces(entry, spare)
        return entry

    def _check_pieces(self, entry: ShelfMove, spare: Spare) -> None:
        """Parts that wear are items: each is named, is of that kind, and has not left."""
        if len(set(entry.pieces)) != entry.number or len(entry.pieces) != entry.number:
            kind = term(spare.kind, "kind")
            raise Refused(
                said_many(
                    "A {kind} has an id of its own: name the {n} piece ('as').",
                    "A {kind} has an id of its own: name the {n} pieces ('as').",
                    n=entry.number,
                    kind=kind,
                )
            )
        for piece in entry.pieces:
            item = self._known.item(piece)
            if item.kind != spare.kind:
                raise Refused(
                    said(
                        "{item} is a {kind}, and {spare} are of the kind {other}.",
                        item=item.id, kind=term(item.kind, "kind"), spare=spare.id, other=term(spare.kind, "kind"),
                    )
                )  # fmt: skip
            gone = gone_by(self._context, piece, entry.at)
            if gone is not None:
                raise Refused(said("{item} left for good (#{entry}).", item=piece, entry=Numeral(gone.entry)))
            self._check_in_nothing(piece, entry)

    def _check_in_nothing(self, piece: str, entry: ShelfMove) -> None:
        row = self._rows.last_fitting(piece)
        at = utc_text(entry.at)
        if row is not None and row.start <= at and (row.until is None or row.until > at):
            raise Refused(
                said("{item} sits in {inside} then; take it out first ('unfit').", item=piece, inside=row.inside)
            )

    def _check_line(self, entry: Issue | GiveBack) -> None:
        if entry.line is None:
            return
        name = LineName.read(entry.line)
        item, task = self._known.item(name.item), self._known.task(name.task)
        if task not in self._known.tasks_on(item):
            raise Refused(said("{task} is no work on {item}.", task=task.title, item=item.id))

    JUDGES: ClassVar[Judges] = {
        Receive: _receive, Issue: _issue, GiveBack: _give_back, CountShelf: _count, Buy: _buy,
    }  # fmt: skip


def left_said(spare: Spare, before: int, left: int) -> list[Said]:
    """What whoever takes from the shelf should know: that the book had fewer, that the last one went, or that what is
    kept as an insurance was touched."""
    if left < 0:
        return [
            said(
                "The book had {before} of {spare} on the shelf. Count what is left ('count-shelf').",
                before=in_units(max(0, before), spare.unit),
                spare=spare.id,
            )
        ]
    if left == 0:
        return [said("That was the last of {spare} ({title}): tell the stores.", spare=spare.id, title=spare.title)]
    if left < spare.least <= before:
        return [
            said(
                "{left} of {spare} are left; {least} are to be kept. Tell the stores.",
                left=in_units(left, spare.unit), spare=spare.id, least=spare.least,
            )
        ]  # fmt: skip
    return []


def _box_or_piece(spare: Spare, number: int) -> Said:
    return in_turn(
        said(
            "{number} is no whole box: {spare} comes in boxes of {pack}.",
            number=in_units(number, spare.unit),
            spare=spare.id,
            pack=spare.pack,
        ),
        said("Enter pieces, not boxes; where a box is not full, give a reason (--because)."),
    )


def _obsolete(spare: Spare) -> Said:
    families = listed(Quoted(family) for family in spare.families)
    return said("Every die set that {spare} is for has left ({families}).", spare=spare.id, families=families)
