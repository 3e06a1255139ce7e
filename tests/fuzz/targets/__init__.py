"""Readers that are fuzzed, a module a subject, in the order in which data move.

In: a name. Out: `NAMES`, `target_named`: a module is imported when one of its targets is asked for.
"""

from __future__ import annotations

from importlib import import_module

from tests.fuzz.target import Target

_HOMES = {
    "values": ("values",),
    "yaml_files": ("yaml", "journal-files"),
    "runs": ("experiment", "figures", "file-names"),
    "sheets": ("csv", "workbook-parts", "workbook-bytes", "draft-sheet", "draft-diary"),
    "recaps": ("recap", "notes-template", "page-template"),
    "photo_files": ("photo-header", "photo"),
    "packages": ("data-package",),
    "kept": ("memo-rows", "memo-file", "manifest", "intent", "undo"),
    "spoken": ("inbox", "words", "entry", "transcript"),
}
NAMES = tuple(name for names in _HOMES.values() for name in names)
PLANTED = "planted"  # not one of them: it has a fault


def target_named(name: str) -> Target:
    """The target of a name."""
    if name == PLANTED:
        planted: Target = import_module("tests.fuzz.planted").PLANTED
        return planted
    home = next(module for module, names in _HOMES.items() if name in names)
    found: Target = next(each for each in import_module(f"{__name__}.{home}").TARGETS if each.name == name)
    return found
