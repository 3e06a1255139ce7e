"""`log --photos`: pictures of a folder copied into the photos/ of the experiments that grew when they were taken.

In: the journal's folder, a folder of pictures. Out: `Found` (what each picture fits), and after copying an `Outcome` for
each. Photos in photos/ are found by themselves, with the day of their header: the log needs no entry for them. Nothing is
written into the folder of pictures.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial
from pathlib import Path, PurePosixPath

from sitegen.cache_folder import lock_folder
from sitegen.core.files.file_names import is_litter
from sitegen.core.files.inside import is_folder_inside, leads_out, link_place
from sitegen.core.files.photo_formats import photo_finding
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.values.day import Day
from sitegen.filing.inbox.run_names import KnownRun
from sitegen.filing.journal_lock import journal_lock
from sitegen.filing.new_file import CopyDiffersError, copy_new, digest_of_file, sweep
from sitegen.filing.pictures import Decision, Fit, Picture, decided, free_names
from sitegen.ingest import read_shared
from sitegen.ingest.photo_names import PHOTO_ENDINGS, photo_names
from sitegen.ingest.photos import Header, date_in_name, date_taken, day_taken, photo_header
from sitegen.memo import Memo
from sitegen.pipeline.filing.known_runs import known_runs


@dataclass(frozen=True, slots=True)
class Found:
    """The pictures of a folder with what each fits, the experiments of the journal, and files that are no pictures."""

    runs: tuple[KnownRun, ...] = ()
    decisions: tuple[Decision, ...] = ()
    others: tuple[str, ...] = ()
    errors: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome:
    """Of a picture: `place` is its file in the journal, `new` whether it was copied; or `why` it was left."""

    picture: Picture
    place: str = ""
    fit: Fit | None = None
    new: bool = False
    why: str = ""


def runs_of(root: Path) -> tuple[tuple[KnownRun, ...], tuple[Finding, ...]]:
    """What is known of the experiments, and errors that keep everything back."""
    journal_files, errors = read_shared(root)
    if journal_files is None:
        return (), errors
    with Memo() as memo:
        return known_runs(journal_files, memo), ()


def pictures_in(folder: Path, root: Path, today: date, to: KnownRun | None) -> Found:
    """Every picture below a folder, but not those of the journal itself."""
    journal_files, errors = read_shared(root)
    if journal_files is None:
        return Found(errors=errors)
    zone = journal_files.journal.timezone
    with Memo() as memo:
        runs = known_runs(journal_files, memo)
        decisions: list[Decision] = []
        others: list[str] = []
        for path in _files(folder, root):
            name = path.relative_to(folder).as_posix()
            if path.suffix.lower() in PHOTO_ENDINGS:
                header = photo_header(path, memo)
                dated = partial(_dated, header, path.name, zone)
                decisions.append(decided(_picture(header, name, zone), runs, today, to, dated))
            else:
                others.append(name)
    return Found(runs, tuple(_open_ones(decisions, folder, _Albums.of(root, runs))), tuple(others))


def _open_ones(decisions: Sequence[Decision], folder: Path, albums: _Albums) -> Iterator[Decision]:
    """The decisions; nobody is to be asked about a picture that the journal has already."""
    for decision in decisions:
        there = ""
        with suppress(OSError):  # told when it is copied
            there = albums.place_of(folder / decision.picture.name) if len(decision.fits) > 1 else ""
        yield replace(decision, fits=()) if there else decision


def _files(folder: Path, root: Path) -> Iterator[Path]:
    """The files of a folder and of those in it, in the order of names; nothing hidden."""
    for place, folders, names in os.walk(folder):
        here = Path(place)
        folders[:] = sorted(
            name for name in folders if not name.startswith(".") and (here / name).resolve() != root
        )
        yield from (here / name for name in sorted(names) if not is_litter(name) and (here / name).is_file())


def _dated(header: Header, name: str, zone: str, run: KnownRun) -> tuple[date | None, Day | None]:
    return day_taken(header, name, run.start, zone)


def _picture(header: Header, name: str, zone: str) -> Picture:
    file_name = PurePosixPath(name).name
    if header.fault:
        finding = photo_finding(header.fault, file_name, Source(name), header.about)
        return Picture(name, fault=f"{finding.message}; {finding.mend}")
    return Picture(name, date_taken(header, zone) or date_in_name(file_name))


def copy_pictures(
    folder: Path, root: Path, decisions: Sequence[Decision], runs: Sequence[KnownRun]
) -> Iterator[Outcome]:
    """Copy each picture that fits one experiment; nothing twice, and nothing over another file.

    Raises
    ------
    BusyError
        Where another command holds the journal.

    """
    with lock_folder() as locks, journal_lock(locks, root):
        for run in runs:
            if is_folder_inside(root / run.place / "photos", root):
                sweep(root / run.place / "photos")
        albums = _Albums.of(root, runs)
        for decision in decisions:
            yield albums.filed(folder, decision)


@dataclass(slots=True)
class _Albums:
    """The photos/ of all experiments: a photo of another size is another photo, so only those of one size are read."""

    root: Path
    by_size: dict[int, list[str]] = field(default_factory=dict)
    names: dict[str, set[str]] = field(default_factory=dict)
    digests: dict[str, str] = field(default_factory=dict)

    @classmethod
    def of(cls, root: Path, runs: Sequence[KnownRun]) -> _Albums:
        """The photos as they lie there now."""
        albums = cls(root)
        for run in runs:
            place = f"{run.place}/photos"
            for name in photo_names(root / place, root):
                albums.by_size.setdefault((root / place / name).stat().st_size, []).append(f"{place}/{name}")
            if is_folder_inside(root / place, root):
                albums.names[place] = {each.name for each in os.scandir(root / place)}
        return albums

    def filed(self, folder: Path, decision: Decision) -> Outcome:
        """What becomes of one picture."""
        picture, path = decision.picture, folder / decision.picture.name
        if picture.fault:
            return Outcome(picture, why=picture.fault)
        try:
            if there := self.place_of(path):
                return Outcome(picture, there)
            if len(decision.fits) == 1:
                return self._copied(path, picture, decision.fits[0])
        except OSError as error:
            return Outcome(picture, why=f"it cannot be copied: {error.strerror or error}")
        except CopyDiffersError:
            why = "its copy was not the same, and was removed; look at the disk, and try again"
            return Outcome(picture, why=why)
        return Outcome(picture, why=decision.why)

    def place_of(self, path: Path) -> str:
        """The photo of the journal with the content of a file; empty where there is none."""
        same_size = self.by_size.get(path.stat().st_size, ())
        digest = digest_of_file(path) if same_size else ""
        for place in same_size:
            if place not in self.digests:
                self.digests[place] = digest_of_file(self.root / place)
            if self.digests[place] == digest:
                return place
        return ""

    def _copied(self, path: Path, picture: Picture, fit: Fit) -> Outcome:
        place = f"{fit.run.place}/photos"
        photos = self.root / place
        if leads_out(photos, self.root):
            why = f"`{link_place(photos, self.root)}` is a link that leads out of the journal"
            return Outcome(picture, why=f"{why}: copy the folder into the journal, in place of the link")
        photos.mkdir(exist_ok=True)
        names = self.names.setdefault(place, set())
        digest = digest_of_file(path)
        new = copy_new(path, photos, free_names(picture.file_name, names), digest)
        names.add(new.name)
        whole = f"{place}/{new.name}"
        self.by_size.setdefault(new.stat().st_size, []).append(whole)
        self.digests[whole] = digest
        return Outcome(picture, whole, fit, new=True)


def answered(decision: Decision, run: str) -> Decision:
    """A decision narrowed to the experiment that was chosen."""
    return Decision(decision.picture, tuple(fit for fit in decision.fits if fit.run.id == run))
