"""The pictures that stand for a link to a page."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image, ImageColor

from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Answer
from sitegen.core.site.content import Picture, PictureFile
from sitegen.core.site.page import Page
from sitegen.core.values.day import Day
from sitegen.memo import Memo
from sitegen.render.metadata import previews as preview
from sitegen.render.metadata.preview_card import Card, Text
from sitegen.render.metadata.preview_image import INK, PAPER, PHOTO, SIZES, SOFT, drawn
from sitegen.render.metadata.previews import HEIGHT, WIDTH, experiment_preview
from sitegen.render.pages.summary import RunSummary, summary_of
from sitegen.render.story.days.day_scale import Segment
from tests.render.builders import facts, full_run, planned_run
from tests.render.metadata.builders import built, summary

SIZE = (WIDTH, HEIGHT)
SMALLEST = (
    44  # pixels, of 1,200: 11 of 300, as wide as a message shows the picture; common practice, no source
)
PLAIN = Card((Text("Does it fruit?"), Text("196 g of fruit.", strong=True)))


def image_of(card: Card, photo: bytes = b"") -> Image.Image:
    """A card as it is drawn."""
    return Image.open(io.BytesIO(drawn(card, SIZE, photo))).convert("RGB")


def dark(image: Image.Image, left: int, top: int, right: int, bottom: int) -> int:
    """How many pixels in a box are not paper."""
    return sum(image.crop((left, top, right, bottom)).convert("L").histogram()[:200])


def texts(*words: str) -> Card:
    """A card of a question and further words, the first of which are the answer."""
    return Card(tuple(Text(each, strong=number == 1) for number, each in enumerate(words)))


def photo_of(colour: str) -> bytes:
    """A photo of one colour, 960 × 640."""
    body = io.BytesIO()
    Image.new("RGB", (960, 640), colour).save(body, "JPEG")
    return body.getvalue()


def pictured(name: str, colour: str) -> tuple[RunSummary, tuple[Page, ...]]:
    """The summary of a run with one photo, and the files of the photo."""
    address = f"photos/first-physalis/{name}.jpg"
    file = PictureFile(address, "image/jpeg", 960, 640)
    picture = Picture("plant.jpg", "Four plants", (file,), day=Day.on(60))
    return summary_of(facts(full_run()), (picture,)), (Page(address, "image/jpeg", photo_of(colour)),)


def card_of(monkeypatch: pytest.MonkeyPatch, run: Run) -> Card:
    """The card of a run without a photo."""
    cards: list[Card] = []
    monkeypatch.setattr(preview, "_drawn", lambda card, _: cards.append(card) or b"")
    experiment_preview(summary(run), Wording(), None)
    return cards[0]


def test_size_and_weight() -> None:
    """Readers get the size that they ask for, in a small file without metadata."""
    body = built()["previews/experiments/first-physalis.png"].content
    image = Image.open(io.BytesIO(body))

    assert (image.format, image.size, image.info.keys() - {"transparency"}) == ("PNG", SIZE, set())
    assert len(body) < 60_000


def test_the_same_card_has_the_same_bytes() -> None:
    """Nothing but the card goes in; another card is another picture."""
    other = texts("Does it fruit?", "197 g of fruit.")

    assert drawn(PLAIN, SIZE) == drawn(PLAIN, SIZE)
    assert drawn(PLAIN, SIZE) != drawn(other, SIZE)


def test_the_colours_of_a_drawn_picture_are_its_inks_and_what_lies_between() -> None:
    """Paper and inks are themselves, also behind the smooth edges of letters: no picture shifts them."""
    image = image_of(Card((*PLAIN.texts, Text("What grew beside it?"))))
    counted = {colour: count for count, colour in image.getcolors() or []}
    most = sorted(counted, key=lambda colour: -counted[colour])[:3]

    assert most == [ImageColor.getrgb(ink) for ink in (PAPER, INK, SOFT)]
    assert len(counted) > 24, "letters have smooth edges"


def test_question_and_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """A card has the question, the answer with each amount in one unit, and the verdict where there is room."""
    assert card_of(monkeypatch, full_run()).texts == (
        Text("Does it fruit in an attic?"),
        Text("At least 196\u00a0g of fruit from 4 plants; one pick was not weighed.", strong=True),
        Text("Again: it fruited.", spare=True),
    )


def test_the_answer_of_the_author_stands_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """No weight and no verdict beside it."""
    run = full_run()
    answered = replace(run, setup=replace(run.setup, answer=Answer("again", "it fruited", result="It does")))

    assert [each.words for each in card_of(monkeypatch, answered).texts] == [
        "Does it fruit in an attic?",
        "It does.",
    ]


def test_a_run_to_come_says_when(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its card has the date that it is planned for, and no line."""
    card = card_of(monkeypatch, planned_run())

    assert card.texts[1].words == "Planned: to be sown on 5\u00a0March 2026."
    assert card.line == ()


