"""Links that an author writes between the pages of the journal.

In: an address as written in a recap or a free page: an experiment's id, another text's file, a page. Out:
the way to it from the page it stands on; a finding where the journal has no such page.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sitegen.core.findings.finding import Findings, Source
from sitegen.core.language.text import did_you_mean
from sitegen.core.records.setup import FreePage
from sitegen.core.site.addresses import (
    CAUTIONS,
    COMPARE,
    HOME,
    METHODS,
    crop_page,
    free_page,
    link,
    season_page,
    system_page,
)
from sitegen.render.pages.links import RunLink


def has_links(text: str) -> bool:
    """Whether a text may link to other pages: in brackets, by a reference, or in HTML."""
    return any(mark in text for mark in ("](", "]:", "href"))


def places(run_links: Iterable[RunLink], texts: Iterable[FreePage]) -> dict[str, str]:
    """Every way to write a page of the site, with its address."""
    found: dict[str, str] = {}
    for each in run_links:
        pages = [crop_page(each.crop), season_page(each.season), each.address]
        pages += [system_page(system) for system in each.systems]
        found |= {page: page for page in pages}
        found[each.id] = each.address
    for text in texts:
        found |= {f"{text.name}.md": free_page(text.name), free_page(text.name): free_page(text.name)}
    return found | {page: page for page in (HOME, COMPARE, METHODS, CAUTIONS)}


@dataclass(frozen=True, slots=True)
class Links:
    """Resolves the links of one text that stands on one page."""

    page: str
    places: Mapping[str, str]
    text: str
    file: str
    findings: Findings

    def __call__(self, target: str) -> str:
        """The way to a target; as written, with a finding, where there is none."""
        name, hash_sign, anchor = target.partition("#")
        if not name:
            return target
        address = self.places.get(name.removeprefix("./").removeprefix("../"))
        if address is None:
            self.findings.add(
                "unknown-experiment",
                self._place(target),
                f"`{name}` is no page of this journal",
                mend=did_you_mean(name, self.places),
                found=name,
                expected="the id of a published experiment, or a page",
            )
            return target
        return link(address + hash_sign + anchor, self.page)

    def _place(self, target: str) -> Source:
        for number, line in enumerate(self.text.splitlines(), start=1):
            for before in ("](", 'href="', "href='"):
                column = line.find(f"{before}{target}")
                if column >= 0:
                    return Source(self.file, number, column + len(before) + 1, len(target))
        return Source(self.file)
