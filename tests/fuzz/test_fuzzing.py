"""What reads the work of others: a short run of every target, and that the harness sees what it is to see."""

from __future__ import annotations

import importlib
import itertools
import subprocess
import sys
import time
import warnings
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.fuzz.guard import guarded
from tests.fuzz.kept_faults import save, settled
from tests.fuzz.smoke import faults
from tests.fuzz.target import FaultError, Run, Target, joined, sections
from tests.fuzz.targets import NAMES, PLANTED, target_named

EXECUTIONS = 12  # of each target
_SLOW = {
    "file-names": 8,
    "journal-files": 8,
    "memo-file": 8,
    "data-package": 8,
    "page-template": 8,
    "recap": 8,
    "transcript": 8,
}


class PlantedError(Exception):
    """A fault that was put into a reader."""


@pytest.mark.parametrize("name", NAMES)
def test_a_short_run_finds_nothing(name: str, tmp_path: Path) -> None:
    """Seeds and small changes of them: findings, and nothing else."""
    found = [
        (type(error), str(error), data)
        for data, error in faults(target_named(name), tmp_path, _SLOW.get(name, EXECUTIONS))
    ]

    assert found == []


@pytest.mark.parametrize("name", NAMES)
def test_a_broken_reader_is_noticed(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A function deep in each reader that raises is seen from outside: nothing on the way swallows it."""
    target = target_named(name)
    module, _, attribute = target.deep.partition(":")
    *owners, last = attribute.split(".")
    owner: object = importlib.import_module(module)
    for each in owners:
        owner = getattr(owner, each)

    def broken(*_given: object, **_more: object) -> object:
        raise PlantedError

    run, seeds = target.prepare(tmp_path), list(target.seeds())
    monkeypatch.setattr(owner, last, broken)

    def raises(seed: bytes) -> bool:
        try:
            guarded(run, seed, tmp_path)
        except PlantedError:
            return True
        return False

    assert any(map(raises, seeds))  # up to the first that comes so deep


def _slow(_data: bytes) -> None:
    begin = time.process_time()
    while time.process_time() - begin < 0.1:
        pass


def _large(_data: bytes) -> None:
    assert len(bytearray(250_000_000).replace(b"\0", b"\1", 9)) > 0


def _different(_data: bytes, count: itertools.count[int] = itertools.count()) -> int:  # noqa: B008 - meant
    return next(count)


def _outside(_data: bytes) -> None:
    (Path(__file__).parent / "test_fuzzing.txt").open("a").close()


def _process(_data: bytes) -> None:
    subprocess.run([sys.executable, "--version"], check=True, capture_output=True)


def _warning(_data: bytes) -> None:
    warnings.warn("of a library", stacklevel=1)


BROKEN: list[tuple[Run, str]] = [
    (_slow, "it took more than 0.05 s"),
    (_large, "it took more than 100 MB"),
    (_different, "the same input gave another result"),
    (_outside, "outside of its folder: written: "),
    (_process, "outside of its folder: subprocess.Popen"),
    (_warning, "a warning of a library is printed: of a library"),
]


@pytest.mark.parametrize(("run", "message"), BROKEN, ids=lambda each: getattr(each, "__name__", ""))
def test_the_guard_sees_what_must_not_be(run: Run, message: str, tmp_path: Path) -> None:
    """Too slow, too large, by chance, outside of the folder, with a process, with a warning."""
    try:
        with pytest.raises(FaultError) as raised:
            guarded(run, b"", tmp_path, again=True, slowest=0.05 if run is _slow else 60, largest=100_000_000)
    finally:
        (Path(__file__).parent / "test_fuzzing.txt").unlink(missing_ok=True)

    assert str(raised.value).startswith(message)


def test_a_file_of_somebody_else_is_seen_when_it_is_only_read(tmp_path: Path) -> None:
    """Reading outside is a fault too; the journal's own folder, Python and its libraries are not outside."""
    (tmp_path / "own").mkdir()
    (tmp_path / "other.txt").write_text("secret")

    def reads(_data: bytes) -> None:
        (tmp_path / "own" / ".." / "other.txt").read_bytes()

    with pytest.raises(FaultError, match=r"outside of its folder: read: .*other\.txt"):
        guarded(reads, b"", tmp_path / "own")
    guarded(lambda _: Path(pytest.__file__).read_bytes(), b"", tmp_path / "own")


def test_changes_reach_what_a_token_reaches(tmp_path: Path) -> None:
    """A fault behind a token and behind a changed number is found among a few hundred changes, the same each time."""

    def prepare(_folder: Path) -> Run:
        def run(data: bytes) -> None:
            if b"dibble" in data and b"12" not in data:
                raise PlantedError

        return run

    target = Target("toy", prepare, lambda: (b"day: 12\nnote: x\n",), (), "", tokens=(b"dibble",))
    found = [data for data, _ in faults(target, tmp_path, 400)]

    assert found
    assert found == [data for data, _ in faults(target, tmp_path, 400)]


def test_a_fault_is_made_small_and_kept_once(tmp_path: Path) -> None:
    """The smallest input of a fault, with its kind and place; a second input with the same fault is not kept."""

    def run(data: bytes) -> None:
        if b"a" in data and b"z" in data:
            raise PlantedError("both")

    kept = []
    for data in (b"x" * 50 + b"a" + b"y" * 50 + b"z!", b"za"):
        with pytest.raises(PlantedError) as raised:
            run(data)
        kept.append(save(tmp_path / "faults", data, raised.value))
    assert kept[0] is not None
    assert kept[1] is None
    saved = settled(kept[0], run, tmp_path)

    assert (saved.kind, saved.message, saved.size, saved.sure) == ("PlantedError", "both", 2, True)
    assert kept[0].read_bytes() == b"az"


def test_an_input_stands_for_files() -> None:
    """Files are joined and told apart; what stands before the first has no name."""
    files = [("a.csv", b"1,2\n"), ("b/c.json", b"{}\n")]

    assert sections(joined(files)) == {"": b"", "a.csv": b"1,2\n", "b/c.json": b"{}\n"}
    assert sections(b"x === y\n") == {"": b"x === y\n"}


@pytest.mark.full
def test_guidance_finds_a_fault_step_by_step(tmp_path: Path) -> None:
    """A fault behind four words in order is found, made small, and the command says so."""
    pytest.importorskip("atheris")
    command: Callable[..., subprocess.CompletedProcess[str]] = subprocess.run
    ended = command(
        [sys.executable, "-m", "tests.fuzz", PLANTED, "--seconds", "15", "--keep", str(tmp_path)],
        capture_output=True, text=True, check=False,
    )  # fmt: skip

    assert ended.returncode == 1, ended.stderr
    assert "planted: FaultError the planted fault" in ended.stdout
    assert "  19 bytes: " in ended.stdout
