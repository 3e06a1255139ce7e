"""Reads the tables of tests/published."""

from __future__ import annotations

import csv
from pathlib import Path

__all__ = ["published"]

FOLDER = Path(__file__).parent.parent / "published"


def published(name: str) -> list[dict[str, str]]:
    """The rows of one table; its head of comments says source, unit, precision and standing."""
    lines = (FOLDER / f"{name}.csv").read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))
