"""An output folder that is brought up to date."""

from __future__ import annotations

import json
import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.findings.finding import Finding
from sitegen.core.site.page import HTML, Page, WriteResult
from sitegen.write import Output, opened, stage
from sitegen.write.ledger import LEDGER, STAGING, _all_inside, _inside, read_ledger
from sitegen.write.staging import content_of


def pages(**bodies: str) -> list[Page]:
    """Pages by the name of their file."""
    return [Page(f"{name}.html", HTML, body) for name, body in bodies.items()]


def write(some: list[Page], folder: Path) -> tuple[WriteResult, tuple[Finding, ...]]:
    """Bring a folder to hold exactly these pages."""
    with opened(folder) as output:
        if isinstance(output, Finding):
            return WriteResult(), (output,)
        output.begin()
        return output.commit([stage(page, folder) for page in some], {}), ()


def held(folder: Path) -> dict[str, str]:
    """What a host would serve."""
    files = (path for path in folder.rglob("*") if path.is_file() and not path.name.startswith("."))
    return {path.relative_to(folder).as_posix(): path.read_text("utf-8") for path in files}


def output_of(folder: Path) -> Output:
    """A folder as a next run finds it."""
    ledger = read_ledger(folder)
    assert ledger is not None
    return Output(folder, ledger)


def test_a_folder_holds_exactly_the_pages(tmp_path: Path) -> None:
    """What differs is written, what is no longer made is removed with its folder, the rest is left alone."""
    site = tmp_path / "site"
    write([*pages(a="1", b="1"), Page("old/deep/c.txt", "text/plain", "1")], site)
    outcome, findings = write(pages(a="1", b="2", d="1"), site)

    assert (outcome, findings) == (WriteResult(("b.html", "d.html"), 1, ("old/deep/c.txt",)), ())
    assert held(site) == {"a.html": "1", "b.html": "2", "d.html": "1"}
    assert sorted(path.name for path in site.iterdir()) == [LEDGER, "a.html", "b.html", "d.html"]


def test_nothing_is_seen_before_all_is_made(tmp_path: Path) -> None:
    """Staged pages lie beside their places; discarding them leaves the folder as it was."""
    site = tmp_path / "site"
    write(pages(a="1"), site)
    ledger = (site / LEDGER).read_bytes()
    output = output_of(site)
    output.begin()
    staged = [stage(page, site) for page in [*pages(a="2"), Page("new/b.html", HTML, "2")]]

    assert ([one.fresh for one in staged], held(site)) == ([True, True], {"a.html": "1"})
    output.discard()
    assert (sorted(path.name for path in site.iterdir()), (site / LEDGER).read_bytes()) == (
        [LEDGER, "a.html"],
        ledger,
    )


def test_a_folder_begun_for_nothing_is_gone(tmp_path: Path) -> None:
    """Errors leave no trace where nothing was before."""
    with opened(tmp_path / "site") as output:
        assert isinstance(output, Output)
        output.begin()
        stage(Page("deep/a.html", HTML, "1"), output.folder)
        output.discard()

    assert not (tmp_path / "site").exists()


def test_a_foreign_folder_is_never_touched(tmp_path: Path) -> None:
    """A finding instead, and every file is as it was."""
    (tmp_path / "beach.jpg").write_bytes(b"sand")
    outcome, (finding,) = write(pages(a="1"), tmp_path)

    assert (outcome, finding.code) == (WriteResult(), "output-not-ours")
    assert [path.name for path in tmp_path.iterdir()] == ["beach.jpg"]


@pytest.mark.parametrize(
    "text",
    ["", "[]", '{"files": 3}', '{"format": 1}', "\xff"],
    ids=["empty", "list", "number", "none", "bytes"],
)
def test_a_ledger_that_says_nothing_makes_a_folder_foreign(tmp_path: Path, text: str) -> None:
    """What may not be ours is not removed."""
    (tmp_path / LEDGER).write_bytes(text.encode("latin-1"))
    (tmp_path / "a.html").write_text("1", "utf-8")

    assert read_ledger(tmp_path) is None


