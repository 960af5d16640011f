"""Who may do what: the table of rights, act by act and role by role, by every way into the book."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, define, entries_of, item, person, plant, task, write
from upkeep.book import Book
from upkeep.entries.entry import Entry
from upkeep.entries.kinds import all_kinds
from upkeep.entries.origin import FROM_A_FILE, IN_A_SHELL, ON_A_SCREEN, Origin, Proof, WayIn
from upkeep.errors import DefinitionProblems, Refused
from upkeep.plant.definition import Defined, Definition
from upkeep.plant.files import read_definitions
from upkeep.plant.model import Role
from upkeep.plant.rights import RIGHTS, Act, act_of_definition
from upkeep.views.rights import Wish

NOW = "2026-03-02 08:00"
PEOPLE = {role: f"has-{number}" for number, role in enumerate(Role)}
"""One person a role."""
HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25}
CRIMP = {"title": "Tab 2.8 on 0.5", "family": "tab", "size": "0.5 mm2"}
WAYS = (IN_A_SHELL, ON_A_SCREEN, FROM_A_FILE, Origin(WayIn.SHEET, proof=Proof.PAPER), Origin(WayIn.PAGE))

ASKED = {
    Act.FIT: "fit M-12 in P-07 by {}",
    Act.ORDER: "order A-1 100 with DS-031 on P-07 from 2026-03-03 by {}",
    Act.PAUSE: 'pause M-44 by {} because "rack"',
    Act.REWORK: 'rework CP-a granted 1000 by {} because "ground"',
    Act.SHELF: "receive SP-1 5 by {}",
    Act.OUTSIDE: 'send-out CP-a to "the grinder" expected 2026-03-09 "re-polish" by {}',
    Act.COUNTER: 'configure-counter P-07 running digits 6 times 1 by {} because "new counter"',
    Act.PLAN: 'cancel M-12/lube for 2026-03-04 by {} because "no grease"',
    Act.WEEK: "absent ben 2026-03-09 to 2026-03-10 by {}",
    Act.GAUGE_OUT: 'out-of-tolerance G-1 off 0.02 by {} because "block"',
    Act.RELEASE: 'release M-44 by {} because "looked at"',
    Act.UNLOCK: 'unlock #{{lock}} witness ana by {} because "gone home"',
    Act.SEEN: "seen P-07 since 2026-03-01T05:00:00Z by {}",
    Act.PERMIT: 'permit M-44 strokes 100 by {} because "order"',
}
"""An entry for each act, that goes into the book where its writer has the right."""
CHANGES = {
    Act.TASKS: task("lube", "module", every="4 days"),
    Act.PEOPLE: person("ben", "Ben", "operator", "maintenance lead"),
    Act.RULES: plant(name="Renamed"),
    Act.PLACES: define("place", "hall", title="Long hall", area="press hall"),
    Act.ITEMS: item("M-12", title="Renamed"),
    Act.GAUGES: item("G-1", title="Renamed"),
    Act.LIMITS: define("crimp", "CR-1", **CRIMP, points=[{**HEIGHT, "upper": 1.45}]),
}
"""A changed definition for each act that changes one."""


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A plant with one person a role, by the table as it is; M-44 is held."""
    people = [person(key, f"Has {role}", role) for role, key in PEOPLE.items()]
    crimp = define("crimp", "CR-1", **CRIMP, points=[HEIGHT])
    text = """
        2026-03-01 04:00 count P-07 0 by lea
        2026-03-01 05:00 count P-07 90000 by lea because "read twice"
        2026-03-01 06:00 hold M-44 by lea because "crash"
        2026-03-01 06:01 lock P-07 "main switch" by tom
    """
    lube, spare = task("lube", "module", every="3 days"), define("spare", "SP-1", kind="consumable", title="Oil")
    facts: dict[str, Any] = {"rights": {}, "lock_removal": "Call twice."}
    with book_of(tmp_path, text, tasks=[lube], more=[*people, crimp, spare], **facts) as opened:
        yield opened


