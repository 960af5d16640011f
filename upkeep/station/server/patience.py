"""How long the server waits for a request, and how many connections it holds for one address.

uvicorn bounds the wait between two requests and no other: whoever sends one letter of a head a minute keeps a
connection for ever ("slow headers").  Here a request has to come whole within a time, or its connection ends.
"""

from __future__ import annotations

import asyncio

from uvicorn.protocols.http.h11_impl import H11Protocol

WHOLE_WITHIN = 60.0
"""Seconds from the first byte of a request to its last, a photo over a slow network with it; as long before the first
byte of a connection.  Plant default, no source."""

FROM_ONE = 100
"""Connections of one address at a time: half of all, so that none can take them all.  Plant default, no source."""


class PatientOnce(H11Protocol):
    """HTTP/1.1 as uvicorn speaks it, with an end to waiting."""

    _ends: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begins to wait; an address that holds too many connections gets no more."""
        super().connection_made(transport)
        others = (one for one in self.connections if isinstance(one, PatientOnce))
        own = [one for one in others if one.client and self.client and one.client[0] == self.client[0]]
        if len(own) > FROM_ONE:
            transport.close()
        else:
            self._wait()

    def data_received(self, data: bytes) -> None:
        """Goes on waiting until the request is whole."""
        super().data_received(data)
        asked = self.cycle is not None and not self.cycle.response_complete and not self.cycle.more_body
        if asked:
            self._stop_waiting()
        else:
            self._wait()

    def connection_lost(self, exc: Exception | None) -> None:
        """Waits for nothing any more."""
        self._stop_waiting()
        super().connection_lost(exc)

    def _wait(self) -> None:
        if self._ends is None:
            self._ends = self.loop.call_later(WHOLE_WITHIN, self.transport.close)

    def _stop_waiting(self) -> None:
        if self._ends is not None:
            self._ends.cancel()
            self._ends = None
