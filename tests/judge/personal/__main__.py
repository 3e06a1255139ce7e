"""`python -m tests.judge.personal`: what is taken for personal in the demo, the broken journals and the diaries."""

from __future__ import annotations

import datetime as dt
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from sitegen.core.findings.finding import Finding
from sitegen.judge.personal import personal_parts
from sitegen.pipeline.checks.privacy import Personal, personal
from tests.cases import cases
from tests.judge.personal.sentences import PERSONAL, PLAIN

HERE = Path(__file__).parent.parent.parent.parent
DAY = dt.date(2026, 11, 28)


def main() -> int:
    """Print how many texts were looked through, and each part that was found."""
    missed = [text for text, kind, part in PERSONAL if (kind, part) not in _parts(text)]
    alarms = [text for text in PLAIN if _parts(text)]
    print(
        f"sentences: {len(PERSONAL)} personal, {len(missed)} missed; {len(PLAIN)} plain, {len(alarms)} taken for one"
    )
    for name in ("content_demo", "tests/journals/diary", "tests/journals/sound", "tests/journals/format"):
        _print(name, [personal(HERE / name, DAY)])
    _print("broken journals", list(_broken()))
    return 0


def _parts(text: str) -> list[tuple[str, str]]:
    return [(detail.name, part) for detail, _, part in personal_parts(text)]


def _broken() -> Iterator[Personal]:
    for case in cases():
        with tempfile.TemporaryDirectory() as folder:
            yield personal(case.write(Path(folder)), dt.date(2025, 4, 1))


def _print(name: str, found: list[Personal]) -> None:
    findings = [finding for each in found for finding in each.findings if _is_about_texts(finding)]
    print(f"{name}: {len(findings)} in {sum(each.texts for each in found)} texts of {len(found)} journals")
    for finding in findings:
        print(f"  {finding.source}: {finding.message}")


def _is_about_texts(finding: Finding) -> bool:
    return finding.code in ("personal-hint", "personal-detail")


if __name__ == "__main__":
    sys.exit(main())
