"""Texts of the author: a setting of the journal that says how they are read makes their pages again."""

from __future__ import annotations

from pathlib import Path

from tests.pipeline.bench import Site, leaf, tree


def test_leave_for_html_makes_pages_again(tmp_path: Path) -> None:
    """Given and taken back, it gives the site that a run without any store writes."""
    texts = {"seasons/one/a/recap.md": "cold <b>air</b>\n", "about.md": "# Us\n\n<i>invented</i>\n"}
    site = Site.of(tmp_path, {"a": leaf("A tray")}, **texts)
    settings = site.root / "journal.yaml"
    plain = settings.read_text("utf-8")

    for text, recap, about in (
        (plain, b"cold &lt;b&gt;air", b"&lt;i&gt;invented"),
        (f"{plain}raw_html: true\n", b"cold <b>air</b>", b"<i>invented</i>"),
        (plain, b"cold &lt;b&gt;air", b"&lt;i&gt;invented"),
    ):
        settings.write_text(text, "utf-8")
        site.write()
        files = tree(site.output)
        assert recap in files["experiments/a.html"]
        assert about in files["about.html"]
        assert files == site.anew()[0]
