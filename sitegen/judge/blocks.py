"""Blocks of a recap: each names one existing chart, photo or strip, and none is placed twice.

In: the context of a run. Out: errors at the words of the block. Whether a chart has data is checked by `pipeline`.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import did_you_mean
from sitegen.core.site.blocks import ALL_PHOTOS, KINDS, Block, blocks_of, strip_files, strip_plants
from sitegen.judge.context import Context

_EXAMPLES = {"chart": "height", "photo": "first-cut.jpg", "strip": "P1"}


def bad_block(context: Context) -> Iterator[Finding]:
    """A block has a name, and no text that is not read."""
    for block in blocks_of(context.run):
        if block.rest:
            text, source = block.rest[0]
            message = f"nothing reads `{text}` in a `{block.kind}` block"
            yield Finding("bad-block", source, message, _on_its_own(block), text, KINDS[block.kind])
        elif not block.name:
            message = f"a `{block.kind}` block that names nothing"
            mend = f"write {KINDS[block.kind]} on the next line, such as `{_EXAMPLES[block.kind]}`"
            yield Finding("bad-block", block.source, message, mend, "", KINDS[block.kind])


def _on_its_own(block: Block) -> str:
    if not block.name:
        return f"write `{block.rest[0][0]}` on the next line"
    also = ", and a caption on the line below it" if block.kind == "photo" else ""
    return f"write {KINDS[block.kind]} on a line of its own{also}; nothing else"


def placed_twice(context: Context) -> Iterator[Finding]:
    """No two blocks place the same chart, photo or strip."""
    seen: dict[str, Block] = {}
    for block in blocks_of(context.run):
        first = seen.setdefault(block.anchor, block)
        if block.name and first is not block:
            message = f"the {block.kind} `{block.name}` stands on line {first.at.line} already"
            yield Finding("placed-twice", block.at, message, "remove one of the two blocks", block.name)


def unknown_in_block(context: Context) -> Iterator[Finding]:
    """A photo exists; a strip is of known plants that a photo shows alone."""
    for block in blocks_of(context.run):
        check = _CHECKS.get(block.kind)
        if block.name and check is not None:
            yield from check(block, context)


def _photo(block: Block, context: Context) -> Iterator[Finding]:
    files = [photo.file for photo in context.run.photo_files]
    if block.name not in files:
        mend = did_you_mean(block.name, files) if files else "put the picture into photos/"
        message = f"`{block.name}` is not in photos/"
        yield Finding("missing-photo", block.at, message, mend, block.name, KINDS["photo"])


def _strip(block: Block, context: Context) -> Iterator[Finding]:
    setup, name = context.run.setup, block.name
    if not strip_plants(name, setup):
        known = (*setup.plant_ids, *(group for group, _ in setup.groups), ALL_PHOTOS)
        message = f"`{name}` is not a plant or group of this experiment"
        yield Finding("unknown-plant", block.at, message, did_you_mean(name, known), name, KINDS["strip"])
    elif not strip_files(name, context.run):
        message = f"no photo shows `{name}` alone" if name != ALL_PHOTOS else "photos/ holds no photo"
        mend = f"name it in the log: `photo: {{file: …, plants: {name}}}`; or remove the block"
        if name == ALL_PHOTOS:
            mend = "put pictures into photos/, or remove the block"
        yield Finding("empty-strip", block.at, message, mend, name, "plants that photos show")


_CHECKS = {"photo": _photo, "strip": _strip}
