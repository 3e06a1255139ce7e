"""Rewrites the specifications: `python -m sitegen.plot.definitions`."""

from __future__ import annotations

from sitegen.plot.definitions import FOLDER, compiled

if __name__ == "__main__":
    for name, text in compiled().items():
        (FOLDER / name).write_text(text, encoding="utf-8", newline="\n")
