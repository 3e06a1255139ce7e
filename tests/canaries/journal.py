"""A journal with a canary in each place that is not published, and controls in those that are.

In: a folder that is to hold it. Out: the journal, and what was planted. Nobody keeps such a journal; all of it is read.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from tests.canaries import pictures, sheets
from tests.canaries.marks import Planted

# 2005-03-18T01:58:31 UTC, a second that people know: the time of change of every file of the journal.
CHANGED = 1_111_111_111
RUN, OTHER, GROWING, DRAFT, FUTURE = "open-run", "other-run", "growing-run", "draft", "future"


@dataclass(frozen=True, slots=True)
class Secrets:
    """A journal, what was planted, and the folders whose names are secrets."""

    root: Path
    output: Path
    home: Path
    planted: Planted
    ids: dict[str, str]


def make_secrets(base: Path, *, theme: str = "ledger", raw_html: bool = False) -> Secrets:
    """Write the journal below a folder; its own place, that of the output and the home are secrets too."""
    planted = Planted()
    home = base / planted.hide("path", "home folder")
    root = home / planted.hide("path", "folder above the journal") / planted.hide("path", "journal's folder")
    output = home / planted.hide("path", "folder above the output") / planted.hide("path", "output folder")
    pictures.hide_place_and_time(planted)
    ids = {name: planted.hide("held back", f"id of the {name}") for name in (DRAFT, FUTURE)}
    writer = _Writer(root, planted, ids)
    writer.shared(theme, raw_html=raw_html)
    writer.open_run()
    writer.other_run()
    writer.growing_run()
    # The draft is of a crop that is published; the other of a crop, a system and a lamp that nothing else has.
    writer.held_back(DRAFT, "draft: true", shared=RUN)
    writer.held_back(FUTURE, "publish: 2099-05-17", shared=OTHER)
    planted.hide_forms("held back", "date of publication", "2099-05-17", "17 May 2099")
    writer.beside()
    home.joinpath(".gitconfig").write_text(
        f"[user]\n\tname = {planted.hide('git', 'name in the home folder')}\n", "utf-8"
    )
    for path in (*root.rglob("*"), root):
        os.utime(path, (CHANGED, CHANGED))
    planted.hide_forms(
        "time of change", "files of the journal", str(CHANGED), "2005-03-18", "18 Mar 2005", "2005, 3, 18"
    )
    return Secrets(root, output, home, planted, ids)


@dataclass(slots=True)
class _Writer:
    root: Path
    planted: Planted
    ids: dict[str, str]

    def _hide(self, kind: str, place: str) -> str:
        return self.planted.hide(kind, place)

    def _show(self, place: str) -> str:
        return self.planted.show("published", place)

    def _write(self, place: str, content: str | bytes) -> None:
        path = self.root / place
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content.encode() if isinstance(content, str) else content)

    # what all runs share

    def shared(self, theme: str, *, raw_html: bool) -> None:
        """journal.yaml, gear, crops, seasons, a free page."""
        hide, show = self._hide, self._show
        self._write(
            "journal.yaml",
            f"""\
# {hide("comment", "journal.yaml")}
format: 1
title: {show("title of the journal")}
tagline: {show("tagline")}
author: {{name: {show("author")}}}
address: https://example.org/bench/
licence: CC-BY-4.0
theme: {theme}
output: {hide("path", "output in journal.yaml")}
timezone: Pacific/Chatham
ignore: [{hide("setting", "a pattern of ignore")}]
raw_html: {str(raw_html).lower()}
""",
        )
        self.planted.hide_forms("setting", "time zone", "Chatham")
        self._write(
            "gear.yaml",
            f"""\
systems:
  tub-2: {{name: {show("name of a system")}, kind: deep water culture, spots: 4, reservoir: 11 L}}
  {hide("unused", "id of a system")}: {{name: {hide("unused", "name of a system")}, spots: 3}}
{self._for_held_back("system", ", spots: 3")}
lamps:
  bar: {{name: {show("name of a lamp")}, power: 45 W}}
  {hide("unused", "id of a lamp")}: {{name: {hide("unused", "name of a lamp")}, power: 20 W}}
{self._for_held_back("lamp", ", power: 33 W")}
meters:
  {hide("unused", "id of a meter")}: {{name: {hide("unused", "name of a meter")}, scale: 500}}
{self._for_held_back("meter", ", scale: 640")}
products:
  mix: {{name: {show("name of a product")}, kind: feed, dose: 2 ml/L}}  # {hide("comment", "gear.yaml")}
  {hide("unused", "id of a product")}: {{name: {hide("unused", "name of a product")}, kind: feed}}
{self._for_held_back("feed", ", kind: feed, dose: 3 ml/L, price: 9.50 per 500 ml")}
{self._for_held_back("acid", ", kind: acid")}
{self._for_held_back("routine", ", kind: feed")}
{self._for_held_back("treatment", ", kind: treatment")}
""",
        )
        self._write(
            "crops.yaml",
            f"""\
