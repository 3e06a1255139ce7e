"""Links that an author writes between the pages of the journal.

In: an address as written in a recap or a free page: an experiment's id, another text's file, a page. Out:
the way to it from the page it stands on; a finding where the journal has no such page.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.text import did_you_mean
from sitegen.core.site.addresses import link
from sitegen.core.site.site_map import OtherPages


@dataclass(frozen=True, slots=True)
class Links:
    """Resolves the links of one text that stands on one page."""

    page: str
    others: OtherPages
    text: str
    file: str
    findings: Findings

    def __call__(self, target: str) -> str:
        """The way to a target; as written, with a finding, where there is none."""
        name, hash_sign, anchor = target.partition("#")
        if not name:
            return target
        address = self.others.address(name.removeprefix("./").removeprefix("../"))
        if address is None:
            self.findings.add(
                "unknown-experiment",
                self._place(target),
                f"`{name}` is no page of this journal",
                mend=did_you_mean(name, self.others.names()),
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
