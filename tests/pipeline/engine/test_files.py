"""Which files a journal has, and which of them have changed."""

from __future__ import annotations

import os
from hashlib import blake2b
from pathlib import Path

import pytest

from sitegen.memo import Memo
from sitegen.pipeline.engine import files as files_module
from sitegen.pipeline.engine.files import (
    CLOSED,
    DEEPEST,
    FOLDER,
    SETTLED,
    Digests,
    Inventory,
    digest_of,
    folder_digest,
    inventory,
    program_digest,
    run_folder,
    text_digest,
    unbounded_inventory,
)


def put(root: Path, *places: str) -> Path:
    """Files, each with its place as its content."""
    for place in places:
        (root / place).parent.mkdir(parents=True, exist_ok=True)
        (root / place).write_text(place, "utf-8")
    return root


def digest(content: str) -> str:
    """The digest of a file with this content."""
    return blake2b(content.encode(), digest_size=16).hexdigest()


def test_files_and_folders_are_listed(tmp_path: Path) -> None:
    """Each with its size, times and inode, a folder with a stamp that never changes; hidden folders are not entered."""
    put(tmp_path, "a.txt", "b/c.txt", "b/d/e.txt", ".hidden/f.txt", "b/.git/g.txt")
    (tmp_path / "empty").mkdir()
    (tmp_path / "nowhere").symlink_to("none")
    stamps = inventory(tmp_path).stamps
    stat = (tmp_path / "b/c.txt").stat()

    assert set(stamps) == {"a.txt", "b", "b/c.txt", "b/d", "b/d/e.txt", "empty", "nowhere"}
    assert stamps["b/c.txt"] == (7, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino)
    assert stamps["b"] == stamps["empty"] == (-1, 0, 0, 0)
    assert inventory(tmp_path / "none").stamps == {}


def test_the_output_of_a_build_is_no_part_of_a_journal(tmp_path: Path) -> None:
    """A folder with a manifest is left out whole; the manifest of the journal's own folder is of no account."""
    put(tmp_path, "a.txt", ".sitegen.json", "site/.sitegen.json", "site/b.txt", "site/c/d.txt")

    assert set(inventory(tmp_path).stamps) == {".sitegen.json", "a.txt"}


def test_a_folder_that_leads_back_to_itself_ends(tmp_path: Path) -> None:
    """A link to a folder that it lies in is not followed; its own stamp stays."""
    put(tmp_path, "a/b.txt")
    (tmp_path / "a" / "again").symlink_to(tmp_path / "a")
    assert inventory(tmp_path).stamps.keys() == {"a", "a/b.txt", "a/again"}
    assert inventory(tmp_path).stamps["a/again"] == CLOSED


def test_a_digest_changes_with_any_file(tmp_path: Path) -> None:
    """Touched, added, removed, a folder: each gives another digest; another look at the same gives the same."""
    put(tmp_path, "a.txt", "b/c.txt")
    seen = [inventory(tmp_path).digest]
    os.utime(tmp_path / "a.txt", ns=(1, 1))
    seen.append(inventory(tmp_path).digest)
    put(tmp_path, "d.txt")
    seen.append(inventory(tmp_path).digest)
    (tmp_path / "d.txt").unlink()
    (tmp_path / "e").mkdir()
    seen.append(inventory(tmp_path).digest)

    assert len(set(seen)) == len(seen)
    assert inventory(tmp_path).digest == seen[-1]


@pytest.mark.parametrize(
    ("modified", "changed", "rests"),
    [(-1, -1, True), (0, -1, False), (-1, 0, False), (0, 0, False), (SETTLED, SETTLED, False)],
)
def test_a_file_is_at_rest_for_a_while_before_it_is_trusted(
    modified: int, changed: int, *, rests: bool
) -> None:
    """Both its times are further back than the clock of a file system may be wrong."""
    limit = 1_000_000_000_000 - SETTLED
    stamp = (1, limit + modified, limit + changed, 1)
    old = (1, 1, 1, 1)

    assert Inventory({}, 1_000_000_000_000).at_rest(stamp) is rests
    assert Inventory({"a": old, "b": stamp}, 1_000_000_000_000).settled is rests


def test_one_folder_is_looked_at_again(tmp_path: Path) -> None:
    """What is in it is as it is now, and everything else as it was, with the time of the first look."""
    put(tmp_path, "a.txt", "b/c.txt", "b/d.txt", "bb/e.txt")
    before = inventory(tmp_path)
    (tmp_path / "b" / "c.txt").unlink()
    put(tmp_path, "b/d.txt", "b/f/g.txt", "bb/h.txt", "i.txt")
    after = before.with_folder(tmp_path, "b")
    now = inventory(tmp_path).stamps

    assert set(after.stamps) == {"a.txt", "b", "b/d.txt", "b/f", "b/f/g.txt", "bb", "bb/e.txt"}
    assert after.stamps == {place: now[place] for place in after.stamps}
    assert after.taken == before.taken