leaf:
  name: {show("name of a crop")}
  kind: leafy
  varieties:
    first: {{name: {show("name of a variety")}}}
    {hide("unused", "id of a variety")}:
      name: {hide("unused", "name of a variety")}
      note: {hide("unused", "note of a variety")}
    {self._held_back_thing(DRAFT, "variety")}
{self._held_back_thing(FUTURE, "crop", f", kind: leafy, varieties: {{{self._held_back_thing(FUTURE, 'variety')}}}")}
{hide("unused", "id of a crop")}:  # {hide("comment", "crops.yaml")}
  {{name: {hide("unused", "name of a crop")}, kind: fruiting}}
""",
        )
        self._write(
            "seasons/open/season.yaml",
            f"title: {show('title of a season')}\nsummary: {show('summary of a season')}\n"
            f"# {hide('comment', 'season.yaml')}\n",
        )
        self._write(
            f"seasons/{hide('held back', 'id of a season without a published run')}/season.yaml",
            f"title: {hide('held back', 'title of a season without a published run')}\n"
            f"summary: {hide('held back', 'summary of a season without a published run')}\n",
        )
        self._write("about.md", f"# {show('heading of a free page')}\n\n{self._text('free page')}")
        first = hide("comment", "first line of a free page")
        self._write("second.md", f"# Second\n\n<!-- {first} -->\n\n{show('second free page')}\n")
        label = hide("comment", "first line of a free page: Markdown")
        self._write("third.md", f"# Third\n\n[//]: # ({label})\n\n{show('third free page')}\n")

    def _for_held_back(self, what: str, more: str) -> str:
        """A thing of the library for each run that is held back, which no other run has."""
        return "\n".join(f"  {self._held_back_thing(name, what, more)}" for name in (DRAFT, FUTURE))

    def _held_back_thing(self, run: str, what: str, more: str = "") -> str:
        key, name = (self._hide("held back", f"{run}: {part} of its {what}") for part in ("id", "name"))
        return f"{key}: {{name: {name}{more}}}"

    def _text(self, place: str) -> str:
        """A text with comments of both kinds."""
        hide = self._hide
        return (
            f"{self._show(place)}\n\n<!-- {hide('comment', f'{place}: HTML')} -->\n\n"
            f"Words <!-- {hide('comment', f'{place}: HTML in a line')} --> and more.\n\n"
            f"<!--\n\n{hide('comment', f'{place}: HTML over several lines')}\n\n-->\n\n"
            f"[//]: # ({hide('comment', f'{place}: Markdown')})\n"
            f"[{hide('comment', f'{place}: label of a link that is not used')}]: https://example.org/\n"
        )

    # runs

    def open_run(self) -> None:
        """A run that is published, with what is private in it."""
        hide, show, planted = self._hide, self._show, self.planted
        home = f"seasons/open/{RUN}"
        book, series = sheets.workbook(planted), sheets.sensor(planted)
        book_name, series_name = hide("file name", "workbook"), hide("file name", "CSV file")
        photos = {
            kind: f"{hide('file name', f'photo, {kind}')}.{kind}" for kind in ("jpg", "png", "webp", "heic")
        }
        unlisted = f"2026-03-28-{hide('file name', 'photo that the log does not name')}.jpg"
        self._write(
            f"{home}/experiment.yaml",
            f"""\
# {hide("comment", "experiment.yaml, above all")}
format: 1
title: {show("title of a run")}
question: {show("question")}
crop: leaf
variety: first
system: tub-2
start: 2026-03-01
plants: [P1, P2]
light: {{lamp: bar, hours: 14 h}}
seed: {{source: {show("source of the seed")}}}
shares: [{{with: {self.ids[DRAFT]}}}]
before: {show("before")}
disclosure: {show("disclosure")}
episodes: [{{title: {show("title of an episode")}, link: "https://example.org/e1"}}]
corrections: [{{date: 2026-06-01, text: {show("correction")}}}]
answer: {{verdict: again, result: {show("result")}, why: {show("why")}, change: {show("change")}}}
viewer_questions:
  - {{asked: {hide("viewer question", "asked and not answered")}}}
  - asked: {hide("viewer question", "asked and answered in comments")}
    answer: {hide("viewer question", "answer for the comments")}
readings:
  - file: {book_name}.xlsx
    sheet: {self._mark("workbook", "name of the sheet that is read")}
    date: date
    reading: height cm
    columns: {{{self._mark("workbook", "heading of a column that is read")}: P1}}
  - file: {series_name}.csv
    time: Timestamp
    zone: Pacific/Chatham
    columns: {{{self._mark("CSV", "heading of a column that is read")}: air_temperature C}}
