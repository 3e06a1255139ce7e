"""The description of a formula."""

from __future__ import annotations

from sitegen.core.facts.method import Method


def test_a_paragraph_that_ends_with_a_colon_stands_before_the_equation() -> None:
    """What is said after it comes after the equation; without such a paragraph all stands before."""
    led = Method("share", "Share", "What it is.\n\nWith N seeds:\n\nWhere it holds.", "n/N")
    plain = Method("sum", "Sum", "What it is.\n\nWhere it holds.", "a + b")

    assert led.paragraphs == (("What it is.", "With N seeds:"), ("Where it holds.",))
    assert plain.paragraphs == (("What it is.", "Where it holds."), ())
