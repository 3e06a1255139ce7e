"""One filing of several logs and an inbox: all of it happens, once, whatever happens meanwhile."""

from __future__ import annotations

import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.filing.inbox.transaction import (
    Doubt,
    FileChange,
    Finished,
    Intent,
    Piece,
    UnreadableIntentError,
    file_all,
    finish,
    intent_path,
    pending,
    settle,
)
from sitegen.filing.safe_file import replace_file
from tests.kills.killing import killed_before

LOG = b"log:\n- begun\n"
ENOUGH = max(10, settings().max_examples // 4)  # examples: each forks a process or more


def intent_of(inbox: bytes, root: Path) -> Intent:
    """A filing of lines like `a: text`: `text` goes to the end of the file `a`; other lines stay."""
    contents: dict[str, bytes] = {}
    pieces: list[Piece] = []
    for line in inbox.splitlines(keepends=True):
        place, _, text = line.decode().strip().partition(": ")
        if not text or not (root / place).is_file():
            pieces.append(Piece(line))
            continue
        contents[place] = contents.get(place, (root / place).read_bytes()) + f"- {text}\n".encode()
        pieces.append(Piece(line, (place,)))
    changes = (FileChange(place, (root / place).read_bytes(), after) for place, after in contents.items())
    return Intent(str(root), tuple(changes), tuple(pieces))


def file_inbox(root: Path) -> Finished:
    """What a command does: finish what was begun; where that leaves no doubt, file what there is."""
    inbox = root / "inbox.txt"
    found = pending(inbox)
    done = finish(found, inbox, root) if found is not None else Finished()
    intent = intent_of(inbox.read_bytes(), root)
    return done if done.doubts or not intent.changes else file_all(intent, inbox, root)


def folder_with(root: Path, inbox: bytes) -> Path:
    """Two logs, and an inbox."""
    root.mkdir(exist_ok=True)
    for name in ("a", "b"):
        (root / name).write_bytes(LOG)
    (root / "inbox.txt").write_bytes(inbox)
    return root


def texts(root: Path) -> Counter[str]:
    """Each text that is in a log or waits in the inbox, with its place, and how often."""
    filed = [
        (n, line[2:])
        for n in ("a", "b")
        for line in (root / n).read_text().splitlines()[2:]
        if line[0] == "-"
    ]
    waiting = (line.split(": ") for line in (root / "inbox.txt").read_text().splitlines() if ": " in line)
    return Counter([f"{place}: {text}" for place, text in [*filed, *waiting]])


def to_write(intent: Intent) -> list[str]:
    """The logs that a filing has still to write."""
    return [change.place for change in intent.changes if change.before != change.after]


def names(root: Path) -> list[str]:
    """All files of a folder, hidden ones too."""
    return sorted(path.name for path in root.iterdir())


INBOX = b"a: one\nstays\nb: two\na: one\n\n# also stays\nb: three"


def test_lines_go_to_their_files_and_the_rest_stays_byte_for_byte(tmp_path: Path) -> None:
    """Two equal lines are two entries; what goes nowhere keeps its bytes, and nothing else is left."""
    root = folder_with(tmp_path, INBOX)

    assert file_inbox(root) == Finished(("a", "b"))
    assert (root / "a").read_bytes() == LOG + b"- one\n- one\n"
    assert (root / "b").read_bytes() == LOG + b"- two\n- three\n"
    assert (root / "inbox.txt").read_bytes() == b"stays\n\n# also stays\n"
    assert names(root) == ["a", "b", "inbox.txt"]


def test_an_intent_comes_back_as_it_was_written() -> None:
    """Bytes that are no UTF-8, line ends and signs beyond the basic plane survive."""
    pieces = (
        Piece(b"\xff\xfe\r\n", ("a",)),
        Piece("🌱 ß\u2028".encode()),
        Piece(b"\xed\xa0\xbd\xed\xb1\xb1"),
    )
    intent = Intent("/j", (FileChange("a", b"\xef\xbb\xbfx\r", b"y\0"),), pieces)

    assert Intent.decoded(intent.encoded()) == intent


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{}",
        b"[]",
        b"\xff",
        b'{"format": 2}',
        b'{"format": 1, "files": 3}',
        b'{"format": 1, "files": [], "inbox": []}',
        b"[" * 100_000,
        b'{"format": 1, "root": "/j", "files": [], "inbox": [{"text": "x", "places": [[]]}]}',
    ],
    ids=lambda content: content[:60],
)
def test_a_damaged_intent_is_told(content: bytes) -> None:
    """A file that is no intent of this version is refused, whatever it holds."""
    with pytest.raises(UnreadableIntentError):
        Intent.decoded(content)


