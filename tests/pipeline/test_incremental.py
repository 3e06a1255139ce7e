"""A site that was brought up to date is the site that is written at once."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from random import Random

import pytest

from tests.pipeline.bench import Site, leaf, tree

RECAP = "Beside [the other](two), {{ facts.length }} went by.\n"


def start(folder: Path) -> Site:
    """Three experiments, one of them with a recap."""
    experiments = {
        "one": leaf("First", start="2026-02-01"),
        "two": leaf("Second", "tomato", start="2026-03-01"),
        "three": leaf("Third", start="2026-04-01", more="publish: 2026-05-10\n"),
    }
    site = Site.of(folder, experiments, **{"about.md": "# About\n\nSee [one](one).\n"})
    (site.experiment("one") / "recap.md").write_text(RECAP, "utf-8")
    return site


def _replace(path: Path, old: str, new: str) -> None:
    if path.is_file():
        path.write_text(path.read_text("utf-8").replace(old, new), "utf-8")


def _any(site: Site, random: Random) -> Path:
    return random.choice(sorted((site.root / "seasons" / "one").glob("*/experiment.yaml")))


def change_note(site: Site, random: Random) -> None:
    """An entry is worded anew."""
    path = _any(site, random)
    lines = [
        f"    note: seen {random.random()}" if "note:" in x else x for x in path.read_text().splitlines()
    ]
    path.write_text("\n".join(lines) + "\n", "utf-8")


def change_title(site: Site, random: Random) -> None:
    """An experiment has another title."""
    path = _any(site, random)
    path.write_text(path.read_text().replace("title: ", f"title: N{random.randrange(99)} ", 1), "utf-8")


def grow(site: Site, random: Random) -> None:
    """An entry is added."""
    path = _any(site, random)
    path.write_text(path.read_text() + f"  - day: {random.randrange(21, 40)}\n    height: 14 cm\n", "utf-8")


def begin(site: Site, random: Random) -> None:
    """An experiment is begun between the others."""
    name = f"new-{random.randrange(1000)}"
    path = site.experiment(name) / "experiment.yaml"
    path.parent.mkdir(exist_ok=True)
    path.write_text(leaf(name.title(), start=f"2026-0{random.randrange(1, 5)}-15"), "utf-8")


def remove(site: Site, random: Random) -> None:
    """An experiment is deleted."""
    if len(list((site.root / "seasons" / "one").glob("*/"))) > 2:
        shutil.rmtree(_any(site, random).parent)


def rename(site: Site, random: Random) -> None:
    """An experiment has another id, and says what it was."""
    path = _any(site, random)
    old, new = path.parent.name, f"renamed-{random.randrange(1000)}"
    path.write_text(path.read_text().replace("log:", f"was: [{old}]\nlog:", 1), "utf-8")
    path.parent.rename(path.parent.with_name(new))


def hide(site: Site, random: Random) -> None:
    """An experiment becomes a draft."""
    path = _any(site, random)
    path.write_text(path.read_text().replace("log:", "draft: true\nlog:", 1), "utf-8")


def link(site: Site, random: Random) -> None:
    """A recap leads to an experiment that may be there or not."""
    target = random.choice(["one", "two", "nowhere"])
    (_any(site, random).parent / "recap.md").write_text(f"See [that](./{target}).\n", "utf-8")


def relook(site: Site, random: Random) -> None:
    """The journal has an asset and a template of its own."""
    for name, text in (
        ("assets/own.css", f"p {{ order: {random.random()} }}"),
        ("templates/missing.html", "{{ 1 }}"),
    ):
        path = site.root / "look" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")


def break_look(site: Site, random: Random) -> None:
    """A template of the journal's own cannot be filled."""
    path = site.root / "look" / "templates" / random.choice(["experiment.html", "home.html"])
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("{{ nothing.like.it }}", "utf-8")


def mend_look(site: Site, random: Random) -> None:
    """The journal has no templates of its own any more."""
    shutil.rmtree(site.root / "look", ignore_errors=True)


def rename_system(site: Site, random: Random) -> None:
    """What all experiments share has another name."""
    _replace(site.root / "gear.yaml", "Seed tray", f"Seed tray {random.randrange(99)}")


def retitle(site: Site, random: Random) -> None:
    """The journal has another title."""
    _replace(site.root / "journal.yaml", "Test bench", f"Test bench {random.randrange(9)}")


WORDS = 'msgid "Methods"\nmsgstr "Methoden {}"\n'


def change_language(site: Site, random: Random) -> None:
    """The journal speaks a language that it brings the words of, or English again."""
    path = site.root / "journal.yaml"
    text = path.read_text().replace("language: nl\n", "")
    path.write_text(text if random.random() < 0.3 else text + "language: nl\n", "utf-8")
    reword(site, random)


def reword(site: Site, random: Random) -> None:
    """The journal's own words are other ones."""
    path = site.root / "look" / "words" / "nl.po"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(WORDS.format(random.randrange(99)), "utf-8")


def break_one(site: Site, random: Random) -> None:
    """An experiment has an error."""
    path = _any(site, random)
    path.write_text(path.read_text().replace("plants: 2", "plnats: 2"), "utf-8")