def test_a_folder_that_is_gone_or_became_an_output(tmp_path: Path) -> None:
    """Nothing of it is left in the one case, and the folder alone in the other."""
    put(tmp_path, "a.txt", "b/c.txt", "d/e.txt")
    before = inventory(tmp_path)
    (tmp_path / "b" / "c.txt").unlink()
    (tmp_path / "b").rmdir()
    put(tmp_path, "d/.sitegen.json")

    assert set(before.with_folder(tmp_path, "b").stamps) == {"a.txt", "d", "d/e.txt"}
    assert set(before.with_folder(tmp_path, "d").stamps) == {"a.txt", "b", "b/c.txt", "d"}


def test_the_digest_of_a_folder(tmp_path: Path) -> None:
    """Names and contents count, times and the folder's own place do not."""
    one, two = put(tmp_path / "one", "a", "b/c"), put(tmp_path / "two", "b/c", "a")
    same = folder_digest(one)
    found = [same]
    (two / "a").rename(two / "d")
    found.append(folder_digest(two))
    (two / "d").rename(two / "a")
    again = folder_digest(two)
    (two / "a").write_text("x", "utf-8")
    found += [folder_digest(two), folder_digest(tmp_path / "none")]

    assert again == same
    assert len(set(found)) == 4


@pytest.mark.parametrize(
    ("place", "folder"),
    [
        ("seasons/one/aa/experiment.yaml", "seasons/one/aa"),
        ("seasons/one/aa/photos/x.jpg", "seasons/one/aa"),
        ("seasons/one/season.yaml", ""),
        ("seasons/one/aa", ""),
        ("texts/one/aa/bb.md", ""),
        ("journal.yaml", ""),
    ],
)
def test_the_run_of_a_file(place: str, folder: str) -> None:
    """The third folder below `seasons`, for what lies in it."""
    assert run_folder(place) == folder


def settled(root: Path) -> Inventory:
    """An inventory of files that were changed long ago."""
    found = inventory(root)
    return Inventory(found.stamps, found.taken + 10 * SETTLED)


RUN = "seasons/one/aa"


def test_the_digests_of_a_run(tmp_path: Path) -> None:
    """One stands for the records and their names, one for the recap; each changes with its own files only."""
    put(
        tmp_path,
        f"{RUN}/experiment.yaml",
        f"{RUN}/photos/x.jpg",
        "seasons/one/bb/experiment.yaml",
        "about.md",
    )
    with Memo(tmp_path / "memo") as memo:

        def now() -> tuple[str, str]:
            files = Digests(tmp_path, inventory(tmp_path), memo).of_run(tmp_path / RUN)
            return files.records, files.recap

        first = now()
        put(tmp_path, f"{RUN}/recap.md", "seasons/one/bb/recap.md")
        second = now()
        (tmp_path / RUN / "photos" / "x.jpg").rename(tmp_path / RUN / "photos" / "y.jpg")
        third = now()
        files = Digests(tmp_path, inventory(tmp_path), memo).of_run(tmp_path / RUN)

    assert (first[1], second[1]) == ("", digest(f"{RUN}/recap.md"))
    assert second[0] == first[0] != third[0]
    assert third[1] == second[1]
    assert [place for place, _ in files.stamps] == ["experiment.yaml", "photos/y.jpg", "recap.md"]


def test_files_are_compared_with_their_digests_moment(tmp_path: Path) -> None:
    """Untouched they are unchanged; one that is saved again or deleted is not."""
    put(tmp_path, f"{RUN}/experiment.yaml", f"{RUN}/recap.md")
    with Memo(tmp_path / "memo") as memo:
        files = Digests(tmp_path, inventory(tmp_path), memo).of_run(tmp_path / RUN)
    said = [files.unchanged()]
    os.utime(tmp_path / RUN / "experiment.yaml", ns=(1, 1))
    said.append(files.unchanged())
    (tmp_path / RUN / "recap.md").unlink()
    said.append(files.unchanged())

    assert said == [True, False, False]


