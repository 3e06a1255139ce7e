"""Whether a damaged cache ever shows: `python -m tests.kills.store [--seeds N] [--first SEED]`.

In: seeds. Out: how often each damage was done, and what it did wrong: a page that is not that of a run that knows
nothing, a command that failed, a traceback. Each seed damages the cache of a journal that was written and then changed,
and writes again, into the same folder or another one.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import sqlite3
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from tests.kills.__main__ import warmed_up
from tests.kills.bench import FOREIGN, Bench
from tests.kills.scenarios import SCENARIOS
from tests.pipeline.bench import tree

Damage = Callable[[Path, random.Random], None]


def _database(store: Path) -> Path:
    (found,) = store.glob("memo-*.sqlite")
    return found


def _large(store: Path, chance: random.Random) -> Path:
    return chance.choice(sorted(path for path in store.glob("files/??/*") if path.is_file()))


def _flip(path: Path, chance: random.Random, times: int) -> None:
    body = bytearray(path.read_bytes())
    for _ in range(times):
        body[chance.randrange(len(body))] ^= 1 << chance.randrange(8)
    path.write_bytes(body)


def truncated(store: Path, chance: random.Random) -> None:
    """The database cut off somewhere."""
    path = _database(store)
    os.truncate(path, chance.randrange(path.stat().st_size))


def overwritten(store: Path, chance: random.Random) -> None:
    """Random bytes over a stretch of the database."""
    path = _database(store)
    size = path.stat().st_size
    with path.open("r+b") as file:
        file.seek(chance.randrange(size))
        file.write(chance.randbytes(chance.choice((1, 16, 4096, size // 2))))


def bits(store: Path, chance: random.Random) -> None:
    """Some bits of the database turned."""
    _flip(_database(store), chance, chance.choice((1, 1, 8, 200)))


def log_of_writes(store: Path, chance: random.Random) -> None:
    """A write-ahead log and an index of it that hold noise."""
    for ending in ("-wal", "-shm"):
        path = _database(store)
        path.with_name(path.name + ending).write_bytes(chance.randbytes(chance.choice((0, 32, 40_000))))


def rows(store: Path, chance: random.Random) -> None:
    """A character of a column of every row changed."""
    column = chance.choice(("key", "value", "files", "seal"))
    link = sqlite3.connect(_database(store))
    with link:
        for (key,) in link.execute("SELECT key FROM entries").fetchall():
            (text,) = link.execute(f"SELECT {column} FROM entries WHERE key = ?", (key,)).fetchone()  # noqa: S608
            at = chance.randrange(len(text) or 1)
            new = text[:at] + chance.choice('0aZ{]"\0') + text[at + 1 :]
            link.execute(f"UPDATE OR REPLACE entries SET {column} = ? WHERE key = ?", (new, key))  # noqa: S608
    link.close()


def numbers(store: Path, chance: random.Random) -> None:
    """Sizes and times of another kind than they are to be."""
    link = sqlite3.connect(_database(store))
    with link:
        wrong = chance.choice(("", "soon", -1, 1e300, b"\0"))
        link.execute(f"UPDATE entries SET {chance.choice(('size', 'used'))} = ?", (wrong,))  # noqa: S608
    link.close()


def other_table(store: Path, chance: random.Random) -> None:
    """A table as another version has it."""
    link = sqlite3.connect(_database(store))
    with link:
        change = chance.choice(
            ("ALTER TABLE entries DROP COLUMN used", "ALTER TABLE entries ADD COLUMN extra", "DROP TABLE entries",
             "ALTER TABLE entries RENAME COLUMN value TO body", "PRAGMA user_version = 99")
        )  # fmt: skip
        link.execute(change)
    link.close()


def large_parts(store: Path, chance: random.Random) -> None:
    """Files beside the database: bits turned, cut off, gone, or folders in their places."""
    for path in sorted(path for path in store.glob("files/??/*") if path.is_file()):
        what = chance.randrange(5)
        if what == 0:
            _flip(path, chance, 1)
        elif what == 1:
            os.truncate(path, chance.randrange(path.stat().st_size))
        elif what == 2:
            path.unlink()
        elif what == 3:
            path.unlink()
            path.mkdir()


def in_its_place(store: Path, chance: random.Random) -> None:
    """A folder or a link that leads nowhere in place of the database, or a file in place of a folder."""
    what, path = chance.randrange(5), _database(store)
    if what == 0:
        path.unlink()
        path.mkdir()
        (path / "letter.txt").write_text("of somebody else", "utf-8")
    elif what == 1:
        path.unlink()
        path.symlink_to(store / "nowhere" / "deep")
    elif what == 2:
        shutil.rmtree(store / "files")
        (store / "files").write_text("a file", "utf-8")
    elif what == 3:
        shutil.rmtree(store)
        store.write_text("a file", "utf-8")
    else:
        path.with_name(path.name + "-wal").mkdir()


def locks(store: Path, chance: random.Random) -> None:
    """A file in place of the folder of locks."""
    shutil.rmtree(store / "locks")
    (store / "locks").write_text("a file", "utf-8")


def older(store: Path, chance: random.Random) -> None:
    """Results under the name of another version."""
    _database(store).rename(store / f"memo-{chance.choice((0, 2))}.sqlite")


def gone(store: Path, chance: random.Random) -> None:
    """All of it, or the database, or the files."""
    what = chance.randrange(3)
    if what == 0:
        shutil.rmtree(store)
    elif what == 1:
        _database(store).unlink()
    else:
        shutil.rmtree(store / "files")


DAMAGES: tuple[Damage, ...] = (
    truncated, overwritten, bits, log_of_writes, rows, numbers, other_table, large_parts, in_its_place, locks, older,
    gone,
)  # fmt: skip


def faults(bench: Bench, seed: int) -> Iterator[str]:
    """What one damage does wrong."""
    chance = random.Random(seed)  # noqa: S311 - no secret
    bench.restored()
    DAMAGES[seed % len(DAMAGES)](bench.case / "store", chance)
    place = chance.choice(("site", "other"))
    for _ in range(2):  # what the first one keeps, the second one reads
        done = bench.run("write", "{}/bench", "-o", f"{{}}/{place}")
        if done.status != 0 or "Traceback" in done.printed:
            yield f"{done}"
            return
        if {name: body for name, body in tree(bench.case / place).items() if name != FOREIGN} != bench.site:
            yield "the site is not that of a run that knows nothing"
    done = bench.run("log", "one", "day 40: note: late", "--journal", "{}/bench")
    if done.status != 0:
        yield f"{done}"
    yield from bench.left_over()


def run(seeds: range, drawings: Path) -> tuple[Counter[str], list[str]]:
    """How often each damage was done, and what was wrong."""
    scenario = next(each for each in SCENARIOS if each.name == "write after a note")
    counts, found = Counter[str](), []
    with tempfile.TemporaryDirectory() as home:
        bench = Bench(scenario, Path(home).resolve(), drawings).made()
        for seed in seeds:
            name = DAMAGES[seed % len(DAMAGES)].__name__
            counts[name] += 1
            found += [f"seed {seed}, {name}: {fault}" for fault in faults(bench, seed)]
    return counts, found


def main(words: Sequence[str]) -> int:
    """Print what each damage did; 1 where it showed."""
    parser = argparse.ArgumentParser(prog="python -m tests.kills.store")
    parser.add_argument("--seeds", type=int, default=120)
    parser.add_argument("--first", type=int, default=0)
    given = parser.parse_args(words)
    with warmed_up() as drawings:
        counts, found = run(range(given.first, given.first + given.seeds), drawings)
    for name, times in counts.items():
        wrong = sum(f", {name}: " in fault for fault in found)
        print(f"{times:5} {wrong:5} wrong  {name}")
    print(*found[:40], sep="\n")
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