def test_no_letter_is_smaller_than_a_message_can_show() -> None:
    """However much is to be said, sizes end where a message would make them unreadable."""
    assert min(SIZES) == SMALLEST


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
    assert dark(image_of(texts(title)), 0, 60, WIDTH, 240) > 1000


def test_a_text_that_cannot_be_drawn_is_left_out() -> None:
    """No empty boxes: words in other letters are left out, and the rest is drawn as if they were not there."""
    assert drawn(texts("酸浆", ""), SIZE) == drawn(texts("", ""), SIZE)
    assert drawn(Card((Text("酸浆"), Text("196 g", strong=True))), SIZE) == drawn(
        Card((Text("196 g", strong=True),)), SIZE
    )


@pytest.mark.parametrize("words", ["Many words of a question " * 20, "Wortzusammensetzungen" * 20])
def test_long_texts_stay_in_their_place(words: str) -> None:
    """Whatever is written, the room above the line and the right margin stay free."""
    line = (Segment("picking", "", "", 0, 50, False),)
    image = image_of(Card((Text(words), Text(words, strong=True)), line))

    assert dark(image, 0, 506, WIDTH, 520) == 0
    assert dark(image, WIDTH - 60, 0, WIDTH, HEIGHT) == 0


def test_the_verdict_gives_way() -> None:
    """Where it has no room beside question and answer it is left out; they are not cut for it."""
    both = (Text("Is there anything to be said of it? " * 6), Text("Much " * 20, strong=True))

    assert drawn(Card((*both, Text("Again: it fruited. " * 9, spare=True))), SIZE) == drawn(Card(both), SIZE)


def test_the_line_shows_phases() -> None:
    """Picking is drawn in the colour of the harvest, a run that goes on ends in a ring."""
    line = (Segment("seedling", "", "", 0, 40, False), Segment("picking", "", "", 40, 80, False))
    image, still = (image_of(Card((), line, open=state)) for state in (False, True))
    middle = image.crop((64, 556, WIDTH - 64, 557))

    colours = [middle.getpixel((x, 0)) for x in (200, 700, 1000)]
    assert [max(range(3), key=colour.__getitem__) for colour in colours if isinstance(colour, tuple)] == [
        1,
        0,
        1,
    ]
    assert image.tobytes() != still.tobytes()


def test_a_photo_fills_the_left() -> None:
    """From edge to edge, beside the words, in a JPEG of moderate weight without metadata."""
    shown, files = pictured("red", "#c01020")
    page = experiment_preview(shown, Wording(), None, files)
    image = Image.open(io.BytesIO(page.content))

    assert (page.address, page.media) == ("previews/experiments/first-physalis.jpg", "image/jpeg")
    assert (image.format, image.size) == ("JPEG", SIZE)
    assert image.info.keys().isdisjoint({"exif", "icc_profile", "xmp"})
    assert len(page.content) < 200_000
    for place in ((2, 2), (PHOTO - 4, HEIGHT - 3)):
        red, green, blue = image.convert("RGB").getpixel(place)  # type: ignore[misc] # of three bands
        assert red > 170
        assert max(green, blue) < 60
    assert dark(image.convert("RGB"), PHOTO + 20, 70, WIDTH, HEIGHT) > 5000


def test_another_photo_is_another_picture(tmp_path: Path) -> None:
    """The picture of a run is drawn anew when its photo is another, and only then."""
    with Memo(tmp_path) as memo:
        first, again, other = (
            experiment_preview(shown, Wording(), memo, files).content
            for shown, files in (
                pictured("red", "#c01020"),
                pictured("red", "#c01020"),
                pictured("green", "#10c020"),
            )
        )

    assert first == again != other


def test_a_photo_that_is_made_later_is_waited_for() -> None:
    """Where photos are encoded on demand, so is the picture: until then nobody asks for the photo."""
    shown, (file,) = pictured("red", "#c01020")
    asked: list[str] = []

    def encode() -> bytes:
        asked.append(file.address)
        return file.content

    page = experiment_preview(shown, Wording(), None, (replace(file, body=encode),))

    assert asked == []
    assert page.content == experiment_preview(shown, Wording(), None, (file,)).content
    assert asked == [file.address]


def test_a_picture_is_drawn_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A picture kept from before is not drawn again."""
    with Memo(tmp_path) as memo:
        before = experiment_preview(summary(full_run()), Wording(), memo).content
        monkeypatch.setattr(preview, "_drawn", lambda card, _: pytest.fail(f"drew {card.texts}"))
        after = experiment_preview(summary(full_run()), Wording(), memo).content

    assert after == before
