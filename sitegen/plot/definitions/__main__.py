"""Writes the specifications: `python -m sitegen.plot.definitions`; those of charts that are gone are removed."""

from __future__ import annotations

from sitegen.plot.definitions import FOLDER, compiled

if __name__ == "__main__":
    texts = compiled()
    for path in FOLDER.iterdir():
        if path.name not in texts:
            path.unlink()
    for name, text in texts.items():
        (FOLDER / name).write_text(text, encoding="utf-8", newline="\n")