log:
  - day: 0
    sow: 2 a spot  # {hide("comment", "experiment.yaml, behind a value")}
    water: filled
  - day: 10
    note: {show("note")}
    private: {hide("private", "a plain text")}
    photo:
      - {{file: {photos["jpg"]}, alt: {show("alt of a photo")}}}
      - {{file: {photos["png"]}}}
      - {{file: {photos["webp"]}}}
      - {{file: {photos["heic"]}}}
  - day: 12
    private: |
      {hide("private", "first line of a block")}
      {hide("private", "last line of a block")}
  - day: 20
    height: 9 cm
    feed: {{mix: 20 ml}}
    private: "{hide("private", "a quoted text")}"
    clip: {{what: {show("what a clip shows")}, file: {hide("file name", "clip")}.mov, length: 0:12}}
  - day: 30
    tell: never
    note: {show("note that episodes leave out")}
    private: >-
      {hide("private", "a folded text")}
  - day: 40
    harvest: {{P1: {{weight: 84 g, grade: {show("grade")}}}, P2: 90 g}}
    trouble: {show("trouble")}
    prune: {show("what was cut")}
    end: {{why: {show("why it ended")}, plants: cleared}}
""",
        )
        placed = f"\n```photo\n{photos['jpg']}\n```\n"
        self._write(f"{home}/recap.md", f"## Recap\n\n{self._text('recap')}{placed}\n```strip\nall\n```\n")
        self._write(f"{home}/{book_name}.xlsx", book)
        self._write(f"{home}/{series_name}.csv", series)
        made = {"jpg": pictures.jpeg, "png": pictures.png, "webp": pictures.webp, "heic": pictures.heic}
        for kind, make in made.items():
            self._write(f"{home}/photos/{photos[kind]}", make(planted, kind))
        self._write(f"{home}/photos/{unlisted}", pictures.jpeg(planted, "unlisted jpg"))

    def _mark(self, kind: str, place: str) -> str:
        return next(each.mark for each in self.planted.canaries if (each.kind, each.place) == (kind, place))

    def other_run(self) -> None:
        """A second published run, so that there is something to compare."""
        self._write(
            f"seasons/open/{OTHER}/experiment.yaml",
            "format: 1\ntitle: Another run\ncrop: leaf\nvariety: first\nsystem: tub-2\nstart: 2026-05-01\nplants: 2\n"
            f"shares: {{with: {self.ids[FUTURE]}}}\n"
            "log:\n  - {day: 0, sow: 2 a spot}\n  - {day: 38, harvest: {P1: 60 g, P2: 71 g}, end: slow}\n",
        )

    def growing_run(self) -> None:
        """A published run that goes on, whose page looks ahead from the runs before it."""
        self._write(
            f"seasons/open/{GROWING}/experiment.yaml",
            "format: 1\ntitle: A run that goes on\ncrop: leaf\nvariety: first\nsystem: tub-2\nstart: 2026-11-01\n"
            "plants: 2\nlog:\n  - {day: 0, sow: 2 a spot}\n  - {day: 20, height: 6 cm, note: It grows.}\n",
        )

    def held_back(self, name: str, why: str, *, shared: str) -> None:
        """A run that is not published, in the season of one that is and in a tub with another."""
        planted = self.planted

        def hide(place: str) -> str:
            return planted.hide("held back", f"{name}: {place}")

        def its(what: str) -> str:
            return self._mark("held back", f"{name}: id of its {what}")

        home = f"seasons/open/{self.ids[name]}"
        crop, start = ("leaf", "2026-03-01") if name == DRAFT else (its("crop"), "2026-05-01")
        plant, second, tub = hide("id of a plant"), hide("id of a second plant"), hide("id of a tub")
        photo, sheet = f"{hide('photo')}.jpg", f"{hide('sheet')}.csv"
        self._write(
            f"{home}/experiment.yaml",
            f"""\
format: 1
was: [{hide("earlier id")}]
title: {hide("title")}
question: {hide("question")}
crop: {crop}
variety: {its("variety")}
tubs:
  {tub}: {{system: tub-2, plants: {plant}}}
  {hide("id of a second tub")}: {{system: {its("system")}, plants: {second}}}
