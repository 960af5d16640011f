"""What an attacker on the plant's network would try, or a page of another site in the same browser."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.station.visitor import Plant, Visitor, served
from upkeep.errors import Refused
from upkeep.station.server.desk import Desk
from upkeep.station.server.gate import HEADERS, SMALL, Rates
from upkeep.station.server.setting import Setting

FAR = "10.1.2.3"
"""Another machine on the network."""


@pytest.fixture
def plant(tmp_path: Path) -> Iterator[Plant]:
    """The small plant at 06:05, also called strokebook.plant."""
    with served(tmp_path, called=frozenset({"Strokebook.plant"})) as plant:
        yield plant


def signed(visitor: Visitor, **changed: Any) -> dict[str, Any]:
    """The form of a clean as its page would send it, with what somebody changed in it."""
    visitor.goes("/at/P-07/sign/M-12/clean")
    names = ("token", "form", "occurrence")
    return {**{name: visitor.hidden(name) for name in names}, **changed}


def nothing_written(plant: Plant) -> bool:
    """Whether no sign-off is in the book."""
    return not any(" sign " in line for line in plant.lines())


# Names and origins


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "", "localhost.", "[::1", "10.1.2.3:8600"])
def test_a_name_that_is_not_ours_is_refused_so_that_no_other_site_can_take_our_place(plant: Plant, host: str) -> None:
    """DNS rebinding: the browser believes that evil.example is this machine."""
    visitor = plant.visitor()
    visitor.extra["host"] = host
    assert visitor.goes("/at/P-07/who").status == 400
    assert "P-07" not in visitor.html


@pytest.mark.parametrize("host", ["localhost", "LOCALHOST:8600", "127.0.0.1:9", "[::1]:8600", "strokebook.plant:8600"])
def test_every_name_of_our_own_is_known(plant: Plant, host: str) -> None:
    visitor = plant.visitor()
    visitor.extra["host"] = host
    assert visitor.goes("/at/P-07/who").status == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"}, {"origin": "null"}, {"origin": "https://localhost"},
        {"origin": "http://localhost:81"}, {"origin": "http://localhost.evil.example"}, {"origin": ""},
    ],
)  # fmt: skip
def test_a_form_from_another_site_writes_nothing_even_with_the_right_token(
    plant: Plant, headers: dict[str, str]
) -> None:
    visitor = plant.visitor().is_here("ben")
    visitor.sends("/at/P-07/sign/M-12/clean", signed(visitor), **headers)
    assert visitor.status == 403
    assert nothing_written(plant)


def test_without_an_origin_the_browser_has_to_say_that_the_site_is_ours(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben")
    data, path = signed(visitor), "/at/P-07/sign/M-12/clean"
    for site in (None, "cross-site", "same-site", "none"):
        headers = {} if site is None else {"sec-fetch-site": site}
        assert visitor.client.post(path, data=data, headers=headers).status_code == 403
    assert nothing_written(plant)
    assert visitor.client.post(path, data=data, headers={"sec-fetch-site": "same-origin"}).status_code == 200
    assert not nothing_written(plant)


@pytest.mark.parametrize("token", ["", "x", "ä", None])
def test_a_form_without_the_token_of_its_session_writes_nothing(plant: Plant, token: str | None) -> None:
    other = plant.visitor().is_here("mal")
    visitor = plant.visitor().is_here("ben")
    visitor.sends("/at/P-07/sign/M-12/clean", signed(visitor, token=other.hidden("token") if token is None else token))
    assert visitor.status == 403
    assert nothing_written(plant)


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "TRACE", "OPTIONS", "CONNECT"])
def test_no_other_request_is_known(plant: Plant, method: str) -> None:
    assert plant.visitor().client.request(method, "/at/P-07/who").status_code in (404, 405)


def test_looking_writes_nothing(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben")
    before = plant.lines()
    for path in ("sign/M-12/clean?how=&token=x", "undo", "leave", "count?count=1000", "found/dirt?stops=yes"):
        visitor.goes(f"/at/P-07/{path}")
    assert plant.lines() == before


# Sessions


def test_a_session_is_new_with_each_person_and_the_old_one_is_dead(plant: Plant) -> None:
    """A cookie from before somebody was here, planted by an attacker or read by one, is worth nothing after."""
    visitor = plant.visitor().goes("/at/P-07/who")
    before = visitor.client.cookies["station"]
    visitor.is_here("ben")
    of_ben = visitor.client.cookies["station"]
    visitor.is_here("mal")
    assert len({before, of_ben, visitor.client.cookies["station"]}) == 3
    for old in (before, of_ben):
        thief = plant.visitor()
        thief.client.cookies.set("station", old)
        assert thief.goes("/at/P-07").path == "/at/P-07/who"


def test_a_session_that_a_browser_makes_up_is_not_taken_over(plant: Plant) -> None:
    visitor = plant.visitor()
    visitor.client.cookies.set("station", "chosen-by-somebody")
    assert visitor.is_here("ben").client.cookies.get("station", domain="localhost.local") != "chosen-by-somebody"
    other = plant.visitor()
    other.client.cookies.set("station", "chosen-by-somebody")
    assert other.goes("/at/P-07").path == "/at/P-07/who"


def test_leaving_ends_the_session_for_good(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben")
    cookie, data = visitor.client.cookies["station"], signed(visitor)
    visitor.goes("/at/P-07").presses("Leave")
    assert visitor.path == "/at/P-07/who"
    thief = plant.visitor()
    thief.client.cookies.set("station", cookie)
    thief.sends("/at/P-07/sign/M-12/clean", data)
    assert thief.path == "/at/P-07/who"
    assert nothing_written(plant)


def test_quiet_time_ends_the_session_and_a_page_that_only_looks_for_changes_does_not_prolong_it(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben")
    data = signed(visitor)
    for _ in range(4):
        plant.clock.forward(30)
        visitor.client.get("/changes", headers={"x-waiting": "1"})
        visitor.client.get("/at/P-07", headers={"x-waiting": "1"})
    assert visitor.client.get("/changes").json()["here"] is False
    visitor.sends("/at/P-07/sign/M-12/clean", data)
    assert visitor.path == "/at/P-07/who"
    assert nothing_written(plant)


def test_a_touch_within_the_quiet_time_prolongs_the_session(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben")
    for _ in range(4):
        plant.clock.forward(119)
        assert visitor.goes("/at/P-07/found").path == "/at/P-07/found"


def test_ids_of_sessions_are_128_random_bits_and_the_cookie_is_out_of_reach_of_scripts_and_other_sites(
    plant: Plant,
) -> None:
    answers = [plant.visitor().client.get("/at/P-07/who") for _ in range(50)]
    cookies = [answer.headers["set-cookie"] for answer in answers]
    ids = {re.match(r"station=([A-Za-z0-9_-]{22}); HttpOnly; Path=/; SameSite=strict$", cookie) for cookie in cookies}
    assert None not in ids
    assert len({match[1] for match in ids if match}) == 50
    secure = plant.visitor("https://localhost").client.get("/at/P-07/who").headers["set-cookie"]
    assert re.match(r"__Host-station=[A-Za-z0-9_-]{22}; HttpOnly; Path=/; SameSite=strict; Secure$", secure)


def test_of_no_more_than_some_browsers_anything_is_remembered(plant: Plant) -> None:
    """Who asks for pages without end fills no memory, and puts nobody out."""
    visitor = plant.visitor().is_here("ben")
    for number in range(2100):
        plant.desk.pages.of(f"browser-{number}")
    assert len(plant.desk.pages) <= 2000
    assert visitor.goes("/at/P-07").path in ("/at/P-07", "/at/P-07/count")


def test_a_session_outlives_the_program_and_ends_where_it_would_have(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben")
    data = signed(visitor)
    again = Desk(plant.desk.setting)
    again.open()
    try:
        plant.desk, before = again, plant.desk
        other = plant.visitor()
        other.client.cookies = visitor.client.cookies
        other.sends("/at/P-07/sign/M-12/clean", data)
        assert not nothing_written(plant)
        plant.clock.forward(121)
        assert other.goes("/at/P-07").path == "/at/P-07/who"
    finally:
        plant.desk = before
        again.close()


# Plain http


def test_nobody_says_who_they_are_over_plain_http_from_another_machine(plant: Plant) -> None:
    visitor = plant.visitor(address=FAR).goes("/at/P-07/who")
    assert "plain http" in visitor.text
    visitor.presses("Go on", person="ben")
    assert (visitor.status, visitor.path) == (403, "/at/P-07/who")
    assert visitor.goes("/at/P-07").path == "/at/P-07/who"


def test_over_https_another_machine_may_and_is_told_to_come_back_by_https(plant: Plant) -> None:
    visitor = plant.visitor("https://strokebook.plant", FAR).is_here("ben")
    assert visitor.path == "/at/P-07"
    answer = visitor.client.get("/at/P-07")
    assert answer.headers["strict-transport-security"].startswith("max-age=")
    assert "strict-transport-security" not in plant.visitor().client.get("/").headers


def test_a_head_that_claims_to_come_from_this_machine_is_not_believed(plant: Plant) -> None:
    visitor = plant.visitor(address=FAR)
    visitor.extra |= {
        "x-forwarded-for": "127.0.0.1",
        "x-forwarded-proto": "https",
        "forwarded": "for=127.0.0.1;proto=https",
    }
    visitor.goes("/at/P-07/who").presses("Go on", person="ben")
    assert visitor.status == 403


# Sizes, rates, files


def test_what_is_too_large_is_refused_and_nothing_of_it_is_written(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben")
    visitor.sends("/at/P-07/count", signed(visitor, remark="x" * SMALL))
    assert visitor.status == 413
    assert "too large" in visitor.text
    assert nothing_written(plant)


def test_a_thousand_fields_are_refused(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben")
    visitor.sends("/at/P-07/sign/M-12/clean", signed(visitor, **{f"f{number}": "" for number in range(1000)}))
    assert visitor.status == 400
    assert nothing_written(plant)


def test_who_asks_too_often_waits_and_nobody_else_does(plant: Plant) -> None:
    ticks = [0.0]
    plant.rates = Rates(burst=5, each_second=1, clock=lambda: ticks[0])
    far = plant.visitor("https://localhost", FAR)
    assert [far.goes("/").status for _ in range(6)] == [200] * 5 + [429]
    assert plant.visitor().goes("/").status == 200
    ticks[0] = 2.0
    assert [far.goes("/").status for _ in range(3)] == [200, 200, 429]


@pytest.mark.parametrize(
    "path", ["/files/../page.py", "/files/%2e%2e/page.py", "/files//etc/passwd", "/files/..%2f..%2fpage.py"]
)
def test_no_other_file_can_be_asked_for(plant: Plant, path: str) -> None:
    assert plant.visitor().client.get(path).status_code == 404


@pytest.mark.parametrize("path", ["/", "/at/P-07/who", "/files/station.css", "/at/P-99", "/nothing", "/changes"])
def test_every_answer_may_be_kept_nowhere_framed_nowhere_and_loads_nothing_from_elsewhere(
    plant: Plant, path: str
) -> None:
    answer = plant.visitor().client.get(path)
    assert {name: answer.headers[name] for name in HEADERS} == HEADERS
    assert "default-src 'none'" in answer.headers["content-security-policy"]
    assert answer.headers["cache-control"] == "no-store"
    assert "server" not in answer.headers
    assert not re.search(r"""(?:src|href)=["'](?:https?:)?//|<script>|style=|onclick""", answer.text)


