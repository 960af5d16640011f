"""Jobs, locks and handovers at a station, the wall, and papers as pages; all of it without JavaScript."""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from tests.plants import at, task, write
from tests.station.visitor import MORNING, Plant, served

PROCEDURE = "Call the owner twice; see that nobody is at the press."
GREASE = task("grease", "press", by=["maintenance technician"], every="1 day", start="2026-03-01",
              title="Grease the press",
              steps=["Open the cover", "Grease", "Close"], energy="lock")  # fmt: skip


@pytest.fixture
def plant(tmp_path: Path) -> Iterator[Plant]:
    """The small plant at 06:05, with a job of a technician on its press and a procedure for locks."""
    with served(tmp_path, more=(GREASE,), lock_removal=PROCEDURE) as plant:
        yield plant


def test_a_job_is_begun_left_and_taken_over_at_the_press(plant: Plant) -> None:
    ana = plant.visitor().is_here("ana").goes("/at/P-07/work")
    assert "Nobody has a job under way here." in ana.text
    assert "Grease the press, P-07" in ana.text
    ana.goes("/at/P-07/work/P-07/grease")
    assert "CAUTION Lock the press off" in ana.text
    ana.presses("Begin the job")
    assert "STORED 06:05 Ana: begun: Grease the press, P-07" in ana.text
    assert "Ana since 06:05" in ana.text
    ana.goes("/at/P-07/work/P-07/grease").presses("Leave it for a while", why="", step="2")
    assert ana.status == 422
    assert "Say what P-07/grease waits for" in ana.text
    ana.presses("Leave it for a while", why="waits for a gun", step="2", left="<b>bench</b>")
    assert "Ana since 06:05, paused 06:05: waits for a gun (step 2 of 3 is done; left: <b>bench</b>)" in ana.text
    assert "<b>bench" not in ana.html
    tom = plant.visitor().is_here("tom").goes("/at/P-07/work/P-07/grease")
    tom.presses("Take it over from Ana")
    assert "Tom since 06:05" in tom.text
    tom.goes("/at/P-07/sign/P-07/grease").presses("Sign as Tom")
    assert "Nobody has a job under way here." in tom.goes("/at/P-07/work").text


def test_who_may_not_sign_a_job_is_told_whom_to_ask(plant: Plant) -> None:
    tom = plant.visitor().is_here("mal").goes("/at/P-07/work/P-07/guard").presses("Begin the job")
    assert tom.status == 422
    assert "may not sign Test the guard on P-07" in tom.text


def test_a_job_on_a_line_of_the_round_is_said_on_its_row(plant: Plant) -> None:
    ben = plant.visitor().is_here("ben").goes("/at/P-07/work/P-07/wipe").presses("Begin the job").goes("/at/P-07")
    assert ben.rows[1] == "2 Wipe the press P-07 ! due this shift; Ben since 06:05 Do"


def test_each_takes_off_their_own_lock_and_the_press_says_that_it_is_locked(plant: Plant) -> None:
    ana = plant.visitor().is_here("ana").goes("/at/P-07/locks")
    assert "Your own lock, with your name on it" in ana.text
    ana.presses("My lock hangs there", point="main switch")
    ben = plant.visitor().is_here("ben")
    assert "LOCKED: P-07 MUST NOT RUN. Ana at main switch, since 06:05" in ben.text
    ben.goes("/at/P-07/locks").presses("My lock hangs there", point="air valve")
    assert "My lock at main switch is off" not in ben.text
    ben.presses("My lock at air valve is off")
    ben.sends("/at/P-07/locks", {"token": ben.hidden("token"), "form": ben.hidden("form"), "what": "unlock",
                                 "about": ana.hidden("about")})  # fmt: skip
    assert ben.status == 422
    assert "may not take somebody else's lock off the list" in ben.text
    lea = plant.visitor().is_here("lea").goes("/at/P-07/locks")
    assert PROCEDURE in lea.text
    lea.presses("It was taken off by this procedure", witness="ben", why="gone home, not reached")
    assert "Ana has to know of it before working on P-07 again." in lea.text
    assert "LOCKED" not in lea.goes("/at/P-07").text


