"""The shelf as pages of text: what lies there, what to order, kits, what is out for rework, one batch."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.said import Said, in_turn, listed, said, term
from upkeep.units.instants import Zone
from upkeep.views.overview.shelf import Kit, KitList, KitPart, OrderList, OrderRow, Outside, PiecesOf, ShelfRow
from upkeep.wording.sentences import Reader, text
from upkeep.wording.shelf import (
    away_said,
    coming_said,
    counted_said,
    in_units,
    kit_part_said,
    order_said,
    place_said,
    why_said,
)
from upkeep.wording.text import padded, paragraph, visible

_ID = 12


def shelf_text(rows: tuple[ShelfRow, ...], zone: Zone, reader: Reader) -> str:
    """What lies on the shelf, a block a spare."""
    page = [line for row in rows for line in _block(row, zone, reader)]
    return _page(page or [text(said("Nothing is kept on a shelf; name it in spares.csv."), reader)])


def _block(row: ShelfRow, zone: Zone, reader: Reader) -> Iterator[str]:
    head = said("{number}  {title}", number=in_units(row.number, row.unit), title=row.title)
    yield from _entry(row.spare, head, reader)
    for told in _told_of(row, zone):
        yield from paragraph(text(told, reader), _ID, _ID)


def _told_of(row: ShelfRow, zone: Zone) -> Iterator[Said]:
    about = [term(row.kind, "kind"), place_said(row.place)]
    if row.families:
        about.append(said("for {families}", families=listed(row.families)))
    yield said("{about}", about=listed(about))
    if row.number < 0:
        yield said("More were taken than the book had: count it ('count-shelf').")
    for piece in row.pieces:
        strokes = said("{item}, strokes {n}", item=piece.item, n=piece.strokes)
        if piece.batch is not None:
            strokes = said("{piece}, batch {batch}", piece=strokes, batch=piece.batch)
        yield strokes
    for batch, number in row.batches:
        if batch is not None:
            yield said("{number} of batch {batch}", number=in_units(number, row.unit), batch=batch)
    if row.bagged:
        yield said("taken for jobs and not used yet: {n}", n=in_units(row.bagged, row.unit))
    if row.missing:
        yield said("not found at the last count: {items}", items=listed(row.missing))
    yield from (coming_said(one, row.unit) for one in row.coming)
    yield counted_said(row, zone)
    if row.obsolete:
        yield said("No die set is left that it is for.")


def order_text(found: OrderList, zone: Zone, reader: Reader) -> str:
    """What to order, by the day by which to order it; below it what nothing calls for, and what nobody can plan."""
    page = [
        text(said("{plant}: to order, as of {at}", plant=found.plant, at=zone.show(found.at)), reader), "",
    ]  # fmt: skip
    wanted = [row for row in found.rows if row.order_by is not None]
    for row in wanted:
        page += _order(row, reader)
    if not wanted:
        page.append(text(said("Nothing has to be ordered."), reader))
    idle = [row.shelf.spare for row in found.rows if row.order_by is None]
    if idle:
        page += ["", *paragraph(text(said("Nothing uses: {spares}.", spares=listed(idle)), reader))]
    if found.unknown:
        spares = listed(row.spare for row in found.unknown)
        page += ["", *paragraph(text(said("No lead time is known of: {spares}.", spares=spares), reader))]
    return _page(page)


def _order(row: OrderRow, reader: Reader) -> list[str]:
    lines = list(_entry(row.shelf.spare, order_said(row), reader))
    supplied = [one for one in (row.shelf.supplier, row.shelf.supplier_id) if one]
    if supplied:
        lines += paragraph(text(said("from {supplier}", supplier=listed(supplied)), reader), _ID, _ID)
    return lines + [line for told in why_said(row) for line in paragraph(text(told, reader), _ID, _ID)]


def kits_text(found: KitList, zone: Zone, reader: Reader) -> str:
    """The kits of a week: the jobs that wait for parts first told, then one block a job in the order of its list."""
    at = zone.show(found.at)
    page = [text(said("{plant}: kits for {week}, as of {at}", plant=found.plant, week=found.week, at=at), reader)]
    if found.short:
        jobs = listed(said("{row} ({line})", row=kit.row, line=kit.line) for kit in found.short)
        page += ["", *paragraph(text(said("Short of parts: rows {jobs}.", jobs=jobs), reader))]
    if not found.kits:
        page += ["", text(said("No job of this week takes parts."), reader)]
    for kit in found.kits:
        page += ["", *_kit(kit, reader)]
    return _page(page)


def _kit(kit: Kit, reader: Reader) -> Iterator[str]:
    head = said("{item}  {title}", item=kit.item, title=kit.title)
    if kit.due is not None:
        head = said("{job}, due {day}", job=head, day=kit.due)
    yield from _entry(text(said("row {row}", row=kit.row), reader), in_turn(head, said("({place})", place=kit.place)),
                      reader)  # fmt: skip
    for part in kit.parts:
        yield from _kit_part(part, reader)
    if kit.bring:
        yield from paragraph(text(said("[ ] bring: {things}", things=listed(kit.bring)), reader), _ID, _ID + 4)


def _kit_part(part: KitPart, reader: Reader) -> list[str]:
    return paragraph(f"[ ] {text(kit_part_said(part), reader)}", _ID, _ID + 4)


def outside_text(found: tuple[Outside, ...], zone: Zone, reader: Reader) -> str:
    """What is out for rework, the first expected first."""
    if not found:
        return _page([text(said("Nothing is out for rework."), reader)])
    return _page([line for one in found for line in _entry(one.item, away_said(one, zone), reader)])


def pieces_text(found: PiecesOf, reader: Reader) -> str:
    """One batch: each piece and where it is."""
    if found.batch is None:
        return _page([text(said("Nobody said of which batch {item} is.", item=found.item), reader)])
    head = said("Batch {batch} of {spare}:", batch=found.batch, spare=found.spare or "-")
    page = [text(head, reader)]
    for piece in found.pieces:
        where = said("in {inside}, {place}", inside=piece.inside or "", place=piece.place)
        if piece.inside is None:
            where = said("{place}", place=piece.place)
        told = said("{where}, strokes {n}", where=where, n=piece.strokes)
        if piece.gone is not None:
            told = said("left for good: {end}, strokes {n}", end=term(piece.gone, "end of a life"), n=piece.strokes)
        page += _entry(piece.item, told, reader)
    return _page(page)


def _entry(name: str, told: Said, reader: Reader) -> list[str]:
    return paragraph(f"{padded(name, _ID - 1)} {text(told, reader)}", 0, _ID)


def _page(lines: list[str]) -> str:
    return "\n".join(map(visible, lines)) + "\n"