# Text from people


def test_what_people_write_is_text_and_never_markup(plant: Plant) -> None:
    evil = '"><img src=x onerror=alert(1)>{{7*7}}<b>'
    visitor = plant.visitor().is_here("mal")
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in visitor.html
    visitor.goes("/at/P-07/found/other").presses("It must STOP", words=evil)
    visitor.goes("/at/P-07/who").presses("Go on", person=evil)
    visitor.goes(f"/at/P-07/sign/M-12/{'<b>'}")
    for page in (visitor.html, visitor.goes("/at/P-07").html):
        assert "<img" not in page
        assert "<b>" not in page
        assert "<script>" not in page
    assert "{{7*7}}" in visitor.text


def test_a_fault_of_the_program_shows_nothing_of_its_inside(
    plant: Plant, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    visitor = plant.visitor().is_here("ben")
    monkeypatch.setattr("upkeep.station.server.rounds.round_page", lambda *_: 1 / 0)
    assert visitor.goes("/at/P-07").status == 500
    assert "tell the keeper" in visitor.text
    assert "Zero" not in visitor.html
    assert "ZeroDivisionError" in caplog.text


# What whoever starts it may do


def test_all_addresses_ask_for_the_names_by_which_tablets_call(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="--called"):
        Setting(tmp_path / "plant.book", "0.0.0.0")
    assert "strokebook.plant" in Setting(tmp_path / "b", "0.0.0.0", called=frozenset({"strokebook.plant"})).names


def test_a_certificate_needs_its_key_and_both_have_to_be_there(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="together"):
        Setting(tmp_path / "b", certificate=tmp_path / "plant.pem")
    with pytest.raises(Refused, match="There is no file"):
        Setting(tmp_path / "b", certificate=tmp_path / "plant.pem", key=tmp_path / "plant.key")
