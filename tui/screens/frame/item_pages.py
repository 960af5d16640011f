"""The pages about one item: how it lives and wears, what was checked, its faults and their causes, what comes next.

What makes the text of a page is imported when somebody reads it.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import partial

from tui.screens.frame.book_door import BookDoor
from tui.screens.frame.pages import Paper
from upkeep.errors import StrokebookError
from upkeep.plant.model import PARTS, Kind
from upkeep.said import said
from upkeep.wording.sentences import Reader, text


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


def _faults(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import fault_text

    return fault_text.faults_text(book.faults(at).listing(item), book.zone, reader)


def _causes(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import fault_text

    lists = book.faults(at).causes_of(item)
    none = said("{item} has no open fault, so there is nothing to find a cause for.", item=item)
    pages = (fault_text.causes_text(one, book.zone, reader) for one in lists)
    return "\n".join(pages) or f"{text(none, reader)}\n"


def _gauge(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import check_text

    return check_text.gauge_text(book.checks(at).gauge(item), book.zone, book.names, reader)


def _advice(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import wear_text

    return wear_text.advice_text(book.wear(at).advice(item), reader)


def _slug(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import wear_text

    return wear_text.slug_text(book.wear(at).slug(item, None, [], None), book.zone, reader)


def _pulls(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    """What was pulled and, whether or not anything was, how many good ones prove what."""
    from upkeep.papers import chart_text
    from upkeep.quality.capability import proofs

    try:
        told = chart_text.pulls_text(book.checks(at).pulls(item), book.zone, reader)
    except StrokebookError as refusal:
        told = f"{text(refusal.said, reader)}\n"
    return f"{told}\n{chart_text.proofs_text(proofs(None), reader)}"


def _charts(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    """The control charts of every characteristic that was measured on pieces, or why there is none."""
    from upkeep.papers import chart_text

    checks = book.checks(at)
    return _of_each_point(
        lambda point: chart_text.chart_page(checks.chart(item, point), book.zone, reader), item, book, at, reader
    )


def _of_each_point(page: Callable[[str], str], item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    """The page of every characteristic that was measured on an item, or why there is none."""
    pages = []
    for point in dict.fromkeys(one.point for one in book.wear(at).item(item).points):
        try:
            pages.append(page(point))
        except StrokebookError as refusal:
            pages.append(f"{text(refusal.said, reader)}\n")
    return "\n".join(pages) or text(said("Nothing was measured on {item}.", item=item), reader)


def _gauges_of(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    """The gauges by which an item was measured, each with its state and what its certificates say."""
    from upkeep.papers import check_text

    used = {
        value.gauge: None
        for point in book.wear(at).item(item).points
        for value in point.values
        if value.gauge is not None
    }
    pages = [
        check_text.gauge_text(book.checks(at).gauge(gauge), book.zone, book.names, reader) for gauge in sorted(used)
    ]
    nothing = said("Nothing was measured on {item} with a gauge.", item=item)
    return "\n".join(pages) or text(nothing, reader) + "\n"


def _capability(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    """Of every characteristic that was measured, or why it cannot be said."""
    from upkeep.papers import chart_text

    checks = book.checks(at)
    return _of_each_point(
        lambda point: chart_text.capability_text(checks.capability(item, point), book.zone, reader),
        item, book, at, reader,
    )  # fmt: skip


def _lives(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    """The lives of parts of its kind in its family."""
    from upkeep.papers import wear_text

    known = book.known.item(item)
    kind = known.kind if known.kind in PARTS else Kind.CONDUCTOR_PUNCH
    report = book.wear(at).lives(known.family or "", kind)
    return wear_text.lives_text(report, book.zone, reader)


def _history(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers import board_text

    return board_text.history_text(book.history(item), reader)


def _dossier(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers.evidence.dossier_text import dossier_text

    return dossier_text(book.dossier(item, at), book.zone, book.names, reader)


def _trace(item: str, book: BookDoor, at: datetime, reader: Reader) -> str:
    from upkeep.papers.evidence.trace_text import trace_text

    return trace_text(book.trace(item, at, limit=_SET_UPS), book.zone, reader)


_SET_UPS = 20
"""Set-ups on the page of a trace, the newest first."""


def item_papers(item: str, kind: str) -> dict[str, Paper]:
    """The pages about an item of a kind by a short name, in the order in which they are offered."""
    faults = Paper(said("Faults of {item}", item=item), partial(_faults, item))
    causes = Paper(said("Likely causes of the open faults of {item}", item=item), partial(_causes, item))
    history = Paper(said("History of {item}, newest first", item=item), partial(_history, item))
    dossier = Paper(said("Dossier of {item}: all the book holds of it", item=item), partial(_dossier, item))
    trace = Paper(said("Trace of {item}: its set-ups, what was made and checked", item=item), partial(_trace, item))
    if kind == Kind.GAUGE:
        gauge = Paper(said("Gauge {item}: whether it is valid, and what it measured", item=item), partial(_gauge, item))
        return {"gauge": gauge, "faults": faults, "history": history, "dossier": dossier, "trace": trace}
    return {
        "life": Paper(said("Life of {item}, with its trend", item=item), partial(_life, item)),
        "checks": Paper(said("Checks of this set-up: {item}", item=item), partial(_set_up, item)),
        "faults": faults,
        "causes": causes,
        "history": history,
        "dossier": dossier,
        "trace": trace,
        **({} if kind == Kind.PRESS else _of_tools(item, kind)),
    }


def _of_tools(item: str, kind: str) -> dict[str, Paper]:
    """What is told of tools alone."""
    papers = {
        "advise": Paper(said("How often to inspect {item}", item=item), partial(_advice, item)),
        "lives": Paper(said("How long parts like those of {item} live", item=item), partial(_lives, item)),
    }
    if kind == Kind.DIE_SET:
        papers |= {
            "charts": Paper(said("Control charts of {item}", item=item), partial(_charts, item)),
            "measured-with": Paper(said("Gauges that measured {item}", item=item), partial(_gauges_of, item)),
            "pulls": Paper(said("Pull tests of {item}", item=item), partial(_pulls, item)),
            "capability": Paper(said("Capability of {item}, point by point", item=item), partial(_capability, item)),
            "slug": Paper(said("Solder slug of {item}", item=item), partial(_slug, item)),
        }
    return papers
