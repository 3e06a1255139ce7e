"""What links to an experiment say, before the whole of it is read.

In: an experiment's folder. Out: its outline, if it looks as if it will have a page. A guess: where the whole turns out
otherwise, the pages beside it are made again.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sitegen.core.records.setup import Setup
from sitegen.ingest import ExperimentFolder, Shelf
from sitegen.ingest.head.experiment import glance
from sitegen.render.pages.links import Outline, outline_of


@dataclass(frozen=True, slots=True)
class Head:
    """What the lines above the log say: an outline, and what holds the experiment back."""

    outline: Outline
    draft: bool = False
    publish: date | None = None

    def public(self, today: date) -> bool:
        """Whether it is published by a day."""
        return not self.draft and (self.publish is None or self.publish <= today)


def head_of(setup: Setup) -> Head:
    """The head of an experiment whose set-up is known."""
    return Head(outline_of(setup), setup.draft, setup.publish)


def head_at(folder: ExperimentFolder, shelf: Shelf) -> Head | None:
    """The head of an experiment that is not read; None where there will be no page."""
    setup = glance(folder, shelf)
    return None if setup is None else head_of(setup)


def peek(folder: ExperimentFolder, shelf: Shelf, today: date | None = None) -> Outline | None:
    """The outline of an experiment by its head; None where there will be no page, on a day if one is given."""
    head = head_at(folder, shelf)
    shown = head is not None and (today is None or head.public(today))
    return head.outline if head is not None and shown else None