def told(book: Book, text: str) -> Entry:
    """The entry of a text; {lock} in it is the number of the lock that hangs."""
    (entry,) = entries_of(book, f"{NOW} {text}".replace("{lock}", str(book.locks(at(NOW))[0].number)))
    return entry


def refusal(book: Book, text: str, origin: Origin) -> str:
    """What the book says to an entry; nothing where it would take it."""
    return str(book.refusals([told(book, text)], at(NOW)).get(0, ""))


@pytest.mark.parametrize("act", list(ASKED), ids=str)
def test_an_act_is_for_the_roles_of_the_table_and_for_no_other(book: Book, act: Act) -> None:
    """Role by role; the sentence names who, what, and which role it takes."""
    for role, key in PEOPLE.items():
        said = refusal(book, ASKED[act].format(key), IN_A_SHELL)
        wish = Wish.of(told(book, ASKED[act].format(key)))
        assert str(book.why_not(wish, key, at(NOW)) or "") == said, role
        if role in RIGHTS[act].roles:
            assert said == "", role
        else:
            assert f"Has {role} ({role}) may not" in said, role
            assert str(RIGHTS[act].roles[0]) in said
            asked = said.partition(" Ask ")[2].rstrip(".").replace(" or ", ", ").split(", ")
            named = [one for one in book.people() if one.name in asked]
            assert named, role
            owner = book.locks(at(NOW))[0].by if act is Act.UNLOCK else None  # takes the own lock off in any role
            assert all(set(one.roles) & set(RIGHTS[act].roles) or one.id == owner for one in named), role


@pytest.mark.parametrize("origin", WAYS, ids=lambda origin: str(origin.way_in))
def test_no_way_into_the_book_goes_past_the_table(book: Book, origin: Origin) -> None:
    """Screens, commands, files, sheets, pages: an operator does none of it, and makes nobody lead."""
    for text in ASKED.values():
        with pytest.raises(Refused, match=r"Has operator \(operator\) may not"):
            book.write([told(book, text.format(PEOPLE[Role.OPERATOR]))], at(NOW), origin)
    content = json.dumps({"id": "ben", "name": "Ben", "roles": ["maintenance lead"]})
    made_lead = entries_of(book, f'{NOW} define person ben {content} by ben because "I want to"')
    with pytest.raises(Refused, match="may not add or change people"):
        book.write(made_lead, at(NOW), origin)


@pytest.mark.parametrize("act", list(CHANGES), ids=str)
def test_a_definition_is_changed_by_those_of_the_table_with_a_reason(book: Book, act: Act) -> None:
    """People, roles, limits, pull tables, gauges, rules, places, items, tasks."""
    change: Definition = CHANGES[act]
    assert act_of_definition(change.what, change.key == "G-1") is act
    for role, key in PEOPLE.items():
        if role not in RIGHTS[act].roles:
            with pytest.raises(Refused, match="may not"):
                book.load([change], at(NOW), key, at(NOW), "a reason")
    may = PEOPLE[RIGHTS[act].roles[0]]
    with pytest.raises(Refused, match="Say why"):
        book.load([change], at(NOW), may, at(NOW))
    assert len(book.load([change], at(NOW), may, at(NOW), "a reason").entries) == 1


def test_a_gauge_is_no_item_of_stores_even_where_it_becomes_something_else(book: Book) -> None:
    """Nobody gets round the right by calling the gauge a press."""
    with pytest.raises(Refused, match="may not add or change gauges"):
        book.load([item("G-1", kind="press", digits=6, gauge_class=None)], at(NOW), PEOPLE[Role.STORES], at(NOW), "x")


def test_every_kind_of_entry_with_an_act_is_tried_here() -> None:
    """So that a new right cannot be forgotten; three are about hold lists and stand with their stories."""
    acts = {kind.act for kind in all_kinds() if kind.act is not None}
    assert acts - set(ASKED) == {Act.DISPOSE, Act.RESTRICT}
    assert set(RIGHTS) - acts - set(CHANGES) == {Act.LATE, Act.STRIKE, Act.ROOT_CAUSE, Act.UNLOCK}


