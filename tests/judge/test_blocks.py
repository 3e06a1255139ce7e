"""Blocks of a recap: each names one thing that is there, once."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Photo, PhotoFile, Run, Which
from sitegen.core.values.day import Day
from sitegen.judge.blocks import bad_block, placed_twice, unknown_in_block
from tests.judge.builders import by, run, sown

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
