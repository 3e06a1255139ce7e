"""The result of the last command, for one that finds nothing changed.

In: stamps of the journal, the program and the output. Out: the last result, or None where anything has changed since.
Reads no file of the journal, and imports none of the modules that reading one needs.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path, PurePosixPath
from typing import Any

from sitegen.core.files.file_names import MANIFEST
from sitegen.core.records.codec import codec_for
from sitegen.core.site.page import WriteResult
from sitegen.core.store import Store
from sitegen.core.values.day import DateRange
from sitegen.pipeline.engine.files import Inventory, digest_of, folder_stamps, program_digest
from sitegen.pipeline.results import Checked, Published

_CHECKED, _PUBLISHED, _VALIDITY = codec_for(Checked), codec_for(Published), codec_for(DateRange)


@dataclass(frozen=True, slots=True)
class Command:
    """A command, and the files of the journal when it was given. `words` are its name and its options."""

    words: tuple[str, ...]
    root: Path
    today: date
    files: Inventory
    store: Store

    @property
    def _key(self) -> str:
        return self.store.key("found", *self.words, str(self.root))

    def _inputs(self) -> list[str]:
        """Digests of everything that the result depends on but the day."""
        return [self.files.digest, program_digest()]

    def stored(self) -> dict[str, Any] | None:
        """The value remembered last, where neither the inputs have changed nor the day matters."""
        kept = self.store.get(self._key)
        if kept is None or kept.value.get("inputs") != self._inputs():
            return None
        return dict(kept.value) if _VALIDITY.decode(kept.value["validity"]).contains(self.today) else None

    def remember(self, validity: DateRange, **value: object) -> None:
        """Store a value for the dates on which it holds."""
        # A file may be so new that a later change within the same tick of the clock leaves its stamp as it is.
        if self.files.settled:
            value |= {"inputs": self._inputs(), "validity": _VALIDITY.encode(validity)}
            self.store.put(self._key, value)


def stored_check(command: Command) -> Checked | None:
    """The result of validating."""
    try:
        value = command.stored()
        return None if value is None else _CHECKED.decode(value["result"])
    except (KeyError, ValueError, TypeError):  # a row of another version counts as absent
        return None


def remember_check(command: Command, checked: Checked, validity: DateRange) -> None:
    """Store the result of validating."""
    command.remember(validity, result=_CHECKED.encode(checked))


def stored_publication(command: Command) -> Published | None:
    """The result of writing, where the output is as it was left."""
    try:
        value = command.stored()
        if value is None:
            return None
        found = _PUBLISHED.decode(value["result"])
        return found if value["output"] == _output(found.folder, value["folders"]) else None
    except (KeyError, ValueError, TypeError):
        return None


def remember_publication(
    command: Command, published: Published, validity: DateRange, addresses: Sequence[str]
) -> None:
    """Store the result of writing: the next command that finds all of it reports every file as unchanged."""
    # Of distinct folders only: the parents of 26,000 addresses, one by one, took half a second.
    own = {PurePosixPath(place) for place in {address.rpartition("/")[0] for address in addresses}}
    folders = sorted({str(folder) for place in own for folder in (place, *place.parents)})
    result = replace(
        published,
        outcome=WriteResult(unchanged=len(addresses)),
        told=tuple(finding for finding in published.findings if not finding.is_error),
        charts=0,
        photos=0,
    )
    value = {"result": _PUBLISHED.encode(result), "output": _output(published.folder, folders)}
    command.remember(validity, **value, folders=folders)


def _output(folder: Path, folders: Iterable[str]) -> str:
    # Contents are not read, and files are not looked at one by one: a folder's own stamp shows that one came or went,
    # and the manifest's that another command has written here.
    try:
        manifest = (folder / MANIFEST).stat()
    except OSError:
        return ""
    stamps = folder_stamps(folder, folders)
    return digest_of([stamps, manifest.st_size, manifest.st_mtime_ns, manifest.st_ctime_ns, manifest.st_ino])
