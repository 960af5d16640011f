"""Tokens of time over a seal (RFC 3161), from a small authority made with openssl for the test."""

from __future__ import annotations

import shutil
import subprocess
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path

import pytest

from upkeep.cli.sealing.stamping import stamp
from upkeep.errors import Refused

pytestmark = pytest.mark.skipif(shutil.which("openssl") is None, reason="the program openssl is not here")

_CONFIGURATION = """
[tsa]
default_tsa = small
[small]
serial = {folder}/serial
crypto_device = builtin
signer_cert = {folder}/tsa.pem
certs = {folder}/ca.pem
signer_key = {folder}/tsa.key
signer_digest = sha256
default_policy = 1.2.3.4.1
digests = sha256
accuracy = secs:1
ess_cert_id_chain = no
ess_cert_id_alg = sha256
[stamping]
extendedKeyUsage = critical,timeStamping
[req]
distinguished_name = name
[name]
"""


def openssl(*words: object) -> str:
    done = subprocess.run(["openssl", *map(str, words)], capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == 0, done.stderr
    return done.stdout + done.stderr


@pytest.fixture(scope="module")
def authority(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Path]]:
    """Its address and the certificate of who vouches for it."""
    folder = tmp_path_factory.mktemp("authority")
    configuration = folder / "openssl.cnf"
    configuration.write_text(_CONFIGURATION.format(folder=folder))
    new = ("req", "-config", configuration, "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes")
    openssl(*new, "-x509", "-keyout", folder / "ca.key", "-out", folder / "ca.pem", "-subj", "/CN=invented CA")
    openssl(*new, "-keyout", folder / "tsa.key", "-out", folder / "tsa.csr", "-subj", "/CN=invented TSA")
    openssl(
        "x509", "-req", "-in", folder / "tsa.csr", "-CA", folder / "ca.pem", "-CAkey", folder / "ca.key",
        "-CAcreateserial", "-out", folder / "tsa.pem", "-extfile", configuration, "-extensions", "stamping",
    )  # fmt: skip

    class Stamping(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            assert self.headers["Content-Type"] == "application/timestamp-query"
            query, reply = folder / "q.tsq", folder / "r.tsr"
            query.write_bytes(self.rfile.read(int(self.headers["Content-Length"])))
            if self.path == "/of-another":
                openssl("ts", "-query", "-data", configuration, "-sha256", "-out", query)
            openssl("ts", "-reply", "-config", configuration, "-queryfile", query, "-out", reply)
            self.send_response(200)
            self.end_headers()
            self.wfile.write(reply.read_bytes())

        def log_message(self, *_: object) -> None:
            """Says nothing."""

    server = HTTPServer(("127.0.0.1", 0), Stamping)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}", folder / "ca.pem"
    server.shutdown()
    server.server_close()
    thread.join()


def test_a_token_is_of_this_file_and_openssl_says_so(authority: tuple[str, Path], tmp_path: Path) -> None:
    address, certificate = authority
    seal = tmp_path / "seal.txt"
    seal.write_text("seal 1 ...\n")
    stamp(seal, address)
    told = openssl("ts", "-verify", "-data", seal, "-in", f"{seal}.tsr", "-CAfile", certificate)
    assert "Verification: OK" in told
    seal.write_text("seal 2 ...\n")
    done = subprocess.run(
        ["openssl", "ts", "-verify", "-data", seal, "-in", f"{seal}.tsr", "-CAfile", certificate], check=False,
        capture_output=True,
    )  # fmt: skip
    assert done.returncode != 0


def test_a_token_of_another_file_is_not_kept(authority: tuple[str, Path], tmp_path: Path) -> None:
    seal = tmp_path / "seal.txt"
    seal.write_text("seal 1 ...\n")
    with pytest.raises(Refused, match="is not of this file"):
        stamp(seal, f"{authority[0]}/of-another")
    assert not Path(f"{seal}.tsr").exists()


@pytest.mark.parametrize(("address", "why"), [("ftp://x", "no address"), ("http://127.0.0.1:1", "cannot be asked")])
def test_an_authority_that_cannot_be_asked_gets_a_sentence(tmp_path: Path, address: str, why: str) -> None:
    seal = tmp_path / "seal.txt"
    seal.write_text("seal 1 ...\n")
    with pytest.raises(Refused, match=why):
        stamp(seal, address)
