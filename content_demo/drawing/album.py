"""The album: which picture shows what.

In: nothing. Out: `ALBUM`, one row a file. It draws nothing. `taken` is the capture time that a
phone would have written; `turned` saves the picture as a phone held upright does, with a note how
to turn it; without `taken` a file has no metadata at all.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from drawing.plants import Plant
from drawing.scenes import Bench, Weighing


@dataclass(frozen=True, slots=True)
class Picture:
    """One file of the album."""

    path: str
    scene: Bench | Weighing
    taken: datetime | None = None
    turned: bool = False


def row(plant: Plant, *growths: float) -> tuple[Plant, ...]:
    """Return the same plant at several sizes, side by side."""
    return tuple(replace(plant, growth=growth) for growth in growths)


EMBER = Plant("emberfrill", 0.5)
OAK = Plant("saltmarsh-oak", 0.5)
HARBOUR = Plant("quiet-harbour", 0.5)
PEBBLE = Plant("pebble-lantern", 0.5)
CINDER = Plant("cinder-button", 0.5)
WINDLASS = Plant("windlass-yellow", 0.5)
BEAN = Plant("bean", 0.5)


def _autumn_2024() -> tuple[Picture, ...]:
    jars, first, basil = "emberfrill-in-jars", "pebble-lantern-first", "basil-on-a-wick"
    late = (Plant("emberfrill", 0.34, bolting=1.0), *row(EMBER, 0.3, 0.25, 0.32))
    fruiting = (
        Plant("pebble-lantern", 0.88, green=7, ripe=1),
        Plant("pebble-lantern", 0.7, green=3),
        Plant("pebble-lantern", 0.95, green=6, ripe=5),
    )
    flowering = (
        Plant("pebble-lantern", 0.7, flowers=4),
        Plant("pebble-lantern", 0.58),
        Plant("pebble-lantern", 0.75, flowers=5),
    )
    return (
        Picture(
            f"{jars}/day-14.jpg",
            Bench("jars", "strips", row(EMBER, 0.08, 0.1, 0.06, 0.09), "autumn"),
        ),
        Picture(
            f"{jars}/day-38-outer-leaves.jpg",
            Weighing("emberfrill", 24, "oz", True, "autumn"),
        ),
        Picture(f"{jars}/day-57-bolting.png", Bench("jars", "strips", late, "autumn")),
        Picture(
            f"{first}/2024-10-29-into-the-tub.jpg",
            Bench(
                "slate",
                "panel",
                (
                    Plant("pebble-lantern", 0.1),
                    None,
                    Plant("pebble-lantern", 0.06),
                    None,
                    Plant("pebble-lantern", 0.12),
                    None,
                ),
            ),
            datetime(2024, 10, 29, 19, 42, 8),
        ),
        Picture(
            f"{first}/day-59-first-flowers.jpg",
            Bench("slate", "panel", flowering, "dusk"),
        ),
        Picture(
            f"{first}/2025-01-17-ripe.jpg",
            Bench("slate", "panel", fruiting, "dusk"),
            datetime(2025, 1, 17, 18, 5, 51),
            turned=True,
        ),
        Picture(
            f"{basil}/day-29-wick-box.jpg",
            Bench("wick", "strips", row(Plant("basil", 0.3), 0.3, 0.26, 0.34, 0.24)),
        ),
        Picture(f"{basil}/day-54-cut.jpg", Weighing("basil", 34, "31 g")),
    )


def _spring_2025() -> tuple[Picture, ...]:
    pair, lamps = "oak-beside-harbour", "pebble-two-lamps"
    radish, bean = "radish-edge-of-tray", "bean-signal-box"
    young = (
        *row(OAK, 0.3, 0.27, 0.24),
        Plant("quiet-harbour", 0.34),
        Plant("quiet-harbour", 0.06),
        Plant("quiet-harbour", 0.32),
    )
    full = (*row(OAK, 0.84, 0.8, 0.76), *row(HARBOUR, 0.8, 0.66, 0.76))
    lanky = tuple(Plant("pebble-lantern", growth, lanky=0.5) for growth in (0.36, 0.3, 0.4))
    reds = (
        Plant("pebble-lantern", 0.85, green=8),
        Plant("pebble-lantern", 0.78, green=6, ripe=1),
        Plant("pebble-lantern", 0.86, green=6, ripe=3),
        Plant("pebble-lantern", 0.7, green=6),
    )
    tops = row(Plant("radish", 0.2), 0.1, 0.16, 0.26, 0.3, 0.28, 0.18, 0.1)
    beans = (*row(BEAN, 0.34, 0.28, 0.36), None, *row(BEAN, 0.3, 0.34))
    return (
        Picture(
            f"{pair}/2025-03-25-tub.jpg",
            Bench("slate", "bar", young, "spring"),
            datetime(2025, 3, 25, 20, 11, 30),
        ),
        Picture(
            f"{pair}/day-38-two-bowls.jpg",
            Weighing("two lettuces", 22, "107 g", wall="spring"),
        ),
        Picture(f"{pair}/day-57-last-cut.jpg", Bench("slate", "bar", full, "spring")),
        Picture(
            f"{lamps}/2025-05-16-bar.jpg",
            Bench("slate", "bar", lanky, "spring"),
            datetime(2025, 5, 16, 21, 2, 17),
        ),
        Picture(
            f"{lamps}/2025-05-16-panel.jpg",
            Bench("moss", "panel", row(PEBBLE, 0.36, 0.42, 0.33), "spring"),
            datetime(2025, 5, 16, 21, 3, 2),
        ),
        Picture(f"{lamps}/day-98-first-red.jpg", Bench("moss", "panel", reds, "summer")),
        Picture(
            f"{lamps}/day-118-two-bowls.jpg",
            Weighing("pebble-lantern", 24, "393 g", wall="summer"),
        ),
        Picture(
            f"{radish}/2025-03-21.jpg",
            Bench("tray", "hood", tops, "spring"),
            datetime(2025, 3, 21, 7, 15, 44),
        ),
        Picture(
            f"{radish}/2025-04-06-pulled.jpg",
            Weighing("radishes", 5, "83 g", wall="spring"),
            datetime(2025, 4, 6, 11, 30, 0),
        ),
        Picture(
            f"{bean}/2025-05-13.jpg",
            Bench("tray", "hood", beans, "spring"),
            datetime(2025, 5, 13, 18, 48, 9),
        ),
        Picture(
            f"{bean}/day-43-in-flower.jpg",
            Bench(
                "tray",
                "hood",
                tuple(Plant("bean", growth, flowers=6) for growth in (0.8, 0.72, 0.84, 0.76, 0.78)),
                "summer",
            ),
        ),
        *(
            Picture(
                f"{bean}/day-{day}-third.jpg",
                Bench("tray", "hood", plants, wall, near=2),
            )
            for day, wall, plants in (
                (15, "spring", row(BEAN, 0.1, 0.08, 0.11, 0.05, 0.09, 0.1)),
                (33, "spring", (*row(BEAN, 0.54, 0.48, 0.56), None, *row(BEAN, 0.5, 0.53))),
                (
                    50,
                    "summer",
                    (*row(Plant("bean", 0.8, flowers=3), 0.8, 0.74, 0.84), None, *row(BEAN, 0.78, 0.8)),
                ),
            )
        ),
        Picture(f"{bean}/day-63-pods.jpg", Weighing("pods", 26, "121 g", wall="summer")),
        Picture(f"{bean}/day-79-leather.jpg", Weighing("old pods", 6, "38 g", wall="summer")),
    )


def _autumn_2025() -> tuple[Picture, ...]:
    cut, cinder, pepper = "harbour-cut-or-whole", "cinder-button-flood", "pepper-on-a-wick"
    herb, jars = "coriander-shorter-days", "oak-in-jars"
    turn = tuple(Plant("quiet-harbour", growth) for growth in (0.36, 0.76, 0.33, 0.8, 0.34, 0.72))
    dusk = (
        Plant("cinder-button", 0.9, green=8, ripe=7),
        Plant("cinder-button", 0.74, green=6),
        Plant("cinder-button", 0.96, green=6, ripe=10),
        Plant("cinder-button", 0.86, green=8, ripe=6),
    )
    yellow = (
        Plant("windlass-yellow", 0.9, green=3),
        Plant("windlass-yellow", 0.72, green=1),
        Plant("windlass-yellow", 0.95, ripe=2),
    )
    return (
        Picture(
            f"{cut}/2025-09-30-even.jpg",
            Bench("moss", "bar", row(HARBOUR, 0.38, 0.4, 0.36, 0.41, 0.37, 0.36), "autumn"),
            datetime(2025, 9, 30, 19, 20, 12),
        ),
        Picture(f"{cut}/day-38.jpg", Bench("moss", "bar", turn, "autumn")),
        Picture(
            f"{cut}/2025-11-03-whole.jpg",
            Weighing("one lettuce", 1, "144 g", wall="autumn"),
            datetime(2025, 11, 3, 17, 55, 40),
        ),
        Picture(
            f"{cinder}/2025-09-25-planted.jpg",
            Bench("tray", "panel", row(CINDER, 0.12, 0.08, 0.14, 0.1), "autumn"),
            datetime(2025, 9, 25, 20, 0, 3),
        ),
        Picture(
            f"{cinder}/day-56.jpg",
            Bench(
                "tray",
                "panel",
                tuple(Plant("cinder-button", growth, flowers=5) for growth in (0.66, 0.55, 0.7, 0.62)),
                "autumn",
            ),
        ),
        Picture(f"{cinder}/day-106-dusk.jpg", Bench("tray", "panel", dusk, "dusk")),
        Picture(
            f"{cinder}/2026-02-04-second-flush.webp",
            Weighing("cinder-button", 15, "74 g", wall="dusk"),
        ),
        Picture(
            f"{pepper}/2025-10-13.jpg",
            Bench("wick", "hood", row(WINDLASS, 0.24, 0.16, 0.3), "autumn"),
            datetime(2025, 10, 13, 18, 31, 26),
        ),
        Picture(
            f"{pepper}/day-104-green.jpg",
            Bench(
                "wick",
                "hood",
                (
                    Plant("windlass-yellow", 0.85, green=3),
                    Plant("windlass-yellow", 0.66, green=1),
                    Plant("windlass-yellow", 0.9, green=4),
                ),
            ),
        ),
        Picture(f"{pepper}/2026-01-18-two-yellow.png", Bench("wick", "hood", yellow, "dusk")),
        Picture(
            f"{herb}/2025-11-08-fans.jpg",
            Bench(
                "slate",
                "bar",
                row(Plant("coriander", 0.3), 0.4, 0.42, 0.32, 0.4, 0.34, 0.43),
                "dusk",
            ),
            datetime(2025, 11, 8, 16, 44, 50),
        ),
        Picture(f"{herb}/day-54-bunch.jpg", Weighing("coriander", 8, "2.0 oz")),
        Picture(
            f"{jars}/2025-10-31-jars.jpg",
            Bench("jars", "strips", row(OAK, 0.5, 0.46, 0.54, 0.42), "autumn"),
            datetime(2025, 10, 31, 21, 9, 0),
        ),
        Picture(
            f"{jars}/day-51-three-left.jpg",
            Bench("jars", "strips", (*row(OAK, 0.4, 0.36, 0.42), None)),
        ),
    )


def _summer_2026() -> tuple[Picture, ...]:
    hot, carrot = "emberfrill-hot-loft", "carrot-flood-pots"
    both, chard = "cinder-beside-pebble", "chard-lamplight"
    running = tuple(Plant("emberfrill", 0.42, bolting=height) for height in (1.1, 0.7, 0.55, 1.2, 0.0))
    last = (
        Plant("cinder-button", 0.95, green=5, ripe=7),
        Plant("pebble-lantern", 0.95, green=5, ripe=4),
        Plant("cinder-button", 0.92, green=6, ripe=4),
        Plant("pebble-lantern", 0.88, green=9),
    )
    colouring = (
        Plant("cinder-button", 0.84, green=8),
        Plant("pebble-lantern", 0.86, green=6),
        Plant("cinder-button", 0.86, green=7, ripe=1),
        Plant("pebble-lantern", 0.8, green=5),
    )
    return (
        Picture(
            f"{hot}/2026-06-24-five-left.jpg",
            Bench(
                "slate",
                "bar",
                (*row(EMBER, 0.54, 0.52, 0.44, 0.58, 0.42), None),
                "summer",
            ),
            datetime(2026, 6, 24, 20, 33, 18),
        ),
        Picture(f"{hot}/day-37.jpg", Weighing("emberfrill", 30, "136 g", wall="summer")),
        Picture(
            f"{hot}/2026-07-26-running-up.jpg",
            Bench("slate", "bar", running, "summer"),
            datetime(2026, 7, 26, 19, 58, 33),
        ),
        Picture(
            f"{carrot}/2026-06-09-ferns.jpg",
            Bench(
                "tray",
                "hood",
                row(Plant("carrot", 0.2), 0.2, 0.24, 0.18, 0.22, 0.36, 0.34, 0.4, 0.35),
                "summer",
            ),
            datetime(2026, 6, 9, 21, 12, 0),
        ),
        Picture(
            f"{carrot}/day-74-first-pot.jpg",
            Weighing("carrots", 3, "31 g", wall="summer"),
        ),
        Picture(
            f"{carrot}/2026-08-12-forked.jpg",
            Weighing("forked carrots", 8, "145 g", wall="summer"),
            datetime(2026, 8, 12, 10, 4, 59),
        ),
        Picture(
            f"{both}/2026-08-27.jpg",
            Bench(
                "moss",
                "panel",
                (
                    Plant("cinder-button", 0.22),
                    Plant("pebble-lantern", 0.3),
                    Plant("cinder-button", 0.24),
                    Plant("pebble-lantern", 0.26),
                ),
                "summer",
            ),
            datetime(2026, 8, 27, 20, 20, 20),
            turned=True,
        ),
        Picture(
            f"{both}/day-59-flowers.jpg",
            Bench(
                "moss",
                "panel",
                tuple(
                    Plant(kind, growth, flowers=5, cane=kind == "pebble-lantern")
                    for kind, growth in (
                        ("cinder-button", 0.66),
                        ("pebble-lantern", 0.72),
                        ("cinder-button", 0.68),
                        ("pebble-lantern", 0.66),
                    )
                ),
                "autumn",
            ),
        ),
        Picture(f"{both}/day-91-colour.jpg", Bench("moss", "panel", colouring, "autumn")),
        Picture(
            f"{both}/2026-11-21-still-growing.jpg",
            Bench("moss", "panel", last, "dusk"),
            datetime(2026, 11, 21, 18, 26, 7),
        ),
        Picture(
            f"{chard}/2026-10-15-draft.jpg",
            Bench("wick", "bar", row(Plant("chard", 0.3), 0.36, 0.4, 0.3, 0.36), "autumn"),
        ),
    )


ALBUM: dict[str, tuple[Picture, ...]] = {
    "2024-autumn": _autumn_2024(),
    "2025-spring": _spring_2025(),
    "2025-autumn": _autumn_2025(),
    "2026-summer": _summer_2026(),
}
