"""The files in photos/ that are photos, by their names: nothing is opened.

In: the folder. Out: names.
"""

from __future__ import annotations

import os
from pathlib import Path, PurePath

from sitegen.core.files.file_names import is_utf8
from sitegen.core.files.inside import entries_in
from sitegen.core.files.photo_formats import ENDINGS

PHOTO_ENDINGS = frozenset(
    ending for kind, endings in ENDINGS.items() if kind not in ("TIFF", "BMP") for ending in endings
)


def is_photo_name(name: str) -> bool:
    """Whether a name has the ending of a photo."""
    return PurePath(name).suffix.lower() in PHOTO_ENDINGS and is_utf8(name)


def photo_names(folder: Path, root: Path) -> frozenset[str]:
    """The files in a folder of the journal whose names have the ending of a photo."""
    return frozenset(e.name for e in entries_in(folder, root) if is_photo_name(e.name) and _is_file(e))


def _is_file(entry: os.DirEntry[str]) -> bool:
    try:
        return entry.is_file()
    except OSError:  # a link that leads to itself
        return False