def test_a_file_that_was_not_touched_is_not_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its digest is the one that was stored; a file that is too new is read by the next command again."""
    names = ["old", "new", "touched"]
    put(tmp_path, *names)
    opened: list[str] = []
    original = Path.read_bytes
    monkeypatch.setattr(Path, "read_bytes", lambda path: opened.append(path.name) or original(path))
    with Memo(tmp_path.parent / "memo-of-files") as memo:

        def look(found: Inventory) -> list[str]:
            opened.clear()
            digests = Digests(tmp_path, found, memo)
            assert [digests.of(place) for place in names] == list(map(digest, names))
            digests.keep()
            return list(opened)

        found = settled(tmp_path)
        young = (*found.stamps["new"][:1], found.taken, *found.stamps["new"][2:])
        first = look(Inventory(found.stamps | {"new": young}, found.taken))
        os.utime(tmp_path / "touched", ns=(1, 1))
        second, third = look(settled(tmp_path)), look(settled(tmp_path))

    assert (first, second, third) == (names, ["new", "touched"], [])


def test_a_file_that_cannot_be_read_has_a_digest_of_its_own(tmp_path: Path) -> None:
    """It is the reason, and another one once the file can be read."""
    put(tmp_path, "a")
    with Memo(tmp_path.parent / "memo-unreadable") as memo:
        found = inventory(tmp_path)
        (tmp_path / "a").unlink()
        (tmp_path / "a").mkdir()
        unread = Digests(tmp_path, found, memo).of("a")
        folder = Digests(tmp_path, inventory(tmp_path), memo).of("a")

    assert (unread, folder) == ("unreadable: Is a directory", "")


def test_links_within_and_out_of_a_journal(tmp_path: Path) -> None:
    """Followed within the journal, closed where they lead back or nowhere; one that leads out has its own stamp."""
    root, other = put(tmp_path / "journal", "a/b.txt", "c/d.txt"), put(tmp_path / "other", "e.txt", "f/g.txt")
    (root / "a" / "c").symlink_to(root / "c")
    (root / "a" / "file").symlink_to(root / "c" / "d.txt")
    (root / "c" / "up").symlink_to(root)
    (root / "c" / "out").symlink_to(other)
    (root / "c" / "out.txt").symlink_to(other / "e.txt")
    (root / "lost").symlink_to("nowhere")
    (root / ".#lock").symlink_to("nobody@nowhere")
    (root / "turn").symlink_to("turn")
    stamps = inventory(root).stamps

    def of_link(name: str) -> tuple[int, int, int, int]:
        stat = (root / name).lstat()
        return (-2, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino)

    assert {name: stamp for name, stamp in stamps.items() if stamp[0] < 0} == {
        **dict.fromkeys(("a", "a/c", "c"), FOLDER),
        **dict.fromkeys(("a/c/up", "c/up", "lost", "turn"), CLOSED),
        **{
            f"{folder}/{name}": of_link(f"c/{name}") for folder in ("c", "a/c") for name in ("out", "out.txt")
        },
    }
    assert {name for name, stamp in stamps.items() if stamp[0] >= 0} == {
        *("a/b.txt", "a/file", "c/d.txt", "a/c/d.txt"),
    }
    assert stamps["a/file"] == stamps["c/d.txt"]
    assert set(unbounded_inventory(root).stamps) >= {"c/out/e.txt", "c/out/f/g.txt", "c/out.txt"}
    assert inventory(root / "c" / "out", root).stamps == {}
    assert set(inventory(root / "a" / "c", root).stamps) == {"d.txt", "up", "out", "out.txt"}


def test_what_cannot_be_opened_is_closed(tmp_path: Path) -> None:
    """A pipe, a name that no text can have, a folder that is shut."""
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / os.fsdecode(b"caf\xe9")).touch()
    (tmp_path / "shut").mkdir()
    original = os.scandir

    def scandir(folder: str) -> object:
        if folder.endswith("shut"):
            raise PermissionError(folder)
        return original(folder)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "scandir", scandir)
        stamps = inventory(tmp_path).stamps
        folder = inventory(tmp_path / "shut").stamps

    assert stamps == dict.fromkeys(("pipe", "caf\ufffd", "shut"), CLOSED)
    assert folder == {}


def test_folders_are_looked_into_so_deep(tmp_path: Path) -> None:
    """What lies further down is no part of a journal."""
    deep = "/".join(["d"] * DEEPEST)
    put(tmp_path, f"{deep}/a.txt", f"{deep}/e/b.txt")
    stamps = inventory(tmp_path).stamps

    assert {name for name in stamps if name.endswith(".txt")} == {f"{deep}/a.txt"}
    assert deep in stamps
    assert f"{deep}/e" not in stamps


def test_a_folder_that_became_a_link_out_of_the_journal(tmp_path: Path) -> None:
    """It is looked at as a link, and nothing in it is there any more."""
    root, other = put(tmp_path / "journal", "a.txt", "b/c.txt"), put(tmp_path / "other", "d.txt")
    before = inventory(root)
    (root / "b" / "c.txt").unlink()
    (root / "b").rmdir()
    (root / "b").symlink_to(other)
    after = before.with_folder(root, "b")

    assert after.stamps == inventory(root).stamps
    assert set(after.stamps) == {"a.txt", "b"}


def test_a_folder_that_came(tmp_path: Path) -> None:
    """It is added with what is in it; one beside it that begins with its name stays."""
    put(tmp_path, "a.txt", "bb.txt", "b.txt")
    before = inventory(tmp_path)
    put(tmp_path, "b/c.txt")

    assert before.with_folder(tmp_path, "b").stamps == inventory(tmp_path).stamps


def test_the_digest_of_what_is_closed(tmp_path: Path) -> None:
    """Nothing of a folder, a word of what cannot be opened, the stamp of a link that leads out."""
    stamps = {"a": FOLDER, "b": CLOSED, "c": (-2, 5, 6, 7)}
    with Memo(tmp_path / "memo") as memo:
        digests = Digests(tmp_path, Inventory(stamps, 0), memo)

        assert [digests.of(name) for name in "abc"] == ["", "closed", "a link (-2, 5, 6, 7)"]


def test_a_run_stands_for_its_own_files(tmp_path: Path) -> None:
    """All but the recap in one digest, that in another; folders and names count, files of other runs do not."""
    put(tmp_path, f"{RUN}/experiment.yaml", f"{RUN}/recap.md", f"{RUN}/photos/a.jpg", f"{RUN}-two/b.yaml")
    with Memo(tmp_path / "memo") as memo:

        def look() -> tuple[str, str]:
            files = Digests(tmp_path, inventory(tmp_path), memo).of_run(tmp_path / RUN)
            assert files.folder == tmp_path / RUN
            return files.records, files.recap

        first = look()
        put(tmp_path, f"{RUN}-two/c.yaml")
        same = look()
        (tmp_path / RUN / "photos" / "a.jpg").rename(tmp_path / RUN / "photos" / "b.jpg")
        renamed = look()
        (tmp_path / RUN / "empty").mkdir()
        folder = look()
        (tmp_path / RUN / "recap.md").unlink()
        without = look()

    assert first == same
    assert len({first[0], renamed[0], folder[0]}) == 3
    assert without == (folder[0], "")
    assert first[1] == renamed[1] == digest(f"{RUN}/recap.md")


def test_digests_are_handed_on_within_a_session(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of files at rest that were read since; they are stored only where there is anything new."""
    put(tmp_path, "a", "b")
    read: list[str] = []
    original = files_module._content
    monkeypatch.setattr(files_module, "_content", lambda path: read.append(path.name) or original(path))
    with Memo(tmp_path.parent / "memo-of-a-session") as memo:
        stored: list[object] = []
        put_there = memo.put
        monkeypatch.setattr(memo, "put", lambda key, value: stored.append(value) or put_there(key, value))
        first = Digests(tmp_path, settled(tmp_path), memo)
        first.of("a")
        later = first.at(settled(tmp_path))
        later.of("a"), later.of("b")
        later.keep()
        later.keep()
        again = Digests(tmp_path, settled(tmp_path), memo)
        again.of("a"), again.of("b")
        again.keep()

    assert read == ["a", "b"]
    assert [list(value) for value in stored] == [["a", "b"]] * 2  # type: ignore[call-overload]


