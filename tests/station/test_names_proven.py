"""Stations of a plant that proves names: a badge or short id, then a code, and what an attacker hears."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.keys.broken import BROKEN
from tests.plants import person
from tests.plants import plant as defined
from tests.station.visitor import MORNING, Plant, Visitor, served

OWN, PASSWORD = "402917", "warm oil on the ram"


@pytest.fixture(scope="module")
def keys(tmp_path_factory: pytest.TempPathFactory) -> tuple[bytes, bytes, str]:
    """The file of a book that goes by codes, its keys, and the number of Ben's badge: made once, hashing takes long."""
    folder = tmp_path_factory.mktemp("keys")
    two_jobs = person("ben2", "Ben", "quality technician", same_as="ben")
    with served(folder, more=(two_jobs,)) as plant, plant.book() as book:
        book.load([defined(signed_with="codes")], MORNING, "lea", MORNING, because="from now on")
        naming = book.naming
        badge = naming.keys.held.give_badge("ben", MORNING)
        for key, secret in (("ben", OWN), ("ben2", PASSWORD)):
            first = naming.keys.codes.give_first(key, MORNING, is_password=key == "ben2")
            naming.choose(key, first, secret, MORNING)
        path = plant.path
    return path.read_bytes(), Path(f"{path}-keys").read_bytes(), badge


@pytest.fixture
def plant(tmp_path: Path, keys: tuple[bytes, bytes, str]) -> Iterator[Plant]:
    """Such a plant at 06:05, with its badge."""
    with served(tmp_path, files=keys[:2]) as plant:
        plant.badge = keys[2]
        yield plant


def asked(plant: Plant, typed: str) -> Visitor:
    """A browser at which somebody gave a badge or an id."""
    return plant.visitor().goes("/at/P-07/who").presses("Go on", person=typed)


def test_a_short_id_and_a_code_are_two_actions_and_the_entry_says_how_the_name_was_proven(plant: Plant) -> None:
    visitor = asked(plant, "ben")
    assert "Ben?" in visitor.text
    visitor.presses("Go on", secret=OWN)
    assert visitor.path == "/at/P-07/count"
    visitor.presses("Go on", count="1000")
    with plant.book() as book:
        (line,) = book.newest_written(1)
    assert (line.kind, line.by, line.way_in, line.proof) == ("count", "ben", "page", "code")


def test_a_badge_stands_for_all_jobs_of_its_owner_who_says_in_which_they_are_here(plant: Plant) -> None:
    visitor = asked(plant, plant.badge)
    assert "In which of your jobs are you here?" in visitor.text
    assert plant.badge not in visitor.html
    visitor.presses("Go on", person="ben2", secret=PASSWORD)
    assert visitor.path == "/at/P-07/count"


def test_without_the_code_nobody_is_here_and_nothing_can_be_written(plant: Plant) -> None:
    visitor = asked(plant, "ben")
    for secret in ("", "000000", OWN + "1", f" {OWN}"):
        visitor.presses("Go on", secret=secret)
        assert (visitor.status, visitor.path) == (422, "/at/P-07/code")
        assert "That is not the code of Ben." in visitor.text
        assert OWN not in visitor.html
    assert visitor.goes("/at/P-07").path == "/at/P-07/who"


def test_after_five_wrong_codes_the_right_one_waits_too_and_the_book_says_so(plant: Plant) -> None:
    visitor = asked(plant, "ben")
    for number in range(5):
        visitor.presses("Go on", secret=f"00000{number}")
    visitor.presses("Go on", secret=OWN)
    assert "Too many wrong codes" in visitor.text
    other = plant.visitor().goes("/at/P-08/who").presses("Go on", person="ben").presses("Go on", secret=OWN)
    assert "Too many wrong codes were typed under this name" in other.text
    with plant.book() as book:
        assert "wrong" in book.newest_written(1)[0].kind
    plant.clock.forward(31)
    visitor.presses("Go on", secret=OWN)
    assert visitor.path == "/at/P-07/count"


def test_badges_cannot_be_tried_one_after_the_other(plant: Plant) -> None:
    for number in range(5):
        visitor = asked(plant, f"11111111111111111111{number}")
        assert f"11111{number}" not in visitor.html
    wrong = plant.badge[:-1] + ("y" if plant.badge.endswith("X") else "x")  # a scanner may send small letters
    assert "Too many wrong codes were typed here" in asked(plant, wrong).text


def test_the_first_code_proves_nothing_until_its_owner_has_chosen_another(plant: Plant) -> None:
    with plant.book() as book:
        first = book.naming.keys.codes.give_first("mal", MORNING, is_password=False)
    visitor = asked(plant, "mal").presses("Go on", secret=first)
    assert "this is your first code" in visitor.text
    visitor.presses("Go on", secret=first, new="123456", again="123456")
    assert "a pattern which anybody tries first" in visitor.text
    visitor.presses("Go on", secret=first, new="731905", again="731950")
    assert "not the same" in visitor.text
    visitor.presses("Go on", secret=first, new="731905", again="731905")
    assert visitor.path == "/at/P-07/count"
    with plant.book() as book:
        (line,) = book.newest_written(1)
    assert (line.by, line.proof) == ("mal", "code")
    assert "731905" not in line.text


def test_somebody_whose_code_is_withdrawn_is_out_at_once(plant: Plant) -> None:
    visitor = asked(plant, "ben").presses("Go on", secret=OWN)
    with plant.book() as book:
        book.naming.keys.codes.withdraw("ben")
    assert visitor.goes("/at/P-07").path == "/at/P-07/who"


def test_no_code_travels_over_plain_http_from_another_machine(plant: Plant) -> None:
    visitor = plant.visitor(address="10.1.2.3").goes("/at/P-07/who")
    token = visitor.hidden("token")
    visitor.sends("/at/P-07/code", {"token": token, "person": "ben", "secret": OWN})
    assert (visitor.status, visitor.goes("/at/P-07").path) == (403, "/at/P-07/who")


@pytest.mark.parametrize("broken", BROKEN)
def test_a_file_of_keys_that_cannot_be_used_is_told_on_the_page(
    tmp_path: Path, keys: tuple[bytes, bytes, str], broken: str
) -> None:
    """With its sentence, also to a browser that has been here; nobody is taken for somebody."""
    spoil, told = BROKEN[broken]
    with served(tmp_path, files=keys[:2]) as plant:
        spoil(Path(f"{plant.path}-keys"))
        visitor = plant.visitor().goes("/at/P-07/who")
        visitor.goes("/at/P-07/who")
        assert told in visitor.text
        assert visitor.status == 409