def mend_all(site: Site, random: Random) -> None:
    """No experiment has an error."""
    for path in (site.root / "seasons" / "one").glob("*/experiment.yaml"):
        _replace(path, "plnats: 2", "plants: 2")


def wait(site: Site, random: Random) -> None:
    """Days go by, or the clock is put back."""
    site.today += timedelta(days=random.choice([-40, 1, 9, 61]))


def touch(site: Site, random: Random) -> None:
    """A file is saved as it was."""
    _any(site, random).touch()


def spoil(site: Site, random: Random) -> None:
    """Someone edits, and deletes, what was written."""
    pages = sorted(site.output.rglob("*.html"))
    if pages:
        random.choice(pages).write_text("not ours", "utf-8")
        random.choice(pages).unlink()
        _any(site, random).touch()
        change_note(site, random)


EDITS: tuple[Callable[[Site, Random], None], ...] = (
    *(change_note, change_title, grow, begin, remove, rename, hide, link, relook, break_look),
    *(mend_look, rename_system, retitle, change_language, reword, break_one, mend_all, wait, touch, spoil),
)


@pytest.mark.parametrize("seed", range(3))
def test_any_edits_end_in_what_is_written_at_once(tmp_path: Path, seed: int) -> None:
    """After every step of a random story the site and the findings are those of a run that knows nothing."""
    random, site = Random(seed), start(tmp_path)  # noqa: S311 - a story, not a secret
    for edit in (change_note, *random.sample(EDITS, len(EDITS))):
        edit(site, random)
        keep_going = random.random() < 0.3
        before = tree(site.output) if site.output.is_dir() else {}
        done = site.write(keep_going=keep_going)
        wanted, findings = site.anew(keep_going=keep_going)

        assert done.findings == findings, edit.__name__
        if done.outcome is None:
            assert (tree(site.output) if site.output.is_dir() else {}) == before, edit.__name__
        else:
            assert _served(tree(site.output)) == _served(wanted), edit.__name__


def test_other_words_reach_every_page(tmp_path: Path) -> None:
    """A journal that speaks another language, or the same in other words, is written anew."""
    site = start(tmp_path)
    site.write()
    said = [_titles(site)]
    for dice, edit in ((2, change_language), (5, reword)):
        edit(site, Random(dice))  # noqa: S311 - a story, not a secret
        site.write()
        said.append(_titles(site))
        assert _served(tree(site.output)) == _served(site.anew()[0])

    assert said == [{"Methods"}, {"Methoden 7"}, {"Methoden 79"}]


def _titles(site: Site) -> set[str]:
    pages = (path.read_text("utf-8") for path in site.output.rglob("*.html"))
    return {found[1] for page in pages if (found := re.search(r'methods.html"[^>]*>([^<]*)</a></li>', page))}


def _served(files: dict[str, bytes]) -> dict[str, bytes]:
    return {place: body for place, body in files.items() if not place.startswith(".")}


def test_a_note_changes_one_page_and_its_data(tmp_path: Path) -> None:
    """Lists, neighbours, charts and the picture for links stay as they are."""
    site = start(tmp_path)
    site.write()
    change_note(site, Random(1))  # noqa: S311 - a story, not a secret
    outcome = site.write().outcome

    assert outcome is not None
    (page,) = (address for address in outcome.written if address.endswith(".html"))
    name = page.removeprefix("experiments/").removesuffix(".html")
    assert {address for address in outcome.written if address != page} <= {
        f"data/{name}/entries.csv",
        f"data/{name}/events.csv",
        f"data/{name}/datapackage.json",
    }


def test_an_experiment_that_was_touched_only_is_not_read_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What counts is what is in its files."""
    site = start(tmp_path)
    site.write()
    for path in site.root.rglob("*.yaml"):
        path.touch()
    monkeypatch.setattr("sitegen.pipeline.inputs.read_records", lambda *_: pytest.fail("read again"))

    done = site.write()
    assert done.outcome is not None
    assert done.outcome.written == ()


def test_only_what_turns_is_judged_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Midnight reads nothing; the day of publication and the sixtieth day of silence do."""
    site = start(tmp_path)
    site.write()
    read: list[str] = []
    from sitegen.pipeline import inputs

    original = inputs.read_records

    def noted(folder, *more):  # type: ignore[no-untyped-def]
        read.append(folder.id)
        return original(folder, *more)

    monkeypatch.setattr(inputs, "read_records", noted)
    seen = []
    for today in (date(2026, 5, 2), date(2026, 5, 10), date(2026, 5, 11), date(2026, 5, 21)):
        site.today = today
        read.clear()
        site.write()
        seen.append(sorted(read))

    # On the 10th the third one has a page, which the second leads to, and which the first's recap might lead to. The
    # second one's last record is of 21 March, day 20: on 21 May it has been silent for more than 60 days.
    assert seen == [[], ["one", "three", "two"], [], ["two"]]


def test_fresh_takes_nothing_from_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """All experiments are read, and the same is written."""
    site = start(tmp_path)
    site.write()
    before = tree(site.output)
    done = site.write(fresh=True)

    assert (done.charts > 0, tree(site.output)) == (True, before)
