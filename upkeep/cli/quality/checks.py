"""Checks of crimps and gauges: written down, and asked for."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from upkeep.book import Book
from upkeep.cli.entering.signing import point_option, points_of, unit_in
from upkeep.cli.options import (
    book_option,
    by_option,
    happened_option,
    json_option,
    known_option,
    language_option,
    opened,
    say_json,
    say_page,
    seen,
    seen_option,
    write,
)
from upkeep.cli.reasons_json import with_reasons
from upkeep.cli.saying import reader_of
from upkeep.entries.checking import OCCASIONS, Check, OutOfTolerance
from upkeep.entries.entry import Entry
from upkeep.entries.signing import Calibration, Sign
from upkeep.errors import Refused
from upkeep.papers import check_text
from upkeep.plant.line_names import LineName
from upkeep.said import said


@click.command()
@click.argument("item")
@click.argument("occasion", type=click.Choice(OCCASIONS))
@click.option("--crimp", help="The terminal on its wire, as crimps.toml names it.")
@click.option("--gauge", help="The gauge you measured with; enter another gauge as a separate check.")
@point_option
@click.option("--good", "good", multiple=True, help="What looked good: burr.")
@click.option("--bad", "bad", multiple=True, help="What looked bad.")
@click.option("--broke", help="How each pulled piece broke: wire-broke,pulled-out,terminal-broke.")
@click.option("--press", help="The press, if the book does not know it.")
@click.option("--order", help="The order it is made for.")
@click.option("--reel", help="The reel of terminals.")
@click.option("--wire", help="The lot of wire.")
@click.option("--remark", default="", help="A remark, in your words.")
@happened_option
@by_option
@book_option
def check(
    item: str, occasion: str, crimp: str | None, gauge: str | None, points: tuple[str, ...], good: tuple[str, ...],
    bad: tuple[str, ...], broke: str | None, press: str | None, order: str | None, reel: str | None, wire: str | None,
    remark: str, at_text: str | None, by: str, book_path: Path,
) -> None:  # fmt: skip
    """Enter what was measured and looked at on pieces from ITEM, under the limits now in force.

    OCCASION is set-up (settings: dial, cam, shut-height), first-off, as-found and as-left (before and after
    adjusting), slug, sample, reel (a new one), last-off or audit.  All readings of a point are given at once. A bad
    value holds the item: during setting, until it is measured good again; in the run, until it is released.

    A slug height that jumps holds it too.  1 check in 100 stops a steady set in this way; a jump of four scatters
    between checks is seen at once in 9 of 10 cases from eight checks on, in half with four.  Where other sets of its
    terminal family were measured for the same crimp with the same kind of gauge, their scatter counts with its own, and
    it is 9 of 10 from four checks on; with sisters a set that wears fast is stopped by up to 6 checks in 100 before its
    twelfth.  Settings that drift are found too; on dials with whole steps 6 drifts in 10 of one step over ten set-ups
    by the twelfth, nearly all by the fifteenth, and none that is smaller than half a step (all by simulation).

    Example: strokebook check DS-031 first-off --crimp T63-05 --gauge G-01 --point
    crimp-height=1.203,1.201,1.204,1.202,1.200 --good burr --by ana
    """

    def entries(book: Book, at: datetime) -> list[Entry]:
        looks = (*((key, True) for key in good), *((key, False) for key in bad))
        return [
            Check(
                at=at, by=by, item=item, occasion=occasion, press=press, crimp=crimp, gauge=gauge,
                points=points_of(points, unit_in(book)), looks=looks,
                broke=tuple(broke.split(",")) if broke else (), order=order, reel=reel, wire=wire, remark=remark,
            )
        ]  # fmt: skip

    write(book_path, at_text, entries)


@click.command()
@click.argument("gauge")
@click.option("--certificate", required=True, help="The number of the certificate.")
@click.option("--laboratory", required=True, help="Who calibrated it.")
@click.option("--received", type=float, required=True, help="Its error as received: reading minus true value.")
@click.option("--left", type=float, required=True, help="Its error as left, after adjusting.")
@click.option("--uncertainty", type=float, required=True, help="The expanded uncertainty of both, in its unit.")
@click.option("--due", required=True, help="The last day the certificate is good for, like 2027-03-09.")
@click.option("--remark", default="", help="A remark, in your words.")
@happened_option
@by_option
@book_option
def calibrate(
    gauge: str, certificate: str, laboratory: str, received: float, left: float, uncertainty: float, due: str,
    remark: str, at_text: str | None, by: str, book_path: Path,
) -> None:  # fmt: skip
    """Sign the calibration of GAUGE with what its certificate says; all figures in the gauge's own unit.

    The gauge counts until the plant's interval or the certificate ends, whichever comes first.

    Example: strokebook calibrate G-01 --certificate "26-0815" --laboratory "Measuring room" --received 0.001
    --left 0 --uncertainty 0.001 --due 2027-03-01 --by quin
    """

    def entries(book: Book, at: datetime) -> list[Entry]:
        task = book.known.calibration
        if task is None:
            raise Refused(
                said("No task in this plant calibrates gauges; that takes a task on gauges with 'every' or 'rule'.")
            )
        found = Calibration(certificate, laboratory, received, left, uncertainty, due)
        line = str(LineName(book.known.item(gauge).id, task.id))
        return [
            Sign(at=at, by=by, task=task.id, item=gauge, occurrence=book.occurrence_signed(line, at), remark=remark,
                 calibration=found)
        ]  # fmt: skip

    write(book_path, at_text, entries)


@click.command(name="out-of-tolerance", context_settings={"ignore_unknown_options": True})
@click.argument("gauge")
@click.argument("off", type=float)
@happened_option
@by_option
@book_option
def out_of_tolerance(gauge: str, off: float, at_text: str | None, by: str, book_path: Path) -> None:
    """Enter that GAUGE was found out of tolerance: OFF is its reading minus the true value, in its unit.

    Enter it before you sign its calibration.  The gauge is held; 'strokebook gauge' lists which results change.

    Example: strokebook out-of-tolerance G-01 -0.008 --by lea
    """
    write(book_path, at_text, lambda book, at: [OutOfTolerance(at=at, by=by, item=gauge, off=off)])


@click.command()
@click.argument("key", metavar="GAUGE", required=False)
@seen_option
@known_option
@json_option
@book_option
def gauge(key: str | None, at_text: str | None, known_text: str | None, as_json: bool, book_path: Path) -> None:
    """Whether GAUGE is valid, when it is due and who measures with it; without GAUGE, the register of all.

    If it was found to read wrong: every result since its last good calibration or block check that changes when the
    error is taken off, from good to bad or from bad to good, and the work that was signed with it.

    Example: strokebook gauge G-01
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        views = book.checks(at, known_at=known_at)
        if key is None:
            gauges = views.gauges()
            say_json(list(gauges)) if as_json else click.echo(check_text.gauges_text(gauges, reader_of(book)), nl=False)
            return
        report = views.gauge(key)
        if as_json:
            say_json(with_reasons(report, book))
            return
        say_page(book, check_text.gauge_text(report, book.zone, book.names, reader_of(book)))


@click.command(name="first-off")
@click.argument("item")
@seen_option
@known_option
@language_option
@json_option
@book_option
def first_off(
    item: str, at_text: str | None, known_text: str | None, language: str | None, as_json: bool, book_path: Path
) -> None:  # fmt: skip
    """One page about the set-up of ITEM: settings, first piece, adjusting, last piece, and who.

    --at shows the set-up that was running then.

    Example: strokebook first-off DS-031
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        page = book.checks(at, known_at=known_at).set_up(item)
        reader = reader_of(book, language)
        say_json(page) if as_json else say_page(book, check_text.set_up_text(page, book.zone, reader), reader)


globals()["first-off"] = first_off
globals()["out-of-tolerance"] = out_of_tolerance
