"""Comparing many runs from kept summaries, against reading their JSON: `python -m tests.bench.compare [RUNS]`.

In: a number of runs (1,000). Out: seconds of decoding and of comparing, the most memory held [MB], and the ratio to the
floor: importing what compares, and parsing the JSON of the summaries. Runs are those of the demo's fruiting crop over and
over, each with a date, a log and weights of its own, in four varieties and two systems. Run on demand; nothing here
passes or fails.
"""

from __future__ import annotations

import json
import resource
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from random import Random

from sitegen.core.facts.across import ArmSummary, RunArms, TubUse
from sitegen.core.facts.figure import Figure
from sitegen.core.records.codec import codec_for
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import run_arms
from sitegen.pipeline.facts import facts_of
from tests.bench.timing import Command, memory, seconds

__all__ = ["make", "measured"]

DEMO, CROP = Path(__file__).parents[2] / "content_demo", "dwarf-tomato"
START, TODAY = date(1990, 1, 1), date(2026, 11, 28)
FLOOR = """
import json, sys
import sitegen.measure, sitegen.core.records.codec
[json.loads(line) for line in open(sys.argv[1])]
"""
COMPARED = """
import json, sys
from sitegen.measure import ACROSS
from sitegen.pipeline.engine.summaries import decoded_arms
ACROSS.compare([decoded_arms(line) for line in open(sys.argv[1])])
"""


def make(number: int) -> Iterator[RunArms]:
    """So many runs: two varieties each, one after the other in two tubs of each system."""
    found = facts_of(DEMO, (), TODAY)[1]
    models = [run_arms(facts) for facts in found if facts.run.setup.crop.id == CROP]
    random = Random(1)  # noqa: S311 - weights of a bench
    for n in range(number):
        model = models[n % len(models)]
        began = START + timedelta(days=60 * (n // 8))
        whole = next(arm for arm in model.arms if arm.kind == "run")
        first, second = random.sample(["amber", "beryl", "citrine", "dolomite"], 2)
        system = f"system-{n % 2}"
        arms = tuple(_arm(whole, name, system, random) for name in (first, second))
        yield replace(
            model,
            run=f"run-{n}",
            began=began,
            ended=began + timedelta(days=110),
            running=False,
            log=f"log-{n}",
            uses=(TubUse(system, 1, 8),),
            arms=(replace(whole, systems=(system,), roles=("system",)), *arms),
        )


def _arm(whole: ArmSummary, variety: str, system: str, random: Random) -> ArmSummary:
    weight = exactly(round(random.gauss(120, 30)), Dimension.MASS, 1)
    figures = replace(whole.figures, per_spot=Figure("a", weight, "a"))
    return replace(
        whole,
        kind="varieties",
        key=variety,
        varieties=(variety,),
        systems=(system,),
        roles=("row", "variety"),
        figures=figures,
    )


def measured(number: int) -> Iterator[str]:
    """The rows."""
    codec = codec_for(RunArms)
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "arms.jsonl"
        begin = time.perf_counter()
        file.write_text(
            "".join(json.dumps([codec.encode(run), None]) + "\n" for run in make(number)),
            "utf-8",
        )
        yield f"{number} runs, {file.stat().st_size / 1e6:.1f} MB of JSON, made in {time.perf_counter() - begin:.1f} s"
        ours, theirs = (Command(("-c", code, str(file)), cores=1) for code in (COMPARED, FLOOR))
        taken, floor = (sorted(seconds(each) for _ in range(3))[1] for each in (ours, theirs))
        yield f"decoded and compared {taken:.2f} s, floor {floor:.2f} s, ratio {taken / floor:.2f}"
        yield f"memory {memory(ours):.0f} MB, floor {memory(theirs):.0f} MB"
    yield f"this process at most {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000:.0f} MB"


if __name__ == "__main__":
    for line in measured(int(sys.argv[1]) if len(sys.argv) > 1 else 1000):
        print(line)
