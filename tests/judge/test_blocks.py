"""Blocks of a recap: each names one thing that is there, once."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.records.files import PhotoFile
from sitegen.core.records.rows import Photo, Run, Which
from sitegen.core.site.blocks import KINDS
from sitegen.core.values.day import Day
from sitegen.judge.blocks import bad_block, placed_twice, unknown_in_block
from tests.judge.builders import by, checked, run, sown

DAY = Day.on(20)


def recap(*lines: str, photos: tuple[tuple[str, tuple[str, ...]], ...] = ()) -> Run:
    """A run with a recap, and photos of plants."""
    rows = [Photo(file, DAY, 0, Source("e.yaml"), which=Which(plants)) for file, plants in photos if plants]
    made = run(sown(), *rows)
    return replace(
        made, recap="\n".join(lines), photo_files=tuple(PhotoFile(file, DAY) for file, _ in photos)
    )


def test_bad_block() -> None:
    """A block names one thing, on a line of its own; only a photo has a caption."""
    made = recap(
        "```chart", "```", "```strip", "P1", "our best", "```", "```photo", "a.jpg", "one", "two", "```"
    )

    assert by(bad_block, made) == [
        (
            "recap.md:1:4: error[bad-block]: a `chart` block that names nothing"
            " (write the name of a chart on the next line, such as `height`)"
        ),
        (
            "recap.md:5:1: error[bad-block]: nothing reads `our best` in a `strip` block"
            " (write a plant or a group on a line of its own; nothing else)"
        ),
        (
            "recap.md:10:1: error[bad-block]: nothing reads `two` in a `photo` block"
            " (write a file of photos/ on a line of its own, and a caption on the line below it; nothing else)"
        ),
    ]


@pytest.mark.parametrize("kind", KINDS)
def test_a_block_without_a_name_gets_an_example(kind: str) -> None:
    """Each kind of block has an example of its content."""
    (found,) = by(bad_block, recap(f"```{kind}", "```"))

    begin = f"recap.md:1:4: error[bad-block]: a `{kind}` block that names nothing (write {KINDS[kind]} on the next line"
    assert found.startswith(f"{begin}, such as `")


def test_placed_twice() -> None:
    """A page shows a thing once; a chart and a photo of one name are two things."""
    made = recap("```photo", "height.jpg", "```", "```chart", "height", "```", "```chart", "height", "```")

    assert by(placed_twice, made) == [
        (
            "recap.md:8:1: error[placed-twice]: the chart `height` stands on line 5 already"
            " (remove one of the two blocks)"
        )
    ]


def test_missing_photo() -> None:
    """A slip of the pen leads to the file that is there."""
    made = recap("```photo", "frist-cut.jpg", "```", photos=(("first-cut.jpg", ()),))

    assert by(unknown_in_block, made) == [
        "recap.md:2:1: error[missing-photo]: `frist-cut.jpg` is not in photos/ (write `first-cut.jpg`)"
    ]


def test_unknown_plant() -> None:
    """A strip is of a plant, a group or all."""
    assert by(unknown_in_block, recap("```strip", "p1", "```")) == [
        "recap.md:2:1: error[unknown-plant]: `p1` is not a plant or group of this experiment (write `P1`)"
    ]


def test_empty_strip() -> None:
    """A photo of two plants is no photo of one of them, and one of nobody knows whom is of none."""
    photos = (("both.jpg", ("P1", "P2")), ("some.jpg", ()))

    assert by(unknown_in_block, recap("```strip", "P1", "```", photos=photos)) == [
        (
            "recap.md:2:1: error[empty-strip]: no photo shows `P1` alone"
            " (name it in the log: `photo: {file: …, plants: P1}`; or remove the block)"
        )
    ]
    assert by(unknown_in_block, recap("```strip", "all", "```")) == [
        (
            "recap.md:2:1: error[empty-strip]: photos/ holds no photo"
            " (put pictures into photos/, or remove the block)"
        )
    ]


def test_what_is_there_is_not_found_fault_with() -> None:
    """A plant that a photo shows, every photo, a photo by its name."""
    made = recap(
        *("```strip", "P1", "```", "~~~strip", "all", "~~~", "```photo", "one.jpg", "Ripe", "```"),
        photos=(("one.jpg", ("P1",)),),
    )

    assert by(unknown_in_block, made) == []
    assert by(bad_block, made) == []


def bad(line: int, column: int, width: int, message: str, mend: str, found: str, expected: str) -> Finding:
    """A block that cannot be read."""
    return Finding("bad-block", Source("recap.md", line, column, width), message, mend, found, expected)


PHOTO, STRIP, CHART = "a file of photos/", "a plant or a group", "the name of a chart"


def test_every_bad_block() -> None:
    """Each block without a name, or with more than is read, is a finding; the others are not."""
    made = recap(
        *("```strip", "```", "```chart", "height", "```", "```photo a.jpg", "```", "```photo", "```"),
        *("```chart", "height", "ec", "```", "```photo", "a.jpg", "a caption", "```"),
    )

    assert checked(bad_block, made) == [
        bad(
            1,
            4,
            5,
            "a `strip` block that names nothing",
            f"write {STRIP} on the next line, such as `P1`",
            "",
            STRIP,
        ),
        bad(
            6,
            10,
            5,
            "nothing reads `a.jpg` in a `photo` block",
            "write `a.jpg` on the next line",
            "a.jpg",
            PHOTO,
        ),
        bad(
            8,
            4,
            5,
            "a `photo` block that names nothing",
            f"write {PHOTO} on the next line, such as `first-cut.jpg`",
            "",
            PHOTO,
        ),
        bad(
            12,
            1,
            2,
            "nothing reads `ec` in a `chart` block",
            f"write {CHART} on a line of its own; nothing else",
            "ec",
            CHART,
        ),
    ]


def test_every_block_placed_twice() -> None:
    """Each block after the first of a thing is a finding; blocks without a name are not."""
    made = recap(
        *("```chart", "height", "```", "```strip", "P1", "```", "```chart", "height", "```"),
        *("```strip", "P1", "```", "```chart", "height", "```", "```photo", "```", "```photo", "```"),
        *("```strip", "P2", "```"),
    )

    def twice(line: int, kind: str, name: str, first: int) -> Finding:
        message = f"the {kind} `{name}` stands on line {first} already"
        source = Source("recap.md", line, 1, len(name))
        return Finding("placed-twice", source, message, "remove one of the two blocks", name)

    assert checked(placed_twice, made) == [
        twice(8, "chart", "height", 2),
        twice(11, "strip", "P1", 5),
        twice(14, "chart", "height", 2),
    ]


def test_everything_that_a_block_cannot_find() -> None:
    """Each photo and strip that is not there is a finding; charts are looked for elsewhere."""
    made = recap(
        *(
            "```photo",
            "```",
            "```chart",
            "nothing",
            "```",
            "```photo",
            "a.jpg",
            "```",
            "```photo",
            "zzz",
            "```",
        ),
        *(
            "```strip",
            "tall",
            "```",
            "```strip",
            "zzz",
            "```",
            "```strip",
            "all",
            "```",
            "```strip",
            "P2",
            "```",
        ),
        photos=(("a.jpg", ("P1",)),),
    )
    head = replace(made.setup, groups=(("tall", ("P1",)),))

    def missing(code: str, line: int, name: str, message: str, mend: str, expected: str) -> Finding:
        return Finding(code, Source("recap.md", line, 1, len(name)), message, mend, name, expected)

    assert checked(unknown_in_block, replace(made, setup=head)) == [
        missing("missing-photo", 10, "zzz", "`zzz` is not in photos/", "write `a.jpg`", PHOTO),
        missing(
            "unknown-plant",
            16,
            "zzz",
            "`zzz` is not a plant or group of this experiment",
            "write one of `P1`, `P2`, `P3`, `P4`, `tall`, `all`",
            STRIP,
        ),
        missing(
            "empty-strip",
            22,
            "P2",
            "no photo shows `P2` alone",
            "name it in the log: `photo: {file: …, plants: P2}`; or remove the block",
            "plants that photos show",
        ),
    ]


def test_blocks_without_any_photo() -> None:
    """Where photos/ is empty, a picture is asked for."""
    made = recap("```photo", "a.jpg", "```", "```strip", "all", "```")

    assert [(f.code, f.message, f.mend, f.expected) for f in checked(unknown_in_block, made)] == [
        ("missing-photo", "`a.jpg` is not in photos/", "put the picture into photos/", PHOTO),
        (
            "empty-strip",
            "photos/ holds no photo",
            "put pictures into photos/, or remove the block",
            "plants that photos show",
        ),
    ]