@pytest.mark.parametrize(
    "place",
    ["/etc/hosts", "../other/a", "a/../../b", "C:a", "..\\a", "a\0b", "a\ud800b", "ä" * 128, "a/" * 8 + "b"],
    ids=lambda place: place[:9],
)
def test_an_intent_about_files_elsewhere_is_refused(place: str) -> None:
    """It may lie in a folder that somebody else made."""
    with pytest.raises(UnreadableIntentError):
        Intent.decoded(Intent("/j", (FileChange(place, b"", b"x"),), ()).encoded())


def operations(root: Path) -> Iterator[int]:
    """The operations before which a filing of a fresh folder can be killed."""
    number = 0
    while True:
        folder_with(root, INBOX)
        intent_path(root / "inbox.txt").unlink(missing_ok=True)
        if not killed_before(number, str(root), lambda: file_inbox(root)):
            return
        yield number
        number += 1


def test_killed_before_each_operation_all_is_filed_once(tmp_path: Path) -> None:
    """Wherever it ends, every text is in its log or in the inbox at least; then the next command files all."""
    root = folder_with(tmp_path, INBOX)
    wanted = texts(root)
    for number in operations(root):
        now = texts(root)
        assert all(now[text] >= times for text, times in wanted.items()), number
        assert file_inbox(root) in (Finished(("a", "b")), Finished()), number
        assert (texts(root), names(root)) == (wanted, ["a", "b", "inbox.txt"]), number
        assert (root / "inbox.txt").read_bytes() == b"stays\n\n# also stays\n", number


LINE = st.sampled_from(["a: one", "a: two", "b: one", "b: three", "stays", "", "c: nowhere"])


@settings(max_examples=ENOUGH)
@given(st.lists(LINE, max_size=8), st.lists(st.integers(0, 40), min_size=1, max_size=3), st.booleans())
def test_any_inbox_killed_again_and_again(lines: list[str], kills: list[int], ended: bool) -> None:
    """Also when finishing is killed, each line is filed exactly once or still waits."""
    with tempfile.TemporaryDirectory() as folder:
        root = folder_with(Path(folder).resolve(), ("\n".join(lines) + "\n" * ended).encode())
        wanted = texts(root)
        for kill in kills:
            killed_before(kill, str(root), lambda: file_inbox(root))
        file_inbox(root)

        assert texts(root) == wanted
        assert (root / "inbox.txt").read_bytes().split() == " ".join(
            line for line in lines if line in ("stays", "c: nowhere")
        ).encode().split()
        assert names(root) == ["a", "b", "inbox.txt"]


EDIT = st.sampled_from(["log a", "log b", "more below", "more above", "one away"])


@settings(max_examples=ENOUGH)
@given(st.lists(LINE, min_size=1, max_size=6), st.integers(0, 40), st.lists(EDIT, max_size=3, unique=True))
def test_files_changed_by_the_author_after_a_kill(lines: list[str], kill: int, edits: list[str]) -> None:
    """What the author adds stays; nothing is filed twice; only what the author removed can be gone."""
    with tempfile.TemporaryDirectory() as folder:
        root = folder_with(Path(folder).resolve(), ("\n".join(lines) + "\n").encode())
        wanted = texts(root)
        killed_before(kill, str(root), lambda: file_inbox(root))
        wanted += _edited(root, edits)
        for _ in range(3):  # a doubt stops once; the author then gives the command again
            file_inbox(root)
        now = texts(root)

        assert not now - wanted
        assert sum((wanted - now).values()) <= ("one away" in edits)
        assert all(b"# mine" in (root / edit[-1]).read_bytes() for edit in edits if edit.startswith("log"))
        assert names(root) == ["a", "b", "inbox.txt"]


def _edited(root: Path, edits: list[str]) -> Counter[str]:
    """Change files as an author does; the texts that are new."""
    inbox = root / "inbox.txt"
    new: Counter[str] = Counter()
    for edit in edits:
        if edit.startswith("log"):
            log = root / edit[-1]
            log.write_bytes(log.read_bytes() + b"# mine\n")
            continue
        lines = inbox.read_text().splitlines()
        if edit == "more below":
            lines.append("a: later")
        elif edit == "more above":
            lines.insert(0, "b: sooner")
        else:
            del lines[:1]
        new += Counter({"more below": ["a: later"], "more above": ["b: sooner"]}.get(edit, []))
        inbox.write_text("".join(f"{line}\n" for line in lines))
    return new


