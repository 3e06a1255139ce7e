"""What tests of the engine count."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

import sitegen.measure
from sitegen.core.facts.tree import Facts


@pytest.fixture
def measured(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """How often each run was measured in this process."""
    found: Counter[str] = Counter()
    measure = sitegen.measure.measure

    def counted(run: Any, prices: Any) -> Facts:
        found[run.id] += 1
        return measure(run, prices)

    monkeypatch.setattr(sitegen.measure, "measure", counted)
    return found
