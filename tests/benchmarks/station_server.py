"""``python -m tests.benchmarks.station_server BOOK MOMENT`` serves the stations of a book as ``serve --stations`` does,
by a clock that stands at a moment; with a page (a file) instead of BOOK that page alone, from a bare application.

Prints the port, and serves until its standard input ends.
"""

from __future__ import annotations

import socket
import sys
import threading
from pathlib import Path

from tests.plants import at
from upkeep.station.server.run import serving
from upkeep.station.server.setting import Setting


def main() -> None:
    """Serves until the end of the standard input."""
    path, moment = Path(sys.argv[1]), at(sys.argv[2])
    if path.suffix == ".html":
        _bare(path.read_bytes())
        return
    with serving(Setting(path, port=0, clock=lambda: moment)) as port:
        print(port, flush=True)
        sys.stdin.read()


def _bare(page: bytes) -> None:
    import uvicorn
    from starlette.applications import Starlette
    from starlette.requests import Request
    from starlette.responses import HTMLResponse
    from starlette.routing import Route

    async def answer(request: Request) -> HTMLResponse:
        return HTMLResponse(page)

    with socket.create_server(("127.0.0.1", 0)) as listening:
        config = uvicorn.Config(
            Starlette(routes=[Route("/", answer)]), log_config=None, access_log=False, lifespan="off", ws="none"
        )
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, args=([listening],))
        thread.start()
        print(listening.getsockname()[1], flush=True)
        sys.stdin.read()
        server.should_exit = True
        thread.join()


if __name__ == "__main__":
    main()
