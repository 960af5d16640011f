"""One book, read in two languages at once and in the units of its plant: tablets, a terminal, papers, help."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import click
import pytest

from tests.clock import Clock
from tests.plants import at, book_of, person, task
from tests.station.visitor import served
from tests.tui.terminal import terminal
from upkeep.book import Book
from upkeep.cli import run as command_line
from upkeep.cli import saying
from upkeep.cli.reader.helping import helped
from upkeep.cli.run import run, strokebook
from upkeep.plant.catalogue import shipped_tasks
from upkeep.service.lists import write_list
from upkeep.wording.sentences import Reader

SOL = person("sol", "Sol Ibarne", "operator", language="es")
EVE = person("eve", "Eve Tarn", "operator", language="en")
OIL = task(
    "oil", "press", by=["operator"], each_shift=True, energy="unplug", title="Oil the slide", steps=["Wipe", "Oil"],
    texts={"es": {"title": "Engrasar la guía", "steps": ["Limpiar", "Engrasar"]}},
)  # fmt: skip


async def test_one_book_is_read_in_two_languages_at_once(tmp_path: Path) -> None:
    """Two tablets and a terminal: each person reads their own language, whoever has none that of the place."""
    with served(tmp_path, more=(SOL, OIL)) as plant:
        first, second = plant.visitor().is_here("sol"), plant.visitor().is_here("ben")
        assert "4 trabajos que hacer aquí" in first.text
        assert "Engrasar la guía" in first.text
        assert "4 jobs to do here" in second.text
        assert "Oil the slide" in second.text
        assert "Limpiar" in first.goes("/at/P-07/sign/P-07/oil").text
        first.goes("/at/P-07/sign/P-07/wipe")
        assert "Tu nombre, Sol Ibarne, querrá decir: hecho por mí." in first.text
        first.presses("Firmar como Sol Ibarne")
        assert "FIRMADO" in first.text
        assert "3 jobs to do here" in second.goes("/at/P-07").text
        async with terminal(lambda: Book.open(plant.path), place="P-07", by="sol", clock=plant.clock) as there:
            assert "Engrasar la guía" in there.text
            assert "líneas" in there.text
            await there.press("escape", "o")
            await there.press("b", "e", "n", "enter")
            assert "Oil the slide" in there.text
            assert "help" in there.text


def test_a_tablet_has_a_language_before_anybody_is_named(tmp_path: Path) -> None:
    """It is chosen on the tablet, whose browser keeps it; other tablets keep theirs."""
    with served(tmp_path) as plant:
        mine, other = plant.visitor().goes("/"), plant.visitor().goes("/")
        assert "Which place is this?" in mine.text
        mine.presses("Español")
        assert "¿Qué sitio es este?" in mine.text
        assert 'lang="es"' in mine.html
        assert "¿Quién está aquí?" in mine.goes("/at/P-07/who").text
        assert "Which place is this?" in other.goes("/").text
        mine.goes("/").presses("English")
        assert "Which place is this?" in mine.text


def test_a_plant_has_a_language_for_whatever_nobody_in_particular_reads(tmp_path: Path) -> None:
    """Its tablets, and the weekly lists that are printed at night."""
    with served(tmp_path, languages=["es", "en"]) as plant:
        assert "¿Qué sitio es este?" in plant.visitor().goes("/").text
        with Book.open(plant.path) as book:
            text, _ = write_list(book, tmp_path / "lists", "2026-W10", at("2026-03-02 07:00"))
        assert "Lista semanal 2026-W10" in text.read_text(encoding="utf-8")


def test_the_stations_have_a_language_of_their_own_and_whoever_serves_them_may_give_another(tmp_path: Path) -> None:
    """Chosen on the tablet, else told to the server, else by the plant for its stations, else the plant's first."""
    with served(tmp_path, station_language="es") as plant:
        assert "¿Qué sitio es este?" in plant.visitor().goes("/").text
        plant.desk.setting = replace(plant.desk.setting, language="en")
        other = plant.visitor().goes("/")
        assert "Which place is this?" in other.text
        other.presses("Español")
        assert "¿Qué sitio es este?" in other.goes("/").text


