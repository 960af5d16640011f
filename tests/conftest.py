"""What holds for all tests: random examples come from a fixed seed, and none has a deadline, however busy the machine.

``--hypothesis-profile=random`` draws new ones each time.
"""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile("fixed", deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True)
settings.register_profile("random", settings.get_profile("fixed"), derandomize=False)
settings.load_profile("fixed")
