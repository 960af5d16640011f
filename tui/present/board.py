"""The board in words: its head, its columns for a width, and the cells of a line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tui.present.moments import Now, age_said, near_said, wall_said
from tui.present.state_words import states_text
from tui.present.words import between, first_said_that_fits
from upkeep.due.states import CALLING, State
from upkeep.entries.occurrences import Day, OfShift, event_of, occurrence_of
from upkeep.said import Said, Value, Weekday, either, in_turn, listed, minute, said, term
from upkeep.units.instants import Zone
from upkeep.views.board import Board, BoardLine, BoardQuery
from upkeep.wording.holds import hold_of
from upkeep.wording.jobs import going_on, job_said, lock_said
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import Reader, of_plant, text
from upkeep.wording.text import fit, width_of

ESTIMATED = "~"
"""Stands before strokes that had to be estimated."""

_LATE = (State.STOP, State.OVERDUE, State.DUE)


def due_text(line: BoardLine, zone: Zone, reader: Reader, width: int = 80) -> str:
    """Why a line is due, in a few words: ``192,400 of 200,000 strokes``, ``Mon 2026-03-09`` or the event that asks for
    it with its moment; "" where nothing is."""
    return first_said_that_fits(_beside_what_goes_on(line, _due_forms(line, zone, reader, width)), width, reader)


def _beside_what_goes_on(line: BoardLine, forms: tuple[Said, ...]) -> tuple[Said, ...]:
    """The same behind the sign that the press is locked or somebody is at it, which stands in the shortest form too."""
    signs = going_on(line.locks, line.job)
    if not signs:
        return forms
    sign = said("{signs}", signs=listed(signs))
    return (*(said("{sign}, {due}", sign=sign, due=form) for form in forms), sign, signs[0])


def _due_forms(line: BoardLine, zone: Zone, reader: Reader, width: int) -> tuple[Said, ...]:
    """The same, the longest form first."""
    if line.stopped_at is not None:
        since = zone.show(line.stopped_at)
        return (
            said("now: tools were changed {moment}", moment=since),
            said("tools changed {moment}", moment=since[5:]),
            said("tools changed"),
        )
    if line.at_next_stop and line.state is State.OPEN:
        room = width - width_of(text(said("next stop, by {latest}", latest=""), reader))
        latest = first_said_that_fits(_planned_forms(line), room, reader)
        return (
            said("at the next stop, by {latest}", latest=latest),
            said("next stop, by {latest}", latest=latest),
            said("at the next stop"),
        )
    event = event_of(line.occurrence)
    if line.for_item:
        return (hold_of(line.reasons), said("until released"))
    if event is None or line.due_at is None:
        return _planned_forms(line)
    what, since = term(event, "event"), zone.show(line.due_at)
    return (
        said("since the {event} of {moment}", event=what, moment=since),
        said("{event} {moment}", event=what, moment=since),
        said("{event} {moment}", event=what, moment=since[5:]),
        what,
    )


def _planned_forms(line: BoardLine) -> tuple[Said, ...]:
    """The strokes or the day of a line, the longest form first."""
    if line.strokes is not None and line.due_strokes is not None and not _answers_a_day(line):
        return _stroke_forms(line, line.strokes, line.due_strokes)
    if line.due_day is None:
        return (said("{nothing}", nothing=""),)
    planned, day = occurrence_of(line.occurrence), said("{day}", day=Weekday(line.due_day))
    if not isinstance(planned, OfShift):
        return (day,)
    return said("{day} {shift}", day=day, shift=planned.shift), day


def _answers_a_day(line: BoardLine) -> bool:
    """Whether the occurrence is a day; a usage occurrence is a figure, and then the strokes say why."""
    return isinstance(occurrence_of(line.occurrence), Day | OfShift)


def _stroke_forms(line: BoardLine, done: int, due: int) -> tuple[Said, ...]:
    mark = ESTIMATED if line.estimated else ""
    figures = said("{mark}{strokes} of {due}", mark=mark, strokes=done, due=due)
    return (
        said("{strokes} strokes", strokes=figures),
        said("{strokes} st.", strokes=figures),
        said("{mark}{strokes}/{due}", mark=mark, strokes=done, due=due),
    )


def late_said(line: BoardLine, now: Now) -> Said | None:
    """How long a line has been due, ``3 days``; None before that."""
    late = line.state in _LATE and line.due_at is not None and line.due_at <= now.at
    return age_said(now.at - line.due_at) if late and line.due_at else None


def late_text(line: BoardLine, now: Now) -> str:
    """The same in the words of the reader; "" before that."""
    late = late_said(line, now)
    return text(late, now.reader) if late else ""


def last_done_said(line: BoardLine, now: Now) -> Said:
    """When a line was last done and by whom; "never" if the book knows of none."""
    if line.last_done_at is None:
        return said("never")
    near = near_said(line.last_done_at, now)
    return said("{moment} {who}", moment=near, who=line.last_done_by) if line.last_done_by else near


def title_said(line: BoardLine) -> Value:
    """What a line is called; of a row that stands for the lines of an item, how many those are."""
    return said("{n} lines (Enter)", n=line.lines_held) if line.for_item else line.title


def head_rows(board: Board, query: BoardQuery, now: Now, person: str, width: int, window: range) -> tuple[str, ...]:
    """The three rows above the board: plant and local time, lines by state, counts as of and what is shown."""
    reader = now.reader
    counted, shown = text(counts_said(board, now), reader), text(shown_said(board, query, window), reader)
    return (
        title_row(board.plant, person, now, width),
        fit(f" {states_text(board.by_state, width - 1, reader)}", width),
        between(f" {counted}", f"{shown} ", width),
    )


def title_row(plant: str, person: str, now: Now, width: int) -> str:
    """The plant, who is here and the clock; the name of the zone, then that of the plant give way to the person."""
    clock, who = text(wall_said(now.at, now.zone), now.reader), ""
    if person:
        who = text(said("here: {name}", name=person), now.reader)
    whole = f" {plant}   {who}".rstrip()
    zoned = f"{clock} {now.zone.name} "
    if width_of(whole) + width_of(zoned) < width:
        return between(whole, zoned, width)
    room = width - width_of(clock) - width_of(who) - 6
    return between(f" {fit(plant, max(room, 0)).rstrip()}   {who}" if who else whole, f"{clock} ", width)


def counts_said(board: Board, now: Now) -> Said:
    """As of when the counts are: the oldest of all presses, and which press that is."""
    if board.counts_as_of is None:
        return said("No press has been counted yet")
    at, press = near_said(board.counts_as_of, now), board.oldest_count_press or ""
    return said("Counts as of {at} ({press}, the oldest)", at=at, press=press)


def shown_said(board: Board, query: BoardQuery, window: range) -> Said:
    """Which lines are shown, out of how many: ``1-16 of 1,230 to do, P-07, "clean"``."""
    states = _states_shown(query.states)
    rows = said("{total} {states}", total=board.total, states=states)
    if window:
        rows = said(
            "{first}-{last} of {total} {states}",
            first=window.start + 1,
            last=window.stop,
            total=board.total,
            states=states,
        )
    return said("{shown}", shown=listed((rows, *narrowed(query))))


def _states_shown(states: frozenset[State]) -> Said:
    if not states:
        return said("of all states")
    if states == frozenset(CALLING):
        return said("to do")
    return said("{states}", states=either(term(state, "state") for state in sorted(states)))


def narrowed(query: BoardQuery) -> tuple[Value, ...]:
    """What narrows the board besides states: area, place, item, role, and the searched text in quotes."""
    filters = [f'"{query.search}"'] if query.search else []
    role = term(query.role, "role") if query.role else None
    return (*(part for part in (query.area, query.place, query.item, role) if part), *filters)


def reason_text(line: BoardLine, now: Now) -> str:
    """The whole title of a line, why it stands as it does, and whether its sign-off waits for somebody."""
    if line.for_item:
        many = said("{n} lines of {item} wait for its release", n=line.lines_held, item=line.item)
        return text(said("{lines}. {why}.", lines=many, why=hold_of(line.reasons)), now.reader)
    why = said(
        "{task}, {item}: {why}",
        task=line.title,
        item=line.item,
        why=sentence(line.reasons, now.zone, now.names, now.reader),
    )
    waits = None
    if line.unverified:
        role = term(line.second_signature or "", "role")
        waits = said("Waiting for the second signature ({role}): press v.", role=role)
    owned = said("Belongs to {owner}.", owner=line.owner) if line.owner is not None else None
    return text(in_turn(*going_on_sentences(line, now), why, owned, waits), now.reader)


def going_on_sentences(line: BoardLine, now: Now) -> Iterator[Said]:
    """Whose locks hang where the line is, and who is at it."""
    if line.locks:
        locks = listed(lock_said(lock, lambda at: minute(at, now.zone)) for lock in line.locks)
        yield said("LOCKED: {locks}.", locks=locks)
    if line.job is not None:
        yield said("Under way: {job}.", job=job_said(line.job, lambda at: minute(at, now.zone)))


def named_in(search: str, titles: Mapping[str, str], reader: Reader) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """For each word of a search the tasks whose title holds it in the language of the reader alone."""
    read = {key: of_plant(title, reader).casefold() for key, title in titles.items() if title in reader.texts}
    found = ((word, tuple(key for key, title in read.items() if word in title)) for word in search.casefold().split())
    return tuple((word, tasks) for word, tasks in found if tasks)


def nothing_said(query: BoardQuery) -> Said:
    """What stands in an empty board, and which key widens it."""
    if narrowed(query):
        return said("No line matches. Press x to show the whole plant again.")
    return (
        said("Nothing needs doing. Press t to see all lines.") if query.states else said("This book has no lines yet.")
    )
