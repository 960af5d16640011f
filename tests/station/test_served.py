"""The real server: `serve --stations` on a book of its own, with and without a certificate."""

from __future__ import annotations

import socket
import ssl
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection, HTTPSConnection
from pathlib import Path
from queue import Queue

import pytest

from tests.plants import book_of
from upkeep.cli.run import run
from upkeep.errors import Refused
from upkeep.service.serve import serve
from upkeep.station.server import patience
from upkeep.station.server.run import serving
from upkeep.station.server.setting import Setting

HOME = Path(__file__).parent
PEM, KEY = HOME / "plant.pem", HOME / "plant.key"
"""Made for these tests with `openssl req -x509`, for localhost and strokebook.plant, for 100 years; worth nothing."""


LOOK = b"GET /wall HTTP/1.1\r\nHost: localhost\r\n\r\n"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Path]:
    """The file of the small plant's book."""
    with book_of(tmp_path) as book:
        yield book.path


@contextmanager
def told(setting: Setting, ports: Queue[int]) -> Iterator[None]:
    """The pages, served at a port of their own choice, which is told."""
    with serving(setting) as port:
        ports.put(port)
        yield


def test_the_pages_are_there_as_long_as_the_book_is_kept(book: Path, tmp_path: Path) -> None:
    stop, ports = threading.Event(), Queue[int]()
    beside = told(Setting(book, port=0), ports)
    service = threading.Thread(
        target=serve, args=(book,),
        kwargs={"lists": tmp_path / "lists", "backups": tmp_path / "backups", "stop": stop, "beside": beside},
    )  # fmt: skip
    service.start()
    try:
        port = ports.get(timeout=60)
        asking = HTTPConnection("127.0.0.1", port, timeout=60)
        asking.request("GET", "/at/P-07/who")
        answer = asking.getresponse()
        assert (answer.status, answer.getheader("server")) == (200, None)
        assert b"Who is here?" in answer.read()
        asking.close()
    finally:
        stop.set()
        service.join()
    with pytest.raises(OSError, match="refused"), socket.create_connection(("127.0.0.1", port)):
        pass


def test_with_the_plants_certificate_the_pages_come_by_tls(book: Path) -> None:
    trusted = ssl.create_default_context(cafile=str(PEM))
    with serving(Setting(book, port=0, certificate=PEM, key=KEY)) as port:
        asking = HTTPSConnection("localhost", port, context=trusted, timeout=60)
        asking.request("GET", "/at/P-07/who")
        answer = asking.getresponse()
        assert answer.status == 200
        assert "__Host-station=" in str(answer.getheader("set-cookie"))
        asking.close()


def asked(port: int, sends: bytes, source: str = "127.0.0.1") -> socket.socket:
    """A connection over which something was sent."""
    asking = socket.create_connection(("127.0.0.1", port), timeout=60, source_address=(source, 0))
    asking.sendall(sends)
    return asking


@pytest.mark.parametrize(
    "sends",
    [b"", b"GET / HTTP/1.1\r\nHost: localhost\r\nX-Slow: ", LOOK + b"GET / HTTP/1.1\r\n",
     b"POST /at/P-07/who HTTP/1.1\r\nHost: localhost\r\nOrigin: http://localhost\r\nContent-Length: 9\r\n\r\na"],
    ids=["nothing", "half a head", "half a second head", "half a form"],
)  # fmt: skip
def test_who_does_not_come_to_an_end_is_hung_up_on(
    book: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture, sends: bytes
) -> None:
    """Slow headers and slow bodies: each holds a connection, and holds it no longer than the server is patient."""
    monkeypatch.setattr(patience, "WHOLE_WITHIN", 0.2)
    with serving(Setting(book, port=0)) as port:
        asking = asked(port, sends)
        while asking.recv(65536):
            pass
        asking.close()
        assert asked(port, LOOK).recv(12) == b"HTTP/1.1 200"
    assert "A page failed" not in caplog.text


def test_no_address_takes_all_connections(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(patience, "FROM_ONE", 2)
    with serving(Setting(book, port=0)) as port:
        held = [asked(port, LOOK[:9]) for _ in range(2)]
        with pytest.raises(ConnectionError), asked(port, LOOK) as third:
            raise ConnectionError if third.recv(12) == b"" else AssertionError
        assert asked(port, LOOK, "127.0.0.2").recv(12) == b"HTTP/1.1 200"
        for one in held:
            one.close()


def test_an_address_that_is_taken_is_told_with_its_reason(book: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        in_use = f"cannot be served at 127.0.0.1, port {port}: Address already in use"
        with pytest.raises(Refused, match=in_use), serving(Setting(book, port=port)):
            pass


@pytest.mark.parametrize(
    ("words", "code", "sentence"),
    [
        (["--stations", "here"], 2, "'here' is not HOST:PORT"),
        (["--stations", "127.0.0.1:99999"], 2, "is not HOST:PORT"),
        (["--stations", "0.0.0.0:8600"], 1, "--called NAME"),
        (["--stations", "127.0.0.1:8600", "--certificate", "plant.pem"], 1, "together"),
        (["--called", "strokebook.plant"], 2, "--stations"),
        (["--language", "es"], 2, "--language go with --stations"),
    ],
)
def test_what_does_not_go_together_is_refused_before_anything_is_served(
    book: Path, capsys: pytest.CaptureFixture[str], words: list[str], code: int, sentence: str
) -> None:
    assert run(["serve", *words, "--book", str(book)]) == code
    assert sentence in " ".join(capsys.readouterr().err.split())


def test_keeping_a_book_without_stations_loads_no_server() -> None:
    program = "import sys; import upkeep.cli.serve, upkeep.service.serve; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout.split()
    assert "upkeep.service.serve" in loaded
    assert not {"starlette", "uvicorn", "jinja2", "multipart", "upkeep.station"} & set(loaded)
