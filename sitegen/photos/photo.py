"""One photo: its renditions from the store, else decoded and encoded.

In: a path and the store. Out: `ProcessedPhoto`: renditions with files in the store, or the fault of the file. A file is
identified by its stamp, else by its content: after a move or a copy it is read, and not decoded again.
"""

from __future__ import annotations

import io
import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from hashlib import blake2b
from pathlib import Path

from sitegen.core.files.photo_formats import PhotoError
from sitegen.core.store import Store, StoredResult, file_stamp
from sitegen.photos.encode import PARAMETERS, planned

DIGEST = 10  # characters, as in the addresses of encoded files


@dataclass(frozen=True, slots=True)
class Rendition:
    """One file of a photo, and the digest of its content; a file that is made later is a function."""

    media: str
    width: int
    height: int
    digest: str
    file: Path | Callable[[], bytes]


@dataclass(frozen=True, slots=True)
class ProcessedPhoto:
    """A photo in all its renditions, the fallback last; `fault` is the code of the finding for an unfit file."""

    renditions: tuple[Rendition, ...] = ()
    colour: str = ""
    fault: str = ""
    about: str = ""


@dataclass(frozen=True, slots=True)
class NewPhoto:
    """The content of a file that the store has no renditions of."""

    body: bytes
    digest: str


def process(path: Path, store: Store) -> ProcessedPhoto:
    """The photo of a file, with all its renditions in the store."""
    found = _stored(path, store)
    if isinstance(found, ProcessedPhoto):
        return found
    return _from(_encoded(found.body, _key(found.digest, store), store))


def process_later(path: Path, store: Store) -> ProcessedPhoto:
    """The photo of a file; its renditions are encoded when one of them is asked for."""
    found = _stored(path, store)
    if isinstance(found, ProcessedPhoto):
        return found
    return _planned(path, found, store) or process(path, store)


def measured(path: Path, store: Store) -> ProcessedPhoto:
    """The photo of a file with the sizes that it will have, from its header; what is known from before as it is."""
    found = _kept(path, store)
    if found is not None:
        return found
    from sitegen.photos.decode import upright_size  # noqa: PLC0415 - imports Pillow, which a warm run does without

    try:
        with path.open("rb") as file:
            size = upright_size(file)
    except PhotoError as unfit:
        return ProcessedPhoto(fault=unfit.code, about=unfit.about)
    except OSError as error:
        return _unopened(error)
    apart = blake2b(path.name.encode("utf-8", "replace"), digest_size=5).hexdigest()  # of photos of one day
    renditions = (Rendition(media, *each, apart, lambda: b"") for media, each in planned(size))
    return ProcessedPhoto(tuple(renditions))


def _kept(path: Path, store: Store) -> ProcessedPhoto | None:
    """The photo of an untouched file whose renditions are in the store."""
    try:
        noted = store.get(_by_stamp(path, store))
    except OSError:
        return None
    stored = store.get(_key(noted.value["digest"], store)) if noted is not None else None
    return None if stored is None else _from(stored)


def _by_stamp(path: Path, store: Store) -> str:
    return store.key("photos", "content", file_stamp(path, path.stat()))


def _unopened(error: OSError) -> ProcessedPhoto:
    return ProcessedPhoto(fault="photo-unreadable", about=error.strerror or "it cannot be opened")


def _stored(path: Path, store: Store) -> ProcessedPhoto | NewPhoto:
    """The photo of a file from the store, else the content of the file."""
    try:
        by_stamp = _by_stamp(path, store)
        noted = store.get(by_stamp)
        if noted is not None:
            stored = store.get(_key(noted.value["digest"], store))
            if stored is not None:
                return _from(stored)
        body = path.read_bytes()
    except OSError as error:
        return _unopened(error)
    digest = blake2b(body, digest_size=20).hexdigest()
    if noted is None:
        store.put(by_stamp, {"digest": digest})
    stored = store.get(_key(digest, store))
    return NewPhoto(body, digest) if stored is None else _from(stored)


def _key(digest: str, store: Store) -> str:
    return store.key("photos", "sizes", digest, PARAMETERS)


def _encoded(body: bytes, key: str, store: Store) -> StoredResult:
    from sitegen.photos.decode import decoded  # noqa: PLC0415 - imports Pillow, which a warm run does without
    from sitegen.photos.encode import average, encoded  # noqa: PLC0415 - as above

    try:
        image = decoded(io.BytesIO(body))
    except PhotoError as unfit:
        return store.put(key, {"fault": unfit.code, "about": unfit.about})
    files = encoded(image)
    sizes = [[f.media, f.width, f.height, blake2b(f.body, digest_size=5).hexdigest()] for f in files]
    return store.put(key, {"sizes": sizes, "colour": average(image)}, [f.body for f in files])


def _from(stored: StoredResult) -> ProcessedPhoto:
    value = stored.value
    if "fault" in value:
        return ProcessedPhoto(fault=value["fault"], about=value["about"])
    renditions = (
        Rendition(media, width, height, digest, file)
        for (media, width, height, digest), file in zip(value["sizes"], stored.files, strict=True)
    )
    return ProcessedPhoto(tuple(renditions), value["colour"])


def _planned(path: Path, found: NewPhoto, store: Store) -> ProcessedPhoto | None:
    """The photo with the sizes that its renditions will have; None where a file cannot be decoded in part."""
    from sitegen.photos.decode import thumbnail  # noqa: PLC0415 - imports Pillow, which a warm run does without
    from sitegen.photos.encode import average  # noqa: PLC0415 - as above

    try:
        small = thumbnail(io.BytesIO(found.body))
    except PhotoError as unfit:
        return ProcessedPhoto(fault=unfit.code, about=unfit.about)
    if small is None:
        return None
    size, image = small
    lock = threading.Lock()
    renditions = (
        Rendition(media, *each, found.digest[:DIGEST], partial(_bytes, path, store, number, lock))
        for number, (media, each) in enumerate(planned(size))
    )
    return ProcessedPhoto(tuple(renditions), average(image))


def _bytes(path: Path, store: Store, number: int, lock: threading.Lock) -> bytes:
    """The content of one rendition; the first call encodes all of them, since browsers ask for several at once."""
    with lock:
        renditions = process(path, store).renditions
    if number >= len(renditions):  # the file was replaced meanwhile
        return b""
    file = renditions[number].file
    return file() if callable(file) else file.read_bytes()
