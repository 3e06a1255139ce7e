"""Themes: where they lie, what they hold, and how a journal lays its own over them."""

from __future__ import annotations

import hashlib
from pathlib import Path

from sitegen.core.finding import Findings, Source
from sitegen.render.themes import Theme, find_theme, theme_names

HERE = Source("journal.yaml", 8, 8, 6)


def found(look: Path | None = None) -> Theme:
    """The first theme, with a journal's own folder over it."""
    theme = find_theme("ledger", look, HERE, Findings())
    assert theme is not None
    return theme


def test_ledger_is_there() -> None:
    """The first theme is found, and says its name."""
    assert "ledger" in theme_names()
    assert found().option("name") == "Ledger"


def test_assets_carry_a_digest_of_their_content() -> None:
    """An asset's address changes with its content, so that no old copy is shown."""
    style = found().assets()["style.css"]

    assert style.address == f"assets/style-{hashlib.sha256(style.content).hexdigest()[:10]}.css"
    assert style.media == "text/css"


def test_marks_are_set_inline() -> None:
    """The drawn marks stand in every page and are no file of the site."""
    assert "marks.svg" not in found().assets()
    assert found().inline().startswith("<svg")


def test_an_own_asset_takes_the_place_of_the_theme_s(tmp_path: Path) -> None:
    """A file in the journal's own folder goes before the theme's of the same name, others are added."""
    (tmp_path / "assets").mkdir()
    (tmp_path / "assets" / "style.css").write_text("a{}")
    (tmp_path / "assets" / "more.css").write_text("b{}")

    assets = found(tmp_path).assets()

    assert assets["style.css"].content == b"a{}"
    assert assets["more.css"].content == b"b{}"


def test_error_unknown_theme() -> None:
    """An unknown theme is found at its place."""
    findings = Findings()

    assert find_theme("ledgr", None, HERE, findings) is None
    assert [(f.code, f.source, f.mend) for f in findings] == [("unknown-theme", HERE, "write `ledger`")]
