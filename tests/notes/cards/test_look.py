"""The look of cards, from style sheets of themes."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.notes.cards.look import DEFAULTS, FORMATS, Look, look_of

THEMES = Path(__file__).parents[3] / "themes"


@pytest.mark.parametrize(
    ("theme", "colours", "sans"),
    [
        ("ledger", {"paper": "#f4f7ef", "ink": "#1d2520", "harvest": "#b04f14"}, False),
        ("propagator", {"paper": "#16323a", "ink": "#f8f0e0", "harvest": "#ff9f7c"}, True),
    ],
)
def test_the_themes(theme: str, colours: dict[str, str], sans: bool) -> None:
    """Each has the colours of the scheme that its page has unasked (read in its style sheet), and its kind of letters."""
    found = look_of([(THEMES / theme / "assets" / "style.css").read_text("utf-8")])

    assert {name: found.colour(name) for name in colours} == colours
    assert found.sans is sans


def test_the_defaults_are_those_of_the_default_theme() -> None:
    """A style sheet that says nothing looks like the ledger theme."""
    ledger = look_of([(THEMES / "ledger" / "assets" / "style.css").read_text("utf-8")])

    assert look_of([]) == Look()
    assert {name: ledger.colour(name) for name in DEFAULTS} == DEFAULTS


def test_the_journals_own_style_goes_before() -> None:
    """A later sheet changes single properties; what it says of a screen or of another scheme changes none."""
    own = """@charset "utf-8";
    /* :root { --paper: #000000 } */
    @media print { :root { --paper: #111111; } p { --ink: #fff } }
    @import url("a.css");
    :root { --paper: #abc; --ink: var(--dark, #222222); --dark: #123456 }
    @supports (color: red) { @media (x) { :root { --line: #222222 } } }
    :root{--accent:#654321}
    p { --growth: #000000 }
    """
    found = look_of([":root { --paper: #ffffff; --line: #333333 }", own])

    assert [found.colour(name) for name in ("paper", "ink", "line", "accent", "growth")] == [
        "#abc",
        "#123456",
        "#333333",
        "#654321",
        DEFAULTS["growth"],
    ]


@pytest.mark.parametrize(
    "value", ["oklch(60% 0.1 20)", "var(--none)", "var(--ink)", "red;", '"/><script>', "#12345"]
)
def test_what_is_no_plain_colour(value: str) -> None:
    """It is replaced by the default: a reference to itself too."""
    assert look_of([f":root {{ --ink: {value} }}"]).colour("ink") == DEFAULTS["ink"]


def test_an_unknown_colour() -> None:
    """A chart of a property that no theme has is drawn in the colour of text."""
    assert Look().colour("none") == DEFAULTS["ink"]


def test_formats() -> None:
    """16:9 and 9:16 in the sizes of full HD."""
    assert [(form.name, form.width, form.height) for form in FORMATS] == [
        ("16x9", 1920, 1080),
        ("9x16", 1080, 1920),
    ]


@given(st.lists(st.text(alphabet=":root{}@;/*-var()# abc\n,", max_size=200), max_size=3))
def test_any_style_sheet(sheets: list[str]) -> None:
    """Whatever it holds, there is a plain colour for everything."""
    found = look_of(sheets)

    assert all(colour.startswith("#") for colour in found.colours.values())
    assert set(DEFAULTS) <= set(found.colours)
