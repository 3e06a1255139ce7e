"""The plainest script that makes such a site: what no builder with these libraries can do without.

In: a journal as `journals` makes it, and its charts' filled definitions, collected once beforehand. Out: the same number
of pages, with sums, charts, recaps and tables. Checks nothing, keeps nothing, has no structure; one process.
Run as a script: `floor.py JOURNAL CHARTS OUTPUT`.
"""

from __future__ import annotations

import contextlib
import copy
import datetime as dt
import json
import sys
from collections import defaultdict
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Any
from unittest import mock

__all__ = ["collect", "sized", "write"]

BASE = """\
<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{{ title }}</title>
<meta name="viewport" content="width=device-width"><link rel="stylesheet" href="{{ up }}assets/style.css"></head>
<body><nav><a href="{{ up }}index.html">Home</a> <a href="{{ up }}compare.html">Compare</a>
<a href="{{ up }}methods.html">Methods</a></nav><main><h1>{{ title }}</h1>
{% block main %}{% endblock %}</main></body></html>
"""
RUNS = """\
{% extends 'base' %}{% block main %}<table><tr><th>Run<th>Variety<th>Start<th>Picked<th>First pick<th>Water</tr>
{% for run in runs %}<tr><td><a href="{{ up }}experiments/{{ run.id }}.html">{{ run.title }}</a><td>{{ run.variety }}
<td>{{ run.start }}<td>{{ run.total }} g<td>day {{ run.first }}<td>{{ run.water }} L</tr>{% endfor %}
</table>{% endblock %}
"""
TEXT = "{% extends 'base' %}{% block main %}{{ body | safe }}{% endblock %}"
EXPERIMENT = """\
{% extends 'base' %}{% block main %}<p>{{ run.question }} {{ run.answer.verdict }}: {{ run.answer.why }}</p>
<dl><dt>Picked<dd>{{ run.total }} g<dt>First pick<dd>day {{ run.first }}<dt>Water<dd>{{ run.water }} L
<dt>Tallest<dd>{{ run.tallest }} cm<dt>Visits<dd>{{ run.log | length }}<dt>EC<dd>{{ run.ec }}</dl>
{{ recap | safe }}
{% for drawings, table in charts %}<figure>
{% for drawing in drawings %}<div class="{{ 'wide' if loop.first else 'narrow' }}">{{ drawing | safe }}</div>{% endfor %}
<table>{% for row in table %}<tr>{% for cell in row %}<td>{{ cell }}
{% endfor %}</tr>{% endfor %}</table></figure>{% endfor %}
<ol>{% for entry in run.log %}<li id="day-{{ entry.day }}"><h3>Day {{ entry.day }}</h3><ul>
{% for key, value in entry.items() %}<li>{{ key }}: {{ value }}</li>{% endfor %}</ul></li>{% endfor %}</ol>
<table>{% for plant, grams in run.by_plant.items() %}<tr><th>{{ plant }}<td>{{ grams }} g</tr>{% endfor %}</table>
<dl>{% for key, value in run.items() if key != 'log' %}<dt>{{ key }}<dd>{{ value }}{% endfor %}</dl>{% endblock %}
"""


def write(journal: Path, charts: Path, output: Path) -> int:
    """Read, sum, draw, render, write; how many pages were written."""
    import vl_convert
    from jinja2 import DictLoader, Environment
    from markdown_it import MarkdownIt
    from yaml import CSafeLoader, load

    environment = Environment(
        loader=DictLoader({"base": BASE, "runs": RUNS, "text": TEXT, "experiment": EXPERIMENT}),
        autoescape=True,
    )
    markdown = MarkdownIt()
    for folder in ("experiments", "seasons", "crops", "assets"):
        (output / folder).mkdir(parents=True)
    (output / "assets" / "style.css").write_bytes((charts / "style.css").read_bytes())
    pages, runs = 0, []

    def page(address: str, template: str, title: str, **given: Any) -> None:
        nonlocal pages
        up = "../" * address.count("/")
        text = environment.get_template(template).render(title=title, up=up, **given)
        (output / address).write_text(text, "utf-8")
        pages += 1

    gear = load((journal / "gear.yaml").read_bytes(), CSafeLoader)
    for file in sorted(journal.glob("seasons/*/*/experiment.yaml")):
        run = load(file.read_bytes(), CSafeLoader)
        run["id"], run["season"] = file.parent.name, file.parent.parent.name
        summed(run, gear)
        recap = environment.from_string((file.parent / "recap.md").read_text("utf-8"))
        drawn = []
        for chart in json.loads((charts / f"{run['id']}.json").read_text("utf-8")):
            svgs = [vl_convert.vega_to_svg(what, allowed_base_urls=[]) for what in chart["frames"]]
            drawn.append((svgs, chart["table"]))
        story = markdown.render(recap.render(facts=run["facts"]))
        page(f"experiments/{run['id']}.html", "experiment", run["title"], run=run, recap=story, charts=drawn)
        del run["log"]
        runs.append(run)
    for address, key in (("seasons", "season"), ("crops", "crop")):
        parts = defaultdict(list)
        for run in runs:
            parts[run[key]].append(run)
        for name, some in parts.items():
            page(f"{address}/{name}.html", "runs", name, runs=some)
    page("index.html", "runs", "All runs", runs=runs)
    page("compare.html", "runs", "Compare", runs=sorted(runs, key=lambda run: run["total"]))
    about = markdown.render((journal / "about.md").read_text("utf-8"))
    for name in ("about", "methods", "cautions", "404"):
        page(f"{name}.html", "text", name, body=about)
    return pages


