"""The pages a lead reads at the terminal: the same texts that the command line prints.

What makes the text of a page is imported when somebody reads it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from functools import partial

from tui.screens.frame.book_door import BookDoor
from upkeep.frozen import frozen
from upkeep.plant.model import Kind
from upkeep.said import Said, said
from upkeep.wording.sentences import Reader, text


@frozen
class Paper:
    """A page: its title, and the text of it for a moment and whoever reads it; ``answered``: what it asks is answered
    there as well."""

    title: Said
    text: Callable[[BookDoor, datetime, Reader], str]
    answered: bool = False


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
    from upkeep.papers import figures_text

    return figures_text.figures_text(book.figures(at), book.names, reader)


def _questions(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import board_text

    asked = board_text.questions_text(book.questions(at), reader)
    return asked + board_text.training_text(book.training_ends(at), reader)


def _gauges(book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import check_text

    return check_text.gauges_text(book.checks(at).gauges(), reader)


PAPERS: Mapping[str, Paper] = {
    "suspect": Paper(said("Suspect product"), _suspect),
    "faults": Paper(said("Open faults"), _faults),
    "figures": Paper(said("Figures of this month"), _figures),
    "questions": Paper(said("Questions about the counts"), _questions, answered=True),
    "gauges": Paper(said("Gauges, those not valid first"), _gauges),
}
"""Every page of the plant by a short name, in the order in which they are offered."""


def hints_for(person: str) -> Paper:
    """What stands out in how work was signed, for the lead who is at the desk."""
    return Paper(said("How work was signed"), partial(_hints, person))


def _hints(person: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers.hints_text import hints_text

    return hints_text(book.signing_hints(person, at), book.zone, reader)


# Of an item


def _life(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from dataclasses import replace

    from upkeep.papers import board_text, plots, wear_plots, wear_text

    # Whether the files of pictures are still what they were is looked up by the command for pictures, not here.
    wear = replace(book.wear(at).item(item), pictures=())
    drawn = [
        plots.chart_text(wear_plots.trend_plot(item, point, reader))
        for point in wear.points
        if point.trend.line is not None
    ]
    texts = board_text.life_text(book.life(item, at), book.zone, reader), wear_text.wear_text(wear, book.zone, reader)
    return "\n".join(filter(None, ("".join(texts), *drawn)))


def _set_up(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.errors import NotFound
    from upkeep.papers import check_text

    sets = book.check_forms(at).sets_at(item)
    pages = []
    for die_set in sets:
        try:
            pages.append(check_text.set_up_text(book.checks(at).set_up(die_set), book.zone, reader))
        except NotFound as nothing:
            pages.append(f"{text(nothing.said, reader)}\n")
    none = said("No die set is fitted at {item}; nothing was checked.", item=item)
    return "\n".join(pages) or f"{text(none, reader)}\n"


def _item_faults(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import fault_text

    return fault_text.faults_text(book.faults(at).listing(item), book.zone, reader)


def _gauge(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import check_text

    return check_text.gauge_text(book.checks(at).gauge(item), book.zone, book.names, reader)


def _history(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import board_text

    return board_text.history_text(book.history(item), reader)


def item_papers(item: str, kind: str) -> dict[str, Paper]:
    """The pages about an item of a kind by a short name, in the order in which they are offered."""
    faults = Paper(said("Faults of {item}", item=item), partial(_item_faults, item))
    history = Paper(said("History of {item}, newest first", item=item), partial(_history, item))
    if kind == Kind.GAUGE:
        gauge = Paper(said("Gauge {item}: whether it is valid, and what it measured", item=item), partial(_gauge, item))
        return {"gauge": gauge, "faults": faults, "history": history}
    return {
        "life": Paper(said("Life of {item}, with its trend", item=item), partial(_life, item)),
        "checks": Paper(said("Checks of this set-up: {item}", item=item), partial(_set_up, item)),
        "faults": faults,
        "history": history,
    }
