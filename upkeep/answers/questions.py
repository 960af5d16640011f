"""What the counts leave open: questions for a person, each told once with what to do."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta

from upkeep.answers.alarms import Alarms
from upkeep.answers.attribution import unattributed
from upkeep.answers.worn_less import too_many
from upkeep.counting.strokes import strokes_between
from upkeep.entries.checking import WHILE_SETTING, Check
from upkeep.entries.counting import Count
from upkeep.entries.lives import Remark
from upkeep.entries.standing import Standing
from upkeep.keeping.context import Context
from upkeep.keeping.holds import gone_by, permit_left
from upkeep.keeping.rows.counted import mark_from
from upkeep.plant.covering import idle_covers
from upkeep.plant.definition import Defined
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Kind
from upkeep.progress import watched
from upkeep.quality.jumps import SLUG_JUMP
from upkeep.quality.settings import SETTINGS
from upkeep.said import Figure, Moment, Numeral, Quoted, in_turn, listed, said, term
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.units.quantities import in_strokes
from upkeep.views.questions import Question

_REMARKS_OF, _INSTANT = timedelta(days=366), timedelta(seconds=1)

SAME_READINGS = 4
"""Readings with one figure (three shifts) after which a counter is asked about, if pieces were made meanwhile."""

RATIO_FROM_STROKES = 500
RATIO_LOW, RATIO_HIGH = 0.98, 1.02
"""A module's own counter and its press agree within these.  Plant defaults, no source."""


Seen = Callable[[str, str], bool]
"""Whether somebody has seen what waits about an item or task since a moment (UTC, as stored)."""


def questions(context: Context, seen: Seen) -> list[Question]:
    """Counts not taken, counters that stand still or disagree, strokes with no module on the press, what runs although
    it must not, slugs that jumped and settings that make up for wear; oldest first, without those somebody has seen."""
    asked = [
        *_missing(context, seen),
        *_vouched(context),
        *_frozen(context),
        *_disagreeing(context),
        *_nobody(context),
        *_disputed(context),
        *_worn_less(context),
        *_locked(context),
        *_barred(context),
        *_resting_on_a_press(context),
        *_idle_covers(context),
        *_permits(context),
        *_jumped(context),
        *_drifting(context),
        *_remarks(context),
    ]
    waiting = (question for question in asked if not seen(question.about, utc_text(question.since)))
    return sorted(waiting, key=lambda question: (question.since, question.about))


def _remarks(context: Context) -> Iterator[Question]:
    """What was remarked on an item or a line within a year; each until somebody has seen it."""
    since = context.moment - _REMARKS_OF
    for recorded in context.entries.of_kind(Remark, utc_text(since), utc_text(context.moment + _INSTANT)):
        remark = recorded.entry
        assert isinstance(remark, Remark)
        where = remark.item if remark.task is None else LineName(remark.item, remark.task)
        asks = said(
            "{name} remarks on {where}: {text}",
            name=context.names.of(remark.by, recorded.id), where=str(where), text=Quoted(remark.text),
        )  # fmt: skip
        yield Question(remark.item, remark.at, asks)


def _permits(context: Context) -> Iterator[Question]:
    """Held items that run all the same, by leave of a named person."""
    for held in context.rows.standings(Standing.HOLD):
        row, left = context.findings.last_permit(held.item, utc_text(context.moment)), 0
        if row is not None:
            left = permit_left(context, held.item, context.moment)
        if row is not None and left:
            asks = said(
                "{item} is held, and a deviation permit (#{entry}) lets it do {strokes} more.",
                item=held.item,
                entry=Numeral(row.entry),
                strokes=in_strokes(left),
            )
            yield Question(held.item, from_utc_text(row.at), asks)


def _jumped(context: Context) -> Iterator[Question]:
    """Die sets whose slug height jumped, until they are released."""
    for row in context.findings.bad_at(SLUG_JUMP):
        released = context.findings.last_release(row.item, utc_text(context.moment))
        if row.at <= utc_text(context.moment) and (released is None or released < row.at):
            asks = said(
                "The slug height of {item} jumped at {moment} (#{entry}): something in the press or the die has moved "
                "or broken, or the gauge reads wrong. Check the gauge and measure again, then check the shut height.",
                item=row.item,
                moment=Moment(from_utc_text(row.at), context.known.zone),
                entry=Numeral(row.entry),
            )
            yield Question(row.item, from_utc_text(row.at), asks)


def _drifting(context: Context) -> Iterator[Question]:
    """Die sets whose last set-up makes up for wear, wherever they are by now."""
    from upkeep.answers.wear.hidden_wear import HiddenWear  # with the statistics of wear

    alarms = HiddenWear(context).alarms_of(list(_last_set_ups(context)))
    yield from (Question(check.item, check.at, alarm) for check, alarm in alarms)