start: {start}
plants: [{plant}, {second}]
groups: {{{hide("id of a group")}: {plant}, {hide("id of a second group")}: {second}}}
shares: {{tub: {tub}, with: {shared}}}
{why}
seed: {{source: {hide("source of the seed")}}}
before: {hide("before")}
disclosure: {hide("disclosure")}
answer: {{verdict: again, result: {hide("result")}, why: {hide("why")}, change: {hide("change")}}}
episodes: [{{title: {hide("title of an episode")}, link: "https://example.org/{hide("link of an episode")}"}}]
corrections: [{{date: 2026-07-01, text: {hide("correction")}}}]
readings: [{{file: {sheet}, reading: height cm, columns: {{Plant: {plant}}}}}]
log:
  - day: 0
    sow: 2 a spot
    note: {hide("note")}
    light: {{{self._mark("held back", f"{name}: id of a second tub")}: {{lamp: {its("lamp")}, hours: 13 h}}}}
    from_now: {{feed: {{{tub}: {{{its("routine")}: 7 ml, at: every refill}}}}, treat: {hide("routine of treating")}}}
  - day: 9
    trouble: {hide("trouble")}
    water: {{{tub}: 777 ml}}
    feed: {{{tub}: {{mix: 33 ml, {its("feed")}: 44 ml}}}}
    adjust: {{{tub}: {{{its("acid")}: 3 ml}}}}
    treat: {{product: {its("treatment")}, plants: {plant}}}
    ec: {{{tub}: {{value: 1.7 mS/cm, meter: {its("meter")}}}}}
    private: {hide("private note")}
    photo: [{{file: {photo}, alt: {hide("alt of a photo")}}}]
  - {{day: 30, harvest: {{{plant}: 55 g}}, taste: "4/5, {hide("taste")}"}}
  - {{day: 31, end: {hide("why it ended")}}}
""",
        )
        self._write(f"{home}/recap.md", f"# {hide('heading of the recap')}\n\n{hide('recap')}\n")
        self._write(f"{home}/{sheet}", "day,Plant\n4,2\n8,3\n")
        self._write(f"{home}/photos/{photo}", pictures.jpeg(planted, f"photo of the {name}"))

    # what lies beside

    def beside(self) -> None:
        """Files of a journal that no page is made of: an inbox, drafts, backups, what is hidden, the look's own."""
        hide = self._hide
        home = f"seasons/open/{RUN}"
        behind = "<!-- experiment.yaml:9 -->"
        named = (
            ("inbox.txt", f"- {hide('inbox', 'a line')}\n"),
            ("script.md", f"# Notes\n\n{hide('notes', 'a draft in the journal')} {behind}\n"),
            (f"{home}/script.md", f"{hide('notes', 'a draft beside the run')} {behind}\n"),
            (f"{home}/talk.vtt", f"WEBVTT\n\n00:00.000 --> 00:02.000\n{hide('notes', 'captions')}\n"),
            (
                f"{home}/notes.json",
                f'{{"experiment": "", "sections": ["{hide("notes", "data of a draft")}"]}}\n',
            ),
        )
        for place, text in named:
            self._write(place, text)
        hidden = (
            (".hidden.md", "hidden page"),
            (".env", "settings of a shell"),
            ("about.md~", "backup of a page"),
            (".about.md.swp", "swap file"),
            ("#about.md#", "file that an editor saved by itself"),
            ("~$about.md", "lock of an office program"),
            (f"{home}/.note.md", "hidden file of a run"),
            (f"{home}/experiment.yaml.bak", "backup of a run"),
            (f"{home}/experiment.yaml~", "backup of a run by an editor"),
            (f"{home}/photos/.DS_Store", "litter of a system"),
            ("seasons/open/_old/experiment.yaml", "a run that was put aside"),
            ("seasons/.trash/run/experiment.yaml", "a hidden season"),
            (".obsidian/workspace.json", "settings of an editor"),
            (".git/logs/HEAD", "history"),
            ("look/.notes.txt", "hidden file of the look"),
            ("look/assets/.todo.txt", "hidden asset"),
            ("look/assets/look.css~", "backup of an asset"),
            ("look/assets/.drafts/plan.txt", "hidden folder of assets"),
            ("look/assets/old/.plan.txt", "hidden asset in a folder"),
        )
        for place, words in hidden:
            self._write(place, f"{hide('hidden file', words)}\n")
        self._write(
            ".git/config",
            f"[user]\n\tname = {hide('git', 'name of the author')}\n\temail = {hide('git', 'mail')}@example.org\n",
        )
        self._write(".hidden-photo.jpg", pictures.jpeg(self.planted, "hidden photo"))
        self._write("look/assets/look.css", f":root {{ --own-{self._show('style of the journal')}: 1 }}\n")
        self._write("look/assets/banner.jpg", pictures.jpeg(self.planted, "asset jpg"))
        self._write("look/assets/banner.png", pictures.png(self.planted, "asset png"))
        self._write("look/assets/banner.webp", pictures.webp(self.planted, "asset webp"))
        self._write("look/notes/script.md", f"{hide('notes', 'template of notes')} {{{{ sections }}}}\n")
        self._write("look/words/en.po", f'# {hide("comment", "catalogue")}\nmsgid ""\nmsgstr ""\n')
