"""A chart as a file of its own, which reads when it is opened alone: on white, in colours and a font of its own.

In: a chart as pages have it, whose colours are variables of a theme, and whom to credit. Out: an SVG document with real
text, a title, a description that names source and licence, and the same as metadata. Nothing is drawn here.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from markupsafe import escape

from sitegen.core.chart import Chart
from sitegen.core.tongue import tr

__all__ = ["PALETTE", "SVG", "Credit", "standalone"]

SVG = "image/svg+xml"

# The variables that charts are drawn with, for black on white: text 4.5:1, marks 3:1 (WCAG 2.2, 1.4.3 and 1.4.11).
PALETTE = {
    "paper": "#ffffff",
    "ink": "#15181a",
    "ink-soft": "#50565a",
    "line": "#c5c9c4",
    "growth": "#2d7429",
    "water": "#0d6486",
    "feed": "#7f4196",
    "harvest": "#a5440a",
    "trouble": "#a91c36",
    "light": "#765a00",
    "chart-font": "system-ui, sans-serif",
}
_HEAD = re.compile(r"<svg[^>]*>(?:<title[^>]*>[^<]*</title><desc[^>]*>[^<]*</desc>)?")
_PHOTOS = re.compile(r'<g class="photos".*?</g>', re.DOTALL)  # the photos stay on the page
_VIEW = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')
_VARIABLE = re.compile(r"var\(--([\w-]+)\)")
_BESIDE = 12  # free at both sides: on a page, text may reach into the margin
_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_DC = "http://purl.org/dc/elements/1.1/"


@dataclass(frozen=True, slots=True)
class Credit:
    """Whose a chart is: the experiment and where its page stands, the site, its author and licence."""

    title: str
    source: str
    site: str
    author: str = ""
    licence: str = ""
    licence_text: str = ""

    @property
    def line(self) -> str:
        """In words."""
        whence = ", ".join(filter(None, (self.title, self.site, self.source)))
        if not self.licence:
            return tr("Source: {source}.", source=whence)
        return tr("Source: {source}. Licence: {licence}.", source=whence, licence=self.licence)


def standalone(chart: Chart, credit: Credit) -> str:
    """The wide drawing of a chart as a document."""
    view = _VIEW.search(chart.wide)
    assert view is not None  # every drawing has one
    width, height = float(view[1]) + 2 * _BESIDE, view[2]
    body = _PHOTOS.sub("", _HEAD.sub("", chart.wide, count=1))
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-{_BESIDE} 0 {width:g} {height}" width="{width:g}"'
        f' height="{height}" role="img"'
        ' aria-labelledby="title description" font-family="var(--chart-font)" fill="none">'
        f'<title id="title">{escape(chart.title)}</title>'
        f'<desc id="description">{escape(chart.description)} {escape(credit.line)}</desc>'
        f'{_metadata(chart, credit)}<rect x="-{_BESIDE}" width="{width:g}" height="{height}" fill="var(--paper)"/>'
    )
    return _VARIABLE.sub(lambda found: PALETTE.get(found[1], PALETTE["ink"]), head + body) + "\n"


def _metadata(chart: Chart, credit: Credit) -> str:
    """Title, creator, source and rights in the words of the Dublin Core Metadata Element Set 1.1."""
    said = {
        "title": chart.title,
        "creator": credit.author,
        "source": credit.source or f"{credit.title}, {credit.site}",
        "rights": " ".join(filter(None, (credit.licence, credit.licence_text))),
    }
    parts = "".join(f"<dc:{name}>{escape(text)}</dc:{name}>" for name, text in said.items() if text)
    return (
        f'<metadata><rdf:RDF xmlns:rdf="{_RDF}" xmlns:dc="{_DC}">'
        f'<rdf:Description rdf:about="">{parts}</rdf:Description></rdf:RDF></metadata>'
    )
