"""What the pages are made of: no words outside the sentences, colours to be told apart, nothing from elsewhere."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest

from upkeep.due.states import State
from upkeep.station.pages.labels import LABELS
from upkeep.station.pages.page import HOME
from upkeep.wording.states import SIGNS

TEMPLATES = sorted((HOME / "templates").glob("*.html"))
CSS = (HOME / "files" / "station.css").read_text(encoding="utf-8")


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda path: path.stem)
def test_a_template_has_no_words_of_its_own(template: object) -> None:
    """What is not said cannot be translated."""
    source = template.read_text(encoding="utf-8")  # type: ignore[attr-defined]
    bare = re.sub(r"\{\{.*?\}\}|\{%.*?%\}", " ", source, flags=re.S)
    bare = re.sub(r"\((?=\s*<span data-seconds>).*?\bs\)", "", bare, flags=re.S)  # the unit: seconds
    found: list[str] = []

    class Words(HTMLParser):
        def handle_data(self, data: str) -> None:
            found.extend(re.findall(r"[A-Za-z]{2,}", data))

        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            shown = {"title", "alt", "placeholder", "aria-label"}
            found.extend(value for name, value in attrs if name in shown and value and value.strip())

    Words().feed(re.sub(r"<(style|script)[^>]*>.*?</\1>", "", bare, flags=re.S))
    assert found == []
    assert "|safe" not in source.replace(" ", "")


def test_every_label_is_used_and_every_state_has_a_sign_of_its_own() -> None:
    used = {name for path in TEMPLATES for name in re.findall(r"label\.(\w+)", path.read_text(encoding="utf-8"))}
    assert used == set(LABELS)
    assert set(SIGNS) == set(State)
    assert len(set(SIGNS.values())) == len(SIGNS)


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, "relative luminance"; from memory)."""
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4 for value in channels]
    return sum(weight * value for weight, value in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    """Contrast ratio (WCAG 2.2, "contrast ratio"; from memory): 21 for black on white."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_ratio_of_black_and_white_is_21() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)  # WCAG's own example of just too little


@pytest.mark.parametrize("look", [0, 1], ids=["light", "dark"])
def test_every_pair_of_colours_has_a_contrast_of_4_5_to_1(look: int) -> None:
    """WCAG 2.2, 1.4.3 (text); edges of fields and targets 3 to 1 (1.4.11)."""
    colours = dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6})", re.findall(r":root \{(.*?)\}", CSS, re.S)[look]))
    pairs = [(name, f"{name}-ink") for name in colours if f"{name}-ink" in colours] + [("paper", "ink")]
    assert len(pairs) > 6
    assert {pair: ratio for pair in pairs if (ratio := contrast(*(colours[name] for name in pair))) < 4.5} == {}
    assert contrast(colours["edge"], colours["paper"]) >= 3


def test_each_colour_stands_with_its_own_ink() -> None:
    """So the pairs that are measured are those that are seen."""
    for rule in re.findall(r"\{([^{}]*background: var[^{}]*)\}", CSS):
        (ground,) = re.findall(r"background: var\(--([a-z]+)\)", rule)
        assert f"; color: var(--{'ink' if ground == 'paper' else f'{ground}-ink'})" in " ".join(rule.split()), rule


def test_targets_are_20_mm() -> None:
    """A gloved finger's target; on a standing kiosk keys of 20 mm were found large enough (trade practice)."""
    for wanted in ("button, nav a, summary", "input:not", ".option", ".row > *"):
        rule = CSS[CSS.index(f"\n{wanted}") :].partition("}")[0]
        assert "min-height: 20mm" in rule, wanted


def test_the_look_and_the_script_load_nothing_from_elsewhere() -> None:
    for name in ("station.css", "station.js", "station.svg"):
        text = (HOME / "files" / name).read_text(encoding="utf-8").replace("http://www.w3.org/2000/svg", "")
        assert not re.search(r"https?:|//[a-z]+\.|@import|url\(|eval\(|innerHTML\s*=[^=]", text), name