def _last_set_ups(context: Context) -> Iterator[Check]:
    for item in context.known.items.values():
        if item.kind is not Kind.DIE_SET or item.scrapped or gone_by(context, item.id, context.moment):
            continue
        last = context.wear_history.last_set_up(item.id, SETTINGS, WHILE_SETTING, utc_text(context.moment))
        recorded = context.entries.by_number(last) if last is not None else None
        if recorded is not None and isinstance(recorded.entry, Check):
            yield recorded.entry


def _missing(context: Context, seen: Seen) -> Iterator[Question]:
    """Counts that were not read when something moved.  They stay for as long as the book does, and most were seen long
    ago: those are left out before it is worked out how their strokes are shared."""
    edges = [edge for edge in context.rows.guessed_edges() if not seen(edge.press, edge.moment)]
    for edge in watched(edges, "asked", len(edges), context.file.watch):
        press, at = edge.press, from_utc_text(edge.moment)
        before, after = context.rows.mark_at(press, edge.moment), context.rows.mark_after(press, edge.moment)
        shared = None
        if before and after:
            _, by = context.judge.counts.shared(press, from_utc_text(before.at), at, from_utc_text(after.at))
            shared = said("Until then the strokes are shared by {by} and marked as estimated.", by=term(by, "share"))
        missing = said(
            "The counter of {press} was not read at {moment} ({items} moved). If the count is known, enter it.",
            press=press,
            moment=Moment(at, context.known.zone),
            items=edge.items,
        )
        yield Question(press, at, in_turn(missing, shared))


def _vouched(context: Context) -> Iterator[Question]:
    """Counts that the lead wrote against the press's rate, until the press was read again."""
    for row in context.rows.last_marks():
        recorded = context.entries.by_number(row.entry)
        if (
            recorded is not None
            and isinstance(recorded.entry, Count)
            and recorded.entry.because
            and recorded.entry.corrects is None
        ):
            asks = said(
                "The count {count} of {press} at {moment} is more than its rate allows, and was accepted with "
                'a reason ("{reason}", #{entry}). Read the counter again.',
                count=row.value,
                press=row.press,
                moment=Moment(recorded.entry.at, context.known.zone),
                reason=recorded.entry.because,
                entry=Numeral(recorded.id),
            )
            yield Question(row.press, recorded.entry.at, asks)


def _frozen(context: Context) -> Iterator[Question]:
    for row in context.rows.last_marks():
        marks = context.rows.newest_marks(row.press, SAME_READINGS)
        if len(marks) == SAME_READINGS and len({mark.total for mark in marks}) == 1:
            newest, *_, oldest = marks
            first, last = from_utc_text(oldest.at), from_utc_text(newest.at)
            made = context.rows.quantities_over(row.press, oldest.at, utc_text(last + timedelta(seconds=1)))
            pieces = sum(quantity.pieces for quantity in made)
            if pieces:
                asks = said(
                    "The counter of {press} has shown {count} since {moment}, yet {pieces} pieces were made. "
                    "Has it stopped? Count ten strokes against it. Until it counts again, its strokes go on by the "
                    "pieces made, as an estimate: enter these ('strokebook quantity').",
                    press=row.press,
                    count=row.value,
                    moment=Moment(first, context.known.zone),
                    pieces=pieces,
                )
                yield Question(row.press, first, asks)


def _disagreeing(context: Context) -> Iterator[Question]:
    for row in context.rows.last_marks():
        item = context.known.items[row.press]
        if item.kind is Kind.PRESS:
            continue
        last, begin = mark_from(row), _counted_so_since(context, item.id)
        own = last.total - context.judge.counts.total_at(item.id, begin).best
        by_press = strokes_between(context.judge.counts, item.id, begin, last.at).best
        if by_press >= RATIO_FROM_STROKES and not RATIO_LOW <= own / by_press <= RATIO_HIGH:
            asks = said(
                "The counter of {item} says {own}, those of its presses say {by_press} (ratio {ratio}). The "
                "press counter is used; have the other one checked.",
                item=item.id,
                own=in_strokes(own),
                by_press=by_press,
                ratio=Figure(own / by_press, ".2f"),
            )
            yield Question(item.id, begin, asks)


def _counted_so_since(context: Context, counter: str) -> datetime:
    """Since when a counter that was read counts as it does: its first reading, or its last change of configuration."""
    first, configuration = context.rows.first_mark(counter), context.rows.configurations_of(counter)
    return from_utc_text(max([*([first.at] if first else []), *(row.since for row in configuration)]))


