"""Files and folders of a journal that nothing reads: each is a finding, so that none is passed over in silence.

In: listings of the journal's folders, what was read of them, `ignore:` of journal.yaml. Out: findings, with the rename
or the move as the mend. A name that is nearly one that is read is an error where that one is missing, and so are
folders that look like runs in a journal without any; all others are warnings.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from sitegen.core.files.inside import paths_in
from sitegen.core.files.photo_formats import ENDINGS
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.site.comments import DRAFT_MARK
from sitegen.ingest.listing import Listed, is_output, listed

INBOX = "inbox.txt"
FILES = ("journal.yaml", "gear.yaml", "crops.yaml")
FOLDERS = ("seasons", "look")
RUN = ("experiment.yaml", "recap.md", "photos")
# Each with the ending that is read there.
LOOK = {"assets": "", "templates": ".html", "words": ".po", "notes": ".md"}
UNREAD_SHEETS = (".xls", ".ods")  # of these no place of a cell can be seen before a library reads them
SHEETS = (".csv", ".tsv", ".xlsx", *UNREAD_SHEETS)
PICTURES = frozenset(ending for endings in ENDINGS.values() for ending in endings)
_ASSETS = (".css", ".js", ".svg", ".png", ".woff2", ".ico")
_OR_IGNORE = "or name it under `ignore` in journal.yaml"
_ALIKE = 0.88  # of difflib: one letter of nine wrong. Custom, no source.


@dataclass(frozen=True, slots=True)
class Unread:
    """Reports about one journal.

    `ignore` are its patterns, `without_runs` is whether no run of it was read, `output` where its site goes.
    """

    root: Path
    ignore: Sequence[str]
    findings: Findings
    without_runs: bool = False
    output: Path | None = None

    def items(self, folder: Path) -> list[Listed]:
        """What a folder holds, without what the journal ignores."""
        return list(listed(folder, self.root, self.findings, self.ignore, self.output))

    def stray(self, item: Listed, mend: str, why: str = "") -> None:
        """A finding about something that is no part of a journal."""
        message = f"nothing reads `{item.place}`" + (f": {why}" if why else "")
        self.findings.add("stray-file", Source(item.place), message, mend=mend, found=item.name)

    def misnamed(self, item: Listed, meant: str) -> None:
        """A finding about a name that is nearly one that is read."""
        message = f"nothing reads `{item.place}`: the name is to be `{meant}`"
        mend = f"rename it to `{meant}`"
        source = Source(item.place)
        self.findings.add("misnamed-file", source, message, mend=mend, found=item.name, expected=meant)

    def run_elsewhere(self, item: Listed, mend: str, it: str = "it looks like a run") -> None:
        """A finding about something that looks like a run, or holds such folders, where no run is looked for."""
        code = "unread-runs" if self.without_runs else "stray-file"
        message = f"nothing reads `{item.place}`: {it}, and a run has its place in `seasons/SEASON/RUN`"
        expected = "seasons/SEASON/RUN/experiment.yaml"
        self.findings.add(code, Source(item.place), message, mend=mend, found=item.name, expected=expected)


def meant_name(name: str, names: Iterable[str]) -> str:
    """The one of some names that a name is nearly: in case, ending, number or a letter; empty where there is none."""
    plain = _plain(name)
    for each in names:
        wanted = _plain(each)
        same_ending = PurePosixPath(wanted).suffix == PurePosixPath(plain).suffix
        if plain == wanted or (same_ending and _stem(plain) == _stem(wanted)):
            return each
        slip = same_ending and not any(sign.isdigit() for sign in plain)  # a number makes a name of its own
        if slip and difflib.SequenceMatcher(None, plain, wanted).ratio() >= _ALIKE:
            return each
    return ""


def _plain(name: str) -> str:
    lower = name.lower().strip().replace(" ", "")
    if lower.count(".") > 1:
        lower = lower.removesuffix(".txt")
    for other, ending in ((".yml", ".yaml"), (".yaml", ".yaml"), (".markdown", ".md"), (".mdown", ".md")):
        if lower.endswith(other):
            return lower.removesuffix(other) + ending
    return lower


def _stem(plain: str) -> str:
    """A name without its ending and the s of a plural."""
    return PurePosixPath(plain).stem.removesuffix("s")


# the journal


def report_unread(unread: Unread) -> None:
    """Findings about the journal's own folder, its seasons and its look; runs have their own."""
    items = unread.items(unread.root)
    there = {item.name for item in items}
    missing = [name for name in (*FILES, *FOLDERS) if name not in there]
    for item in items:
        if not _is_read(item):
            _report_in_root(item, missing, unread)
    if "seasons" in there:
        _report_in_seasons(unread)
    if "look" in there:
        _report_in_look(unread)


