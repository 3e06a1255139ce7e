"""Templates say the site's own words."""

from __future__ import annotations

import pytest
from jinja2 import Environment
from markupsafe import Markup

from sitegen.core.language.catalogue import Catalogue, message_key, using_catalogue
from sitegen.render.templates.context import with_translation

DUTCH = Catalogue(
    "nl",
    {
        "A & B": ("A & C",),
        "of {whole}": ("van {whole}",),
        "See <b>{title}</b>, 9 %": ("Zie <b>{title}</b>, 9 %",),
        "{n} day": ("{n} dag", "{n} dagen"),
        message_key("lost", "plant"): ("dood",),
    },
)


def _filled(template: str, **values: object) -> str:
    return with_translation(Environment(autoescape=True)).from_string(template).render(**values)


@pytest.mark.parametrize(
    ("template", "english", "dutch"),
    [
        ("{{ _('A & B') }}", "A &amp; B", "A &amp; C"),
        ("{{ _('of {whole}', whole=x) }}", "of &lt;3", "van &lt;3"),
        ("{{ _('of {whole}', whole=m) }}", "of <i>3</i>", "van <i>3</i>"),
        ("{{ _n('{n} day', '{n} days', 2) }}", "2 days", "2 dagen"),
        ("{{ _c('plant', 'lost') }}", "lost", "dood"),
        (
            "{% trans title=x %}See <b>{{ title }}</b>, 9 %{% endtrans %}",
            "See <b>&lt;3</b>, 9 %",
            "Zie <b>&lt;3</b>, 9 %",
        ),
        ("{% trans n=1 %}{{ n }} day{% pluralize %}{{ n }} days{% endtrans %}", "1 day", "1 dag"),
        ("{% trans n=0 %}{{ n }} day{% pluralize %}{{ n }} days{% endtrans %}", "0 days", "0 dagen"),
        ("{% trans 'plant' %}lost{% endtrans %}", "lost", "dood"),
    ],
)
def test_a_message_in_two_languages(template: str, english: str, dutch: str) -> None:
    """Words of a call are escaped, markup of a block stays, a value is escaped unless it is markup."""
    values = {"x": "<3", "m": Markup("<i>3</i>")}
    with using_catalogue(DUTCH):
        spoken = _filled(template, **values)

    assert (_filled(template, **values), spoken) == (english, dutch)
