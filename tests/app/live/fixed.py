"""A site of given pages, where a real one would take long to make."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.core.findings.finding import Finding
from sitegen.core.site.page import Page

__all__ = ["FixedSite"]


@dataclass(frozen=True)
class _Fixed:
    page: Page

    @property
    def state(self) -> str:
        return self.page.content.hex()[-40:]


@dataclass(frozen=True)
class FixedSite:
    """What stands at the addresses of some pages, what is not published and what is wrong."""

    pages: Sequence[Page] = ()
    unpublished_pages: Collection[str] = ()
    wrong: tuple[Finding, ...] = ()
    page_of: Mapping[str, str] = field(default_factory=dict)
    theme_folders: tuple[Path, ...] = ()

    def find(self, address: str) -> _Fixed | None:
        """The page of an address."""
        return next((_Fixed(page) for page in self.pages if page.address == address), None)

    def unpublished(self, address: str) -> bool:
        """Whether a page is one of those given."""
        return address in self.unpublished_pages

    def errors(self) -> tuple[Finding, ...]:
        """The errors among what was given."""
        return tuple(finding for finding in self.wrong if finding.is_error)

    def findings(self) -> tuple[Finding, ...]:
        """What was given."""
        return self.wrong

    def fault(self) -> str:
        """None."""
        return ""
