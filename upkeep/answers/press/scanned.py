"""What a scanned code stands for in this book."""

from __future__ import annotations

from upkeep.answers.checks.gauge_choices import gauge_choice
from upkeep.answers.printed.seals import seal_found
from upkeep.keeping.context import Context
from upkeep.keeping.holds import hold_reason
from upkeep.plant.model import Item, Kind
from upkeep.scan_codes import ScanCode, Scannable
from upkeep.seals.line import SealLine
from upkeep.views.scanned import Scanned, ScannedItem, ScannedRow


def scanned(context: Context, code: ScanCode) -> Scanned:
    """What a code stands for at the moment of the context; raises :class:`NotFound` with near misses."""
    number, _, rest = code.text.partition(".")
    if code.kind is Scannable.ROW:
        row, _, letters = rest.partition(".")
        return ScannedRow(int(number), int(row), letters.upper())
    if code.kind is Scannable.SEAL:
        return seal_found(context, SealLine("", int(number), rest.upper()))
    return _item(context, _named(context, code.text))


def _named(context: Context, text: str) -> Item:
    """The item with an id; a keyboard with its capitals locked types it in other letters."""
    items = context.known.items
    alike = [key for key in items if key.casefold() == text.casefold()]
    return context.known.item(text if text in items or len(alike) != 1 else alike[0])


def _item(context: Context, item: Item) -> ScannedItem:
    where = context.whereabouts
    return ScannedItem(
        item=item.id,
        kind=item.kind.value,
        title=item.title,
        place=where.place_of(item),
        inside=where.sits_in(item.id),
        press=where.press_of(item.id),
        hold=hold_reason(context, item.id),
        gauge=gauge_choice(context, item) if item.kind is Kind.GAUGE else None,
    )
