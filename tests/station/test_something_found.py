"""Something found at a press: eight symptoms first, the item by the symptom, a photo without what the camera knows."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image

from tests.station.visitor import Plant, served
from upkeep.errors import Refused
from upkeep.quality.symptoms import FIRST, symptoms
from upkeep.station.server import photos
from upkeep.station.server.photos import bare_photo

GPS, MAKE, ORIENTATION = 0x8825, 0x010F, 0x0112
"""Tags of Exif 2.3 (CIPA DC-008), 4.6.3 and 4.6.4; from memory."""


@pytest.fixture
def plant(tmp_path: Path) -> Iterator[Plant]:
    """The small plant at 06:05."""
    with served(tmp_path) as plant:
        yield plant


def photo(form: str = "JPEG", size: tuple[int, int] = (640, 480), **saved: object) -> bytes:
    """A photo that is red on its left half."""
    picture = Image.new("RGB", size, "blue")
    picture.paste((255, 0, 0), (0, 0, size[0] // 2, size[1]))
    made = io.BytesIO()
    picture.save(made, form, **saved)
    return made.getvalue()


def with_place() -> bytes:
    """A photo of a camera that stood on its side and knows where it was."""
    exif = Image.Exif()
    exif[MAKE] = "Camera of nobody"
    exif[ORIENTATION] = 6
    exif.get_ifd(GPS)[1] = "N"
    return photo(exif=exif, comment=b"taken by nobody")


def test_eight_symptoms_come_first_and_the_others_are_not_far(plant: Plant) -> None:
    assert len(FIRST) == 8
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/found")
    for symptom in symptoms():
        assert f'href="/at/P-07/found/{symptom.id}"' in visitor.html
    first, _, others = visitor.html.partition("<details>")
    assert first.count("/found/") == 8
    assert others.count("/found/") == len(symptoms()) - 8 + 1


@pytest.mark.parametrize(
    ("symptom", "item"),
    [
        ("burr-one-side", "DS-031"),
        ("double-cycles", "P-07"),
        ("no-count", "P-07"),
        ("not-fed", "M-12"),
        ("dirt", "DS-031"),
    ],
)
def test_the_item_is_chosen_by_the_symptom(plant: Plant, symptom: str, item: str) -> None:
    visitor = plant.visitor().is_here("ben").goes(f"/at/P-07/found/{symptom}")
    assert visitor.hidden("item") == item


def test_a_report_takes_three_actions_and_holds_what_must_stop(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben")
    visitor.goes("/at/P-07/found")  # one
    visitor.goes("/at/P-07/found/burr-one-side")  # two
    assert "CAUTION Lock the press off" in visitor.text
    visitor.presses("It must STOP")  # three
    assert "REPORTED 06:05 DS-031: Burr or flash on one side by Ben. Stored in the book as #" in visitor.text
    assert plant.lines()[-1] == (
        '2026-03-02 06:05 fault DS-031 "Burr or flash on one side" listed burr-one-side stopped by ben'
    )


def test_what_goes_on_running_is_not_held(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/found/dirt")
    visitor.presses("It goes on running", words="wire ends", item="M-12")
    assert plant.lines()[-1] == '2026-03-02 06:05 fault M-12 "Dirt or debris: wire ends" listed dirt by ben'
    assert "HOLD" not in visitor.text


def test_what_maintenance_alone_may_touch_stops_whatever_is_sent(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/found/double-cycles")
    assert "goes on running" not in visitor.text
    visitor.presses("It must STOP", stops="no")
    assert "stopped" in plant.lines()[-1]


def test_words_of_ones_own_are_needed_where_nothing_is_picked(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/found/other").presses("It must STOP")
    assert "Type what you see" in visitor.text
    visitor.presses("It must STOP", words="smells burnt")
    assert plant.lines()[-1] == '2026-03-02 06:05 fault DS-031 "smells burnt" stopped by ben'


def test_an_item_that_does_not_hang_here_is_refused(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/found/dirt").presses("It must STOP", item="P-08")
    assert visitor.status == 422
    assert "Choose the item" in visitor.text


def test_an_unknown_symptom_is_refused_with_a_sentence(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/found/haunted")
    assert "'haunted' is not a symptom in the list" in visitor.text


# Photos


def test_a_photo_is_kept_with_its_report_without_place_device_or_time(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/found/dirt")
    visitor.presses("It goes on running", photo=("IMG_1.JPG", with_place(), "image/jpeg"))
    assert "The photo is kept." in visitor.text
    fault, picture = plant.lines()[-2:]
    with plant.book() as book:
        number = book.newest_written(2)[-1].entry
    (kept,) = (plant.path.parent / "pictures").iterdir()
    assert picture == f'2026-03-02 06:05 picture DS-031 "pictures/{kept.name}" sha256 {kept.stem} of #{number} by ben'
    assert " fault " in fault
    assert b"nobody" not in kept.read_bytes()
    with Image.open(kept) as opened:
        assert dict(opened.getexif()) == {}
        assert not {"exif", "comment", "icc_profile", "xmp", "photoshop"} & opened.info.keys()
        assert opened.size == (480, 640)  # upright, as the camera stood
        red, _, blue = opened.convert("RGB").resize((1, 2)).tobytes()[:3]
        assert red > 200 > blue  # the red half lies above


def test_a_photo_of_a_form_that_is_sent_twice_is_kept_once(plant: Plant) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/found/dirt")
    data = {name: visitor.hidden(name) for name in ("token", "form", "item")}
    for _ in range(2):
        visitor.sends(visitor.path if "found" in visitor.path else "/at/P-07/found/dirt",
                      {**data, "stops": "no", "photo": ("a.png", photo("PNG"), "image/png")})  # fmt: skip
    assert [line.split()[2] for line in plant.lines()].count("picture") == 1
    assert [line.split()[2] for line in plant.lines()].count("fault") == 1


@pytest.mark.parametrize(
    "content",
    [b"", b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"%PDF-1.7", b"GIF89a", photo()[:300], b"\xff\xd8\xff\xe0"],
)
def test_a_file_that_is_no_photo_is_refused_and_the_report_can_be_sent_without(plant: Plant, content: bytes) -> None:
    visitor = plant.visitor().is_here("ben").goes("/at/P-07/found/dirt")
    visitor.presses("It goes on running", words="wire ends", photo=("a.jpg", content, "image/jpeg"))
    assert visitor.status == 422
    assert "That file is no photo" in visitor.text
    assert visitor.hidden("words") == "wire ends"
    visitor.presses("It goes on running")
    assert plant.lines()[-1].endswith('"Dirt or debris: wire ends" listed dirt by ben')


def test_a_small_file_that_unpacks_to_a_huge_picture_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(photos, "_MOST_ELEMENTS", 100_000)
    with pytest.raises(Refused, match="too many pixels"):
        bare_photo(io.BytesIO(photo("PNG", (640, 480))))


def test_a_large_photo_is_made_smaller_and_keeps_its_shape() -> None:
    with Image.open(io.BytesIO(bare_photo(io.BytesIO(photo(size=(4000, 3000)))))) as kept:
        assert (kept.format, kept.size) == ("JPEG", (1600, 1200))
