"""Templates of a journal: what they may do, and that they end."""

from __future__ import annotations

import warnings
from datetime import date
from pathlib import Path

import pytest
from jinja2 import StrictUndefined
from jinja2.exceptions import SecurityError, TemplateError, TemplateSyntaxError
from markupsafe import Markup

from sitegen.core.findings.source import Source
from sitegen.core.site.author_templates import AuthorEnvironment, rendering


def rendered(template: str, *, autoescape: bool = True, **values: object) -> str:
    """A template with its values."""
    environment = AuthorEnvironment(undefined=StrictUndefined, autoescape=autoescape)
    with rendering():
        return environment.from_string(template).render(**values)


USUAL = [
    ("{% for n in [1, 2, 3] %}{{ loop.index }}/{{ loop.length }} {% endfor %}", "1/3 2/3 3/3 "),
    ("{% for k, v in {'a': 1}.items() %}{{ k }}={{ v }}{% else %}none{% endfor %}", "a=1"),
    ("{% macro m(n) %}<{{ n }}>{% if n %}{{ m(n - 1) }}{% endif %}{% endmacro %}{{ m(2) }}", "<2><1><0>"),
    ("{{ 'a' ~ 1 ~ 'b' }}{{ 'x' * 3 }}{{ 2 ** 10 }}{{ 7 % 4 }}{{ [1] + [2] }}", "a1bxxx10243[1, 2]"),
    ("{{ 'abc'|upper|center(7)|replace('B', '-') }}", "  A-C  "),
    ("{{ '%05.1f'|format(3) }}{{ 'a b'.split()|join('+') }}", "003.0a+b"),
    ("{{ day.year }}{{ place.line }}", "20263"),
    ("{{ '<' ~ mark ~ '>' }}", "&lt;<b>&gt;"),
]


@pytest.mark.parametrize(("template", "wanted"), USUAL)
def test_what_templates_do_is_done(template: str, wanted: str) -> None:
    """Loops, macros, sums and filters give what the library gives without bounds."""
    values = {"day": date(2026, 3, 2), "place": Source("a.yaml", 3), "mark": Markup("<b>")}

    assert rendered(template, **values) == wanted


