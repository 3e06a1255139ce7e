"""The user's cache folder, and where lock files lie in it.

In: the environment. Out: folders. Imports nothing that takes time, so that a command which keeps no results needs no
database.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path


def cache_folder() -> Path:
    """Where results are kept: `SITEGEN_CACHE`, else the user's cache folder."""
    chosen = os.environ.get("SITEGEN_CACHE")
    if chosen:
        return Path(chosen)
    from platformdirs import user_cache_path  # noqa: PLC0415 - only where nothing was chosen

    return user_cache_path("sitegen", appauthor=False)


def is_kept(error: FileNotFoundError) -> bool:
    """Whether a file is gone that a result names: somebody removed the cache while a command ran."""
    return error.filename is not None and Path(error.filename).is_relative_to(cache_folder())


@contextmanager
def lock_folder() -> Iterator[Path]:
    """Where lock files lie: in the cache folder, which is the user's own.

    Where that cannot be written to, a folder of the temporary one that nobody else can open. A lock file beside those of
    others could be planted by them.

    Raises
    ------
    PermissionError
        Where that folder is another user's.

    """
    import tempfile  # noqa: PLC0415 - a warm run does without

    folder = cache_folder() / "locks"
    with ExitStack() as stack:
        try:
            folder.mkdir(parents=True, exist_ok=True)
            tempfile.TemporaryFile(dir=folder).close()
        except OSError:
            from sitegen.temporary import temporary_home  # noqa: PLC0415 - almost never needed

            folder = stack.enter_context(temporary_home())
        yield folder
