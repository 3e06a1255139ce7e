"""Preview images for links to a page: the question of a run and its answer, beside its photo or above its line.

In: the journal, a summary, the files of its photos, a store of pictures made before. Out: pages of 1200 × 630, one an
experiment and one for the site: a JPEG where there is a photo, else a PNG. The content is a `Card`; `preview_image`
draws it.

References
----------
1200 × 630 is what readers of Open Graph tags ask for; common practice, no source.

"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, replace
from functools import partial

from sitegen.core.facts.figure import Figure
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.setup import Journal
from sitegen.core.site.addresses import SITE_PREVIEW, preview_file
from sitegen.core.site.page import Page
from sitegen.core.store import Store
from sitegen.render.metadata.preview_card import Card, Text
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.days.day_scale import strip
from sitegen.render.story.run_sentences import Sentence

WIDTH, HEIGHT = 1200, 630
PNG, JPEG = "image/png", "image/jpeg"


def site_preview(journal: Journal, store: Store | None) -> Page:
    """The picture for links to every page but an experiment's."""
    about = journal.tagline.rstrip(".") + "." if journal.tagline else ""
    card = Card((Text(journal.title, strong=True), Text(about)))
    return Page(SITE_PREVIEW, PNG, _body(card, None, store))


def experiment_preview(
    summary: RunSummary, wording: Wording, store: Store | None, files: Iterable[Page] = ()
) -> Page:
    """The picture for links to an experiment's page; `files` are those of its photos.

    It is made on demand where its photo is.
    """
    fallback = summary.picture.fallback.address if summary.picture else ""
    photo = next((each for each in files if each.address == fallback), None)
    card = _card(summary, wording, fallback)
    address = preview_file(summary.id, photo=bool(fallback))
    make = partial(_body, card, photo, store)
    body = make if photo is not None and callable(photo.body) else make()
    return Page(address, JPEG if fallback else PNG, body)


def _card(summary: RunSummary, wording: Wording, photo: str) -> Card:
    answer = summary.in_words(wording) if summary.stage == "planned" else _brief(summary.answer, wording)
    texts = [Text(summary.setup.question or summary.title), Text(answer, strong=True)]
    if not (summary.setup.answer and summary.setup.answer.result):
        texts.append(Text(summary.lesson, spare=True))  # then the verdict often says more than the weight
    if photo or not summary.logged:
        return Card(tuple(texts), photo=photo)
    drawn = strip(summary, summary.axis.end)
    return Card(tuple(texts), drawn.segments, drawn.open)


def _brief(sentence: Sentence, wording: Wording) -> str:
    """A sentence with each amount in one unit: two take too much room."""
    parts = (
        str(replace(wording.in_sentence(part), also="")) if isinstance(part, Figure) else part
        for part in sentence.parts
    )
    return opening("".join(parts))


def _body(card: Card, photo: Page | None, store: Store | None) -> bytes:
    if store is None:
        return _drawn(card, photo)
    key = store.key("render/metadata", asdict(card))
    kept = store.get(key) or store.put(key, {}, [_drawn(card, photo)])
    return kept.files[0].read_bytes()


def _drawn(card: Card, photo: Page | None) -> bytes:
    from sitegen.render.metadata.preview_image import drawn  # noqa: PLC0415 - only where a picture is new

    return drawn(card, (WIDTH, HEIGHT), photo.content if photo else b"")