@pytest.mark.parametrize("languages", [["en", "es"], ["es"]], ids=["an English plant", "a Spanish plant"])
def test_the_tasks_of_the_catalogue_speak_the_readers_language(tmp_path: Path, languages: list[str]) -> None:
    """A plant that takes one over with like = ... writes no Spanish of its own, whatever its first language is."""
    shipped = next(one for one in shipped_tasks() if one.key == "clean-module")
    with served(tmp_path, more=(SOL, EVE, shipped), languages=languages, station_language="en") as plant:
        assert "Limpiar el módulo" in plant.visitor().is_here("sol").text
        signing = plant.visitor().is_here("sol").goes("/at/P-07/sign/M-12/clean-module").text
        assert "desenchúfala y ten el enchufe en la mano" in signing
        assert "Limpia la zona de matrices y el carril de la tira con un paño seco." in signing
        assert "Clean the module" in plant.visitor().is_here("eve").text


def test_a_paper_is_printed_in_the_language_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Whatever the terminal is read in."""
    with served(tmp_path) as plant:
        book = ["--book", str(plant.path), "--at", "2026-03-02 07:00"]
        assert run(["week", *book, "--language", "es"]) == 0
        assert "Lista semanal" in capsys.readouterr().out
        assert run(["week", *book]) == 0
        assert "Weekly due list" in capsys.readouterr().out


def test_a_command_and_its_help_speak_the_language_of_the_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Refusals, wrong usage, pages of help; the words that are typed stay."""
    for module in (saying, command_line):
        monkeypatch.setattr(module, "READER", Reader("es"))
    monkeypatch.setenv("LANGUAGE", "es")  # click looks itself
    with book_of(tmp_path) as book:
        path = book.path
    assert run(["board", "--book", str(path), "--item", "M-99"]) == 1
    assert "En este libro no hay elemento 'M-99'." in capsys.readouterr().err
    assert run(["why", "--book", str(path)]) == 2
    assert "Error: Falta el argumento 'LINE'." in capsys.readouterr().err
    assert run(["sign", "--help"]) == 0
    page = capsys.readouterr().out
    assert "Uso: strokebook sign [OPTIONS] LINE" in page
    assert "Firmar LINE (elemento/tarea, como en el tablero) como hecha por ti." in page
    assert "Ejemplo: strokebook sign M-12/clean-module --by ana" in page


def test_the_commands_themselves_stay_english() -> None:
    """A page in another language is a copy."""
    context = click.Context(strokebook)
    spanish = helped(strokebook, Reader("es")).get_help(context)
    assert "El libro que un taller de crimpado" in spanish
    assert "The book a crimp shop keeps" in strokebook.get_help(context)


def test_a_plant_that_reads_psi_types_psi_and_keeps_bar(tmp_path: Path) -> None:
    """What is typed alone is taken in the unit the page shows; the entry has the unit of the point."""
    with served(tmp_path, units=["psi"]) as plant:
        visitor = plant.visitor().is_here("ana").goes("/at/P-07/sign/P-07/air")
        assert "72.5 to 87.0 psi" in visitor.text
        visitor.presses("Sign as Ana", pressure__1="80")
        assert "SIGNED" in visitor.text
        visitor.goes("/at/P-07/undo")
        with Book.open(plant.path) as book:
            assert "pressure=5.52" in book.newest_written(1)[0].text


def test_a_plant_that_reads_both_asks_for_the_unit(tmp_path: Path) -> None:
    """A number alone could be either, so nothing is guessed."""
    with served(tmp_path, units=["bar", "psi"]) as plant:
        visitor = plant.visitor().is_here("ana").goes("/at/P-07/sign/P-07/air")
        assert "5 to 6 bar (72.5 to 87.0 psi)" in visitor.text
        visitor.presses("Sign as Ana", pressure__1="80")
        assert "type a number with its unit, bar or psi" in visitor.text
        visitor.presses("Sign as Ana", pressure__1="80 psi")
        assert "SIGNED" in visitor.text


async def test_a_line_is_found_by_its_title_in_the_language_of_whoever_reads(tmp_path: Path) -> None:
    """Beside the item, and by the title the plant wrote first as well; for nobody who does not read it so."""
    with book_of(tmp_path, "2026-03-01 04:00 count P-07 0 by lea", tasks=[OIL], more=[SOL]) as book:
        path = book.path
    for by, words, found in (
        ("sol", "engrasar p-07", True), ("sol", "slide p-07", True), ("sol", "engrasar p-99", False),
        ("ben", "engrasar", False),
    ):  # fmt: skip
        async with terminal(lambda: Book.open(path), by=by, clock=Clock(at("2026-03-02 07:00"))) as there:
            await there.press("t", "slash")
            await there.type(words, "enter")
            assert (there.row_with("P-07   P-07") != "") is found, (by, words, there.text)
