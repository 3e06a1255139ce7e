"""Which files of a journal are read, and which page a file belongs to.

In: paths. Out: their names in the journal; addresses of pages. Nothing is read or watched here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path, PurePosixPath

FOLDERS = frozenset({"seasons", "look"})
ENDINGS = frozenset({".yaml", ".yml", ".md"})

# Names of files that editors and office programs leave beside a file while they save it.
_SCRATCH_STARTS = (".", "#", "~$")
_SCRATCH_ENDS = (
    "~",
    "#",
    ".tmp",
    ".swp",
    ".swx",
    ".bak",
    ".part",
    ".crdownload",
    "___jb_tmp___",
    "___jb_old___",
)


def name_of(path: Path, root: Path, theme_folders: Iterable[Path] = ()) -> str | None:
    """The name of a file in the journal, or in a folder of its theme; None for a file that no page is made from."""
    if path.name.startswith(_SCRATCH_STARTS) or path.name.endswith(_SCRATCH_ENDS):
        return None
    if path.is_relative_to(root):
        parts = path.relative_to(root).parts
        return "/".join(parts) if _is_read(parts) else None
    home = next((folder for folder in theme_folders if path.is_relative_to(folder)), None)
    return None if home is None else "/".join((home.name, *path.relative_to(home).parts))


def _is_read(parts: tuple[str, ...]) -> bool:
    if not parts or any(part.startswith(".") for part in parts):
        return False
    return parts[0] in FOLDERS or (len(parts) == 1 and Path(parts[0]).suffix in ENDINGS)


def page_edited(files: Iterable[str], page_of: Mapping[str, str]) -> str:
    """The page that was edited, if it was one page: an empty text for files of the look, or of several pages."""
    pages = {page for file in files if (page := _page(file, page_of))}
    return pages.pop() if len(pages) == 1 else ""


def _page(file: str, page_of: Mapping[str, str]) -> str:
    """The page of a file, else of the nearest folder that has one."""
    places = (file, *map(str, PurePosixPath(file).parents))
    return next((page_of[place] for place in places if place in page_of), "")
