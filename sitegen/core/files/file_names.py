"""Names of files: those that a system may hold in bytes that are no UTF-8, and those of litter.

In: a name as Python lists it, with surrogates for such bytes. Out: whether it is UTF-8, the name as it can be shown, and
whether it is hidden or left behind by a program: such a file is never part of a journal.
"""

from __future__ import annotations

MANIFEST = ".sitegen.json"  # a folder that holds one is the output of a build, and no part of a journal
# Left behind by systems, editors and office programs.
_LITTER = frozenset(
    {"thumbs.db", "ehthumbs.db", "desktop.ini", "icon\r", "__pycache__", "__macosx", "lost+found"}
)
_LITTER_ENDINGS = (".swp", ".swo", "~", ".bak", ".tmp", ".lock", ".part", ".crdownload", ".pyc")
_LITTER_BEGINNINGS = (".", "~$", "#", "~wrl")


def is_litter(name: str) -> bool:
    """Whether a name is hidden, or one that other programs leave behind."""
    lower = name.lower()
    return lower in _LITTER or lower.startswith(_LITTER_BEGINNINGS) or lower.endswith(_LITTER_ENDINGS)


def is_utf8(name: str) -> bool:
    """Whether a name can be written as UTF-8."""
    return name.isascii() or utf8(name) == name


def utf8(name: str) -> str:
    """The name with a mark for each byte that is no UTF-8."""
    return name.encode("utf-8", "surrogateescape").decode("utf-8", "replace")
