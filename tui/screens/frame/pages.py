"""The pages a lead reads at the terminal: the same texts that the command line prints.

What makes the text of a page is imported when somebody reads it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from functools import partial

from tui.keys import Where
from tui.screens.frame.book_door import BookDoor
from upkeep.frozen import frozen
from upkeep.said import Numeral, Said, said
from upkeep.units.weeks import iso_week
from upkeep.wording.sentences import Reader


@frozen
class Paper:
    """A page: its title, the text of it for a moment and whoever reads it, and where its keys stand: on some pages what
    is asked is answered as well."""

    title: Said
    text: Callable[[BookDoor, datetime, Reader], str]
    where: Where = Where.PAPER


# Of the plant


def _suspect(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import suspect_text

    lists = book.suspects(at).lists()
    pages = [suspect_text.hold_list_text(hold_list, book.zone, reader) for hold_list in lists]
    return "\n".join([suspect_text.lists_text(lists, book.zone, reader), *pages])


def _faults(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import fault_text

    return fault_text.faults_text(book.faults(at).listing(only_open=True), book.zone, reader)


def _figures(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers.figures import figures_text

    return figures_text.figures_text(book.figures(at), book.names, reader)


def _questions(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import board_text

    asked = board_text.questions_text(book.questions(at), reader)
    return asked + board_text.training_text(book.training_ends(at), reader)


def _gauges(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import check_text

    return check_text.gauges_text(book.checks(at).gauges(), reader)


def _handover(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import handover_text

    locks = handover_text.locks_text(book.locks(at), book.zone, reader)
    jobs = handover_text.jobs_text(book.jobs(at), book.zone, reader)
    return "\n".join([jobs, locks, handover_text.handover_text(book.handover(at), book.zone, reader)])


PAPERS: Mapping[str, Paper] = {
    "suspect": Paper(said("Suspect product"), _suspect, Where.SUSPECT),
    "faults": Paper(said("Open faults"), _faults),
    "figures": Paper(said("Figures of this month"), _figures),
    "questions": Paper(said("Questions about the counts"), _questions, Where.QUESTIONS),
    "handover": Paper(said("Handover: jobs, locks, what the last shift left"), _handover),
    "gauges": Paper(said("Gauges, those not valid first"), _gauges),
}
"""Every page of the plant by a short name, in the order in which they are offered."""


def _shelf(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers.shelf.shelf_text import outside_text, shelf_text

    rows, away = book.shelf(at), book.outside(at)
    return f"{shelf_text(rows, book.zone, reader)}\n{outside_text(away, book.zone, reader)}"


def _to_order(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers.shelf.shelf_text import order_text

    return order_text(book.to_order(at), book.zone, reader)


def _kits(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers.shelf.shelf_text import kits_text

    return "\n".join(
        kits_text(book.kits(at, iso_week(book.zone.day(at) + timedelta(days=days))), book.zone, reader)
        for days in (0, 7)
    )


STORES: Mapping[str, Paper] = {
    "shelf": Paper(said("The shelf, and what is out for rework"), _shelf),
    "to-order": Paper(said("What to order, and by when"), _to_order),
    "kits": Paper(said("Kits of this week and the next"), _kits),
}
"""What is offered beside them where the plant keeps spares."""


def _board(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.due.states import CALLING
    from upkeep.papers import board_text
    from upkeep.views.board import BoardQuery

    query = BoardQuery(states=frozenset(CALLING), holds_by_item=True)
    return board_text.board_text(book.board(at, query, limit=_LINES), reader)


PAST: Mapping[str, Paper] = {"board": Paper(said("The board: all lines to do"), _board)}
"""What is offered beside the other pages where somebody looks back to a moment."""

_LINES = 500


def hints_for(person: str) -> Paper:
    """What stands out in how work was signed, for the lead who is at the desk."""
    return Paper(said("How work was signed"), partial(_hints, person), Where.HINTS)


def _hints(person: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers.hints_text import hints_text

    return hints_text(book.signing_hints(person, at), book.zone, reader)


def fault_paper(number: int) -> Paper:
    """One fault with its times, its checks and its causes."""
    return Paper(said("Fault #{n}", n=Numeral(number)), partial(_fault, number))


def _fault(number: int, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import fault_text

    return fault_text.fault_text(book.faults(at).case(number), book.zone, reader)
