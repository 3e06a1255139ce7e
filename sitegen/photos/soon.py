"""One photo for a page that cannot wait: how large its files will be, before any is made.

In: a path and the store. Out: `Ready` whose files are functions: the first that is called makes all of them. Only a JPEG
tells enough beforehand; of every other kind of file the photo is made at once.
"""

from __future__ import annotations

import io
import threading
from functools import partial
from pathlib import Path

from sitegen.core.photo_formats import Unfit
from sitegen.core.store import Store
from sitegen.photos.one import Ready, Size, Unseen, known, ready
from sitegen.photos.sizes import planned

__all__ = ["soon"]

DIGEST = 10  # characters, as in the addresses of files that are made


def soon(path: Path, store: Store) -> Ready:
    """The photo of a file, its sizes made when one of them is asked for."""
    found = known(path, store)
    if isinstance(found, Ready):
        return found
    return _glanced(path, found, store) or ready(path, store)


def _glanced(path: Path, found: Unseen, store: Store) -> Ready | None:
    from sitegen.photos.decode import glanced  # noqa: PLC0415 - imports Pillow, which a warm run does without
    from sitegen.photos.encode import average  # noqa: PLC0415 - as above

    try:
        glance = glanced(io.BytesIO(found.body))
    except Unfit as unfit:
        return Ready(fault=unfit.code, about=unfit.about)
    if glance is None:
        return None
    size, image = glance
    lock = threading.Lock()
    files = enumerate(planned(size))
    sizes = (
        Size(media, *each, found.digest[:DIGEST], partial(_bytes, path, store, number, lock))
        for number, (media, each) in files
    )
    return Ready(tuple(sizes), average(image))


def _bytes(path: Path, store: Store, number: int, lock: threading.Lock) -> bytes:
    """One of the files; all are made by the first that asks."""
    with lock:
        sizes = ready(path, store).sizes
    if number >= len(sizes):  # another photo lies there now
        return b""
    file = sizes[number].file
    return file() if callable(file) else file.read_bytes()