def test_a_shift_is_given_and_accepted_and_one_that_nobody_accepted_is_said_and_stops_nobody(plant: Plant) -> None:
    with plant.book() as book:
        write(book, '2026-03-02 06:00 hold M-12 by ana because "noise"')
    plant.clock.at = at("2026-03-02 13:30")
    ana = plant.visitor().is_here("ana").goes("/at/P-07/handover")
    assert "Handover of the early shift of Mon 2026-03-02, Test plant" in ana.text
    assert "Must not run M-12: noise" in ana.text
    ana.presses("I leave", text="mind M-12")
    plant.clock.at = at("2026-03-02 14:10")
    ben = plant.visitor().is_here("ben")
    assert "Nobody has accepted the early shift of Mon 2026-03-02 yet" in ben.text
    ben.goes("/at/P-07/handover").presses("I come", text="seen")
    assert "Accepted: Ben, 2026-03-02 14:10: seen" in ben.text
    assert "Given: Ana, 2026-03-02 13:30: mind M-12" in ben.text
    assert "Nobody has accepted" not in ben.goes("/at/P-07").text
    again = plant.visitor().is_here("tom").goes("/at/P-07/handover")
    assert "I come" not in again.text


def test_the_wall_shows_the_board_without_anybodys_name_and_to_anybody(plant: Plant) -> None:
    with plant.book() as book:
        write(book, '2026-03-02 06:00 lock P-07 "main switch" by ana')
        write(book, "2026-03-02 06:01 start P-07/grease by tom")
    wall = plant.visitor("http://localhost", "10.0.0.9").goes("/wall")
    assert wall.status == 200
    assert "LOCKED, must not run: P-07" in wall.text
    assert "in work" in wall.text
    assert not {"Ana", "Ben", "Tom", "Lea"} & set(wall.text.replace(",", " ").split())
    assert 'http-equiv="refresh" content="30"' in wall.html
    assert "<form" not in wall.html
    assert "set-cookie" not in wall.client.get("/wall").headers
    assert wall.goes("/wall?area=press hall").status == 200
    assert wall.goes("/wall?area=nowhere").status == 404


@pytest.mark.parametrize("paper", ["week", "handover", "figures", "life/M-12", "restart", "card"])
def test_a_paper_is_a_pdf_in_the_page_for_who_is_here_and_for_nobody_else(plant: Plant, paper: str) -> None:
    plant.clock.at = MORNING + timedelta(hours=9)
    assert plant.visitor().goes(f"/at/P-07/papers/{paper}").path == "/at/P-07/who"
    ben = plant.visitor().is_here("ben")
    answer = ben.client.get(f"/at/P-07/papers/{paper}")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"].startswith("inline")
    assert "default-src 'none'" in answer.headers["content-security-policy"]
    assert answer.headers["cache-control"] == "no-store"
    assert len(PdfReader(io.BytesIO(answer.content)).pages) >= 1


def test_a_stored_picture_is_shown_by_its_number_and_no_word_of_a_request_is_a_path(plant: Plant) -> None:
    made = io.BytesIO()
    Image.new("RGB", (300, 200), "gray").save(made, "JPEG")
    ben = plant.visitor().is_here("ben").goes("/at/P-07/found/dirt")
    ben.presses("It goes on running", photo=("a.jpg", made.getvalue(), "image/jpeg"), item="M-12")
    with plant.book() as book:
        number = book.newest_written(1)[0].entry
    assert f"papers/picture/{number}" in ben.goes("/at/P-07/papers/item/M-12").html
    picture = ben.client.get(f"/at/P-07/papers/picture/{number}")
    assert picture.headers["content-type"] == "image/jpeg"
    assert Image.open(io.BytesIO(picture.content)).size == (300, 200)
    (kept,) = (plant.path.parent / "pictures").iterdir()
    kept.chmod(0o600)
    kept.write_bytes(b"another")
    assert "was altered" in ben.goes(f"/at/P-07/papers/picture/{number}").text
    for path in ("picture/..%2f..%2fplant.book", "picture/1", "life/..%2fplant.book", "list/999", "trend/M-12/..",
                 "../../plant.book", "picture/-1"):  # fmt: skip
        assert ben.goes(f"/at/P-07/papers/{path}").status in (404, 409)
