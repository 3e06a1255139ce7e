"""The pictures that stand for a link to a page."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image

from sitegen.core.language.wording import Wording
from sitegen.memo import Memo
from sitegen.render.metadata import previews as preview
from sitegen.render.metadata.preview_image import drawn
from sitegen.render.metadata.previews import HEIGHT, WIDTH, Card, experiment_preview
from sitegen.render.story.day_scale import Segment
from tests.render.builders import JOURNAL, full_run
from tests.render.metadata.builders import built, summary

SIZE = (WIDTH, HEIGHT)
PAPER = (244, 247, 239)
PLAIN = Card("Physalis", "First physalis", "196 g of fruit.", "Attic Trough")


def image_of(card: Card) -> Image.Image:
    """A card as it is drawn."""
    return Image.open(io.BytesIO(drawn(card, SIZE))).convert("RGB")


def dark(card: Card, top: int, bottom: int) -> int:
    """How many pixels between two heights are not paper."""
    strip = image_of(card).crop((0, top, WIDTH, bottom)).convert("L")
    return sum(strip.histogram()[:200])


def test_size_and_weight() -> None:
    """Readers get the size that they ask for, in a small file without metadata."""
    body = built()["previews/experiments/first-physalis.png"].content
    image = Image.open(io.BytesIO(body))

    assert (image.format, image.size, image.info.keys() - {"transparency"}) == ("PNG", SIZE, set())
    assert len(body) < 60_000


def test_the_same_card_has_the_same_bytes() -> None:
    """Nothing but the card goes in; another card is another picture."""
    assert drawn(PLAIN, SIZE) == drawn(PLAIN, SIZE)
    assert drawn(PLAIN, SIZE) != drawn(Card("Physalis", "First physalis", "197 g of fruit.", ""), SIZE)


LETTERS = [
    "Plain",
    "Grünkohl, crème, señor, łódź, şalgam",
    "Физалис",
    "φυσαλίς",
    "½ of 23 °C – 0.5 m² “so” ≥ 9 µmol/m²/s",
]


@pytest.mark.parametrize("title", LETTERS)
def test_letters_of_many_languages_are_drawn(title: str) -> None:
    """Latin, Greek and Cyrillic letters and the signs of measures are there."""
    assert dark(Card("", title, "", ""), 60, 240) > 1000


def test_a_text_that_cannot_be_drawn_is_left_out() -> None:
    """No empty boxes: a title in other letters leaves its place free, and the rest is drawn."""
    card = Card("", "酸浆", "196 g", "Attic Trough")

    assert dark(card, 60, 230) == 0
    assert dark(card, 230, 300) > 300


def test_a_long_title_stays_above_the_line() -> None:
    """Whatever is written, the room below the text stays free."""
    line = (Segment("picking", "", "", 0, 50, False),)
    card = Card("a " * 90, "Many words of a title " * 20, "and more of a result " * 40, "b", line)

    assert dark(card, 418, 425) == 0


def test_the_line_shows_phases() -> None:
    """Picking is drawn in the colour of the harvest, a run that goes on ends in a ring."""
    line = (Segment("seedling", "", "", 0, 40, False), Segment("picking", "", "", 40, 80, False))
    image, still = (image_of(Card("", "", "", "", line, open=state)) for state in (False, True))
    middle = image.crop((72, 446, WIDTH - 72, 447))

    colours = [middle.getpixel((x, 0)) for x in (200, 700, 1000)]
    assert [max(range(3), key=colour.__getitem__) for colour in colours if isinstance(colour, tuple)] == [
        1,
        0,
        1,
    ]
    assert image.tobytes() != still.tobytes()


def test_a_picture_is_drawn_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A picture kept from before is not drawn again."""
    with Memo(tmp_path) as memo:
        before = experiment_preview(JOURNAL, summary(full_run()), Wording(), memo).content
        monkeypatch.setattr(preview, "_drawn", lambda card: pytest.fail(f"drew {card.title}"))
        after = experiment_preview(JOURNAL, summary(full_run()), Wording(), memo).content

    assert after == before
