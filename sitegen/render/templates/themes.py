"""Finds a theme and reads its options.

In: the name of a theme and the journal's own `look/` folder. Out: `Theme`, or a finding where there is none of that name.
A theme is a folder: templates/, assets/, theme.yaml. Files in `look/` override those of the theme.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any

import yaml

import sitegen
from sitegen.core.files.file_names import is_litter
from sitegen.core.files.inside import files_below, is_folder_inside, leads_out
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.text import did_you_mean
from sitegen.core.site.addresses import ASSETS
from sitegen.core.site.page import Page
from sitegen.render.templates.plain_pictures import plain_picture

MEDIA = {
    ".css": "text/css",
    ".js": "text/javascript",
    ".svg": "image/svg+xml",
    ".woff2": "font/woff2",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".webp": "image/webp",
    ".ico": "image/x-icon",
    ".txt": "text/plain",
}
OWN_STYLE = "look.css"  # a journal's own rules and custom properties, after the theme's
INLINE = "marks.svg"  # set into every page, so never a file of the site
DIGEST = 10  # characters of the content's hash in an asset's name


@dataclass(frozen=True, slots=True)
class Theme:
    """A theme with its folders, the journal's own first."""

    name: str
    folders: tuple[Path, ...]
    options: tuple[tuple[str, Any], ...] = ()
    look: Path | None = None  # the one of these folders that is a journal's, not the program's

    @property
    def templates(self) -> tuple[Path, ...]:
        """Folders that templates are looked for in, in this order."""
        return tuple(folder / "templates" for folder in self.folders)

    @property
    def own_templates(self) -> bool:
        """Whether the journal brings templates: they are not the program's own, and are not trusted as these are."""
        return self.look is not None and is_folder_inside(self.look / "templates", self.look.parent)

    def files(self, folder: Path, kind: str) -> list[Path]:
        """The files below a part of one of its folders, such as `assets`; of a journal's those that lie in it."""
        home = folder / kind
        if folder == self.look:
            return sorted(files_below(home, folder.parent))
        return sorted(path for path in home.rglob("*") if path.is_file())

    def option(self, name: str, default: Any = "") -> Any:
        """An option of theme.yaml."""
        return dict(self.options).get(name, default)

    def stylesheets(self, assets: Mapping[str, Page]) -> tuple[str, ...]:
        """The style sheets of a page, the journal's own last so that its few lines go before the theme's."""
        own = (OWN_STYLE,) if OWN_STYLE in assets else ()
        return (str(self.option("stylesheet", "style.css")), *own)

    def assets(self) -> dict[str, Page]:
        """The files of the theme by their plain name; the name on the site carries a hash of the content."""
        found: dict[str, Path] = {}
        for folder in reversed(self.folders):
            root = folder / "assets"
            files = {p.relative_to(root): p for p in self.files(folder, "assets") if p.suffix in MEDIA}
            found.update(
                (place.as_posix(), path)
                for place, path in files.items()
                if not any(map(is_litter, place.parts))
            )
        return {name: _asset(name, path) for name, path in sorted(found.items()) if name != INLINE}

    def inline(self) -> str:
        """The drawn marks, set into every page."""
        for folder in self.folders:
            path = folder / "assets" / INLINE
            if path.is_file() and not (folder == self.look and leads_out(path, folder.parent)):
                return path.read_text(encoding="utf-8")
        return ""


def _asset(name: str, path: Path) -> Page:
    content = plain_picture(path.read_bytes())
    plain = PurePosixPath(name)
    digest = hashlib.sha256(content).hexdigest()[:DIGEST]
    address = PurePosixPath(ASSETS) / plain.with_name(f"{plain.stem}-{digest}{plain.suffix}")
    return Page(str(address), MEDIA[path.suffix], content)


def _roots() -> tuple[Path, ...]:
    """The folders of themes: inside the installed package, else beside it in a checkout."""
    package = Path(sitegen.__file__).parent
    return tuple(root for root in (package / "themes", package.parent / "themes") if root.is_dir())


def theme_names() -> tuple[str, ...]:
    """The names of all themes."""
    found = (folder for root in _roots() for folder in root.iterdir() if (folder / "theme.yaml").is_file())
    return tuple(sorted({folder.name for folder in found}))


def find_theme(name: str, look: Path | None, source: Source, findings: Findings) -> Theme | None:
    """The theme of a name, with the journal's own folder before it."""
    if name not in theme_names():
        findings.add(
            "unknown-theme",
            source,
            f"there is no theme `{name}`",
            mend=did_you_mean(name, theme_names()),
            found=name,
            expected="the name of a theme",
        )
        return None
    own = _with_bases(name)
    options = {key: value for folder in reversed(own) for key, value in _options(folder).items()}
    if look is None or not is_folder_inside(look, look.parent):
        return Theme(name, own, tuple(options.items()))
    return Theme(name, (look, *own), tuple(options.items()), look)


def _with_bases(name: str) -> tuple[Path, ...]:
    """The folder of a theme and of those that it is based on, the nearest first."""
    folders: list[Path] = []
    while name:
        own = next(root / name for root in _roots() if (root / name / "theme.yaml").is_file())
        if own in folders:
            break
        folders.append(own)
        name = str(_options(own).get("based_on", ""))
    return tuple(folders)


def _options(folder: Path) -> dict[str, Any]:
    """The options of theme.yaml."""
    return yaml.safe_load((folder / "theme.yaml").read_text(encoding="utf-8")) or {}
