"""What stands beside a photo: its alternative text where the author gave none, and its caption.

In: the run, the day, the photo's line in the log. Out: text.
"""

from __future__ import annotations

from collections.abc import Callable

from sitegen.core.language.catalogue import tr
from sitegen.core.language.text import listed
from sitegen.core.language.wording import opening
from sitegen.core.records.rows import Photo, Run
from sitegen.core.values.day import Day

Say = Callable[[Day], str]
NAMED = 3  # more names than these say less than the crop's alone


def alternative(run: Run, day: Day | None, photo: Photo | None, say: Say) -> str:
    """The author's words, else crop, plants and day: `Pak choi P1 on day 35`."""
    if photo is not None and photo.alt:
        return photo.alt
    plants = _plants(run, photo)
    subject = f"{run.setup.crop.name} {plants}" if plants else run.setup.crop.name
    return ", ".join(part for part in (_when(subject, day, say), _shows(photo)) if part)


def caption(run: Run, day: Day | None, photo: Photo | None, say: Say) -> str:
    """The day, and the plants where they are named: `Day 35, P1`."""
    when = "" if day is None else opening(say(day))
    return ", ".join(part for part in (when, _plants(run, photo), _shows(photo)) if part)


def _when(subject: str, day: Day | None, say: Say) -> str:
    if day is None:
        return subject
    if day.single and not day.about:
        return tr("{subject} on {day}", subject=subject, day=say(day))
    return f"{subject}, {say(day)}"


def _plants(run: Run, photo: Photo | None) -> str:
    """The plants shown; nothing where they are all, or too many to name."""
    which = photo.which if photo else None
    if which is None or set(which.ids) == set(run.setup.plant_ids) or len(which.ids) > NAMED:
        return ""
    return listed(which.ids)


def _shows(photo: Photo | None) -> str:
    return tr(photo.shows) if photo and photo.shows else ""
