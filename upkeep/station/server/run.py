"""The server in a thread beside the service: it begins once its address is open, and ends with the service."""

from __future__ import annotations

import logging
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from upkeep.errors import Refused
from upkeep.said import said
from upkeep.station.server.app import application
from upkeep.station.server.desk import Desk
from upkeep.station.server.setting import Setting, is_loopback

log = logging.getLogger(__name__)

_GRACE_SECONDS = 2
_AT_ONCE = 200
"""Connections at a time; more are told that the server is busy."""


@contextmanager
def serving(setting: Setting) -> Iterator[int]:
    """Serves the stations until the end; gives the port.  Raises :class:`Refused` where the address is taken."""
    import uvicorn

    from upkeep.station.server.patience import PatientOnce

    desk = Desk(setting)
    with _listening(setting) as listening:
        desk.open()
        config = uvicorn.Config(
            application(desk), http=PatientOnce, log_config=None, access_log=False, lifespan="off", ws="none",
            server_header=False, proxy_headers=False, limit_concurrency=_AT_ONCE,
            timeout_graceful_shutdown=_GRACE_SECONDS,
            ssl_certfile=setting.certificate, ssl_keyfile=setting.key,
        )  # fmt: skip
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, args=([listening],), name="stations")
        port = int(listening.getsockname()[1])
        _tell(setting, port)
        thread.start()
        try:
            yield port
        finally:
            server.should_exit = True
            thread.join()
            desk.close()


@contextmanager
def _listening(setting: Setting) -> Iterator[socket.socket]:
    family = socket.AF_INET6 if ":" in setting.host else socket.AF_INET
    with socket.socket(family) as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((setting.host.strip("[]"), setting.port))
            listening.listen(128)
        except OSError as error:
            raise Refused(
                said(
                    "The stations cannot be served at {host}, port {port}: {why}.",
                    host=setting.host, port=str(setting.port), why=str(error.strerror),
                )
            ) from None  # fmt: skip
        yield listening


def _tell(setting: Setting, port: int) -> None:
    scheme = "https" if setting.certificate else "http"
    names = sorted(setting.called) or [setting.host]
    log.info("Stations at %s.", " and ".join(f"{scheme}://{name}:{port}/" for name in names))
    if scheme == "http" and not is_loopback(setting.host):
        log.warning("Without a certificate the pages of other machines can only be read: nobody can sign there.")
