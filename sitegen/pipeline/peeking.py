"""What links to an experiment say, before the whole of it is read.

In: an experiment's folder. Out: its outline, if it looks as if it will have a page. A guess: where the whole turns out
otherwise, the pages beside it are made again.
"""

from __future__ import annotations

from datetime import date

from sitegen.ingest import ExperimentFolder, Shelf
from sitegen.ingest.glance import glance
from sitegen.render.outlines import Outline, outline_of

__all__ = ["peek"]


def peek(folder: ExperimentFolder, shelf: Shelf, today: date | None = None) -> Outline | None:
    """The outline of an experiment by its head; None where there will be no page, on a day if one is given."""
    setup = glance(folder, shelf)
    if setup is None:
        return None
    held_back = today and (setup.draft or (setup.publish and setup.publish > today))
    return None if held_back else outline_of(setup)
