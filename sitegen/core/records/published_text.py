"""A text of a journal that is published, and where: what the listing of personal details looks through.

In: nothing. Out: `PublishedText`.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.findings.source import Source


@dataclass(frozen=True, slots=True)
class PublishedText:
    """A text, its place, and the files of the site that have it; `held_back` where they are not published yet.

    `whole_file` if it is all of its file, line for line; `code` if it is a style or a drawing of the author's.
    """

    text: str
    source: Source
    files: tuple[str, ...]
    held_back: bool = False
    whole_file: bool = False
    code: bool = False

    def place(self, start: int, width: int) -> Source:
        """The place of a part of the text, as narrow as it is known."""
        if self.whole_file:
            before = self.text[:start]
            return Source(self.source.file, before.count("\n") + 1, start - before.rfind("\n"), max(1, width))
        quotes = self.source.width - len(self.text)
        return self.source.part(start + quotes // 2, width) if quotes in (0, 2) else self.source

    def where(self) -> str:
        """Where it would appear, in words."""
        first = f"`{self.files[0]}`"
        more = len(self.files) - 1
        others = f" and {more} more {'file' if more == 1 else 'files'}" if more else ""
        return f"{first}{others}{', once it is published' if self.held_back else ''}"
