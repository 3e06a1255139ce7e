"""Photos as they should look."""

from __future__ import annotations

import io

import pytest
from PIL import Image, ImageChops, ImageCms

from sitegen.core.files.photo_formats import PhotoError
from sitegen.photos import decode
from sitegen.photos.decode import decoded, eight_bits, thumbnail
from tests.photos.pictures import HEIC, exif, huge_png, jpeg, picture, png, webp, wide_profile

# Exif 3.0 (CIPA DC-008), Orientation: how to turn the stored picture, and so how to store a turned one
STORED_AS = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}
CORNERS = {"a": (200, 40, 40), "b": (40, 160, 60), "c": (40, 60, 200), "d": (230, 220, 60)}


def four_corners(size: tuple[int, int]) -> Image.Image:
    """A colour in each quarter."""
    half = (size[0] // 2, size[1] // 2)
    image = Image.new("RGB", size, CORNERS["a"])
    image.paste(CORNERS["b"], (half[0], 0, size[0], half[1]))
    image.paste(CORNERS["c"], (0, half[1], half[0], size[1]))
    image.paste(CORNERS["d"], (half[0], half[1], *size))
    return image


def shown(body: bytes) -> Image.Image:
    """What is made of a file."""
    return decoded(io.BytesIO(body))


def saved(image: Image.Image, name: str, **more: object) -> bytes:
    """A picture in a format."""
    file = io.BytesIO()
    image.save(file, name, **more)
    return file.getvalue()


def near(found: object, wanted: tuple[int, ...], within: int = 6) -> bool:
    """Whether two colours are alike but for the losses of encoding."""
    assert isinstance(found, tuple)
    return all(abs(a - b) <= within for a, b in zip(found, wanted, strict=True))


@pytest.mark.parametrize("write", [jpeg, png, webp])
@pytest.mark.parametrize("orientation", STORED_AS)
def test_photos_stand_upright(orientation: int, write: object) -> None:
    """Whichever way a camera was held, and whatever it wrote, the photo stands as it was seen."""
    upright = four_corners((320, 240))
    turn = STORED_AS[orientation]
    stored = upright.transpose(turn) if turn is not None else upright
    found = shown(write(stored, metadata=exif(orientation=orientation)))  # type: ignore[operator]

    assert found.size == (320, 240)
    spots = ((60, 60), (260, 60), (60, 180), (260, 180))
    for spot, wanted in zip(spots, CORNERS.values(), strict=True):
        assert near(found.getpixel(spot), wanted, 20)


def test_large_jpegs_on_their_side() -> None:
    """A large photo on its side is decoded at a part of its size, and still fills the widest."""
    stored = four_corners((4000, 3000))
    found = shown(jpeg(stored, metadata=exif(orientation=6)))

    assert found.size == (1600, 2133)
    assert near(
        found.getpixel((1200, 300)), CORNERS["a"]
    )  # turned clockwise, the first corner is at the right


@pytest.mark.parametrize("write", [jpeg, png, webp])
def test_profile_to_srgb(write: object) -> None:
    """A profile is applied: one with red and green exchanged turns green into red."""
    image = Image.new("RGB", (80, 80), (40, 160, 60))
    found = shown(write(image, profile=wide_profile()))  # type: ignore[operator]

    assert near(found.getpixel((40, 40)), (160, 40, 60))


def test_profile_of_other_channels() -> None:
    """A profile that does not belong to the picture is left out of account."""
    body = saved(Image.new("L", (80, 80), 120), "PNG", icc_profile=wide_profile())

    assert shown(body).getpixel((40, 40)) == (120, 120, 120)


def test_printing_colours() -> None:
    """CMYK without a profile becomes RGB: cyan ink takes red away."""
    body = saved(Image.new("CMYK", (80, 80), (255, 0, 0, 0)), "JPEG", quality=95)

    assert near(shown(body).getpixel((40, 40)), (0, 255, 255))


def test_sixteen_bits_of_grey() -> None:
    """16 bits are scaled down, not cut off: 0x8080 is 0x80."""
    body = saved(Image.new("I;16", (80, 80), 0x8080), "PNG")

    assert shown(body).getpixel((40, 40)) == (128, 128, 128)


@pytest.mark.parametrize("mode", ["RGBA", "LA", "P"])
def test_what_is_clear_is_white(mode: str) -> None:
    """A transparent ground is published as white."""
    image = Image.new("RGBA", (80, 80), (10, 20, 30, 0)).convert(mode)
    body = saved(image, "PNG", **({"transparency": image.getpixel((0, 0))} if mode == "P" else {}))

    assert shown(body).getpixel((40, 40)) == (255, 255, 255)


def test_first_frame_of_a_moving_picture() -> None:
    """Of a moving picture the first frame is shown."""
    frames = [Image.new("RGB", (80, 80), colour) for colour in ((250, 0, 0), (0, 250, 0))]
    body = saved(frames[0], "WEBP", save_all=True, append_images=frames[1:], lossless=True)

    assert near(shown(body).getpixel((40, 40)), (250, 0, 0))


def test_heic() -> None:
    """A HEIC photo is read with the extra."""
    pytest.importorskip("pi_heif")
    found = shown(HEIC.read_bytes())

    assert (
        found.size,
        near(found.getpixel((8, 8)), (40, 160, 60)),
        near(found.getpixel((56, 8)), (200, 40, 40)),
    ) == (
        (64, 48),
        True,
        True,
    )


@pytest.mark.parametrize("write", [jpeg, png, webp])
def test_cut_short(write: object) -> None:
    """A file that ends too early is no photo: half a picture is never published."""
    body = write(picture((640, 480)).effect_spread(40))  # type: ignore[operator]
    with pytest.raises(PhotoError) as unfit:
        shown(body[: len(body) * 2 // 3])

    assert unfit.value.code == "photo-unreadable"


def test_more_pixels_than_are_read() -> None:
    """A small file that asks for 200 megapixels is refused before it gets any."""
    with pytest.raises(PhotoError) as unfit:
        shown(huge_png(20_000, 10_000))

    assert (unfit.value.code, unfit.value.about) == ("photo-too-large", "200")


def test_one_pixel() -> None:
    """The smallest photo is one pixel, and stays so."""
    assert shown(saved(Image.new("RGB", (1, 1), (9, 8, 7)), "PNG")).size == (1, 1)


def test_drafts_look_like_the_whole() -> None:
    """Decoding a JPEG at a part of its size gives the same picture as decoding all of it."""
    image = picture((3600, 2400)).effect_spread(300)
    quick = shown(jpeg(image))
    whole = image.resize(quick.size, Image.Resampling.LANCZOS)

    differences = ImageChops.difference(quick, whole).convert("L").histogram()
    mean = sum(value * count for value, count in enumerate(differences)) / sum(differences)
    assert mean < 6  # of 255; noise that no eye could follow


@pytest.mark.parametrize(
    ("image", "colour"),
    [
        (Image.new("1", (80, 80), 1), (255, 255, 255)),
        (Image.new("L", (80, 80), 90), (90, 90, 90)),
        (Image.new("LA", (80, 80), (90, 255)), (90, 90, 90)),
        (Image.new("I;16", (80, 80), 0xFFFF), (255, 255, 255)),
        (Image.new("RGBA", (80, 80), (40, 60, 200, 255)), (40, 60, 200)),
        (Image.new("RGB", (80, 80), (40, 60, 200)).convert("P"), (51, 51, 204)),
    ],
    ids=lambda value: getattr(value, "mode", ""),
)
def test_colours_of_every_mode(image: Image.Image, colour: tuple[int, int, int]) -> None:
    """Black and white, grey, transparent and indexed pictures become RGB with the same colours."""
    found = shown(saved(image, "PNG"))

    assert (found.mode, found.getpixel((40, 40))) == ("RGB", colour)


@pytest.mark.parametrize(("mode", "clear"), [("RGB", (9, 8, 7)), ("L", 9), ("1", 0)])
def test_one_clear_colour(mode: str, clear: object) -> None:
    """A picture with one transparent colour is white there, and nowhere else."""
    image = Image.new(mode, (80, 80), clear)
    image.paste(Image.new(mode, (40, 80), (90, 90, 90) if mode == "RGB" else 1), (40, 0))
    found = shown(saved(image, "PNG", transparency=clear))

    assert found.getpixel((10, 40)) == (255, 255, 255)
    assert found.getpixel((70, 40)) != (255, 255, 255) or mode == "1"


def test_clear_index_of_a_palette() -> None:
    """A palette without a transparent index has no clear part."""
    image = Image.new("P", (80, 80), 0)
    image.putpalette([200, 40, 40, 40, 160, 60])
    image.paste(1, (40, 0, 80, 80))

    assert shown(saved(image, "PNG")).getpixel((10, 40)) == (200, 40, 40)
    assert shown(saved(image, "PNG", transparency=0)).getpixel((10, 40)) == (255, 255, 255)
    assert shown(saved(image, "PNG", transparency=0)).getpixel((70, 40)) == (40, 160, 60)


def test_decimal_grey() -> None:
    """A picture of floating-point greys is published in 256 of them."""
    body = saved(Image.new("F", (80, 80), 90.0), "TIFF")
    image = Image.open(io.BytesIO(body))

    assert eight_bits(image).mode == "L"
    assert eight_bits(image).getpixel((40, 40)) == 90


def test_profile_of_the_published_colours() -> None:
    """A picture in sRGB keeps its colours, in grey as well, and its profile is left out."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    found = shown(saved(Image.new("RGB", (80, 80), (40, 160, 60)), "PNG", icc_profile=profile))
    palette = shown(saved(Image.new("RGB", (80, 80), (51, 153, 51)).convert("P"), "PNG", icc_profile=profile))

    assert (found.getpixel((40, 40)), found.info) == ((40, 160, 60), {})
    assert (palette.mode, palette.getpixel((40, 40))) == ("RGB", (51, 153, 51))


def test_nothing_beside_the_pixels() -> None:
    """No comment and no profile is left in the picture."""
    assert shown(jpeg(profile=wide_profile())).info == {}


def test_thumbnail() -> None:
    """A JPEG gives the size that it will be published in, and an eighth of itself."""
    size, image = thumbnail(io.BytesIO(jpeg(picture((4000, 3000)), metadata=exif(orientation=6)))) or (
        (),
        None,
    )

    assert (size, image and image.size, image and image.mode) == ((1600, 2133), (500, 375), "RGB")


def test_thumbnail_of_another_format() -> None:
    """Other formats cannot be decoded in part."""
    assert thumbnail(io.BytesIO(png())) is None


def test_thumbnail_of_a_broken_file() -> None:
    """A file that ends too early is no photo."""
    body = jpeg(picture((640, 480)).effect_spread(40))
    with pytest.raises(PhotoError) as unfit:
        thumbnail(io.BytesIO(body[: len(body) * 2 // 3]))

    assert (unfit.value.code, unfit.value.about) == ("photo-unreadable", "it is cut short or broken")


def test_large_photos_one_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """A photo above the limit of pixels is decoded as any other, and another one can follow."""
    monkeypatch.setattr(decode, "LARGE", 64 * 48 - 1)

    assert [shown(png()).size, shown(png()).size] == [(64, 48), (64, 48)]
