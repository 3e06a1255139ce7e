"""Preview images for links to a page: title, result and the run's line.

In: the journal, a summary, a store of pictures made before. Out: PNG pages of 1200 × 630, one an experiment and one for
the site. The content is a `Card`; `preview_image` draws it.

References
----------
1200 × 630 is what readers of Open Graph tags ask for; common practice, no source.

"""

from __future__ import annotations

from dataclasses import asdict, dataclass

from sitegen.core.language.wording import Wording
from sitegen.core.records.setup import Journal
from sitegen.core.site.addresses import SITE_PREVIEW, preview_file
from sitegen.core.site.page import Page
from sitegen.core.store import Store
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.day_scale import Segment, strip

WIDTH, HEIGHT = 1200, 630
PNG = "image/png"


def site_preview(journal: Journal, store: Store | None) -> Page:
    """The picture for links to every page but an experiment's."""
    about = journal.tagline.rstrip(".") + "." if journal.tagline else ""
    return _page(SITE_PREVIEW, Card("", journal.title, about, journal.author.name), store)


def experiment_preview(journal: Journal, summary: RunSummary, wording: Wording, store: Store | None) -> Page:
    """The picture for links to an experiment's page."""
    return _page(preview_file(summary.id), _card(journal, summary, wording), store)


def _card(journal: Journal, summary: RunSummary, wording: Wording) -> Card:
    drawn = strip(summary, summary.axis.end)
    crop = summary.setup.crop.name
    return Card(
        above=", ".join(part for part in (crop, summary.variety) if part),
        title=summary.title,
        text=summary.in_words(wording),
        below=journal.title,
        line=drawn.segments,
        open=drawn.open,
    )


def _page(address: str, card: Card, store: Store | None) -> Page:
    if store is None:
        return Page(address, PNG, _drawn(card))
    key = store.key("render/metadata", asdict(card))
    kept = store.get(key) or store.put(key, {}, [_drawn(card)])
    return Page(address, PNG, kept.files[0])


def _drawn(card: Card) -> bytes:
    from sitegen.render.metadata.preview_image import drawn  # noqa: PLC0415 - only where a picture is new

    return drawn(card, (WIDTH, HEIGHT))


@dataclass(frozen=True, slots=True)
class Card:
    """The content of one picture. `open` ends the line with a ring: the run goes on."""

    above: str
    title: str
    text: str
    below: str
    line: tuple[Segment, ...] = ()
    open: bool = False
