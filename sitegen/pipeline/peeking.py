"""What links to an experiment say, before the whole of it is read.

In: an experiment's folder. Out: its run_link, if it looks as if it will have a page. A guess: where the whole turns out
otherwise, the pages beside it are made again.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sitegen.core.records.setup import Setup
from sitegen.ingest import ExperimentFolder, JournalFiles
from sitegen.ingest.setup.experiment import read_setup_without_log
from sitegen.render.pages.links import RunLink, run_link_of


@dataclass(frozen=True, slots=True)
class Head:
    """What the lines above the log say: an run_link, and what holds the experiment back."""

    run_link: RunLink
    draft: bool = False
    publish: date | None = None

    def public(self, today: date) -> bool:
        """Whether it is published by a day."""
        return not self.draft and (self.publish is None or self.publish <= today)


def head_of(setup: Setup) -> Head:
    """The head of an experiment whose set-up is known."""
    return Head(run_link_of(setup), setup.draft, setup.publish)


def head_at(folder: ExperimentFolder, journal_files: JournalFiles) -> Head | None:
    """The head of an experiment that is not read; None where there will be no page."""
    setup = read_setup_without_log(folder, journal_files)
    return None if setup is None else head_of(setup)


def peek(folder: ExperimentFolder, journal_files: JournalFiles, today: date | None = None) -> RunLink | None:
    """The run_link of an experiment by its head; None where there will be no page, on a day if one is given."""
    head = head_at(folder, journal_files)
    shown = head is not None and (today is None or head.public(today))
    return head.run_link if head is not None and shown else None
