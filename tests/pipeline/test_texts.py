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


def test_numbers_are_in_the_language_of_the_journal(tmp_path: Path) -> None:
    """On the page of a run, in its chart and in lists, also where only the language was changed."""
    picks = "harvest: 10 g\n  - day: 21\n    harvest: 11 g\n  - day: 22\n    harvest: 10.5 g"
    weighed = leaf("A tray").replace("height: 9 cm", picks)
    site = Site.of(tmp_path, {"a": weighed})
    shows = ("experiments/a.html", "data/a/chart-harvest.svg", "compare.html", "seasons/one.html")
    said = []
    for old, new in (("", ""), ("title: Test", "language: de\ntitle: Test")):
        site.edit("journal.yaml", old, new)
        site.write()
        files = {place: body.decode() for place, body in tree(site.output).items() if place in shows}
        said.append([("31.5" in files[place], "31,5" in files[place]) for place in shows])

    assert said == [[(True, False)] * 4, [(False, True)] * 4]