def _is_read(item: Listed) -> bool:
    if item.is_folder:
        return item.name in (*FOLDERS, *FILES)  # a folder in place of a file has a finding of its own
    return item.name in (*FILES, INBOX) or item.name.endswith(".md")


def _report_in_root(item: Listed, missing: Sequence[str], unread: Unread) -> None:
    wanted = [name for name in missing if ("." not in name) == item.is_folder]
    meant = meant_name(item.name, wanted)
    if meant:
        unread.misnamed(item, meant)
    elif item.is_folder:
        if not is_output(item.path) and item.path.resolve() != unread.output:
            _report_folder(item, unread)
    elif meant_name(item.name, ("experiment.yaml",)):
        unread.run_elsewhere(item, "move it to `seasons/SEASON/RUN/experiment.yaml`")
    elif is_draft(item):
        return
    else:
        unread.stray(item, _mend_in_root(item.name))


def _mend_in_root(name: str) -> str:
    there = meant_name(name, FILES)
    if there:
        return f"move what it holds to `{there}`, {_OR_IGNORE}"
    if _plain(name).endswith(".md"):
        return f"rename it to `{PurePosixPath(_plain(name)).stem}.md` for a page of its own, {_OR_IGNORE}"
    return f"move it elsewhere, {_OR_IGNORE}"


def _report_folder(item: Listed, unread: Unread) -> None:
    """A folder in the journal's own: a run, a season, a folder of either, or none of these."""
    season = _first_season(unread.root)
    root = unread.root
    if looks_like_run(item.path, root):
        unread.run_elsewhere(item, f"move it to `seasons/{season}/{item.name}`")
        return
    inside = [each.name for each in _folders_in(item.path, root) if looks_like_run(each, root)]
    if (item.path / "season.yaml").is_file() or inside:
        mend = f"move it to `seasons/{item.name}`"
        if not (item.path / "season.yaml").is_file():
            mend += ", and write a `season.yaml` there"
        unread.run_elsewhere(item, mend, _HOLDS_RUNS)
        return
    outer = _folders_in(item.path, root)
    if any(looks_like_run(each, root) for folder in outer for each in _folders_in(folder, root)):
        unread.run_elsewhere(item, "move the seasons in it to `seasons/`", _HOLDS_RUNS)
        return
    unread.stray(item, f"move it elsewhere, {_OR_IGNORE}")


_HOLDS_RUNS = "it holds folders that look like runs"


def _first_season(root: Path) -> str:
    return next((folder.name for folder in _folders_in(root / "seasons", root)), "SEASON")


def _folders_in(folder: Path, root: Path) -> list[Path]:
    return sorted(path for path in paths_in(folder, root) if not path.name.startswith(".") and path.is_dir())


def looks_like_run(folder: Path, root: Path) -> bool:
    """Whether a folder holds a file that looks like an experiment's, by its name or by a log in it."""
    names = sorted(path.name for path in paths_in(folder, root) if path.is_file())
    return any(
        meant_name(name, ("experiment.yaml",)) or (_plain(name).endswith(".yaml") and _has_log(folder / name))
        for name in names
    )


_HEAD = 65_536  # bytes; a log begins early in a file


