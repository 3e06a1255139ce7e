"""The pictures of a run in the order of its days, with their captions.

In: pictures ready to be shown, the set-up of the run. Out: `Gallery`: the same plants over time, and how far the crop
is, side by side; an alternative text where the author gave none, and a caption. It makes no file and no markup.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Sequence
from dataclasses import dataclass, replace

from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.text import listed
from sitegen.core.language.wording import opening
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
    """The plants shown; nothing where they are all, or too many to name."""
    everyone = set(picture.plants) == set(setup.plant_ids)
    return "" if everyone or len(picture.plants) > NAMED else listed(picture.plants)


def _shown(picture: Picture) -> str:
    return tr(picture.shows) if picture.shows else ""


RIPENESS = (
    tr_noop("not ready"),
    tr_noop("ready"),
    tr_noop("too late"),
)  # what a photo may say that it shows, in the order of ripening
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
