"""Addresses, licences and currencies in other spellings."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.ingest.values.identifiers import parse_currency, parse_licence, parse_link
from tests.ingest.builders import said, scalar


@pytest.mark.parametrize(
    "text",
    ["https://example.org/a", "http://example.org", "mailto:us@example.org", "coming soon", "not.yet there"],
)
def test_link(text: str) -> None:
    """A whole address, and what is none, are taken as they are."""
    findings = Findings()

    assert (parse_link(scalar(text), "link", findings), said(findings)) == (text, [])


@pytest.mark.parametrize(
    ("text", "whole"),
    [
        ("example.org/a", "https://example.org/a"),
        ("www.example.org", "https://www.example.org"),
        ("//example.org/a", "https://example.org/a"),
        ("https:/example.org/a", "https://example.org/a"),
        ("http//example.org", "http://example.org"),
    ],
)
def test_link_without_scheme(text: str, whole: str) -> None:
    """An address whose scheme is missing or cut short is offered with it."""
    findings = Findings()
    parse_link(scalar(text), "link", findings)

    message = f"`{text}` is an address without its scheme: the link would lead nowhere"
    assert said(findings) == [f"1:10: not-a-link: {message} (write `link: {whole}`)"]


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("CC BY-SA 4.0", "CC-BY-SA-4.0"),
        ("cc0-1.0", "CC0-1.0"),
        ("Creative Commons BY 4.0", "CC-BY-4.0"),
        ("CC BY 4.0 International", "CC-BY-4.0"),
        ("CC-BY", "CC-BY-4.0"),  # the version is left to the author
    ],
)
def test_licence_in_another_spelling(text: str, mend: str) -> None:
    """A known licence in another spelling is offered by its identifier."""
    findings = Findings()
    parse_licence(scalar(text), findings)

    assert [each.mend for each in findings] == [f"write `{mend}`"]
    assert [each.safe for each in findings] == [text != "CC-BY"]


@pytest.mark.parametrize("text", ["CC-BY-4.0", "MIT", "All rights reserved", "CC BY 3.0"])
def test_other_licence(text: str) -> None:
    """An identifier, and a licence that is not in the table, are taken as they are."""
    findings = Findings()

    assert (parse_licence(scalar(text), findings), said(findings)) == (text, [])


@pytest.mark.parametrize("text", ["EUR", "USD", "ISK"])  # the last is not among the most common
def test_currency(text: str) -> None:
    """The code of a currency is taken."""
    findings = Findings()

    assert (parse_currency(scalar(text), findings), said(findings)) == (text, [])


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("usd", "write `USD`"),
        ("€", "write `EUR`"),
        ("Euros", "write `EUR`"),
        ("$", "write `USD`, `CAD` or `AUD`"),
        ("money", "write its code, such as `EUR`"),
    ],
)
def test_no_currency(text: str, mend: str) -> None:
    """Any other text is refused, with the codes that it can be."""
    findings = Findings()

    assert parse_currency(scalar(text), findings) == ""
    assert [(each.code, each.mend) for each in findings] == [("not-a-currency", mend)]