def _begins(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(_HEAD)
    except OSError:
        return b""


def _has_log(path: Path) -> bool:
    return b"\nlog:" in b"\n" + _begins(path)


def is_draft(item: Listed) -> bool:
    """Whether a file is a draft of notes, or captions: an author writes them beside what they are about."""
    ending = PurePosixPath(item.name).suffix.lower()
    if ending == ".vtt":
        return _begins(item.path).lstrip(b"\xef\xbb\xbf").startswith(b"WEBVTT")
    if ending == ".md":
        return DRAFT_MARK.encode() in _begins(item.path)
    return ending == ".json" and all(key in _begins(item.path) for key in (b'"experiment":', b'"sections":'))


# seasons


def _report_in_seasons(unread: Unread) -> None:
    for item in unread.items(unread.root / "seasons"):
        if item.is_folder:
            _report_in_season(item, unread)
        elif meant_name(item.name, ("experiment.yaml",)):
            unread.run_elsewhere(item, "move it to `seasons/SEASON/RUN/experiment.yaml`")
        else:
            unread.stray(item, f"move it into the folder of a season, {_OR_IGNORE}")


def _report_in_season(season: Listed, unread: Unread) -> None:
    items = unread.items(season.path)
    has_season = any(item.name == "season.yaml" for item in items)
    for item in items:
        if item.is_folder or item.name == "season.yaml":
            continue  # the folder of a run has findings of its own
        if not has_season and meant_name(item.name, ("season.yaml",)):
            unread.misnamed(item, "season.yaml")
        elif meant_name(item.name, ("experiment.yaml",)):
            unread.run_elsewhere(item, f"move it to `{season.place}/RUN/experiment.yaml`")
        elif not is_draft(item):
            unread.stray(item, f"move it into the folder of a run, {_OR_IGNORE}")


# the look


def _report_in_look(unread: Unread) -> None:
    items = unread.items(unread.root / "look")
    missing = [name for name in LOOK if name not in {item.name for item in items}]
    for item in items:
        if item.is_folder and item.name in LOOK:
            _report_endings(item, LOOK[item.name], unread)
        elif item.is_folder and (meant := meant_name(item.name, missing)):
            unread.misnamed(item, meant)
        else:
            unread.stray(item, _mend_in_look(item))


def _mend_in_look(item: Listed) -> str:
    ending = PurePosixPath(item.name).suffix.lower()
    place = "assets" if ending in _ASSETS else next((k for k, v in LOOK.items() if v and v == ending), "")
    if place and not item.is_folder:
        return f"move it to `look/{place}/{item.name}`, {_OR_IGNORE}"
    return f"move what is in it to {', '.join(f'`look/{name}`' for name in LOOK)}, {_OR_IGNORE}"


def _report_endings(folder: Listed, ending: str, unread: Unread) -> None:
    for item in unread.items(folder.path):
        if ending and (item.is_folder or not item.name.endswith(ending)):
            unread.stray(item, f"move it elsewhere, {_OR_IGNORE}", f"only `*{ending}` is read there")
        if item.is_folder and not item.path.is_symlink():
            _report_links_below(item, unread)


def _report_links_below(folder: Listed, unread: Unread) -> None:
    """Findings about links that cannot be followed, in a folder of assets or templates."""
    for item in unread.items(folder.path):
        if item.is_folder and not item.path.is_symlink():
            _report_links_below(item, unread)


# a run


def report_unread_in_run(
    folder: Path, named_files: Callable[[], Collection[str] | None], unread: Unread
) -> None:
    """Findings about the folder of a run.

    `named_files` gives the files that its experiment.yaml names, or None where that cannot be read.
    """
    items = unread.items(folder)
    there = {item.name for item in items}
    others = [item for item in items if item.name not in RUN]
    if not others:
        return
    missing = [name for name in RUN if name not in there]
    named = named_files()
    parents = {PurePosixPath(name).parts[0] for name in named or () if name}
    for item in others:
        meant = meant_name(item.name, [name for name in missing if ("." not in name) == item.is_folder])
        if item.name in parents or (not item.is_folder and is_draft(item)):
            continue
        if meant:
            unread.misnamed(item, meant)
        elif named is not None or not _is_sheet(item):  # else experiment.yaml may name it, once it is mended
            why = "`readings` does not name it" if _is_sheet(item) else ""
            unread.stray(item, _mend_in_run(item), why)


def _is_sheet(item: Listed) -> bool:
    return not item.is_folder and PurePosixPath(item.name).suffix.lower() in SHEETS


def _mend_in_run(item: Listed) -> str:
    if _is_sheet(item) and item.name.lower().endswith(UNREAD_SHEETS):
        return f"save it as .xlsx or .csv, {_OR_IGNORE}"
    if _is_sheet(item):
        return f"write `readings: [{{file: {item.name}, …}}]`, {_OR_IGNORE}"
    if not item.is_folder and PurePosixPath(item.name).suffix.lower() in PICTURES:
        return f"move it to `photos/`, {_OR_IGNORE}"
    if not item.is_folder and meant_name(item.name, ("experiment.yaml",)):
        return f"move what it holds to `experiment.yaml`, {_OR_IGNORE}"
    return f"move it elsewhere, {_OR_IGNORE}"


def report_unread_photos(folder: Path, is_photo: Callable[[str], bool], unread: Unread) -> None:
    """Findings about the folder of photos: formats that nobody reads, and folders in it."""
    if not folder.is_dir():
        return
    for item in unread.items(folder):
        if item.is_folder:
            unread.stray(item, f"move the photos in it up into `photos/`, {_OR_IGNORE}")
        elif not is_photo(item.name):
            unread.stray(item, f"save a photo as JPEG, PNG, WebP or HEIC; move it elsewhere, {_OR_IGNORE}")


def report_misnamed_experiment(folder: Path, unread: Unread) -> None:
    """A finding about a file that is nearly the missing experiment.yaml of a folder."""
    for item in unread.items(folder):
        if not item.is_folder and meant_name(item.name, ("experiment.yaml",)):
            unread.misnamed(item, "experiment.yaml")
            return
