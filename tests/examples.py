"""How many random examples a test with a whole shop in each takes: few in the suite, many with ``--long``."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

_long = False


def take_many(long: bool) -> None:
    """Has tests that are collected from now on take many, or few."""
    global _long
    _long = long
    if long:
        settings.register_profile("many", settings.get_profile("fixed"), max_examples=200)
        settings.load_profile("many")


def examples(few: int, many: int) -> settings:
    """Settings of a test with ``few`` examples, and ``many`` with ``--long``."""
    return settings(max_examples=many if _long else few, deadline=None, suppress_health_check=list(HealthCheck))
