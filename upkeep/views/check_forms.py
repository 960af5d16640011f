"""What a check asks for, as a frozen view."""

from __future__ import annotations

from upkeep.due.holds import HoldReason
from upkeep.entries.checking import WHILE_SETTING
from upkeep.frozen import frozen
from upkeep.plant.model import Point
from upkeep.said import Said
from upkeep.views.signing import GaugesForm

SLUG, SET_UP = "slug", "set-up"
"""The occasions at which no piece is measured."""


@frozen
class CrimpForm:
    """What a crimp asks for: points measured on pieces, on slugs, as settings, by pulling; and looks.

    ``pieces`` is what every check of pieces measures, ``wear`` what is measured besides because it shows the wear of a
    part (``pieces`` where nothing else is measured).  ``pull`` has its smallest force as lower limit, from
    ``pull_table`` where that is named; ``pull_note`` says why it has none (None: it has one, or there is no pull test).
    """

    id: str
    title: str
    pieces: tuple[Point, ...]
    wear: tuple[Point, ...]
    slugs: tuple[Point, ...]
    settings: tuple[Point, ...]
    pull: Point | None
    pull_table: str
    pull_note: Said | None
    looks: tuple[str, ...]

    def asked_at(self, occasion: str | None) -> tuple[Point, ...]:
        """What has to be measured at an occasion; settings are all that is asked at a set-up."""
        if occasion == SLUG:
            return self.slugs
        return self.settings if occasion == SET_UP else self.pieces

    def looked_at(self, occasion: str | None) -> tuple[str, ...]:
        """What has to be looked at at an occasion."""
        return () if occasion in (SLUG, SET_UP) else self.looks

    def besides(self, occasion: str | None) -> tuple[Point, ...]:
        """The settings that may be written down besides, where the occasion is one of setting."""
        return self.settings if occasion in WHILE_SETTING and occasion != SET_UP else ()


@frozen
class CheckForm:
    """All that a check of a die set asks for.

    ``press`` is where it hangs (None: nowhere), ``hold`` why it is held (None: it is not).  ``crimp`` and ``occasion``
    are what is likely (None: nobody can say); ``signers`` the people who sign today.
    """

    item: str
    title: str
    press: str | None
    hold: HoldReason | None
    crimps: tuple[CrimpForm, ...]
    crimp: str | None
    occasion: str | None
    gauges: tuple[GaugesForm, ...]
    signers: tuple[tuple[str, str], ...]
