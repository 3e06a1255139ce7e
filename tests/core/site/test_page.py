"""Files ready to be written."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.core.site.page import Page

BYTES = "Über 3 g\n".encode()


@pytest.mark.parametrize("kind", [str, bytes, Path])
def test_content(kind: type, tmp_path: Path) -> None:
    """Text is written as UTF-8, bytes as they are, and a path is read only when its content is asked for."""
    path = tmp_path / "body"
    page = Page("a.txt", "text/plain", {str: BYTES.decode(), bytes: BYTES, Path: path}[kind])
    path.write_bytes(BYTES)

    assert page.content == BYTES
