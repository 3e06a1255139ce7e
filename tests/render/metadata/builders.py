"""A small site's files for machines.

In: runs and a journal. Out: pages by address.
"""

from __future__ import annotations

from functools import lru_cache

from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Journal
from sitegen.core.site.page import Page
from sitegen.render import render
from sitegen.render.pages.summary import RunSummary, summary_of
from tests.render.builders import JOURNAL, facts, site

__all__ = ["BARE", "built", "summary", "text_of"]


BARE = Journal(title="Attic Trough")  # no address, no licence, nobody named


@lru_cache(maxsize=4)
def built(journal: Journal = JOURNAL) -> dict[str, Page]:
    """Every page of the small site."""
    pages, findings = render(site(journal=journal))
    assert findings == ()
    return {page.address: page for page in pages}


def text_of(address: str, journal: Journal = JOURNAL) -> str:
    """The text of a page."""
    return built(journal)[address].content.decode()


def summary(run: Run) -> RunSummary:
    """What lists show of a run."""
    return summary_of(facts(run))
