"""The site as it would be with everything that is held back, at one moment of writing.

In: what is known of the journal. Out: `Preview`: what stands at an address, what it was made from, what is not published
and what is wrong. It never changes; pages are made when they are asked for. Threads may share it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property, partial
from hashlib import blake2b
from pathlib import Path

from sitegen.core.findings.finding import Finding, Findings, sorted_findings
from sitegen.core.language.catalogue import using_catalogue
from sitegen.core.site.addresses import crop_page, experiment_page, season_page
from sitegen.core.site.page import Page
from sitegen.pipeline.inventory import digest_of
from sitegen.pipeline.previewing.entry import Entry
from sitegen.pipeline.previewing.ground import Ground
from sitegen.pipeline.previewing.unit import Batch, Unit, Units
from sitegen.pipeline.previewing.workshop import Workshop
from sitegen.pipeline.shared import Bench
from sitegen.render import Bundle, bundles_of


@dataclass(frozen=True, slots=True)
class Leaf:
    """What stands at an address: what tells whether it changed, and the page, made when it is asked for."""

    needs: str
    unit: Unit
    address: str
    assets: Mapping[str, str]

    @property
    def page(self) -> Page | None:
        """The page; None where it cannot be made, and never was."""
        return self.unit.page(self.address, self.assets)


@dataclass(frozen=True, slots=True)
class Tools:
    """What makes pages, and holds those made: shared by all previews of a session."""

    units: Units = field(default_factory=Units)
    workshop: Workshop = field(default_factory=Workshop)
    assets: dict[str, Page] = field(default_factory=dict)  # old ones too: a window may yet ask for them


class Preview:
    """A journal at one moment; without a ground it could not be read yet."""

    def __init__(
        self,
        tools: Tools,
        ground: Ground | None = None,
        bench: Bench | None = None,
        entries: Mapping[str, Entry] | None = None,
        page_of: Mapping[str, str] | None = None,
        findings: tuple[Finding, ...] = (),
    ) -> None:
        self._tools = tools
        self._ground = ground
        self._bench = bench
        self._entries = entries or {}
        self._findings = findings
        self.page_of = page_of or {}

    # what stands where

    def find(self, address: str) -> Leaf | None:
        """What stands at an address of the site."""
        if self._ground is None or self._bench is None:
            return None
        asset = self._tools.assets.get(address)
        if asset is not None:
            return self._leaf(address, Unit(address, lambda: Batch((asset,))))
        unit = self._unit(address)
        return None if unit is None else self._leaf(address, unit)

    def _leaf(self, address: str, unit: Unit) -> Leaf:
        assert self._ground is not None
        return Leaf(_short(unit.needs, self._linked), unit, address, self._ground.places)

    @cached_property
    def _linked(self) -> str:
        """Stands for where the assets are that pages link to."""
        return digest_of(sorted(self._ground.places.items())) if self._ground is not None else ""

    def _unit(self, address: str) -> Unit | None:
        experiment = _experiment_at(address)
        if experiment not in self._entries:
            experiment = self._moved.get(address, "")
        if experiment:
            return self._of_experiment(experiment, apart=address.startswith("photos/"))
        bundle = self._lists.get(address)
        if bundle is not None:
            return self._of_bundle(address, bundle)
        return None if address.endswith(".html") else self._open(address)

    def _open(self, address: str) -> Unit | None:
        """Among the pages whose addresses are known only once they are made."""
        for number, bundle in enumerate(self._unplaced):
            unit = self._of_bundle(f"unplaced {number}", bundle)
            if unit.page(address, {}) is not None:
                return unit
        return None

    # experiments

    def _of_experiment(self, experiment: str, *, apart: bool = False) -> Unit | None:
        face = self._entries[experiment].face
        if face is None or face.head is None:
            return None
        name = f"photos {experiment}" if apart else f"experiment {experiment}"
        make = self._photos if apart else self._pages
        return self._tools.units.get(name, self._needs(face), partial(make, face))

    def _needs(self, face: Entry) -> str:
        """Stands for all that the pages of an experiment are made from, but the assets."""
        assert self._bench is not None
        assert self._ground is not None
        assert face.head is not None
        bench, run_link = self._bench, face.head.run_link
        around = bench.around(run_link.id)
        near = [(each.id, each.title) if each else None for each in (around.earlier, around.later)]
        fed = any(o.dated for o in bench.run_links)
        return digest_of([face.task.key, self._ground.look, near, bench.links, fed])

    def _pages(self, face: Entry) -> Batch:
        assert self._bench is not None
        with using_catalogue(self._bench.journal_files.catalogue):
            pages, findings = self._tools.workshop.pages(face.task, face.run, self._bench)
        return Batch(pages, findings, self._places())

    def _photos(self, face: Entry) -> Batch:
        assert self._bench is not None
        with using_catalogue(self._bench.journal_files.catalogue):
            return Batch(self._tools.workshop.photos(face.task, face.run, self._bench))

    def _places(self) -> dict[str, str]:
        return self._ground.places if self._ground is not None else {}

    @cached_property
    def _moved(self) -> dict[str, str]:
        """Experiments by the addresses of their earlier ids."""
        faces = ((name, entry.face) for name, entry in self._entries.items())
        return {
            experiment_page(old): name
            for name, face in faces
            if face is not None and face.head is not None
            for old in face.head.run_link.was
            if old not in self._entries
        }

    # lists

    @cached_property
    def _bundles(self) -> tuple[Bundle, ...]:
        if self._bench is None:
            return ()
        faces = (entry.face for entry in self._entries.values())
        listed = [face.record.listed for face in faces if face is not None and face.record is not None]
        return tuple(bundles_of(self._bench.site, listed, self._bench.store))

    @cached_property
    def _lists(self) -> dict[str, Bundle]:
        return {bundle.address: bundle for bundle in self._bundles if bundle.address}

    @cached_property
    def _unplaced(self) -> tuple[Bundle, ...]:
        return tuple(b for b in self._bundles if not b.address and b.needs != ("assets",))

    def _of_bundle(self, name: str, bundle: Bundle) -> Unit:
        return self._tools.units.get(name, self._bundle_needs(bundle), partial(self._bundle, bundle))

    def _bundle_needs(self, bundle: Bundle) -> str:
        assert self._ground is not None
        assert self._bench is not None
        fed = any(run_link.dated for run_link in self._bench.run_links)
        return digest_of([self._ground.look, fed, *bundle.needs])

    def _bundle(self, bundle: Bundle) -> Batch:
        assert self._bench is not None
        findings = Findings()
        with using_catalogue(self._bench.journal_files.catalogue):
            pages = tuple(bundle.make(self._bench.context.apart(findings)))
        return Batch(pages, tuple(findings), self._places())

    # what there is to say

    @property
    def beside(self) -> tuple[Path, ...]:
        """The folders of the theme."""
        return self._ground.bench.theme.folders if self._ground is not None else ()

    @property
    def reading(self) -> tuple[int, int]:
        """How many experiments are read, of how many."""
        return sum(entry.listed for entry in self._entries.values()), len(self._entries)

    def errors(self) -> tuple[Finding, ...]:
        """What is wrong with the journal, and with the pages made so far."""
        found = [f for f in self._findings if f.is_error]
        found += [f for entry in self._entries.values() for f in entry.errors]
        found += [f for unit in self._troubled() for f in unit.errors]
        return sorted_findings(found)

    def fault(self) -> str:
        """A fault of ours in making a page that is asked for still."""
        return next((unit.fault for unit in self._troubled() if unit.fault), "")

    def _troubled(self) -> Iterator[Unit]:
        """The troubled whose needs are still the same."""
        for name, unit in self._tools.units.troubled().items():
            if unit.needs == self._needs_now(name):
                yield unit

    def _needs_now(self, name: str) -> str:
        kind, _, experiment = name.partition(" ")
        if kind in ("experiment", "photos"):
            face = self._entries[experiment].face if experiment in self._entries else None
            return self._needs(face) if face is not None and face.head is not None else ""
        bundle = self._lists.get(name)
        return self._bundle_needs(bundle) if bundle is not None else ""

    def unpublished(self, address: str) -> bool:
        """Whether a page would not be there without the experiments that are held back."""
        held = self._held.get(address)
        return held is True

    @cached_property
    def _held(self) -> dict[str, bool]:
        """Whether all experiments behind an address are held back."""
        held: dict[str, bool] = {}
        faces = (entry.face for entry in self._entries.values())
        for head in (face.head for face in faces if face is not None and face.head is not None):
            run_link = head.run_link
            back = self._bench is None or not head.public(self._bench.today)
            own = map(experiment_page, (run_link.id, *run_link.was))
            for address in (*own, season_page(run_link.season), crop_page(run_link.crop)):
                held[address] = held.get(address, True) and back
        return held


def _short(*parts: str) -> str:
    return blake2b("\n".join(parts).encode(), digest_size=8).hexdigest()


def _experiment_at(address: str) -> str:
    """The experiment that an address belongs to, going by its form."""
    match address.split("/"):
        case ["experiments", page] if page.endswith(".html"):
            return page.removesuffix(".html")
        case ["data" | "photos", experiment, _]:
            return experiment
        case ["previews", "experiments", picture]:
            return picture.removesuffix(".png")
    return ""
