"""Shapes on a canvas that is drawn twice as large as it is saved.

In: coordinates in picture pixels (origin top left), colours as (red, green, blue). Out: paint on a
`Canvas`. It knows nothing of plants and never uses chance.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from PIL import Image, ImageDraw, ImageFilter, ImageFont

Colour = tuple[int, int, int]
Point = tuple[float, float]
Box = tuple[float, float, float, float]
SCALE = 2


def mix(first: Colour, second: Colour, share: float) -> Colour:
    """Return the colour that lies `share` of the way from the first to the second."""
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(first, second, strict=True))
    return red, green, blue


def along(start: Point, angle: float, distance: float) -> Point:
    """Return the point at a distance; angle 0 is up, positive leans right [rad]."""
    return start[0] + math.sin(angle) * distance, start[1] - math.cos(angle) * distance


@dataclass(slots=True)
class Canvas:
    """A picture being painted."""

    width: int
    height: int
    image: Image.Image = field(init=False)
    pen: ImageDraw.ImageDraw = field(init=False)

    def __post_init__(self) -> None:
        self.image = Image.new("RGB", (self.width * SCALE, self.height * SCALE))
        self.pen = ImageDraw.Draw(self.image)

    def polygon(self, points: Sequence[Point], colour: Colour) -> None:
        """Fill a closed outline."""
        self.pen.polygon([(x * SCALE, y * SCALE) for x, y in points], fill=colour)

    def line(self, points: Sequence[Point], colour: Colour, width: float) -> None:
        """Draw a line with round joints."""
        scaled = [(x * SCALE, y * SCALE) for x, y in points]
        thick = max(1, round(width * SCALE))
        self.pen.line(scaled, fill=colour, width=thick, joint="curve")
        for x, y in (scaled[0], scaled[-1]) if thick > 3 else ():
            radius = thick / 2 - 0.5
            self.pen.ellipse((x - radius, y - radius, x + radius, y + radius), fill=colour)

    def ellipse(self, centre: Point, across: float, down: float, colour: Colour) -> None:
        """Fill an ellipse given by its two radii."""
        x, y = centre
        box = (x - across, y - down, x + across, y + down)
        self.pen.ellipse([value * SCALE for value in box], fill=colour)

    def box(self, corner: Point, size: Point, colour: Colour, radius: float = 0.0) -> None:
        """Fill a rectangle with rounded corners."""
        ends = (corner[0], corner[1], corner[0] + size[0], corner[1] + size[1])
        scaled = tuple(value * SCALE for value in ends)
        self.pen.rounded_rectangle(scaled, radius=radius * SCALE, fill=colour)

    def fade(self, corner: Point, size: Point, top: Colour, bottom: Colour) -> None:
        """Fill a rectangle with a change from the top colour to the bottom colour."""
        rows = round(size[1])
        for row in range(rows):
            place = (corner[0], corner[1] + row)
            self.box(place, (size[0], 1.5), mix(top, bottom, row / max(1, rows - 1)))

    def glow(self, points: Sequence[Point], colour: Colour, strength: float, blur: float) -> None:
        """Lay soft light over an outline, strongest at its top edge."""
        small = (self.width // 4, self.height // 4)
        mask = Image.new("L", small)
        outline = [(x / 4, y / 4) for x, y in points]
        ImageDraw.Draw(mask).polygon(outline, fill=round(255 * strength))
        mask = mask.filter(ImageFilter.GaussianBlur(blur / 4))
        fall = Image.linear_gradient("L").resize(small).point([255 - v * 3 // 5 for v in range(256)])
        mask = Image.composite(mask, Image.new("L", small), fall)
        whole = mask.resize(self.image.size, Image.Resampling.BICUBIC)
        self.image.paste(Image.new("RGB", self.image.size, colour), mask=whole)
        self.pen = ImageDraw.Draw(self.image)

    def write(self, place: Point, text: str, colour: Colour, size: float) -> None:
        """Write text centred on a place."""
        font = ImageFont.load_default(size * SCALE)
        self.pen.text((place[0] * SCALE, place[1] * SCALE), text, fill=colour, font=font, anchor="mm")

    def finished(self, frame: Box) -> Image.Image:
        """Return the part inside the frame at the size at which it is saved."""
        left, top, right, bottom = (value * SCALE for value in frame)
        return self.image.resize(
            (self.width, self.height), Image.Resampling.LANCZOS, (left, top, right, bottom)
        )


def curve(start: Point, angle: float, length: float, bend: float, steps: int = 14) -> list[Point]:
    """Return a line that leaves at an angle and has turned by `bend` [rad] at its end."""
    points = [start]
    for step in range(steps):
        turned = angle + bend * ((step + 0.5) / steps) ** 1.4
        points.append(along(points[-1], turned, length / steps))
    return points


def strip(line: Sequence[Point], widths: Sequence[float]) -> tuple[list[Point], list[Point]]:
    """Return the left and right edge of a band of changing half-width around a line."""
    left: list[Point] = []
    right: list[Point] = []
    for index, (x, y) in enumerate(line):
        before, after = line[max(0, index - 1)], line[min(len(line) - 1, index + 1)]
        run, rise = after[0] - before[0], after[1] - before[1]
        length = math.hypot(run, rise) or 1.0
        across, down = -rise / length * widths[index], run / length * widths[index]
        left.append((x - across, y - down))
        right.append((x + across, y + down))
    return left, right