@pytest.mark.parametrize(
    "template", ["{% if no %}{{ 3[:] ~ '' }}{% endif %}", "{% if no %}{{ 'a\\l' }}{% endif %}"]
)
def test_no_warning_of_the_language_is_printed(template: str) -> None:
    """What Python warns of in the code of a template says nothing to its author."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert rendered(template, no=False) == ""


ESCAPES = [
    "{{ cycler.__init__.__globals__.os.popen('id').read() }}",
    "{{ ''.__class__.__mro__[1].__subclasses__() }}",
    "{{ ''|attr('__class__') }}",
    "{{ path.read_text() }}",
    "{{ path|attr('unlink') }}",
    "{{ path.parent }}",
    "{{ show.__self__ }}",
    "{{ show.__func__.__globals__ }}",
    "{{ self.__init__.__globals__ }}",
    "{{ '{0.__class__}'.format(1) }}",
    "{% set ns = namespace() %}{{ ns.__init__ }}",
    "{{ items.append(1) }}",
    "{{ lipsum(n=99999) }}",
    "{{ words.update({'a': 1}) }}",
]


@pytest.mark.parametrize("template", ESCAPES)
def test_what_leads_out_is_refused(template: str, tmp_path: Path) -> None:
    """No attribute with an underscore, nothing of a path, nothing that changes what was given."""
    path = tmp_path / "secret.md"
    path.write_text("secret", "utf-8")
    with pytest.raises(TemplateError):
        rendered(template, path=path, show=path.exists, items=[], words={})
    assert path.exists()


ENDLESS = [
    "{% for a in range(9999) %}{% for b in range(9999) %}{% endfor %}{% endfor %}",
    "{% macro m(n) %}{% if n %}{{ m(n - 1) }}{{ m(n - 1) }}{% endif %}{% endmacro %}{{ m(60) }}",
    "{{ 'a' * 999999999 }}",
    "{{ [0] * 999999999 }}",
    "{{ 9 ** (9 ** 9) }}",
    "{% set ns = namespace(n=9) %}{% for i in range(60) %}{% set ns.n = ns.n * ns.n %}{% endfor %}",
    "{% set ns = namespace(t='a') %}{% for i in range(60) %}{% set ns.t = ns.t ~ ns.t %}{% endfor %}",
    "{% set ns = namespace(t='a') %}{% for i in range(60) %}{% set ns.t = ns.t + ns.t %}{% endfor %}",
    "{{ 'a'|center(999999999) }}",
    "{{ 'a'|indent(999999999) }}",
    "{{ 'a'.ljust(999999999) }}",
    "{{ '%999999999d'|format(1) }}",
    "{{ '%999999999d' % 1 }}",
    "{{ '{:999999999}'.format(1) }}",
    "{% set t = 'a' * 999999 %}{{ t|replace('a', t) }}",
    "{% set t = 'a' * 999999 %}{{ t.replace('a', t) }}",
    "{% set t = 'a' * 999999 %}{% for i in range(99999) %}{{ t }}{% endfor %}",
    "{{ range(999999999)|list }}",
    "{% set ns = namespace(t='aaaa') %}{% for i in range(60) %}{% set ns.t = '%s%s'|format(ns.t, ns.t) %}{% endfor %}",
    "{% set ns = namespace(t='aaaa') %}{% for i in range(60) %}{% set ns.t = '%s%s' % (ns.t, ns.t) %}{% endfor %}",
    "{% set ns = namespace(t='aaaa') %}{% for i in range(60) %}{% set ns.t = '{0}{0}'.format(ns.t) %}{% endfor %}",
    "{% set ns = namespace(t='aaaa') %}{% for i in range(60) %}{% set ns.t = [ns.t, ns.t]|join %}{% endfor %}",
    "{% set ns = namespace(t='aaaa') %}{% for i in range(60) %}{% set ns.t = ''.join([ns.t, ns.t]) %}{% endfor %}",
    "{% set ns = namespace(t=['a']) %}{% for i in range(60) %}{% set ns.t = [ns.t, ns.t] %}{% endfor %}{{ ns.t }}",
    "{% set ns = namespace(t=['a']) %}{% for i in range(60) %}{% set ns.t = [ns.t, ns.t] %}{% endfor %}{{ ns.t ~ '' }}",
    "{% set ns = namespace(t=['a']) %}{% for i in range(60) %}{% set ns.t = [ns.t, ns.t] %}{% endfor %}{{ ns.t|string }}",
    "{% set ns = namespace(t=['a']) %}{% for i in range(60) %}{% set ns.t = [ns.t, ns.t] %}{% endfor %}{{ ns.t|tojson }}",
    "{% set ns = namespace(t=['a']) %}{% for i in range(60) %}{% set ns.t = [ns.t, ns.t]|sum(start=[]) %}{% endfor %}",
    "{{ ('a\\n' * 499999)|indent(9999) }}",
    "{{ ('a ' * 499999)|wordwrap(1, wrapstring='b' * 99999) }}",
    "{% set t = 'a' * 999999 %}{% for i in range(99999) %}{{ 'b' in t }}{% endfor %}",
    "{% set t = 'a' * 999999 %}{% for i in range(99999) %}{% set u = t[1:] %}{% endfor %}",
    "{% set t = 'a' * 999999 %}{% for i in range(99999) %}{% set u = t|upper %}{% endfor %}",
]


@pytest.mark.parametrize("template", ENDLESS)
def test_what_would_not_end_is_refused(template: str) -> None:
    """Loops, calls, texts, numbers and output have bounds, and are refused before they are made."""
    with pytest.raises((SecurityError, OverflowError)):
        rendered(template)


def test_an_argument_that_does_not_fit_a_filter_is_refused() -> None:
    """A text cannot be cut to one character with three dots behind it: the template is told so."""
    with pytest.raises(TemplateError, match="`truncate` does not take this: expected length >= 3, got 1"):
        rendered("{{ 'a text'|truncate(1) }}")


def test_a_long_template_is_not_parsed() -> None:
    """A template of more than 200,000 characters is refused as it is, before its parts are counted."""
    with pytest.raises(TemplateSyntaxError, match="it has 200,001 characters; at most 200,000 are read"):
        rendered("{" * 200_001)


def test_a_budget_is_that_of_one_rendering() -> None:
    """Many renderings take more steps together than one may."""
    template = "{% for n in range(50000) %}{% endfor %}."

    assert [rendered(template) for _ in range(6)] == ["."] * 6
