"""The dossier of an item as text: section by section, 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from upkeep.papers.board_text import life_text
from upkeep.papers.check_text import check_rows, gauge_text
from upkeep.papers.evidence.permit_text import permit_said
from upkeep.papers.evidence.signed_text import signed_rows
from upkeep.papers.fault_text import fault_rows
from upkeep.papers.suspect_text import hold_list_rows, title_said
from upkeep.plant.names import Names
from upkeep.said import Numeral, Said, Value, minute, said, said_many, term
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes
from upkeep.views.evidence.dossier import About, Correction, Dossier, HeldSpan, Note, Ran, Sat
from upkeep.views.overview.shelf import PiecesOf
from upkeep.views.wear import PictureState
from upkeep.wording.holds import hold_said
from upkeep.wording.sentences import Reader, lines, text

Rows = Callable[[Dossier, Zone, Reader], Iterable[str]]
"""Makes the rows of a section; none where there is nothing."""


def dossier_text(dossier: Dossier, zone: Zone, names: Names, reader: Reader) -> str:
    """The dossier as a page; ``names`` are those of people by id."""
    about = dossier.about
    page = [text(said("DOSSIER  {item}  {title}", item=about.item, title=about.title), reader)]
    page += lines(_span(dossier, zone), reader)
    for title, rows in _SECTIONS:
        page += ["", *lines(title, reader), *(list(rows(dossier, zone, reader)) or lines(_NOTHING, reader, 2))]
    if dossier.gauge is not None:
        page += ["", *lines(said("AS A GAUGE"), reader), *gauge_text(dossier.gauge, zone, names, reader).splitlines()]
    return "\n".join(page) + "\n"


_NOTHING = said("Nothing in the book.")


def _span(dossier: Dossier, zone: Zone) -> Said:
    at = minute(dossier.at, zone)
    if dossier.since is None:
        return said("All that is in the book by {at}.", at=at)
    return said("What is in the book from {since} to {at}.", since=minute(dossier.since, zone), at=at)


def _about(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for row in _about_said(dossier.about, zone):
        yield from lines(row, reader, 2, 4)


def _about_said(about: About, zone: Zone) -> Iterator[Said]:
    kind = term(about.kind, "kind")
    yield said("{kind} of the family {family}", kind=kind, family=about.family) if about.family else kind
    yield said("belongs to {owner}", owner=about.owner) if about.owner else said("belongs to the plant")
    where = said("is at {place}", place=about.place)
    yield said("{where}, in {inside}", where=where, inside=about.inside) if about.inside else where
    known = said("in this book since {at}", at=minute(about.known_since, zone))
    yield said("in use since {day}; {known}", day=about.since, known=known) if about.since else known
    if about.life is not None:
        yield said("a new one is good for {strokes}", strokes=in_strokes(about.life))
    if about.held is not None:
        yield said("HELD: {why}", why=hold_said(about.held))
    if about.gone is not None:
        yield said("gone for good: {end}", end=term(about.gone, "end of a life"))


def _sat(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for row in dossier.sat:
        yield from lines(said("{span} in {inside}{rest}", span=_lasted(row, zone), inside=row.inside, rest=_ended(row)),
                         reader, 2, 4)  # fmt: skip


def _ended(row: Sat) -> Said:
    numbers = said(" (#{entry})", entry=Numeral(row.entry))
    if row.ended_by is None:
        return numbers
    numbers = said(" (#{entry}, #{ended})", entry=Numeral(row.entry), ended=Numeral(row.ended_by))
    return said("{numbers}, then to {place}", numbers=numbers, place=row.left_to) if row.left_to else numbers


def _lasted(row: Sat | Ran | HeldSpan, zone: Zone) -> Said:
    since = minute(row.since, zone)
    if row.until is None:
        return said("since {since}", since=since)
    return said("{since} to {until}", since=since, until=minute(row.until, zone))


def _contents(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for row in dossier.contents:
        what = said("{span} {item}{rest}", span=_lasted(row, zone), item=row.item, rest=_ended(row))
        if row.batch is not None:
            what = said("{what}, batch {batch}", what=what, batch=row.batch)
        yield from lines(what, reader, 2, 4)
    yield from _batch(dossier.batch, reader)


def _batch(batch: PiecesOf, reader: Reader) -> Iterator[str]:
    if batch.batch is None:
        return
    yield from lines(said("It is of batch {batch} of {spare}.", batch=batch.batch, spare=batch.spare or ""), reader, 2)
    for piece in (piece for piece in batch.pieces if piece.item != batch.item):
        inside: Value = piece.inside or piece.place
        other = said("{item}, at {where}, {strokes}", item=piece.item, where=inside, strokes=in_strokes(piece.strokes))
        yield from lines(other, reader, 4, 6)


def _strokes(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    yield from life_text(dossier.life, zone, reader).splitlines()[1:]
    for ran in dossier.ran:
        yield from lines(said("{span} on {press}: {strokes}", span=_lasted(ran, zone), press=ran.press,
                              strokes=_band(ran)), reader, 2, 4)  # fmt: skip
    rests = said_many("They rest on {n} reading of counters.", "They rest on {n} readings of counters.",
                      n=dossier.readings)  # fmt: skip
    yield from lines(rests, reader, 2, 4)


def _band(ran: Ran) -> Said:
    if ran.low == ran.high:
        return in_strokes(ran.best)
    return said("{strokes}, estimated: between {low} and {high}", strokes=in_strokes(ran.best), low=ran.low,
                high=ran.high)  # fmt: skip


def _checks(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for row in dossier.checks:
        head = said("{item} on {press}", item=row.item, press=row.press or said("no press"))
        yield from lines(said("{head}, crimp {crimp}", head=head, crimp=row.crimp) if row.crimp else head, reader, 2)
        yield from check_rows(row, zone, reader)
        if row.gauge is not None and row.gauge_note is not None and row.gauge_doubt is None:
            then = said("gauge {gauge} that day: {note}", gauge=row.gauge, note=row.gauge_note)
            yield from lines(then, reader, 6, 8)


def _signed(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for row in dossier.signed:
        yield from signed_rows(row, zone, reader)


def _faults(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for case in dossier.faults:
        yield from fault_rows(case, zone, reader)


def _holds(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for held in dossier.holds:
        why = said("{span} {why} (#{entry}); {ended}", span=_lasted(held, zone), why=hold_said(held.reason),
                   entry=Numeral(held.entry), ended=held.ended)  # fmt: skip
        yield from lines(said("{why}; only on {press}", why=why, press=held.press) if held.press else why, reader, 2, 4)


def _permits(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for permit in dossier.permits:
        yield from lines(permit_said(permit, zone), reader, 2, 4)


def _suspect(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for hold_list in dossier.suspect:
        yield from lines(title_said(hold_list), reader, 2)
        yield from hold_list_rows(hold_list, zone, reader)


def _corrections(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for one in dossier.corrections:
        yield from lines(_old(one), reader, 2, 4)
        yield from lines(_new(one, zone), reader, 4, 6)


def _old(one: Correction) -> Said:
    return said("#{entry} said: {old}", entry=Numeral(one.entry), old=one.old)


def _new(one: Correction, zone: Zone) -> Said:
    how = (
        said("struck by #{entry}", entry=Numeral(one.through))
        if one.new is None
        else said("corrected by #{entry}: {new}", entry=Numeral(one.through), new=one.new)
    )
    told = said("{how}; by {by} {at}", how=how, by=one.by, at=minute(one.at, zone))
    return said("{told}, because: {because}", told=told, because=one.because or said("no reason given"))


def _notes(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for note in dossier.notes:
        yield from lines(_note(note), reader, 2, 4)


def _note(note: Note) -> Said:
    return said("#{entry} {told}", entry=Numeral(note.entry), told=note.text)


def _pictures(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for picture in dossier.pictures:
        yield from lines(_picture(picture, zone), reader, 2, 4)


def _picture(picture: PictureState, zone: Zone) -> Said:
    kept = said("#{entry} {at} {file}, SHA-256 {sum}", entry=Numeral(picture.entry), at=minute(picture.at, zone),
                file=picture.file, sum=picture.sha256)  # fmt: skip
    if picture.belongs_to is not None:
        return said("{kept}; of #{entry}", kept=kept, entry=Numeral(picture.belongs_to))
    return said("{kept}; as new", kept=kept) if picture.as_new else kept


def _not_known(dossier: Dossier, zone: Zone, reader: Reader) -> Iterator[str]:
    for sentence in dossier.not_known:
        yield from lines(sentence, reader, 2, 4)


_SECTIONS: tuple[tuple[Said, Rows], ...] = (
    (said("WHAT IT IS, AND WHOSE"), _about),
    (said("WHERE IT SAT"), _sat),
    (said("WHAT SAT IN IT, AND BATCHES"), _contents),
    (said("STROKES, AND WHAT THEY REST ON"), _strokes),
    (said("CHECKS, WITH THE LIMITS OF THEN"), _checks),
    (said("WORK SIGNED, BY THE INSTRUCTIONS AND RIGHTS OF THEN"), _signed),
    (said("FAULTS AND REPAIRS"), _faults),
    (said("HOLDS"), _holds),
    (said("DEVIATION PERMITS"), _permits),
    (said("SUSPECT PRODUCT AND DISPOSITIONS"), _suspect),
    (said("CORRECTIONS"), _corrections),
    (said("REWORK, JOURNEYS, REMARKS"), _notes),
    (said("PICTURES"), _pictures),
    (said("NOT KNOWN"), _not_known),
)
"""The sections in the order in which they are read."""
