"""The order in which files are moved and removed, so that the folder can be served at every instant.

In: addresses. Out: the same in order. A page comes after the files that it shows, and after the pages that are new:
an older page may now link to those. What is no longer made goes last: by then no page links to it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable

from sitegen.core.site.addresses import LISTINGS

_FILE, _NEW_PAGE, _PAGE, _LISTING = range(4)


def in_order_of_moves(changed: Iterable[str], known: Collection[str]) -> list[str]:
    """Changed files in the order of moves; those of one rank stay as given, with index pages last."""
    return sorted(changed, key=lambda address: _rank(address, address in known))


def _rank(address: str, known: bool) -> int:
    if _is_page(address):
        return _PAGE if known else _NEW_PAGE
    # A listing names pages, so it comes after them; but a page that loads it may be the first one to do so.
    return _LISTING if known and address in LISTINGS else _FILE


def in_order_of_removals(removed: Iterable[str]) -> list[str]:
    """Pages before the files that they show."""
    return sorted(removed, key=lambda address: (not _is_page(address), address))


def _is_page(address: str) -> bool:
    return address.endswith(".html")