def summed(run: dict[str, Any], gear: dict[str, Any]) -> None:
    """Plain sums over the log, put into the run."""
    grams: dict[str, float] = defaultdict(float)
    water, heights, ecs, first = 0.0, [0.0], [0.0], None
    tubs = run.get("tubs") or {"": {"system": run["system"]}}
    holds = number(gear["systems"][next(iter(tubs.values()))["system"]]["reservoir"])
    for entry in run["log"]:
        if pick := entry.get("harvest"):
            first = entry["day"] if first is None else first
            for plant, part in {"all": pick}.items() if "weight" in pick else pick.items():
                grams[plant] += number(part["weight"])
        for value in each(entry.get("water")):
            water += holds if value == "filled" else number(value)
        heights += map(number, each(entry.get("height")))
        ecs += map(number, each(entry.get("ec")))
    start, last = run["start"], run["log"][-1]["day"]
    run |= {"total": sum(grams.values()), "by_plant": grams, "first": first, "water": water}
    run |= {"tallest": max(heights), "ec": max(ecs), "end": start + dt.timedelta(days=last)}
    up = next(entry["sprouted"] for entry in reversed(run["log"]) if "sprouted" in entry)
    seeds = 3 * run["plants"]
    run["facts"] = {
        "germination": {"share": f"{sum(up.values())} of {seeds}"},
        "harvest": {"total": f"{run['total']:g} g"},
        "solution": {"water": f"{water:g} L"},
        "length": f"{last} days",
    }


def each(value: Any) -> list[str]:
    """What is written once or for each of several."""
    return [] if value is None else list(value.values()) if isinstance(value, dict) else [value]


def number(text: str) -> float:
    """The number of `about 9 cm`; zero where there is none."""
    return float(text.removeprefix("about ").split()[0]) if text[-1] != "d" else 0.0


def collect(journal: Path, charts: Path) -> None:
    """Keep the filled definitions of every chart of a journal, wide and narrow, and its table, by experiment."""
    import sitegen
    from sitegen.core.language.wording import Wording
    from sitegen.ingest import read_experiment, read_journal
    from sitegen.measure import measure
    from sitegen.plot import draw

    charts.mkdir(parents=True)
    journal_files, _ = read_journal(journal)
    assert journal_files is not None
    prices, units = journal_files.journal.prices, journal_files.journal.units
    words = Wording(units, journal_files.journal.language)
    for folder in journal_files.folders:
        run, _ = read_experiment(folder, journal_files)
        assert run is not None
        with _noted() as noted:
            found = draw(measure(run, prices), units=units, say=words.say)
        drawn = sum(chart.drawn for chart in found)
        assert len(noted) == 2 * drawn > 0, "charts were not drawn here, or not twice each"
        each_drawn = iter(noted)  # a chart that is told in a sentence has a table alone
        kept = [
            {"frames": list(islice(each_drawn, 2 if chart.drawn else 0)), "table": chart.table.rows}
            for chart in found
        ]
        (charts / f"{folder.id}.json").write_text(json.dumps(kept), "utf-8")
    theme = Path(sitegen.__file__).parent.parent / "themes" / journal_files.journal.theme
    (charts / "style.css").write_bytes((theme / "assets" / "style.css").read_bytes())


@contextlib.contextmanager
def _noted() -> Iterator[list[dict[str, Any]]]:
    """What is drawn meanwhile: the filled definition of each drawing."""
    from sitegen.plot.drawing import draw

    noted: list[dict[str, Any]] = []
    fill = draw.filled

    def note(*what: Any) -> dict[str, Any]:
        noted.append(sized(definition := fill(*what)))
        return definition

    with mock.patch.object(draw, "filled", note):
        yield noted


def sized(definition: dict[str, Any]) -> dict[str, Any]:
    """A filled definition as a plain script has it: each text with its size, so that the library draws it whole."""
    whole: dict[str, Any] = copy.deepcopy(definition)
    for mark in whole["marks"]:
        if size := whole["usermeta"]["text_size"].get(mark["name"].removesuffix("_marks")):
            mark["encode"]["update"]["fontSize"] = {"value": size}
    return whole


if __name__ == "__main__":
    print(write(*map(Path, sys.argv[1:4])))
