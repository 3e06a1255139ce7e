"""Pictures of a run in order: the same plants over time, how far the crop is side by side."""

from __future__ import annotations

from sitegen.core.site.content import Picture
from sitegen.core.values.day import Day
from sitegen.render.story.days.gallery import PhotoStrip, gallery_of, photo_strip


def picture(file: str, day: int | None, *plants: str, shows: str = "") -> Picture:
    """A picture without files."""
    return Picture(file, file, (), day=None if day is None else Day.on(day), plants=plants, shows=shows)


def names(pictures: tuple[Picture, ...]) -> list[str]:
    """The files of pictures."""
    return [each.file for each in pictures]


def test_pictures_stand_in_the_order_of_days() -> None:
    """Those without a day stand last."""
    gallery = gallery_of([picture("late", 40), picture("when", None), picture("early", 3)])

    assert [(series.title, names(series.pictures)) for series in gallery.series] == [
        ("Day by day", ["early", "late", "when"])
    ]
    assert gallery.latest is not None
    assert gallery.latest.file == "late"


def test_plants_seen_twice_have_a_series_of_their_own() -> None:
    """A plant with one picture stays with the rest."""
    given = [picture("a", 1, "P1"), picture("b", 2, "P2"), picture("c", 3, "P1"), picture("d", 4)]

    assert [(s.title, names(s.pictures)) for s in gallery_of(given).series] == [
        ("Day by day", ["b", "d"]),
        ("P1", ["a", "c"]),
    ]


def test_ready_stands_beside_too_late() -> None:
    """The last that was not ready, the first that was, the first that was too late."""
    given = [
        picture("hard", 20, shows="not ready"),
        picture("nearly", 30, shows="not ready"),
        picture("ripe", 35, shows="ready"),
        picture("also", 36, shows="ready"),
        picture("split", 44, shows="too late"),
    ]

    assert names(gallery_of(given).ripeness) == ["nearly", "ripe", "split"]


def test_one_state_alone_is_compared_with_nothing() -> None:
    """Two pictures of ripe fruit show no difference."""
    assert gallery_of([picture("a", 1, shows="ready"), picture("b", 2, shows="ready")]).ripeness == ()


def test_what_stands_elsewhere_is_not_repeated() -> None:
    """The comparison of ripeness stays whole, and the latest is the latest of all."""
    given = [picture("a", 1, shows="ready"), picture("b", 9, shows="too late"), picture("c", 20)]
    gallery = gallery_of(given, {"a", "c"})

    assert names(gallery.pictures) == ["b"]
    assert names(gallery.ripeness) == ["a", "b"]
    assert gallery.latest is not None
    assert gallery.latest.file == "c"


def test_a_run_without_pictures_has_no_latest() -> None:
    """Nothing is shown where there is nothing."""
    assert (gallery_of([]).series, gallery_of([]).latest) == ((), None)


def shown(strip: PhotoStrip) -> tuple[list[str], list[str]]:
    """The files in the strip, and those that are folded."""
    return [each.picture.file for each in strip.shown], [each.picture.file for each in strip.more]


def test_up_to_six_photos_stand_in_the_strip() -> None:
    """In the order of days; each hangs from its day, one without a day from nothing."""
    strip = photo_strip([picture("c", 80), picture("when", None), picture("a", 20), picture("b", 20)], 80)

    assert shown(strip) == (["a", "b", "c", "when"], [])
    assert strip.threads == ((25, 12.5), (25, 37.5), (100, 62.5))


def test_of_many_photos_those_furthest_apart_are_shown() -> None:
    """The first and the last day, then always the day furthest from those; the others are folded, none is lost."""
    days = [2, 3, 4, 20, 21, 40, 60, 70, 81]
    strip = photo_strip([picture(str(day), day) for day in days], 81)

    assert shown(strip) == (["2", "21", "40", "60", "70", "81"], ["3", "4", "20"])


def test_how_far_the_crop_was_is_never_folded() -> None:
    """A photo of ripe fruit stands in the strip beside the last that was not ready, however near they are."""
    days = range(0, 80, 10)
    given = [picture(str(day), day) for day in days]
    given += [picture("hard", 41, shows="not ready"), picture("ripe", 42, shows="ready")]
    kept, folded = shown(photo_strip(given, 80))

    assert kept[0] == "0"
    assert {"hard", "ripe", "70"} <= set(kept)
    assert (len(kept), len(folded)) == (6, 4)


def test_a_run_without_photos_has_no_strip() -> None:
    """Nothing hangs from the axis."""
    assert photo_strip([], 10) == PhotoStrip(())
