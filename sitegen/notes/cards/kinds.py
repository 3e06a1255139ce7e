"""The kinds of card: the day, the total, the lead chart, before and after.

In: facts, a drawn chart, photos, a look, a format. Out: the SVG of each, with a name for its file; nothing where there is
nothing to show.
"""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from sitegen.core.facts.tree import Facts, Visit
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.language.text import listed
from sitegen.core.language.wording import Wording, opening
from sitegen.core.site.chart import Chart
from sitegen.core.values.day import Day
from sitegen.notes.cards.look import Format, Look
from sitegen.notes.cards.plate import (
    BETWEEN,
    PAD,
    RULE,
    Box,
    Text,
    blocks_of,
    document,
    height_of,
    plate,
    written,
)

HUGE: Final = (168, 144, 120, 96, 80, 64)
LARGE: Final = (72, 64, 56, 48)
PLAIN: Final = (52, 46, 40)
SMALL: Final = (44, 40, 36)
GAP: Final = 24  # between two photos
QUALITY: Final = 88  # of photos in a card
_VARIABLE = re.compile(r"var\(--([\w-]+)\)")


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo of a run as published: the plants that it shows, its day, the bytes of a JPEG or WebP without metadata."""

    plants: tuple[str, ...]
    day: Day
    body: bytes


@dataclass(frozen=True, slots=True)
class Drawn:
    """A card before it is a picture: the name of its file without the format, and its SVG."""

    name: str
    svg: str


def day_cards(facts: Facts, look: Look, form: Format, wording: Wording) -> Iterator[Drawn]:
    """A card for each day with an entry that may be told."""
    shown: set[str] = set()
    for visit in facts.timeline.visits:
        name = _day_name(visit.entry.day)
        if visit.entry.tell != "never" and name not in shown:
            shown.add(name)
            yield Drawn(name, _day_card(facts, visit, look, form, wording))


def _day_name(day: Day) -> str:
    """`day-098`, so that files stand in the order of days."""
    first, last = max(0, day.first), max(0, day.last)
    return f"day-{first:03}" if first == last else f"day-{first:03}-{last:03}"


def _day_card(facts: Facts, visit: Visit, look: Look, form: Format, wording: Wording) -> str:
    day = opening(wording.say(visit.entry.day))
    date = wording.calendar_day(visit.date) if visit.date and visit.entry.day.single else ""
    texts = (
        Text(day, HUGE, strong=True),
        Text(date, PLAIN),
        Text(facts.run.setup.title, SMALL, soft=True, most=2),
    )
    return _caption(texts, look, form, title=f"{day}, {facts.run.setup.title}")


def total_card(facts: Facts, look: Look, form: Format, wording: Wording) -> Iterator[Drawn]:
    """The total with its "at least" and the reason; nothing where nothing was weighed."""
    total = facts.harvest.total
    pieces = wording.in_sentence(total)
    if total.value is None or pieces.missing:
        return
    heading = tr("Picked so far") if facts.running else tr("The whole harvest")
    texts = (
        Text(heading, PLAIN),
        Text(opening(pieces.flag), LARGE, strong=True),
        Text(pieces.amount, HUGE, strong=True),
        Text(f"{pieces.also} {pieces.after}", PLAIN),
        Text(opening(remarks_words(total.remarks[:2])), SMALL, most=3),
        Text(facts.run.setup.title, SMALL, soft=True, most=2),
    )
    said = f"{heading}: {pieces}"
    yield Drawn("total", _caption(texts, look, form, title=said))


def _caption(texts: Iterable[Text], look: Look, form: Format, title: str) -> str:
    """Texts on a plate at the foot of the picture, as wide as they are."""
    width = min(form.inner, 1240) - 2 * PAD
    blocks = blocks_of(texts, look, width)
    wide = max((block.width for block in blocks), default=0) + 2 * PAD
    high = height_of(blocks) + PAD + RULE + PAD // 2
    box = Box(form.side, form.height - form.foot - high, wide, high)
    drawn = plate(box, look) + written(blocks, look, box.x + PAD, box.y + PAD // 2 + RULE)
    return document(form, look, title, drawn)


def chart_card(facts: Facts, chart: Chart | None, look: Look, form: Format) -> Iterator[Drawn]:
    """The lead chart in the narrow drawing, whose letters are large enough for a video; nothing without a drawn one."""
    if chart is None or not chart.drawn:
        return
    drawing = chart.narrow
    width, most = form.inner - 2 * PAD, form.inner_height - 2 * PAD - RULE
    head = blocks_of((Text(chart.title, LARGE, strong=True, most=2),), look, width)
    name = Text(facts.run.setup.title, SMALL, soft=True)
    foot = blocks_of((name,), look, width)
    room = most - height_of(head) - height_of(foot) - PAD
    scale = min(width / drawing.width, room / drawing.height)
    high = round(drawing.height * scale)
    wide = max(round(drawing.width * scale), *(block.width for block in head), 0)
    foot = blocks_of((name,), look, wide)
    box = _centred(form, wide + 2 * PAD, height_of(head) + height_of(foot) + high + 2 * PAD + RULE)
    top = box.y + PAD // 2 + RULE
    left = round(box.x + (box.width - drawing.width * scale) / 2)
    body = _VARIABLE.sub(lambda found: _chart_value(found[1], look), drawing.elements())
    drawn = (
        plate(box, look)
        + written(head, look, box.x + PAD, top)
        + f'<g transform="translate({left},{top + height_of(head) + PAD // 2}) scale({scale:.4f})">{body}</g>'
        + written(foot, look, box.x + PAD, box.y + box.height - PAD // 2 - height_of(foot))
    )
    yield Drawn("chart", document(form, look, f"{chart.title}: {facts.run.setup.title}", drawn))


def _chart_value(name: str, look: Look) -> str:
    """The value of a custom property in a chart; the font is that of the card."""
    if name == "chart-font":
        return "DejaVu Sans, sans-serif" if look.sans else "DejaVu Serif, serif"
    return look.colour(name)


def photo_card(
    facts: Facts, photos: Sequence[Photo], look: Look, form: Format, wording: Wording
) -> Iterator[Drawn]:
    """The earliest and the latest photo of the same plants; nothing where no plants were photographed twice."""
    pair = before_and_after(photos)
    if pair is None:
        return
    width = form.inner - 2 * PAD
    named = set(pair[0].plants) != set(facts.run.setup.plant_ids)
    subject, title = listed(pair[0].plants) if named else "", facts.run.setup.title
    texts = (Text(subject, SMALL, most=2), Text(title, SMALL, soft=True, most=2))
    foot = blocks_of(texts, look, width)
    days = [opening(wording.say(photo.day)) for photo in pair]
    heads = [blocks_of((Text(day, LARGE, strong=True),), look, width // 2) for day in days]
    head, below = max(map(height_of, heads)) + BETWEEN, height_of(foot)
    wide, high = _photo_size(form, width, head, below)
    rows = 2 if form.upright else 1
    box = _centred(form, form.inner, rows * (head + high + PAD // 2) + below + PAD + RULE)
    x, y = box.x + PAD, box.y + PAD // 2 + RULE
    drawn = plate(box, look)
    for photo, blocks in zip(pair, heads, strict=True):
        drawn += written(blocks, look, x, y) + _image(photo.body, Box(x, y + head, wide, high))
        x, y = (x, y + head + high + PAD // 2) if form.upright else (x + wide + GAP, y)
    drawn += written(foot, look, box.x + PAD, box.y + box.height - PAD // 2 - below)
    yield Drawn("before-and-after", document(form, look, f"{' / '.join(days)}: {title}", drawn))


def _photo_size(form: Format, width: int, head: int, below: int) -> tuple[int, int]:
    """The size of each of two photos under their days: 4:3 where there is room, side by side or one over the other."""
    wide = width if form.upright else (width - GAP) // 2
    if form.upright:
        room = (form.inner_height - 3 * PAD - RULE - below) // 2 - head
    else:
        room = form.inner_height - 2 * PAD - RULE - below - head
    return wide, min(room, round(wide * 3 / 4))


def before_and_after(photos: Sequence[Photo]) -> tuple[Photo, Photo] | None:
    """Of the photos that show the same plants, the two that lie furthest apart."""
    pairs = [
        (earlier, later)
        for earlier, later in combinations(sorted(photos, key=lambda photo: photo.day.key), 2)
        if earlier.plants and set(earlier.plants) == set(later.plants) and earlier.day.last < later.day.first
    ]
    return max(pairs, key=lambda pair: pair[1].day.first - pair[0].day.last, default=None)


def _image(body: bytes, box: Box) -> str:
    """A photo cut to the middle, inside the document."""
    from PIL import Image, ImageOps  # noqa: PLC0415 - only where there is a photo

    with Image.open(io.BytesIO(body)) as found:
        fitted = ImageOps.fit(found.convert("RGB"), (box.width, box.height), Image.Resampling.LANCZOS)
    jpeg = io.BytesIO()
    fitted.save(jpeg, "JPEG", quality=QUALITY, subsampling=0)
    data = base64.b64encode(jpeg.getvalue()).decode()
    return (
        f'<image x="{box.x}" y="{box.y}" width="{box.width}" height="{box.height}"'
        f' href="data:image/jpeg;base64,{data}"/>'
    )


def _centred(form: Format, width: int, height: int) -> Box:
    """A box in the middle of what is free."""
    return Box((form.width - width) // 2, form.head + (form.inner_height - height) // 2, width, height)
