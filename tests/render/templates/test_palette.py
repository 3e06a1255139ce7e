"""The colours that the themes declare: text and marks can be told from every ground, and arms without any colour."""

from __future__ import annotations

import re
from itertools import pairwise, product
from pathlib import Path

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.render.templates.themes import find_theme, theme_names

TEXT = ("--ink", "--ink-soft", "--accent")
MARKS = ("--growth", "--water", "--feed", "--harvest", "--trouble", "--light")
GROUNDS = ("--paper", "--paper-2", "--tone")
PROPERTY = re.compile(r"(--[\w-]+):\s*(#[0-9a-f]{6});")
THEMES = Path(__file__).parents[3] / "themes"
ROOT = re.compile(r"(?P<media>@media[^{]*\{\s*)?:root \{(?P<body>[^}]*)\}")
LINE = re.compile(r"^\.total\.arm-(\d) \{ (.*) \}$", re.MULTILINE)


def style(theme: str) -> str:
    """The style sheet of a theme."""
    found = find_theme(theme, None, Source("journal.yaml", 1, 1, 1), Findings())
    assert found is not None
    return found.assets()["style.css"].content.decode()


def palette(theme: str, scheme: str) -> dict[str, str]:
    """The colours of a theme as `#rrggbb`, in a scheme: its own over those for any scheme."""
    colours: dict[str, str] = {}
    for each in ROOT.finditer(style(theme)):
        media = each["media"] or ""
        if not media or f"(prefers-color-scheme: {scheme})" in media:
            colours |= dict(PROPERTY.findall(each["body"]))
    return colours


def luminance(colour: str) -> float:
    """Relative luminance of `#rrggbb` (WCAG 2.2, definition of relative luminance)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio (WCAG 2.2, definition of contrast ratio)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_has_the_ends_that_its_definition_names() -> None:
    """A colour on itself has 1:1, black on white 21:1 (WCAG 2.2, note 1 to contrast ratio)."""
    assert contrast("#16323a", "#16323a") == pytest.approx(1)
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize(("theme", "scheme"), list(product(theme_names(), ("light", "dark"))))
def test_colours_can_be_told_from_every_ground(theme: str, scheme: str) -> None:
    """Text reaches 4.5:1 (WCAG 2.2, 1.4.3) and marks 3:1 (1.4.11) on every ground, in both schemes."""
    colours = palette(theme, scheme)
    grounds = [name for name in GROUNDS if name in colours]
    pairs = [(name, ground, 4.5) for name, ground in product(TEXT, grounds)]
    pairs += [(name, ground, 3.0) for name, ground in product(MARKS, grounds)]
    found = [(a, b, round(contrast(colours[a], colours[b]), 2)) for a, b, least in pairs
             if contrast(colours[a], colours[b]) < least]  # fmt: skip

    assert len(grounds) > 1
    assert found == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_may_have_the_colours_of_the_propagator_s_marks(scheme: str) -> None:
    """Where pictures lead, words stand in the colour of their mark: it reaches 4.5:1 too (WCAG 2.2, 1.4.3)."""
    colours = palette("propagator", scheme)
    least = min((contrast(colours[a], colours[b]), a, b) for a, b in product(MARKS, GROUNDS))

    assert least[0] >= 4.5, least


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_propagator_s_grounds_are_three_tones(scheme: str) -> None:
    """Blocks lie beside each other without a line: each ground is lighter or darker than the next (no source)."""
    colours = palette("propagator", scheme)
    tones = sorted((luminance(colours[name]) for name in GROUNDS), reverse=True)

    assert all((light + 0.05) / (dark + 0.05) > 1.1 for light, dark in pairwise(tones))


@pytest.mark.parametrize("theme", theme_names())
def test_arms_differ_without_colour(theme: str) -> None:
    """Lines of four arms differ by thickness or dash (WCAG 2.2, 1.4.1: colour is not the only sign)."""
    common = re.search(r"^\.total \{ (.*) \}$", style(theme), re.MULTILINE)
    assert common
    drawn = {0: common[1]} | {int(arm): rules for arm, rules in LINE.findall(style(theme))}
    looks = {re.sub(r"stroke: var\(--arm\); ", "", rules) for rules in drawn.values()}

    assert (sorted(drawn), len(looks)) == ([0, 1, 2, 3], 4)


@pytest.mark.parametrize("theme", theme_names())
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_wrong_address_wears_the_colours_of_its_theme(theme: str, scheme: str) -> None:
    """The page for a wrong address, whose style stands in it, has ground and text of the theme."""
    own: dict[str, str] = {}
    for each in ROOT.finditer((THEMES / theme / "templates" / "missing_style.html").read_text("utf-8")):
        if not each["media"] or f"(prefers-color-scheme: {scheme})" in each["media"]:
            own |= dict(PROPERTY.findall(each["body"]))
    known = palette(theme, scheme)

    names = {"--paper": "--paper", "--ink": "--ink", "--soft": "--ink-soft", "--accent": "--accent"}
    assert {name: own[name] for name in names} == {name: known[of] for name, of in names.items()}