def test_a_log_that_was_changed_meanwhile_is_left_and_told(tmp_path: Path) -> None:
    """It is in neither state: its lines stay in the inbox, at the line that the doubt names; the others are filed."""
    root = folder_with(tmp_path, INBOX)
    intent = intent_of(INBOX, root)
    (root / "b").write_bytes(b"log:\n- other words\n")

    assert file_all(intent, root / "inbox.txt", root) == Finished(("a",), (Doubt(2, "b"),))
    assert (root / "b").read_bytes() == b"log:\n- other words\n"
    assert (root / "inbox.txt").read_bytes() == b"stays\nb: two\n\n# also stays\nb: three"


def test_finishing_with_a_changed_inbox_may_be_killed_too(tmp_path: Path) -> None:
    """What is left is written down before it is done: the inbox that it leaves is no second change by the author."""
    number = 0
    killed = True
    while killed:
        root = folder_with(tmp_path, INBOX)
        intent = intent_of(INBOX, root)
        intent_path(root / "inbox.txt").write_bytes(intent.encoded())
        for change in intent.changes:
            (root / change.place).write_bytes(change.after)
        (root / "inbox.txt").write_bytes(b"a: later\n" + INBOX)
        killed = killed_before(number, str(root), lambda: finish_only(tmp_path))

        assert finish_only(root).doubts == (), number
        assert (root / "inbox.txt").read_bytes() == b"a: later\nstays\n\n# also stays\n", number
        assert (root / "a").read_bytes() == LOG + b"- one\n- one\n", number
        number += 1


def finish_only(root: Path) -> Finished:
    """Finish a filing that was begun, and begin none."""
    found = pending(root / "inbox.txt")
    return finish(found, root / "inbox.txt", root) if found is not None else Finished()


def test_a_log_that_holds_the_lines_and_more_counts_as_filed() -> None:
    """The author changed it after it was written and before the kill was noticed."""
    change = FileChange("a", LOG, LOG + b"- one\n")
    intent = Intent("/j", (change,), (Piece(b"a: one\n", ("a",)),))
    settled, finished = settle(intent, {"a": b"# mine\n" + LOG + b"- one\n"}, b"a: one\n")

    assert (to_write(settled), settled.after, finished) == ([], b"", Finished(("a",)))


def test_a_log_that_is_gone_keeps_its_lines_in_the_inbox() -> None:
    """An experiment that was renamed meanwhile loses nothing."""
    intent = Intent("/j", (FileChange("a", LOG, LOG + b"- one\n"),), (Piece(b"a: one\n", ("a",)),))
    settled, finished = settle(intent, {"a": None}, b"a: one\n")

    assert (to_write(settled), settled.after, finished) == ([], b"a: one\n", Finished((), (Doubt(1, "a"),)))


def test_an_inbox_changed_after_its_lines_were_filed_is_told(tmp_path: Path) -> None:
    """A line that the log has already may stand there in other words: nothing is filed, and the doubt says where."""
    root = folder_with(tmp_path, b"a: 9 g\nb: two\n")
    intent = intent_of(b"a: 9 g\nb: two\n", root)
    files = {"a": LOG + b"- 9 g\n", "b": LOG}
    settled, finished = settle(intent, files, b"a: 19 g\nb: two\n")

    assert (to_write(settled), settled.after) == ([], b"a: 19 g\nb: two\n")
    assert finished == Finished(("a",), (Doubt(1, filed=("a: 9 g",)),))


def test_a_log_that_cannot_be_written_keeps_its_lines(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other logs are filed all the same, and the doubt has the reason."""
    root = folder_with(tmp_path, INBOX)

    def refused(path: Path, content: bytes) -> None:
        if path.name == "a":
            raise PermissionError(13, "Permission denied")
        replace_file(path, content)

    monkeypatch.setattr("sitegen.filing.inbox.transaction.replace_file", refused)

    assert file_inbox(root) == Finished(("b",), (Doubt(1, "a", "Permission denied"),))
    assert (root / "a").read_bytes() == LOG
    assert (root / "inbox.txt").read_bytes() == b"a: one\nstays\na: one\n\n# also stays\n"
    assert names(root) == ["a", "b", "inbox.txt"]
