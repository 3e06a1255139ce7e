"""Draw the demo's pictures into the experiments' `photos/` folders.

In: the table in `drawing.album`. Out: JPEG, PNG and WebP files, the same bytes every time with the
same version of Pillow. Some carry what a phone would have written beside the picture. It never
reads the journal, and the site never runs it. Give words to draw only the files whose path holds
one of them: `python draw_pictures.py oak jars`.
"""

from __future__ import annotations

import sys
from pathlib import Path

from drawing.album import ALBUM, Picture
from drawing.scenes import Bench, bench_picture, scale_picture
from PIL import Image

SEASONS = Path(__file__).parent / "seasons"
EXIF_FOLDER, GPS_FOLDER = 0x8769, 0x8825
DESCRIPTION, MAKER, ORIENTATION, CAPTURED, OFFSET = 0x010E, 0x010F, 0x0112, 0x9003, 0x9011
QUARTER_TURN = 6


def main(words: list[str]) -> None:
    """Draw the pictures whose path holds one of the words, or all of them."""
    for season, pictures in ALBUM.items():
        for picture in pictures:
            if not words or any(word in picture.path for word in words):
                _save(picture, SEASONS / season)


def _save(picture: Picture, season: Path) -> None:
    folder, name = picture.path.split("/")
    scene = picture.scene
    image = bench_picture(scene, name) if isinstance(scene, Bench) else scale_picture(scene, name)
    path = season / folder / "photos" / name
    path.parent.mkdir(exist_ok=True)
    if path.suffix == ".png":
        image.save(path, optimize=True)
    elif path.suffix == ".webp":
        image.save(path, quality=82, method=6)
    else:
        _save_jpeg(picture, image, path)


def _save_jpeg(picture: Picture, image: Image.Image, path: Path) -> None:
    if picture.turned:
        image = image.transpose(Image.Transpose.ROTATE_90)
    image.save(path, quality=80, optimize=True, progressive=True, exif=_phone_data(picture))


def _phone_data(picture: Picture) -> Image.Exif:
    """Return capture time, turn and an invented place in the sea; nothing without a time."""
    data = Image.Exif()
    if picture.taken is None:
        return data
    data[DESCRIPTION] = "QUILLMARK: what a phone keeps to itself"
    data[MAKER] = "Invented phone"
    data[ORIENTATION] = QUARTER_TURN if picture.turned else 1
    data.get_ifd(EXIF_FOLDER)[CAPTURED] = f"{picture.taken:%Y:%m:%d %H:%M:%S}"
    place = {1: "N", 2: (0.0, 0.0, 1.0), 3: "E", 4: (0.0, 0.0, 1.0)}
    data.get_ifd(GPS_FOLDER).update(place)
    return data


if __name__ == "__main__":
    main(sys.argv[1:])
