"""Photos a second, beside libvips' own thumbnailer in the same run, and the most memory that a large heap of them takes.

    .venv/bin/python -m tests.bench.photos [--count 24] [--many 200]

Needs `vipsthumbnail` (Debian: libvips-tools). Photos are made here: 12 megapixels of 1/f noise, as natural pictures have
(D. J. Field, J. Opt. Soc. Am. A 4, 2379, 1987), in three colours that share most of it.
"""

from __future__ import annotations

import argparse
import io
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from PIL import Image

from sitegen.core.records.files import PhotoFile
from sitegen.memo import Memo
from sitegen.photos import process_all
from sitegen.photos.encode import FALLBACK, JPEG, WEBP, WIDTHS
from tests.photos.builders import run
from tests.photos.pictures import exif

SIZE = (4000, 3000)
DIFFERENT = 6  # pictures; the others are these with another comment, so that each is a file of its own
ROUNDS = 3
FLOOR = 0.8  # of libvips' speed
MOST_MEMORY = 400  # MB


def noise(height: int, width: int, random: np.random.Generator) -> np.ndarray:
    """Noise whose amplitude falls with frequency, mean 0 and deviation 1."""
    spectrum = np.fft.rfft2(random.standard_normal((height, width)))
    frequency = np.hypot(np.fft.fftfreq(height)[:, None], np.fft.rfftfreq(width)[None])
    frequency[0, 0] = 1
    field = np.fft.irfft2(spectrum / frequency**1.1, s=(height, width))
    return (field - field.mean()) / field.std()


def photo(seed: int) -> bytes:
    """One photo as a phone writes it."""
    random = np.random.default_rng(seed)
    light = noise(SIZE[1], SIZE[0], random)
    colours = [128 + 45 * light + 12 * noise(SIZE[1], SIZE[0], random) for _ in range(3)]
    image = Image.fromarray(np.clip(np.dstack(colours), 0, 255).astype(np.uint8))
    file = io.BytesIO()
    image.save(file, "JPEG", quality=90, exif=exif())
    return file.getvalue()


def make(folder: Path, count: int) -> list[Path]:
    """Photos in a folder, each unlike the others in its bytes."""
    folder.mkdir()
    bodies = [photo(seed) for seed in range(DIFFERENT)]
    paths = []
    for number in range(count):
        body, comment = bodies[number % DIFFERENT], f"{number:06}".encode()
        path = folder / f"day-{number}.jpg"
        path.write_bytes(body[:2] + b"\xff\xfe\x00\x08" + comment + body[2:])
        paths.append(path)
    return paths


def ours(paths: list[Path], scratch: Path) -> None:
    """The photos stage, from nothing."""
    of_paths = run(tuple(PhotoFile(path.name) for path in paths))
    with Memo(scratch) as memo:
        made, faults = process_all(of_paths, paths[0].parent, memo)
    assert (len(made.pictures), faults) == (len(paths), ())


def vips(paths: list[Path], scratch: Path) -> None:
    """The thumbnailer: the same widths, formats and qualities, all cores, metadata removed."""
    webp = f"webp[Q={WEBP['quality']},effort={WEBP['method']},strip]"
    jpeg = f"jpg[Q={JPEG['quality']},interlace,optimize-coding,strip]"
    scratch.mkdir()
    for width, ending in (*((width, webp) for width in WIDTHS), (FALLBACK, jpeg)):
        subprocess.run(
            [
                "vipsthumbnail",
                "--size",
                f"{width}x",
                "-o",
                f"{scratch}/%s-{width}.{ending}",
                *map(str, paths),
            ],
            check=True,
        )
    assert len(list(scratch.iterdir())) == len(paths) * (len(WIDTHS) + 1)


def seconds(work: Callable[[list[Path], Path], None], paths: list[Path], folder: Path) -> float:
    """How long it takes from nothing."""
    scratch = folder / work.__name__
    began = time.perf_counter()
    work(paths, scratch)
    took = time.perf_counter() - began
    shutil.rmtree(scratch)
    return took


def compare(folder: Path, count: int) -> float:
    """Both in turn, so that whatever else the machine does slows both."""
    paths = make(folder / "few", count)
    times = [(seconds(ours, paths, folder), seconds(vips, paths, folder)) for _ in range(ROUNDS)]
    for mine, theirs in times:
        print(f"{count} photos: {count / mine:.2f} a second; vipsthumbnail {count / theirs:.2f} a second")
    ratio = statistics.median(theirs / mine for mine, theirs in times)
    print(f"ratio {ratio:.2f} (at least {FLOOR} wanted)")
    return ratio


def memory(folder: Path, count: int) -> float:
    """The most that a process of its own takes for many photos, in MB; then how long a second look takes."""
    make(folder / "many", count)
    code = (
        "import sys, time; from pathlib import Path; from tests.bench.photos import ours\n"
        "began = time.perf_counter()\n"
        "ours(sorted(Path(sys.argv[1]).iterdir()), Path(sys.argv[2]))\n"
        # getrusage would count what the parent took before it started this process
        "most = next(line for line in Path('/proc/self/status').open() if line.startswith('VmHWM'))\n"
        "print(int(most.split()[1]) / 1024, time.perf_counter() - began)"
    )
    for attempt in ("from nothing", "again"):
        found = subprocess.run(
            [sys.executable, "-c", code, folder / "many", folder / "memo"],
            capture_output=True,
            text=True,
            check=True,
        )
        most, took = map(float, found.stdout.split())
        print(f"{count} photos {attempt}: {took:.2f} s, at most {most:.0f} MB (at most {MOST_MEMORY} wanted)")
        if attempt == "from nothing":
            peak = most
    return peak


def main() -> None:
    """Print both, and end with 1 where either falls short."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--count", type=int, default=24)
    options.add_argument("--many", type=int, default=200)
    chosen = options.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        ratio = compare(Path(scratch), chosen.count)
        peak = memory(Path(scratch), chosen.many) if chosen.many else 0.0
    sys.exit(ratio < FLOOR or peak > MOST_MEMORY)


if __name__ == "__main__":
    main()
