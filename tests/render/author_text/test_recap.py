"""Values in recaps: filled, linked, or refused at their place."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.wording import Wording
from sitegen.render.author_text.recap import recap_html
from sitegen.render.numbers.figures import FigureBook
from tests.render.builders import facts, full_run

FILE = "seasons/s/e/recap.md"


def filled(text: str) -> tuple[str, list[tuple[str, Source, str, str]]]:
    """A recap as HTML, and its findings as data."""
    found = Findings()
    book = FigureBook(Wording(), "experiments/first-physalis.html")
    html = recap_html(facts(full_run(text)), book, found)
    return str(html), [(f.code, f.source, f.message, f.mend) for f in found]


def test_a_figure_is_said_and_linked() -> None:
    """A value becomes the wording of its figure, a link to its working."""
    html, findings = filled("It gave {{ facts.harvest.total }}.")

    assert html == (
        '<p>It gave <span data-figure="harvest.total">'
        '<span class="flag">at least</span> '
        '<a href="first-physalis/record.html#working-harvest-total">196\u00a0g</a> '
        '<span class="also">(6.9\u00a0oz)</span></span>.</p>\n'
    )
    assert findings == []


def test_a_figure_opens_a_sentence() -> None:
    """At the beginning of a sentence the wording gets a capital."""
    html, _ = filled("{{ facts.harvest.total }} in all.")

    assert '<span class="flag">At least</span>' in html


@pytest.mark.parametrize(
    ("before", "flag"),
    [
        ("The jars gave\n", "at least"),
        ("The jars gave this:\n", "at least"),
        ("They gave little.\n", "At least"),
        ("The jars\n\n", "At least"),
        ("# The jars\n", "At least"),
        ("- The jars\n- ", "At least"),
    ],
)
def test_a_line_that_a_figure_begins_may_be_in_mid_sentence(before: str, flag: str) -> None:
    """A line of a paragraph goes on from the line before; a heading, an empty line and an item end it."""
    html, _ = filled(f"{before}{{{{ facts.harvest.total }}}} in all.")

    assert f'<span class="flag">{flag}</span>' in html


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("facts.visits", ">12</a>"),
        ("facts.milestones.first_flower.first", "day\u00a041"),
        ("facts.harvest.by_group.early", "at least"),
        ("facts.harvest.by_group['early']", "at least"),
        ("facts.plants.P1.harvest", "84–196\u00a0g"),
        ("facts.solution.tubs.tub.refills", "</a>"),
    ],
)
def test_paths_reach_every_figure(path: str, said: str) -> None:
    """Tables are reached by the key of a row."""
    html, findings = filled(f"Here: {{{{ {path} }}}}")

    assert findings == []
    assert said in html


@pytest.mark.parametrize("number", ["1", "99", "9" * 5000])
@pytest.mark.parametrize(
    ("opens", "closes"), [("\ue000", "\ue001"), ("\ue002", "\ue003"), ("&#xe000;", "&#xe001;")]
)
def test_a_token_that_an_author_types_is_text(number: str, opens: str, closes: str) -> None:
    """The signs that stand for a value while Markdown is read mean nothing where no value has that number."""
    html, findings = filled(f"{{{{ facts.visits }}}} {opens}{number}{closes}")

    plain = f"{opens}{number}{closes}".replace("&#xe000;", "\ue000").replace("&#xe001;", "\ue001")
    assert html.endswith(f">12</a> {plain}</p>\n")
    assert findings == []


def test_error_unknown_path() -> None:
    """An unknown part is found at its own place, with the nearest word; the text stays."""
    html, findings = filled("# Sum\n\nIt gave {{ facts.harvest.totl }}.")

    assert html == '<h3 id="recap-sum">Sum</h3>\n<p>It gave {{ facts.harvest.totl }}.</p>\n'
    assert findings == [
        (
            "bad-template",
            Source(FILE, 3, 26, 4),
            "`totl` is not in that part of the facts",
            "write `total`",
        )
    ]


def test_error_not_one_value() -> None:
    """A part that holds several figures is refused."""
    _, findings = filled("{{ facts.harvest }}")

    assert [f[:3] for f in findings] == [
        ("bad-template", Source(FILE, 1, 10, 7), "`harvest` is not one value")
    ]


REFUSED = [
    "facts.harvest.total.value.__class__",
    "facts.__class__.__mro__",
    "1 + 1",
    "facts.harvest.total | upper",
    "cycler.__init__.__globals__",
    "facts.run.setup.title",
    "facts.harvest.total()",
    "''.join([])",
]


@pytest.mark.parametrize("expression", REFUSED)
def test_error_anything_but_a_path(expression: str) -> None:
    """Filters, calls, sums, hidden and unknown names are refused and nothing is evaluated."""
    html, findings = filled(f"See {{{{ {expression} }}}}")

    assert [f[0] for f in findings] == ["bad-template"]
    assert "{{" in html


def test_error_statements() -> None:
    """Statements of a template language are refused at their place."""
    _, findings = filled("a {% if x %} b")

    assert findings == [
        (
            "bad-template",
            Source(FILE, 1, 3, 10),
            "a recap takes values, no statements",
            "write a value, such as `{{ facts.harvest.total }}`",
        )
    ]


def test_raw_html_is_shown_as_text() -> None:
    """Markup in a recap does not reach the page."""
    html, _ = filled("<script>alert(1)</script>")

    assert html == "<p>&lt;script&gt;alert(1)&lt;/script&gt;</p>\n"


def test_no_recap_no_html() -> None:
    """A page stands without a recap."""
    assert filled("  \n") == ("", [])
