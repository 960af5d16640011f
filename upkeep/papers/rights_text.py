"""Who may do what, as a page for the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.plant.values.facts import SignedWith
from upkeep.said import Said, Value, in_turn, listed, said, term
from upkeep.views.rights import RightLine, RightsTable, TrainingLine
from upkeep.wording.naming import names_said
from upkeep.wording.sentences import Reader, lines, text

_SLIPS = said("These rights guard against slips, not against lies.")
_READ_AS = said(
    "Each task says who may sign its work. A plant changes this table in plant.toml under [rights], by the "
    "word in brackets; what is marked * has been changed."
)
_NO_KEEPER = said(
    "This book has no keeper: none was named, or all have left. Name two or more in plant.toml (keepers) and "
    "load it; whoever may change people can do that."
)


def rights_text(table: RightsTable, reader: Reader) -> str:
    """The table of rights as text, the keepers of the book first."""
    keepers = said("Keepers of this book: {keepers}.", keepers=listed(table.keepers)) if table.keepers else _NO_KEEPER
    page = lines(keepers, reader)
    for act in table.acts:
        page += _act(act, reader)
    for work in table.training:
        page += _training(work, reader)
    slips = _SLIPS if table.signed_with == SignedWith.NAMES_ONLY else None
    return "\n".join([*page, "", *lines(in_turn(names_said(table.signed_with), slips, _READ_AS), reader)]) + "\n"


def _training(line: TrainingLine, reader: Reader) -> Iterator[str]:
    trained = [said("{who} (until {day})", who=who, day=until) if until else who for who, until in line.trained]
    over = [said("{who} ({day})", who=who, day=last) for who, last in line.over]
    yield ""
    yield from lines(said("Work on {work} asks for training", work=term(line.work)), reader, 2)
    yield from lines(said("trained: {people}", people=_people(trained)), reader, 4)
    if over:
        yield from lines(said("run out: {people}", people=listed(over)), reader, 4)


def _people(people: list[Value] | list[str] | list[Said | str]) -> Value:
    return listed(people) if people else said("nobody")


def _act(act: RightLine, reader: Reader) -> Iterator[str]:
    what = text(act.what, reader)
    yield ""
    yield f"{'*' if act.changed else ' '} {what[0].upper()}{what[1:]} [{act.act}]"
    roles = listed(term(role, "role") for role in act.roles)
    yield from lines(said("{roles}: {people}", roles=roles, people=_people(list(act.people))), reader, 4)