def _nobody(context: Context) -> Iterator[Question]:
    for row in context.rows.last_marks():
        if context.known.items[row.press].kind is not Kind.PRESS:
            continue
        left = unattributed(context, row.press, NEVER)
        first = context.rows.first_mark(row.press)
        if left > 0 and first is not None:
            asks = said(
                "{press} did {strokes} with no module on it, according to this book. Which module was on it? Give them "
                "to it with the time it hung there: 'strokebook fit MODULE {press} --at ... --until ...'.",
                strokes=in_strokes(left),
                press=row.press,
            )
            yield Question(row.press, from_utc_text(first.at), asks)


def _disputed(context: Context) -> Iterator[Question]:
    """Counts that cannot be true beside an earlier one, until the lead has settled which is wrong."""
    names, zone = context.known.names, context.known.zone
    for row in context.rows.disputed():
        recorded, earlier = context.entries.by_number(row.entry), context.entries.by_number(row.disputes)
        if recorded is None or earlier is None:
            continue
        asks = said(
            "{name} read {count} on the counter of {press} at {moment} (#{entry}): if that is right, #{disputed} of "
            "{at}, written by {other}, is wrong. Settle it in one step: 'strokebook settle {number} FIGURE' with what "
            "it showed then, without a figure if nobody knows, or 'strokebook settle {number} --right' if #{disputed} "
            "stands.",
            name=names.get(recorded.entry.by, recorded.entry.by),
            count=row.value,
            press=row.press,
            moment=Moment(recorded.entry.at, zone),
            entry=Numeral(row.entry),
            disputed=Numeral(row.disputes),
            at=Moment(earlier.entry.at, zone),
            other=names.get(earlier.entry.by, earlier.entry.by),
            number=Numeral(row.disputes),
        )
        yield Question(row.press, recorded.entry.at, asks)


def _worn_less(context: Context) -> Iterator[Question]:
    """Strokes at set-up or dry that an older rule took, or that a corrected count has made too many."""
    for number, at, claimed in too_many(context):
        asks = said(
            "{told} They take more off its life than was ever put on it: correct or strike #{entry}.",
            told=claimed.said,
            entry=Numeral(number),
        )
        yield Question(claimed.item, at, asks)


def _locked(context: Context) -> Iterator[Question]:
    """Presses that counted while somebody's lock hung on them."""
    from upkeep.answers.under_way.locked import counted_while_locked  # of few presses, and those rarely

    return counted_while_locked(context)


def _barred(context: Context) -> Iterator[Question]:
    alarms = Alarms(context)
    for row in context.rows.last_marks():
        if context.known.items[row.press].kind is Kind.PRESS:
            for bar, sentence in (*alarms.of_press(row.press), *alarms.put_away(row.press)):
                yield Question(bar.item, bar.since, sentence)


def _resting_on_a_press(context: Context) -> Iterator[Question]:
    """What a book holds as put away although it hangs on a press, or has something on it, and has not run since."""
    ran = {bar.item for row in context.rows.last_marks() for bar, _ in Alarms(context).put_away(row.press)}
    for pause in context.rows.standings(Standing.PAUSE):
        item = context.known.items.get(pause.item)
        if item is None or item.id in ran:
            continue
        press = context.judge.press_of(item.id)
        if press is None or (item.kind is Kind.PRESS and not context.rows.inside_now(press)):
            continue
        since = Moment(from_utc_text(pause.since), context.known.zone)
        on_it = listed(content.item for content in context.rows.inside_now(press))
        asks = said(
            "{item} has been in storage or out of use since {moment}, yet hangs on {press}. Take it off, or say that "
            "it is in use ('resume').",
            item=item.id,
            moment=since,
            press=press,
        )
        if item.id == press:
            asks = said(
                "{press} has been out of use since {moment}, yet {items} hangs on it. Take that off, or say that the "
                "press is in use ('resume').",
                press=press,
                moment=since,
                items=on_it,
            )
        yield Question(item.id, from_utc_text(pause.since), asks)


def _idle_covers(context: Context) -> Iterator[Question]:
    """Declarations of a book begun under an older rule; since when is the day of the definition."""
    since = {row.key: row.since for row in context.known.rows if row.what == Defined.TASK}
    for idle in idle_covers(context.known.tasks):
        asks = said(
            "{task} declares to cover {covered} and never does: {why}. Take {quoted} out of its 'covers'; {covered} is "
            "asked for by itself.",
            task=idle.task,
            covered=idle.covered,
            why=idle.why,
            quoted=Quoted(idle.covered),
        )
        yield Question(idle.task, from_utc_text(since[idle.task]), asks)