def test_a_ledger_leads_to_no_other_folder(tmp_path: Path) -> None:
    """Addresses that climb out of the folder, or begin elsewhere, are not believed."""
    outside = tmp_path / "precious.txt"
    outside.write_text("keep", "utf-8")
    site = tmp_path / "site"
    write(pages(a="1"), site)
    files = {"../precious.txt": ["", 4], str(outside): ["", 4], "": ["", 0], "a.html": ["", 1]}
    (site / LEDGER).write_text(json.dumps({"format": 2, "files": files}), "utf-8")
    write(pages(b="1"), site)

    assert (outside.read_text("utf-8"), held(site)) == ("keep", {"b.html": "1"})


@given(st.lists(st.text("a./\\:\n", max_size=6), max_size=4))
def test_what_is_believed_together_is_believed_alone(addresses: list[str]) -> None:
    """A quick look at all addresses never lets one pass that a look at each would refuse."""
    assert not _all_inside(addresses) or all(map(_inside, addresses))


def test_an_older_ledger_is_understood(tmp_path: Path) -> None:
    """One that only names files says what is ours."""
    (tmp_path / LEDGER).write_text('{"format": 1, "files": ["a.html", "b.html"]}', "utf-8")
    for name in ("a", "b"):
        (tmp_path / f"{name}.html").write_text("1", "utf-8")
    outcome, _ = write(pages(a="1"), tmp_path)

    assert outcome == WriteResult((), 1, ("b.html",))


def test_what_a_folder_holds_is_known_without_reading(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that is older than the ledger is as it says; a later one is read to be sure."""
    write(pages(a="1"), tmp_path)
    time.sleep(0.03)
    write(pages(a="1", b="1"), tmp_path)
    output, one = output_of(tmp_path), content_of(b"1")
    with monkeypatch.context() as patch:
        patch.setattr(Path, "read_bytes", lambda path: pytest.fail(f"read {path}"))
        known = (
            output.holds([("a.html", one)]),
            output.holds([("a.html", content_of(b"2"))]),
            output.holds([("x", one)]),
        )
    (tmp_path / "a.html").write_text("3", "utf-8")
    changed = output.holds([("a.html", one)])
    (tmp_path / "a.html").write_text("1", "utf-8")

    assert (known, changed, output.holds([("a.html", one)])) == ((True, False, False), False, True)


def test_what_a_killed_process_left_is_removed(tmp_path: Path) -> None:
    """Files beside their places go before anything else is done."""
    write(pages(a="1"), tmp_path)
    output_of(tmp_path).begin()
    stage(Page("a.html", HTML, "2"), tmp_path)
    with opened(tmp_path) as output:
        assert not isinstance(output, Finding)

    assert sorted(path.name for path in tmp_path.iterdir()) == [LEDGER, "a.html"]
    assert not (tmp_path / STAGING).exists()


def test_the_ledger_holds_nothing_of_the_machine(tmp_path: Path) -> None:
    """Two folders with the same pages have the same ledger."""
    for name in ("one", "two"):
        write(pages(b="2", a="1"), tmp_path / name)

    assert (tmp_path / "one" / LEDGER).read_bytes() == (tmp_path / "two" / LEDGER).read_bytes()


def test_assets_come_before_the_pages_that_need_them(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A reader who asks while files are moved never gets a page without its style."""
    moved: list[str] = []
    replace = Path.replace

    def noted(path: Path, target: Path) -> Path:
        moved.append(Path(target).name)
        return replace(path, target)

    monkeypatch.setattr(Path, "replace", noted)
    write([*pages(a="1"), Page("z.css", "text/css", "p{}"), *pages(b="1")], tmp_path)

    assert [name for name in moved if name != LEDGER] == ["z.css", "a.html", "b.html"]
