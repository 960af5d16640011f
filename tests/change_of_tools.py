"""A small plant in which tools are changed: two sets of one family, what is asked after it, an order that waits."""

from __future__ import annotations

from tests.plants import define, item, person, task
from tests.station.visitor import BEFORE

HAND = task("hand", "die set", by=["operator"], after=["fitting"], energy="unplug", title="Turn by hand")
GUARD_CERTIFICATE = task("guard", "press", by=["appointed person"], after=["tool setting"], title="Test the guard")
MICROMETER = "crimp micrometer"
HEIGHT = {
    "id": "height",
    "title": "Crimp height",
    "unit": "mm",
    "lower": 1.15,
    "upper": 1.25,
    "gauge_class": MICROMETER,
}
SLUG = {"id": "slug-height", "title": "Slug", "unit": "mm", "lower": 1.0, "upper": 1.4}
CRIMP = define("crimp", "CR-1", title="Tab", family="tab", points=[HEIGHT, SLUG], looks=["bellmouth"])
MORE = (
    item("DS-031", family="tab"), item("DS-102", family="tab"), CRIMP, HAND, GUARD_CERTIFICATE,
    person("eva", "Eva", "appointed person"), person("sid", "Sid", "stores"),
)  # fmt: skip
BEFORE_IT = f"""{BEFORE}
    2026-03-02 05:40 check DS-102 set-up on P-08 of CR-1 dial=4.0 by ana
    2026-03-02 05:50 order A-1 500 with DS-102 on P-07 from 2026-03-03 by lea
"""
