"""The library of a journal: systems, lamps, meters and products of gear.yaml, crops of crops.yaml.

In: the nodes of the two files. Out: `Library`, with look-ups by id. An unknown id becomes a finding with did-you-mean.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar

from sitegen.core.findings.examples import in_units
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.core.records.setup import Crop, Lamp, Meter, Product, System, Variety
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.ingest.page_names import PageNames
from sitegen.ingest.values.names import named, report_several
from sitegen.ingest.values.quantities import parse_dose, parse_quantity, quantity_in
from sitegen.ingest.yaml.nodes import Node, Scalar, expect_mapping
from sitegen.ingest.yaml.typed_fields import TypedFields, named_tables, read_fields

_Item = TypeVar("_Item", System, Lamp, Meter, Product, Crop, Variety)
_SIZE = re.compile(r"(?P<a>[\d.]+)\s*[x×]\s*(?P<b>[\d.]+)\s*(?P<unit>\S+)")
# Lux for each µmol/m²/s. No light exceeds 683 lm/W at 555 nm, where 1 W is 4.64 µmol/s: by definition of the lumen and
# of the mole. The least is far below that of any lamp; custom, no source.
LEAST_LUX, MOST_LUX = 1, 147


@dataclass(frozen=True, slots=True)
class Library:
    """Systems, lamps, meters, products and crops by id."""

    systems: tuple[System, ...] = ()
    lamps: tuple[Lamp, ...] = ()
    meters: tuple[Meter, ...] = ()
    products: tuple[Product, ...] = ()
    crops: tuple[Crop, ...] = ()

    def system(self, name: Scalar, findings: Findings) -> System | None:
        """The system with an id."""
        return _find(name, self.systems, "unknown-system", "a system of gear.yaml", findings)

    def lamp(self, name: Scalar, findings: Findings) -> Lamp | None:
        """The lamp with an id."""
        return _find(name, self.lamps, "unknown-lamp", "a lamp of gear.yaml", findings)

    def meter(self, name: Scalar, findings: Findings) -> Meter | None:
        """The meter with an id."""
        return _find(name, self.meters, "unknown-meter", "a meter of gear.yaml", findings)

    @property
    def scale(self) -> int | None:
        """The one scale of all meters; None where they differ or one is not known."""
        scales = {meter.scale for meter in self.meters}
        return next(iter(scales)) if len(scales) == 1 else None

    def product(self, name: Scalar, findings: Findings) -> Product | None:
        """The product with an id."""
        return _find(name, self.products, "unknown-product", "a product of gear.yaml", findings)

    def crop(self, name: Scalar, findings: Findings) -> Crop | None:
        """The crop with an id."""
        return _find(name, self.crops, "unknown-crop", "a crop of crops.yaml", findings)

    @property
    def product_ids(self) -> tuple[str, ...]:
        """The ids of all products."""
        return tuple(product.id for product in self.products)


def variety_of(crop: Crop, name: Scalar, findings: Findings) -> Variety | None:
    """A variety of a crop."""
    return _find(name, crop.varieties, "unknown-variety", f"a variety of {crop.id}", findings)


def _find(name: Scalar, items: Iterable[_Item], code: str, kind: str, findings: Findings) -> _Item | None:
    by_id = {item.id: item for item in items}
    found = named(name.text, tuple(by_id.values()))
    if len(found) == 1:
        return found[0]
    if found:
        report_several(name, found, findings)
        return None
    name.report_unknown(findings, code, f"`{name.text}` is not {kind}", by_id, f"add `{name.text}` there")
    return None


def read_gear(node: Node | None, findings: Findings) -> Library:
    """Systems, lamps, meters and products."""
    mapping = expect_mapping(node, "gear.yaml", findings) if node is not None else None
    if mapping is None:
        return Library()
    gear = read_fields(mapping, "gear", findings)
    systems = tuple(gear.nested_by_id("systems"))
    _take_addresses((name for name, _ in systems), findings)
    return Library(
        systems=tuple(_system(name.text, fields) for name, fields in systems),
        lamps=tuple(_lamp(name.text, fields) for name, fields in gear.nested_by_id("lamps")),
        meters=tuple(_meter(name.text, fields) for name, fields in gear.nested_by_id("meters")),
        products=tuple(_product(name.text, fields) for name, fields in gear.nested_by_id("products")),
    )


def _system(name: str, fields: TypedFields) -> System:
    return System(
        id=name,
        name=fields.text("name") or name,
        kind=fields.text("kind"),
        spots=fields.whole("spots"),
        reservoir=fields.quantity("reservoir"),
        footprint=_footprint(fields.scalar("footprint"), fields.findings),
        headroom=fields.quantity("headroom"),
        count=_count(fields),
    )


def _count(fields: TypedFields) -> int:
    count = fields.whole("count")
    if count == 0:
        message = "`count: 0` says that there is none of a system; the journal lists what there is"
        fields.report(
            "count",
            "impossible-value",
            message,
            "write how many there are, or leave it out",
            found="0",
            expected="1 or more",
        )
    return count or 1


def _footprint(scalar: Scalar | None, findings: Findings) -> tuple[Quantity, Quantity] | None:
    if scalar is None:
        return None
    match = _SIZE.fullmatch(scalar.text)
    if match is None:
        mend = _footprint_mend(scalar, findings)
        scalar.report(findings, "not-a-quantity", f"`{scalar.text}` is not a footprint", mend, "two lengths")
        return None
    width, depth = (
        parse_quantity(
            Scalar(f"{match[side]} {match['unit']}", scalar.source), Dimension.LENGTH, findings, "footprint"
        )
        for side in ("a", "b")
    )
    return (width, depth) if width is not None and depth is not None else None


# `60 by 40 cm`, `60 cm x 40 cm`, `60*40cm`
_LIKE_SIZE = re.compile(
    r"(?P<a>[\d.]+)\s*(?P<unit>[a-z]+)?\s*(?:x|×|X|\*|by)\s*(?P<b>[\d.]+)\s*(?P<last>[a-z]+)"
)


def _footprint_mend(scalar: Scalar, findings: Findings) -> str | Mend:
    """The mend for a text that is no footprint: the author's own two lengths."""
    said = _LIKE_SIZE.fullmatch(scalar.text.strip())
    if said and said["unit"] in (None, said["last"]) and quantity_in(f"1 {said['last']}", Dimension.LENGTH):
        return scalar.written(f"{said['a']} x {said['b']} {said['last']}")
    return f"write two lengths, such as `{in_units('60 x 40 cm', findings.units)}`"


