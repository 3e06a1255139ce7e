"""Readers that are fuzzed, a module a subject.

In: nothing. Out: `ALL`, by name, in the order in which data move.
"""

from __future__ import annotations

from tests.fuzz.target import Target
from tests.fuzz.targets import kept, packages, photo_files, recaps, runs, sheets, spoken, values, yaml_files

_MODULES = (values, yaml_files, runs, sheets, recaps, photo_files, packages, kept, spoken)
ALL: dict[str, Target] = {target.name: target for module in _MODULES for target in module.TARGETS}
