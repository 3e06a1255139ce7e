"""Texts beside a photo: its alternative text where the author gave none, and its caption.

In: pictures without texts of the site, the set-up of the run. Out: the same pictures with texts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from sitegen.core.language.catalogue import tr
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