def _lamp(name: str, fields: TypedFields) -> Lamp:
    ppfd, at = _flux(fields.scalar("ppfd"), fields.findings)
    factor, source = _lux_factor(fields.nested("lux_factor"))
    return Lamp(name, fields.text("name") or name, fields.quantity("power"), ppfd, at, factor, source)


def _meter(name: str, fields: TypedFields) -> Meter:
    scale = fields.choice("scale")
    return Meter(name, fields.text("name") or name, int(scale) if scale else None)


def _lux_factor(fields: TypedFields | None) -> tuple[float | None, str]:
    """The lux of a lamp for each µmol/m²/s and the source of that; none where either is missing."""
    if fields is None:
        return None, ""
    value, source = fields.number("value"), fields.text("source")
    if value is None or not source:
        return None, ""
    if not LEAST_LUX <= value <= MOST_LUX:
        said, bounds = fields.text("value"), f"it lies between {LEAST_LUX} and {MOST_LUX}"
        message = f"a lamp cannot give {said} lux for each umol/m2/s: {bounds}"
        mend = "write the lux for 1 umol/m2/s, as in `{value: 66, source: its maker}`"
        expected = f"{LEAST_LUX} to {MOST_LUX}"
        fields.report("value", "impossible-value", message, mend, found=said, expected=expected)
        return None, ""
    return value, source


def _flux(scalar: Scalar | None, findings: Findings) -> tuple[Quantity | None, Quantity | None]:
    """A photon flux density, and the distance at which it was measured."""
    if scalar is None:
        return None, None
    flux, at, distance = scalar.text.partition(" at ")
    light = parse_quantity(Scalar(flux, scalar.part(0, len(flux))), Dimension.PHOTON_FLUX, findings, "ppfd")
    if not at:
        return light, None
    span = scalar.part(len(flux) + len(at), len(distance))
    return light, parse_quantity(Scalar(distance, span), Dimension.LENGTH, findings, "ppfd")


def _product(name: str, fields: TypedFields) -> Product:
    dose = fields.scalar("dose")
    return Product(
        id=name,
        name=fields.text("name") or name,
        kind=fields.choice("kind"),
        dose=parse_dose(dose, fields.findings, "dose", rates_only=True) if dose is not None else None,
        price=fields.price("price"),
    )


def read_crops(node: Node | None, findings: Findings) -> tuple[Crop, ...]:
    """All crops of crops.yaml."""
    mapping = expect_mapping(node, "crops.yaml", findings) if node is not None else None
    crops = tuple(named_tables(mapping, "crop", findings))
    _take_addresses((name for name, _ in crops), findings)
    return tuple(_crop(name, fields) for name, fields in crops)


def _take_addresses(names: Iterable[Scalar], findings: Findings) -> None:
    """Findings about ids under which no page can be had."""
    pages = PageNames(findings)
    for name in names:
        pages.take(name)


def _crop(name: Scalar, fields: TypedFields) -> Crop:
    return Crop(
        id=name.text,
        name=fields.text("name") or name.text,
        kind=fields.choice("kind"),
        latin=fields.text("latin"),
        base_temperature=fields.quantity("base_temperature"),
        base_temperature_source=fields.text("base_temperature_source"),
        price=fields.price("price"),
        varieties=tuple(
            Variety(variety.text, inner.text("name") or variety.text, inner.text("note"))
            for variety, inner in fields.nested_by_id("varieties")
        ),
    )
