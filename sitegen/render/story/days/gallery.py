"""The pictures of a run in the order of its days, with their captions.

In: pictures ready to be shown, the set-up of the run. Out: `PhotoStrip`: the photos below the day axis; `Gallery`: the
same plants over time, and how far the crop is, side by side; an alternative text where the author gave none, and a
caption. It makes no file and no markup.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.text import listed, tub_words
from sitegen.core.language.wording import opening
from sitegen.core.records.arms import Arm, arms_of
from sitegen.core.records.setup import Setup
from sitegen.core.site.content import Picture
from sitegen.core.values.day import Day

Say = Callable[[Day], str]
NAMED = 3  # more names than these say less than the crop's alone


def captioned(pictures: Iterable[Picture], setup: Setup, say: Say) -> tuple[Picture, ...]:
    """Pictures with alternative texts and captions; `say` puts a day into words."""
    return tuple(
        replace(
            picture,
            alt=picture.alt or _alternative(picture, setup, say),
            caption=_joined(opening(say(picture.day)) if picture.day else "", picture, setup),
        )
        for picture in pictures
    )


def _alternative(picture: Picture, setup: Setup, say: Say) -> str:
    """Crop, plants and day: `Pak choi P1 on day 35`."""
    plants, day = _plants(picture, setup), picture.day
    subject = f"{setup.crop.name} {plants}" if plants else setup.crop.name
    if day is not None and day.single and not day.about:
        subject = tr("{subject} on {day}", subject=subject, day=say(day))
    elif day is not None:
        subject = f"{subject}, {say(day)}"
    return ", ".join(filter(None, (subject, _shown(picture))))


def _joined(when: str, picture: Picture, setup: Setup) -> str:
    """The day, and the plants where they are named: `Day 35, P1`."""
    return ", ".join(filter(None, (when, _plants(picture, setup), _shown(picture))))


def _plants(picture: Picture, setup: Setup) -> str:
    """The plants shown: by the name of their arm, else by their own; nothing where they are all, or too many to name."""
    for arm in arms_of(setup):
        if picture.plants and set(arm.plants) == set(picture.plants):
            return _arm_name(arm, setup)
    everyone = set(picture.plants) == set(setup.plant_ids)
    return "" if everyone or len(picture.plants) > NAMED else listed(picture.plants)


def _arm_name(arm: Arm, setup: Setup) -> str:
    if arm.kind == "varieties":
        return setup.variety_name(arm.key)
    return tub_words(arm.key) if arm.kind == "tubs" else arm.key


def _shown(picture: Picture) -> str:
    return tr(picture.shows) if picture.shows else ""


# What a photo may say that it shows, in the order of ripening.
RIPENESS = (tr_noop("not ready"), tr_noop("ready"), tr_noop("too late"))
SEVERAL = 2


@dataclass(frozen=True, slots=True)
class Series:
    """Pictures shown side by side, under a common title."""

    title: str
    pictures: tuple[Picture, ...]


@dataclass(frozen=True, slots=True)
class Gallery:
    """All pictures of a run but those placed elsewhere on its page.

    `ripeness` is empty unless at least two of its words were photographed; a comparison is never taken apart.
    """

    series: tuple[Series, ...]
    ripeness: tuple[Picture, ...]
    latest: Picture | None = None

    @property
    def pictures(self) -> tuple[Picture, ...]:
        """Every picture once."""
        return tuple(picture for series in self.series for picture in series.pictures)


def gallery_of(pictures: Sequence[Picture], elsewhere: Container[str] = ()) -> Gallery:
    """The pictures of one run: plants seen twice or more have a series of their own, the others share one.

    `elsewhere` holds the files of those that the page shows in another place.
    """
    ordered = in_day_order(pictures)
    left = [picture for picture in ordered if picture.file not in elsewhere]
    seen = [picture.plants for picture in left if picture.day]
    own = [plants for plants in dict.fromkeys(seen) if plants and seen.count(plants) >= SEVERAL]
    shared = tuple(picture for picture in left if picture.plants not in own)
    series = [Series(tr("Day by day"), shared)] if shared else []
    series += [Series(listed(plants), tuple(p for p in left if p.plants == plants)) for plants in own]
    return Gallery(tuple(series), _ripeness(ordered), _latest(ordered))


def in_day_order(pictures: Sequence[Picture]) -> list[Picture]:
    """Pictures in the order of days, those without a day last."""
    return sorted(pictures, key=lambda p: (p.day is None, p.day.middle if p.day else 0.0))


def _latest(ordered: Sequence[Picture]) -> Picture | None:
    """The picture of the last day that has one."""
    dated = [(p.day.middle, index, p) for index, p in enumerate(ordered) if p.day]
    return max(dated)[2] if dated else None


def _ripeness(ordered: Sequence[Picture]) -> tuple[Picture, ...]:
    """The last that was not ready, the first that was, the first that was too late."""
    of = {word: [picture for picture in ordered if picture.shows == word] for word in RIPENESS}
    chosen = [of["not ready"][-1:], of["ready"][:1], of["too late"][:1]]
    found = tuple(picture for few in chosen for picture in few)
    return found if len(found) >= SEVERAL else ()


SHOWN = 6  # photos that stand beside each other on a desk


@dataclass(frozen=True, slots=True)
class StripPhoto:
    """A photo of the strip: its day, and where that lies on the day axis in per cent; neither where it is unknown."""

    picture: Picture
    day: int | None
    at: float | None


@dataclass(frozen=True, slots=True)
class PhotoStrip:
    """The photos below the day axis, in the order of days; `more` are those for which a row has no room."""

    shown: tuple[StripPhoto, ...]
    more: tuple[StripPhoto, ...] = ()

    @property
    def threads(self) -> tuple[tuple[float, float], ...]:
        """From where on the axis to where in the strip a thread leads, in per cent, for each photo with a day."""
        width = 100 / max(1, len(self.shown))
        return tuple(
            (photo.at, round((place + 0.5) * width, 3))
            for place, photo in enumerate(self.shown)
            if photo.at is not None
        )


def photo_strip(pictures: Sequence[Picture], last: int) -> PhotoStrip:
    """The photos of a run whose last day is `last`.

    Of more than six, those stand in the strip that show how far the crop was, and then the ones furthest apart in days.
    """
    photos = [_strip_photo(picture, max(1, last)) for picture in in_day_order(pictures)]
    if len(photos) <= SHOWN:
        return PhotoStrip(tuple(photos))
    ripe = _ripeness([photo.picture for photo in photos])
    days = {place: photo.day for place, photo in enumerate(photos) if photo.day is not None}
    kept = [place for place, photo in enumerate(photos) if photo.picture in ripe]
    kept = _furthest_apart(days, kept)
    return PhotoStrip(
        tuple(photo for place, photo in enumerate(photos) if place in kept),
        tuple(photo for place, photo in enumerate(photos) if place not in kept),
    )


def _strip_photo(picture: Picture, last: int) -> StripPhoto:
    if picture.day is None:
        return StripPhoto(picture, None, None)
    middle = min(float(last), max(0.0, picture.day.middle))
    return StripPhoto(picture, round(middle), round(100 * middle / last, 3))


def _furthest_apart(days: Mapping[int, int], kept: Sequence[int]) -> list[int]:
    """Places filled up to six: the first and the last day, then always the day furthest from those that are kept."""
    chosen = list(kept)
    ends = [place for place in (min(days, default=None), max(days, default=None)) if place is not None]
    for place in ends:
        if place not in chosen and len(chosen) < SHOWN:
            chosen.append(place)
    while len(chosen) < SHOWN and (left := [place for place in days if place not in chosen]):
        chosen.append(max(left, key=lambda place: (_distance(place, chosen, days), -place)))
    return chosen


def _distance(place: int, chosen: Sequence[int], days: Mapping[int, int]) -> int:
    """The days from a photo to the nearest chosen one."""
    return min(abs(days[place] - days[other]) for other in chosen if other in days)
