"""Sentences as a reader reads them: the language, the number and the zone are the reader's own."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.templates import BRACKETS, Message, write_brackets, write_catalogue
from upkeep.said import Moment, in_turn, said, said_as, said_many, term
from upkeep.units.instants import Zone
from upkeep.wording import sentences
from upkeep.wording.sentences import Reader, text

BERLIN = Zone("Europe/Berlin")
AT = datetime(2026, 3, 2, 5, 10, tzinfo=UTC)

SENTENCE = said("{text} is not a date; write it like 2026-03-09.", text="M-12 {text} [b]x[/b]")
MOMENT = said("{moment}", moment=Moment(AT, BERLIN))


@pytest.fixture(scope="module", autouse=True)
def catalogues(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder with the catalogue of one language, made up of brackets."""
    folder = tmp_path_factory.mktemp("catalogues")
    write_brackets(folder)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(sentences, "CATALOGUES", folder)
        yield folder


def test_two_readers_in_one_process_read_their_own_languages() -> None:
    first, second = Reader("en"), Reader(BRACKETS)
    for _ in range(2):
        assert text(SENTENCE, first) == "M-12 {text} [b]x[/b] is not a date; write it like 2026-03-09."
        assert text(SENTENCE, second) == "[M-12 {text} [b]x[/b] is not a date; write it like 2026-03-09.]"


def test_two_readers_in_one_process_read_moments_in_their_own_zones() -> None:
    """A reader without a zone of their own reads the plant's."""
    assert text(MOMENT, Reader()) == "2026-03-02 06:10"
    assert text(MOMENT, Reader(zone=Zone("America/Chicago"))) == "2026-03-01 23:10"
    assert text(MOMENT, Reader(zone=Zone("Asia/Tokyo"))) == "2026-03-02 14:10"


@pytest.mark.parametrize(
    ("n", "told"), [(1, "[1 stroke]"), (-1, "[-1 stroke]"), (0, "[0 strokes]"), (7, "[7 strokes]")]
)
def test_the_number_chooses_the_sentence_of_the_readers_language(n: int, told: str) -> None:
    assert text(said_many("{n} stroke", "{n} strokes", n=n), Reader(BRACKETS)) == told


def test_a_sentence_in_a_sentence_is_in_the_readers_language_as_well() -> None:
    two = in_turn(SENTENCE, said("Nothing was written."))
    assert text(two, Reader(BRACKETS)).endswith("2026-03-09.] [Nothing was written.]]")


def test_an_english_word_of_two_meanings_has_a_word_for_each(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Said or a term; in English both are the same word."""
    write_catalogue(tmp_path, "de", {Message("due", "state"): "fällig", Message("due", "moment"): "Termin"})
    monkeypatch.setattr(sentences, "CATALOGUES", tmp_path)
    words = (term("due", "state"), said_as("state", "due"), said_as("moment", "due"), said("due"))
    assert [text(word, Reader("de")) for word in words] == ["fällig", "fällig", "Termin", "due"]
    assert [text(word, Reader()) for word in words] == ["due"] * 4


def test_what_a_person_wrote_is_shown_and_never_obeyed() -> None:
    """Neither a line end nor what moves a terminal's cursor leaves the sentence as it is."""
    written = said("{text} is no day.", text="red \x1b[31m\nnext")
    assert text(written, Reader()) == "red [U+001B][31m next is no day."


def test_a_language_without_a_catalogue_reads_english() -> None:
    assert text(SENTENCE, Reader("xx")) == str(SENTENCE)


def test_a_sentence_that_is_not_in_the_catalogue_stays_english() -> None:
    new = "{item} was put away just now."
    assert text(said(new, item="M-12"), Reader(BRACKETS)) == "M-12 was put away just now."
