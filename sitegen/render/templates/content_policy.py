"""The content security policy of pages, in the page itself: the headers of a host are not ours to set.

In: nothing. Out: policies for the `meta` element that each page begins with. Nothing comes from another host, no script
or style stands in a page, and no form is sent anywhere.

References
----------
Content Security Policy Level 3, https://www.w3.org/TR/CSP3/

"""

from __future__ import annotations

# Opened from a disk, a page has no origin that `'self'` would mean in every browser (from memory); served, `file:` is
# nothing that a page can reach.
_OWN = "'self' file:"
# The search and the tables ask for nothing; the preview, which is served, asks its own server.
_SOURCES = {
    "default-src": "'none'",
    "img-src": _OWN,
    "style-src": _OWN,
    "script-src": _OWN,
    "font-src": _OWN,
    "media-src": _OWN,
    "connect-src": "'self'",
    "base-uri": "'none'",
    "form-action": "'none'",
}

POLICY = "; ".join(f"{directive} {sources}" for directive, sources in _SOURCES.items())
