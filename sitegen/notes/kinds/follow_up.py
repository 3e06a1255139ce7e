"""What changed since the last episode: the days after its `until`, spoken.

In: the material of a run. Out: a draft; None where no episode says until which day it told.
"""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.language.catalogue import tr
from sitegen.core.records.setup import Episode
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.notes.draft import AuthorWords, Draft, Number, Passage, Section, passage, told
from sitegen.notes.joining import joined
from sitegen.notes.kinds.script import careful, moments, shown
from sitegen.notes.kinds.titles import title
from sitegen.notes.material import Material
from sitegen.notes.scoring import repeated


def last_episode(material: Material) -> Episode | None:
    """The episode that told the furthest."""
    found = [each for each in material.setup.episodes if each.until is not None]
    return max(found, key=lambda each: each.until.last if each.until else 0, default=None)


def follow_up(material: Material) -> Draft | None:
    """What is new since the last episode."""
    episode = last_episode(material)
    if episode is None or episode.until is None:
        return None
    until = episode.until
    found = moments(material)
    later = [
        each
        for each in found
        if each.moment.place == "day" and each.moment.day is not None and each.moment.day.key[0] > until.last
    ]
    ordered = sorted(
        later, key=lambda each: (each.moment.day.key if each.moment.day else (0, 0), each.moment.order)
    )
    kept = [each for each in repeated(ordered) if each.kept]
    days = [each.moment.day for each in kept if each.moment.day is not None]
    opening = Section(
        title(tr("Since the last episode")), told(*_opening(material, episode, until, new=bool(kept)))
    )
    since = Section(
        title(""), tuple(joined(each.moment for each in kept)), shown(days, material), style="sentences"
    )
    sums = [each for each in found if each.moment.place == "scale"]
    scale = Section(
        title(tr("On the scale so far") if material.facts.running else tr("On the scale")),
        (*told(_then(material, until)), *(passage for each in sums for passage in each.moment.passages)),
    )
    sections = tuple(each for each in (opening, since, scale) if each.passages)
    return replace(
        Draft("follow-up", material.setup.id, material.setup.title, sections, spoken=True),
        careful=careful(material),
    )


def _opening(material: Material, episode: Episode, until: Day, *, new: bool) -> list[Passage | None]:
    place = material.setup.at("episodes")
    day = Number("setup.episodes.until", until, "day")
    said = [
        passage(
            tr("The last episode was “{title}”, and it ended on {day}."),
            place,
            title=AuthorWords(episode.title, inside=True),
            day=day,
        )
    ]
    if not new:
        said.append(passage(tr("Nothing worth telling has been written down since."), place))
    return said


def _then(material: Material, until: Day) -> Passage | None:
    """What had been picked by then."""
    before = [pick for pick in material.rows.picks if pick.day.last <= until.last]
    if not before or len(before) == len(material.rows.picks):
        return None
    weight: Quantity = total((pick.weight for pick in before), Dimension.MASS)
    return passage(
        tr("By the last episode it was {weight}."),
        [pick.source for pick in before],
        weight=Number("log.harvest", weight),
    )
