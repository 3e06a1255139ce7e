"""Names of files, which a system may hold in bytes that are no UTF-8.

In: a name as Python lists it, with surrogates for such bytes. Out: whether it is UTF-8, and the name as it can be shown.
"""

from __future__ import annotations


def is_utf8(name: str) -> bool:
    """Whether a name can be written as UTF-8."""
    return name.isascii() or utf8(name) == name


def utf8(name: str) -> str:
    """The name with a mark for each byte that is no UTF-8."""
    return name.encode("utf-8", "surrogateescape").decode("utf-8", "replace")
