"""The round of a press at a station: who, count, then the rows; all of it without JavaScript."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import task, write
from tests.station.visitor import MORNING, Plant, served


@pytest.fixture
def plant(tmp_path: Path) -> Iterator[Plant]:
    """The small plant at 06:05."""
    with served(tmp_path) as plant:
        yield plant


def test_opening_asks_one_thing_after_another_and_a_clean_takes_three_actions(plant: Plant) -> None:
    visitor = plant.visitor().goes("/at/P-07")
    assert visitor.path == "/at/P-07/who"
    visitor.presses("Go on", person="ben")
    assert visitor.path == "/at/P-07/count"
    assert "Last: 900, 05:30" in visitor.text
    visitor.presses("Go on", count="1,000")
    assert visitor.path == "/at/P-07"
    assert "COUNTED 06:05 P-07: 1,000 by Ben. Stored in the book as #" in visitor.text
    assert visitor.rows == [
        "1 Read the air P-07 ! due this shift Do",
        "2 Wipe the press P-07 ! due this shift Do",
        "3 Task clean M-12 ! due this shift Do",
    ]
    visitor.goes("/at/P-07/sign/M-12/clean")  # a touch on row 3
    assert "CAUTION Unplug the press" in visitor.text
    assert "Your name, Ben, will mean: done by me." in visitor.text
    visitor.presses("Sign as Ben")
    assert "SIGNED 06:05 Ben: done by me Task clean, M-12. Stored in the book as #" in visitor.text
    assert visitor.rows[2] == "3 Task clean M-12 ✓ done 06:05 Ben"
    assert [row[0] for row in visitor.rows] == ["1", "2", "3"]
    assert plant.lines()[-2:] == [
        "2026-03-02 06:05 count P-07 1000 by ben",
        "2026-03-02 06:05 sign M-12/clean for 2026-03-02/early by ben",
    ]


def test_an_entry_says_that_it_came_from_a_page_at_this_station_and_that_no_name_was_proven(plant: Plant) -> None:
    plant.visitor().is_here("ben").goes("/at/P-07/count").presses("Go on", count="1000")
    with plant.book() as book:
        (line,) = book.newest_written(1)
    assert (line.way_in, line.station, line.proof, line.by) == ("page", "P-07", "none", "ben")


@pytest.mark.parametrize("typed", ["b", "be", "", "nobody", "Ben Somebody", "' OR 1=1 --"])
def test_part_of_an_id_is_nobody(plant: Plant, typed: str) -> None:
    visitor = plant.visitor().goes("/at/P-07/who").presses("Go on", person=typed)
    assert (visitor.status, visitor.path) == (422, "/at/P-07/who")
    assert visitor.goes("/at/P-07").path == "/at/P-07/who"


def test_a_count_that_cannot_be_is_refused_and_what_was_typed_stays(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/count").presses("Go on", count="99999999999")
    assert visitor.status == 422
    assert visitor.hidden("count") == "99999999999"
    visitor.presses("Go on", count="a thousand")
    assert "'a thousand' is not a count" in visitor.text
    visitor.presses("Go on", count="1000")
    assert (visitor.status, visitor.path) == (200, "/at/P-07")


def test_a_count_that_goes_back_offers_what_may_explain_it(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/count").presses("Go on", count="850")
    visitor.presses("I read it right", count="850")
    assert (visitor.status, visitor.path) == (200, "/at/P-07")
    with plant.book() as book:
        assert "disputes #" in book.newest_written(1)[0].text


def test_a_value_out_of_limits_or_no_number_is_told_and_what_was_typed_stays(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/sign/P-07/air")
    assert "Air pressure (5 to 6 bar)" in visitor.text
    visitor.presses("Sign as Ben", pressure__1="high", remark="hissing")
    assert visitor.status == 422
    assert "Air pressure (5 to 6 bar): type a number in bar, like 1.25 or 1,25" in visitor.text
    assert (visitor.hidden("pressure.1"), visitor.hidden("remark")) == ("high", "hissing")
    visitor.presses("Sign as Ben", pressure__1="5,4")
    assert plant.lines()[-1].endswith('sign P-07/air for 2026-03-02/early pressure=5.4 remark "hissing" by ben')


def test_who_may_not_sign_hears_it_before_a_form_opens(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/sign/P-07/guard")
    assert visitor.status == 409
    asked = "may not sign Test the guard on P-07: this needs the role of appointed person. Ask"
    assert f"Ben (operator) {asked}" in visitor.text
    assert "Sign as" not in visitor.text
    assert visitor.text.startswith("P-07 Here: Ben"), "where one stands and who one is stay on the page"


def test_the_page_says_what_a_count_moved(plant: Plant) -> None:
    """The press stood still over the late shift: what was to be done in that is not asked for any more."""
    with plant.book() as book:
        write(book, "2026-03-02 06:05 sign P-07/wipe for 2026-03-02/early by ben")
        write(book, "2026-03-02 06:05 sign M-12/clean for 2026-03-02/early by ben")
    plant.clock.forward(8 * 3600)
    plant.visitor().is_here("ben").goes("/at/P-07/count").presses("Go on", count="1000")
    plant.clock.forward(8 * 3600)
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/count").presses("Go on", count="1000")
    assert "The press did not run: 2 jobs of earlier shifts are not needed." in visitor.text


def test_what_somebody_else_signed_first_is_told_and_can_be_an_extra(plant: Plant) -> None:
    late = plant.visitor().is_here("ben").goes("/at/P-07/sign/M-12/clean")
    plant.visitor().is_here("mal").goes("/at/P-07/sign/M-12/clean").presses("Sign as <script>alert(1)</script>")
    late.presses("Sign as Ben")
    assert "already signed" in late.text
    late.presses("I did it too")
    assert plant.lines()[-1].endswith("sign M-12/clean for extra by ben")


# Taking back


def test_counts_signs_and_reports_are_taken_back_one_after_the_other(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/count").presses("Go on", count="1000")
    visitor.goes("/at/P-07/sign/M-12/clean").presses("Sign as Ben")
    visitor.goes("/at/P-07/found/dirt").presses("It goes on running")
    for what in ("report on", "Task clean, M-12", "count 1,000 of P-07"):
        assert f"Undo: {what}" in visitor.text
        visitor.presses("Undo")
        assert "UNDONE:" in visitor.text
    assert "Undo" not in visitor.text
    assert [line.split()[2] for line in plant.lines()] == ["count", "sign", "fault", "strike", "strike", "strike"]
    assert plant.lines()[-1].endswith("by ben")


def test_after_a_minute_nothing_can_be_taken_back(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/count").presses("Go on", count="1000")
    entry, token, form = (visitor.hidden(name) for name in ("entry", "token", "form"))
    plant.clock.forward(61)
    assert "Undo" not in visitor.goes("/at/P-07").text
    visitor.sends("/at/P-07/undo", {"entry": entry, "token": token, "form": form})
    assert "nothing left to undo" in visitor.text
    assert plant.lines()[-1].endswith("count P-07 1000 by ben")


def test_a_late_touch_on_undo_does_not_take_back_something_else(plant: Plant) -> None:
    """Two tablets, one person: the button of the first still says what the second has taken back."""
    first = plant.visitor().is_here("ben").goes("/at/P-07/count").presses("Go on", count="1000")
    first.goes("/at/P-07/sign/M-12/clean").presses("Sign as Ben")
    second = plant.visitor().is_here("ben").presses("Undo")
    assert "UNDONE: Task clean, M-12" in second.text
    first.presses("Undo")
    assert "nothing left to undo" in first.text
    assert [line.split()[2] for line in plant.lines()][-1] == "strike"
    assert [line.split()[2] for line in plant.lines()].count("strike") == 1


# Sent twice


def test_a_form_that_is_sent_twice_writes_once_and_gives_the_same_proof(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/sign/M-12/clean")
    data = {name: visitor.hidden(name) for name in ("token", "form", "remark", "occurrence")}
    proofs = []
    for _ in range(2):
        visitor.sends("/at/P-07/sign/M-12/clean", dict(data))
        proofs.append(visitor.text.partition("Stored in the book as ")[2].split()[0])
    assert proofs[0] == proofs[1] != ""
    assert [line.split()[2] for line in plant.lines()].count("sign") == 1


def test_a_form_sent_again_after_it_was_taken_back_says_so(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/sign/M-12/clean")
    data = {name: visitor.hidden(name) for name in ("token", "form", "remark", "occurrence")}
    visitor.presses("Sign as Ben").presses("Undo")
    visitor.sends("/at/P-07/sign/M-12/clean", data)
    assert "stored before and taken back since" in visitor.text


def test_what_waited_for_the_network_happened_when_it_was_sent_first(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/sign/M-12/clean")
    visitor.presses("Sign as Ben", waited="60")
    assert plant.lines()[-1].startswith("2026-03-02 06:04 sign M-12/clean")


@pytest.mark.parametrize("waited", ["-60", "99999999999", "1e3", "٣", "43201", ""])
def test_a_wait_beyond_reason_is_none(plant: Plant, waited: str) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/sign/M-12/clean")
    visitor.presses("Sign as Ben", waited=waited)
    assert plant.lines()[-1].startswith("2026-03-02 06:05 sign M-12/clean")


# What everybody has to see


def test_a_hold_stands_on_every_page_with_who_may_release_it(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/found/burr-one-side").presses("It must STOP")
    hold = "HOLD: DS-031 (die set) MUST NOT RUN: stopped for a fault: Burr or flash on one side. May release it: Lea."
    assert hold in visitor.text
    for path in ("/at/P-07/count", "/at/P-07/found", "/at/P-07/sign/P-07/air", "/at/P-07/who"):
        assert hold in visitor.goes(path).text


def test_other_peoples_changes_are_told_by_a_version_that_moves_with_each_entry_and_minute(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben")
    first = visitor.client.get("/changes").json()
    assert first == {"version": first["version"], "here": True}
    assert f'data-version="{first["version"]}"' in visitor.html
    plant.visitor().is_here("mal").goes("/at/P-07/count").presses("Go on", count="1000")
    second = visitor.client.get("/changes").json()["version"]
    plant.clock.forward(60)
    assert len({first["version"], second, visitor.client.get("/changes").json()["version"]}) == 3


def test_an_unknown_place_is_refused_with_a_sentence(plant: Plant) -> None:
    visitor = plant.visitor().goes("/at/P-99")
    assert visitor.status == 404
    assert "P-99" in visitor.text


def test_a_calibration_is_signed_with_its_certificate_and_what_is_typed_stays(tmp_path: Path) -> None:
    """A certificate that is told in part is asked for; the gauge keeps the whole one."""
    calibrate = task("calibrate", "gauge", by=["operator"], every="1 year", early_days=400, title="Calibrate")
    with served(tmp_path, more=(calibrate,)) as plant:
        visitor = plant.visitor().is_here("ben").goes("/at/P-07/sign/G-1/calibrate")
        visitor.presses("Sign as Ben", certificate="26-0815", laboratory="Measuring room", received="-0,001")
        assert visitor.status == 422
        assert "Error as left, in its unit: type it from the certificate" in visitor.text
        visitor.presses("Sign as Ben", left="0", uncertainty="0.002", due="2027-03-01")
        (kept,) = plant.book().checks(MORNING).gauge("G-1").calibrations
        assert (kept.certificate, kept.received, str(kept.due)) == ("26-0815", -0.001, "2027-03-01")