def test_a_plant_gives_a_right_to_others_within_what_the_law_leaves_open(tmp_path: Path) -> None:
    """Operators may fit tools where the plant says so; nobody but the lead and quality releases."""
    files = {
        "plant.toml": '[plant]\nname = "T"\nzone = "UTC"\nkeepers = ["lea", "quin"]\n\n[rights]\nfit = ["operator"]\n',
        "places.csv": "id,title,area\nhall,Hall,press hall\n",
        "people.csv": "id,name,roles\nlea,Lea,maintenance lead\nquin,Quin,quality technician\nben,Ben,operator\n",
        "items.csv": "id,kind,title,place,digits,max_rate\nP-07,press,Press,hall,7,4000\nM-12,module,M,hall,,\n",
        "tasks.toml": "",
    }
    for name, text in files.items():
        (tmp_path / name).write_text(text)
    with Book.create(tmp_path / "plant.book") as book:
        book.load(read_definitions(tmp_path), at("2026-03-01 06:00"), "lea", at("2026-03-01 06:00"))
        write(book, f"{NOW} fit M-12 in P-07 by ben")
        with pytest.raises(Refused, match="needs the role of operator"):
            write(book, f"{NOW} unfit M-12 by lea")
        table = {line.act: line for line in book.rights(at(NOW)).acts}
    assert (table["fit"].roles, table["fit"].changed, table["fit"].people) == (("operator",), True, ("ben",))
    assert table["release"].roles == ("maintenance lead", "quality technician")
    (tmp_path / "plant.toml").write_text(files["plant.toml"].replace("fit =", "release ="))
    with pytest.raises(DefinitionProblems, match="field release: found 'operator'; allowed: one or more of maint"):
        read_definitions(tmp_path)


def test_the_keepers_are_two_and_name_their_successors(tmp_path: Path) -> None:
    """Only a keeper names keepers; when the last one has left, whoever may change people does."""
    kept = plant(keepers=["tom", "lea"])
    with book_of(tmp_path, more=[kept, person("quin", "Quin", "quality technician")]) as book:
        assert book.rights(at(NOW)).keepers == ("tom", "lea")
        others = plant(keepers=["quin", "ana"])
        with pytest.raises(Refused, match="Only a keeper of this book may name its keepers: Tom or Lea"):
            book.load([others], at(NOW), "quin", at(NOW), "new ones")
        left = [
            person("tom", "Tom", "operator", until="2026-03-02"),
            person("lea", "Lea", "operator", until="2026-03-02"),
        ]
        book.load(left, at(NOW), "lea", at(NOW), "left")
        later = at("2026-03-03 08:00")
        assert book.rights(later).keepers == ()
        with pytest.raises(Refused, match=r"Ben .* may not add or change people"):
            book.load([others], later, "ben", later, "new ones")
        book.load([others], later, "quin", later, "the last one has left")
        assert book.rights(later).keepers == ("quin", "ana")


def test_the_table_is_there_to_be_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By anybody, with the people who have each right, and what names are worth."""
    book_of(tmp_path, more=[plant(keepers=["tom", "lea"])]).close()
    said = Terminal(tmp_path / "plant.book", capsys).types(NOW, "rights")
    assert said.code == 0
    assert "Keepers of this book: tom, lea." in said.out
    assert "* Put items in or take them out [fit]" in said.out
    assert "  Release what is held [release]\n    maintenance lead, quality technician: lea\n" in said.out
    assert "Names are given, not proven" in " ".join(said.out.split())


@pytest.mark.parametrize("defined", Defined)
def test_whatever_can_be_defined_has_somebody_who_may_change_it(defined: Defined) -> None:
    """By the word an entry has for it."""
    assert RIGHTS[act_of_definition(defined.value, is_gauge=False)].roles
