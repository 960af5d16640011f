"""Hostile text in every field of every page of a station, in what is hidden in a form and in addresses."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from tests.change_of_tools import BEFORE_IT, MORE
from tests.station.visitor import Plant, Visitor, forms_of, served

EVIL = {
    "text": """"><img src=x onerror=alert(1)>{{7*7}}<b>'; DROP TABLE entries; --\x1b[2J\x00\x07\u202e""",
    "codes": "*BAAAA *I-1 ../../plant.book %s {name} {0}",
    "number": "-" + "9" * 400 + "e999",
}
"""Markup, SQL and what a terminal acts on; codes of a scanner, paths and templates; a number beyond any counter."""

PAGES = (
    "who", "count", "found", "found/burr", "found/other", "change", "work", "work/P-07/wipe", "work/P-07/air", "locks",
    "handover", "papers", "papers/item/M-12", "sign/P-07/air", "sign/M-12/clean", "sign/P-07/wipe", "",
)  # fmt: skip


ADDRESSES = (
    "at/{}", "at/{}/who", "at/P-07/sign/{}/clean", "at/P-07/sign/M-12/{}", "at/P-07/found/{}", "at/P-07/work/{}/x",
    "at/P-07/papers/item/{}", "at/P-07/papers/trend/M-12/{}", "wall?area={}", "{}",
)  # fmt: skip


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Plant]:
    """A press at which tools are changed and jobs are done."""
    with served(tmp_path_factory.mktemp("plant"), BEFORE_IT, more=MORE) as plant:
        yield plant


def is_clean(visitor: Visitor, where: str) -> None:
    """Nothing of what was typed became markup, and the program did not fail."""
    assert visitor.status < 500, where
    for tag in ("<img", "<b>", "<script>alert"):
        assert tag not in visitor.html, where
    shown = re.sub(r' value="[^"]*"', "", visitor.html)  # a field gives back what was typed in it, as data
    assert not re.search(r"[\x00\x07\x1b\u202e]", shown), where
    assert "49" not in re.findall(r"alert\(1\)>(\d+)", visitor.html)


@pytest.mark.parametrize("evil", EVIL.values(), ids=EVIL)
def test_no_text_in_any_field_is_acted_on(plant: Plant, evil: str) -> None:
    """Each form of each page with it in every field that is typed in, and once more in those that are hidden."""
    visitor = plant.visitor().is_here("ana")
    sent = 0
    for path in PAGES:
        visitor.goes(f"/at/P-07/{path}".rstrip("/"))
        is_clean(visitor, path)
        for form in list(forms_of(visitor.html)):
            if form.action.endswith(("/leave", "/undo")):
                continue
            for hidden_too in (False, True):
                for name, value in form.buttons.values() or [("", "")]:
                    kept = {"token"} if hidden_too else form.hidden
                    data = {key: given if key in kept else evil for key, given in form.fields.items()}
                    visitor.sends(form.action or f"/at/P-07/{path}".rstrip("/"), data | ({name: value} if name else {}))
                    is_clean(visitor, f"{path} {name}={value} {hidden_too}")
                    sent += 1
                    if visitor.path.endswith("/who"):
                        visitor.is_here("ana")
    assert sent > 30
    with plant.book() as book:
        assert book.prove().differences == ()


@pytest.mark.parametrize(
    "evil", ["<b>", "..%2f..%2fplant.book", "%00", "%1b[2J", "P-07%0d%0aSet-Cookie:x=y", "a" * 3000]
)
def test_no_text_in_an_address_is_acted_on(plant: Plant, evil: str) -> None:
    visitor = plant.visitor().is_here("mal")
    for path in ADDRESSES:
        visitor.goes("/" + path.format(evil))
        is_clean(visitor, path)
        assert visitor.status < 500, path
