"""`write --only`: one page as a folder that stands alone."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from sitegen.app.console.status import Status
from sitegen.app.main import status_of
from tests.journal_maker import make_journal
from tests.pages import parse, words
from tests.pipeline.bench import leaf, tree

TODAY = ["--today", "2026-05-01"]
DEMO = Path(__file__).parent.parent.parent / "content_demo"
LINKS = "See [the other](other), [one held back](secret), [methods](methods.html) and [us](about.md).\n"


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    """A journal of a draft, one that is published, and another draft; the first names all pages."""
    experiments = {
        "draft": leaf("In the making", more="draft: true\n"),
        "other": leaf("Another tray", start="2026-03-02"),
        "secret": leaf("Told to nobody", more="draft: true\n", start="2026-03-03"),
    }
    more = {"seasons/one/draft/recap.md": LINKS, "about.md": "# About us\n\nA bench.\n"}
    return make_journal(tmp_path / "bench", experiments, journal="address: https://example.org/\n", more=more)


def copy(root: Path, experiment: str = "draft", *more: str) -> int:
    """Write a copy."""
    return status_of(["write", str(root), "--only", experiment, *more, *TODAY])


def lost_links(folder: Path) -> list[str]:
    """Addresses on any page of a folder that lead to no file of it, or to no anchor."""
    anchors = {path: {node.get("id") for node in parse(path).iter()} for path in folder.rglob("*.html")}
    lost = []
    for page in anchors:
        for node in parse(page).iter():
            sizes = [size.split()[0] for size in (node.get("srcset") or "").split(",") if size.strip()]
            for address in filter(None, (node.get("href"), node.get("src"), *sizes)):
                parts = urlsplit(address)
                target = (page.parent / unquote(parts.path)).resolve() if parts.path else page
                whole = target.is_file() and unquote(parts.fragment) in {"", *anchors.get(target, set())}
                if not (parts.scheme or parts.netloc or whole):
                    lost.append(f"{page.name}: {address}")
    return lost


def test_the_copy_stands_alone(bench: Path, tmp_path: Path) -> None:
    """The page is index.html; its data, methods, cautions and assets are there, and nothing else."""
    assert copy(bench, "draft", "-o", str(tmp_path / "copy")) == Status.DONE

    there = {path.split("/")[0] for path in tree(tmp_path / "copy")}
    pages = {"cautions.html", "index.html", "methods.html", "record.html"}
    assert there == {".sitegen.json", "assets", "data", *pages}
    assert lost_links(tmp_path / "copy") == []


@pytest.mark.parametrize("experiment", ["cinder-button-flood", "chard-lamplight"])
def test_links_of_a_copy_of_the_demo(experiment: str, tmp_path: Path) -> None:
    """Photos in all sizes, charts and downloads of a published page and of a draft are in the folder."""
    out = tmp_path / "copy"
    asked = ["write", str(DEMO), "--only", experiment, "-o", str(out), "--today", "2026-11-25"]

    assert status_of(asked) == Status.DONE
    assert lost_links(out) == []
    page = (out / "index.html").read_text("utf-8")
    assert ("Not published." in page) == (experiment == "chard-lamplight")


def test_links_to_other_pages_are_plain_text(bench: Path, tmp_path: Path) -> None:
    """What leads out of the folder keeps its words and loses its link; what leads into it is turned."""
    copy(bench, "draft", "-o", str(tmp_path / "copy"))
    page = (tmp_path / "copy" / "index.html").read_text("utf-8")

    assert (
        "<p>See <span>the other</span>, <span>one held back</span>, "
        '<a href="methods.html">methods</a> and <span>us</span>.</p>'
    ) in page
    assert "data-find" not in page


def test_a_copy_says_that_it_is_not_published(bench: Path, tmp_path: Path) -> None:
    """A draft's copy says so on every page; the copy of a published page only that it is one. No machine lists it."""
    copy(bench, "draft", "-o", str(tmp_path / "draft"))
    copy(bench, "other", "-o", str(tmp_path / "other"))

    for folder, said in (
        ("draft", "Not published. A copy of one page, for review."),
        ("other", "A copy of one page, for review."),
    ):
        pages = list((tmp_path / folder).glob("*.html"))
        assert len(pages) == 4
        for page in pages:
            asides = [node for node in parse(page).iter() if node.get("class") == "ribbon"]
            assert [words(node) for node in asides] == [said]
            assert '<meta name="robots" content="noindex">' in page.read_text("utf-8")