def test_the_program_has_a_digest(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of its files and of its themes; what Python makes of them is none of it."""
    package = tmp_path / "sitegen"
    put(tmp_path, "sitegen/pipeline/engine/files.py", "themes/a/b.css", "other.txt")
    monkeypatch.setattr(files_module, "__file__", str(package / "pipeline" / "engine" / "files.py"))
    found = [program_digest()]
    put(tmp_path, "sitegen/pipeline/__pycache__/files.pyc", "more.txt")
    found.append(program_digest())
    put(tmp_path, "themes/a/c.css")
    found.append(program_digest())
    put(tmp_path, "sitegen/d.py")
    found.append(program_digest())

    assert found[0] == found[1]
    assert len(set(found)) == 3


def test_a_digest_takes_any_text() -> None:
    """Half a sign too, which a name of a file may have; the same text has the same, in any letters."""
    texts = ["", "a", "\u00e4", "\udc80"]

    assert len({text_digest(text) for text in texts}) == len(texts)
    assert text_digest("a") == digest("a")
    assert digest_of({"\u00e4": [1, None]}) == digest('{"\u00e4": [1, null]}')


def test_bounds_of_a_look_at_files() -> None:
    """Clocks of file systems tick every 1-10 ms: five ticks are waited for. Depth: common practice, no source."""
    assert (SETTLED, DEEPEST) == (50_000_000, 16)
    assert (FOLDER, CLOSED) == ((-1, 0, 0, 0), (-2, 0, 0, 0))
