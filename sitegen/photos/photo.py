"""One photo: from the store where its file was seen before, else decoded and encoded.

In: a path and the store. Out: `Ready`: the sizes with files that lie in the store, or what makes it unfit. A file is
known by its stamp, else by its content: moved or copied, it is read but not decoded again.
"""

from __future__ import annotations

import io
import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from hashlib import blake2b
from pathlib import Path

from sitegen.core.site.photo_formats import PhotoError
from sitegen.core.store import Store, StoredResult, file_stamp
from sitegen.photos.encode import PARAMETERS, planned


@dataclass(frozen=True, slots=True)
class Size:
    """One file of a photo, and the digest of what is in it; one that is yet to be made is a function."""

    media: str
    width: int
    height: int
    digest: str
    file: Path | Callable[[], bytes]


@dataclass(frozen=True, slots=True)
class Ready:
    """A photo in all its sizes, the fallback last; `fault` is the code of what makes it unfit."""

    sizes: tuple[Size, ...] = ()
    colour: str = ""
    fault: str = ""
    about: str = ""


@dataclass(frozen=True, slots=True)
class Unseen:
    """A photo whose sizes are not in the store."""

    body: bytes
    digest: str


def ready(path: Path, store: Store) -> Ready:
    """The photo of a file."""
    found = known(path, store)
    if isinstance(found, Ready):
        return found
    return _from(_made(found.body, _key(found.digest, store), store))


def known(path: Path, store: Store) -> Ready | Unseen:
    """The photo of a file as far as the store knows it, else what is in the file."""
    try:
        seen = store.key("photos", "content", file_stamp(path, path.stat()))
        noted = store.get(seen)
        if noted is not None:
            kept = store.get(_key(noted.value["digest"], store))
            if kept is not None:
                return _from(kept)
        body = path.read_bytes()
    except OSError as error:
        return Ready(fault="photo-unreadable", about=error.strerror or "it cannot be opened")
    digest = blake2b(body, digest_size=20).hexdigest()
    if noted is None:
        store.put(seen, {"digest": digest})
    kept = store.get(_key(digest, store))
    return Unseen(body, digest) if kept is None else _from(kept)


def _key(digest: str, store: Store) -> str:
    return store.key("photos", "sizes", digest, PARAMETERS)


def _made(body: bytes, key: str, store: Store) -> StoredResult:
    from sitegen.photos.decode import decoded  # noqa: PLC0415 - imports Pillow, which a warm run does without
    from sitegen.photos.encode import average, encoded  # noqa: PLC0415 - as above

    try:
        image = decoded(io.BytesIO(body))
    except PhotoError as unfit:
        return store.put(key, {"fault": unfit.code, "about": unfit.about})
    files = encoded(image)
    sizes = [[f.media, f.width, f.height, blake2b(f.body, digest_size=5).hexdigest()] for f in files]
    return store.put(key, {"sizes": sizes, "colour": average(image)}, [f.body for f in files])


def _from(kept: StoredResult) -> Ready:
    value = kept.value
    if "fault" in value:
        return Ready(fault=value["fault"], about=value["about"])
    sizes = (
        Size(media, width, height, digest, file)
        for (media, width, height, digest), file in zip(value["sizes"], kept.files, strict=True)
    )
    return Ready(tuple(sizes), value["colour"])


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
    except PhotoError as unfit:
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