def test_a_copy_tells_of_nothing_else_held_back(bench: Path, tmp_path: Path) -> None:
    """The title of another draft is in no file, nor an address that the copy does not have."""
    copy(bench, "draft", "-o", str(tmp_path / "copy"))
    text = b"".join(tree(tmp_path / "copy").values())

    assert b"Another tray" in text  # the neighbour that is published
    assert b"Told to nobody" not in text
    assert b"https://example.org/" not in text


def test_without_a_folder_it_goes_beside_the_site(bench: Path) -> None:
    """The usual output is left as it is, byte for byte, and the copy lies beside it."""
    assert status_of(["write", str(bench), *TODAY]) == Status.DONE
    before = tree(bench / "output")

    assert copy(bench) == Status.DONE
    assert tree(bench / "output") == before
    assert (bench / "output-draft" / "index.html").is_file()
    assert status_of(["validate", str(bench), *TODAY]) == Status.DONE  # the copy is no part of the journal


@pytest.mark.parametrize("place", ["output", "output/copy", "."])
def test_error_in_the_place_of_the_site(bench: Path, place: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The folder of the site, one in it and one round it are refused before anything is written."""
    before = tree(bench)

    assert copy(bench, "draft", "-o", str(bench / place)) == Status.ERRORS
    assert "is the place of the whole site" in capsys.readouterr().err
    assert tree(bench) == before


def test_error_a_folder_that_holds_a_whole_site(bench: Path, tmp_path: Path) -> None:
    """A site that was written elsewhere with `-o` is not replaced by one page of it."""
    site = tmp_path / "public"
    status_of(["write", str(bench), "-o", str(site), *TODAY])
    before = tree(site)

    assert copy(bench, "draft", "-o", str(site)) == Status.ERRORS
    assert tree(site) == before


def test_error_an_unknown_experiment(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The near one is offered."""
    assert copy(bench, "drafd") == Status.USAGE
    assert "there is no experiment `drafd`: write `draft`" in capsys.readouterr().err


def test_only_its_own_errors_count(bench: Path, tmp_path: Path) -> None:
    """An error elsewhere in the journal keeps nothing back; one of its own leaves an earlier copy as it was."""
    out = tmp_path / "copy"
    other, own = (bench / "seasons/one" / name / "experiment.yaml" for name in ("other", "draft"))
    other.write_text(other.read_text("utf-8").replace("9 cm", "9 im"), "utf-8")
    assert copy(bench, "draft", "-o", str(out)) == Status.DONE
    before = tree(out)
    own.write_text(own.read_text("utf-8").replace("9 cm", "9 im"), "utf-8")

    assert copy(bench, "draft", "-o", str(out)) == Status.ERRORS
    assert tree(out) == before


def test_a_copy_is_written_again_as_it_is(bench: Path, tmp_path: Path) -> None:
    """The same journal gives the same bytes, with and without what is known from before."""
    copy(bench, "draft", "-o", str(tmp_path / "one"))
    copy(bench, "draft", "-o", str(tmp_path / "two"), "--fresh")
    copy(bench, "draft", "-o", str(tmp_path / "one"))

    assert tree(tmp_path / "one") == tree(tmp_path / "two")


def test_keep_going_is_not_for_one_page(bench: Path) -> None:
    """There are no others to go on with."""
    assert copy(bench, "draft", "--keep-going") == Status.USAGE


def test_a_journal_without_experiments_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where there is nothing to copy yet, the message says how an experiment is begun."""
    root = make_journal(tmp_path / "bench", {})

    assert copy(root, "basil") == Status.USAGE
    assert capsys.readouterr().err.endswith(
        "Error: there is no experiment `basil`: the journal has none yet: sitegen begin experiment basil\n"
    )
