"""Names that pages are stored under: each has one of its own, and one that every file system takes.

In: ids of runs, seasons, crops and systems; names of free pages. Out: findings, and whether a page can be had under a
name.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.site.addresses import CAUTIONS, COMPARE, HOME, METHODS, NOT_FOUND, free_page, slug
from sitegen.ingest.yaml.nodes import Scalar

LONGEST = (
    100  # characters; file systems take 255 bytes with all that is put behind a name. Custom, no source.
)
# Microsoft, "Naming Files, Paths, and Namespaces": with any ending, in upper and lower case.
DEVICES = frozenset(
    {"con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in range(10))}
)
_OWN = frozenset({HOME, COMPARE, METHODS, CAUTIONS, NOT_FOUND})


@dataclass(slots=True)
class PageNames:
    """The names of one kind of pages, as they come."""

    findings: Findings
    taken: dict[str, str] = field(default_factory=dict)

    def take(self, name: Scalar) -> bool:
        """Whether a page can be had under an id, with a finding where it cannot, or not everywhere."""
        if len(name.text) > LONGEST:
            message = f"`{name.text[:20]}…` has {len(name.text)} characters, and an id at most {LONGEST}"
            name.report(self.findings, "bad-id", message, "write a shorter one", f"{LONGEST} characters")
            return False
        plain = name.text.lower()
        other = self.taken.setdefault(plain, name.text)
        if other != name.text:
            message = (
                f"`{name.text}` and `{other}` differ only in capitals, and many systems store both as one"
            )
            name.report(self.findings, "duplicate-id", message, "rename one of them")
            return False
        if plain in DEVICES:
            message = (
                f"Windows keeps the name `{name.text}` for a device, so a page of it cannot be stored there"
            )
            name.report(self.findings, "reserved-id", message, f"choose another name, such as `{plain}-1`")
        return True

    def take_text(self, file: str, name: str) -> bool:
        """Whether a free page can be had under the name of its file, with a finding where it cannot."""
        address = free_page(name)
        fault, mend = self._fault(name, address)
        if fault:
            self.findings.add("page-address", Source(file), fault, mend=mend, found=name)
            return False
        self.taken[address] = file
        return True

    def _fault(self, name: str, address: str) -> tuple[str, str]:
        short, rename = slug(name), "rename the file"
        if not short:
            return f"`{name}` gives a page no address: it has no letter from a to z and no digit", rename
        if address in _OWN:
            return f"`{address}` is a page that every site has", rename
        if address in self.taken:
            return f"this page and that of `{self.taken[address]}` would both be `{address}`", "rename one"
        if short in DEVICES:
            why = f"Windows keeps the name `{short}` for a device, so `{address}` cannot be stored there"
            return why, f"rename the file, such as to `{short}-1.md`"
        if len(short) > LONGEST:
            why = f"`{short[:20]}…` has {len(short)} characters, and the name of a page at most {LONGEST}"
            return why, rename
        return "", ""
