"""Measure the service against paired baselines in one run and print ratios.

    python -m tests.load.measure

Figures of different machines, or of different minutes on a shared one, cannot be compared; the ratios can: baseline
and service are measured in turns, pair by pair, and each ratio is the median over the pairs with its extremes.
"""

from __future__ import annotations

import argparse
import json
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import dataclass, replace
from itertools import count
from pathlib import Path
from typing import Any

from service.cli.child import Child, own_environment, serving
from service.cli.text_table import table
from service.demo import compare_body, scenario
from tests.load import generator, processes

_BARE = "tests.load.bare_app"
_COMPARED_PRODUCTS = 50
# Plain labels, the same ones in every measurement, so that figures of different commits tell of the code alone.
_MEASURED = ("invented-tablet", "invented-powder", "invented-chew")
_IMPORTS = "import flask, marshmallow"


@dataclass(frozen=True, slots=True)
class Plan:
    """How long and how wide to measure."""

    pairs: int = 7
    seconds: float = 3.0
    connections: int = 8
    repeats: int = 40


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a pair: throughput, latency, and processor time of the workers per answer."""

    per_second: float
    median_ms: float
    p99_ms: float
    cpu_ms: float


def different_doses() -> Callable[[], bytes]:
    """Return a source of dose requests no two of which are alike: a new weight each, 1 to 119 kg in steps of 0.1 g."""
    numbers = count()

    def next_request() -> bytes:
        # 7919 shares no factor with the number of steps, so the weights jump about and never repeat.
        steps = next(numbers) * 7919 % 1_180_000
        return generator.get(f"/v1/dose?species=dog&weight_kg={1 + steps / 10_000:.4f}&ingredient=glucosamine")

    return next_request


def measure_side(server: Child, next_request: Callable[[], bytes], plan: Plan) -> Side:
    """Load one server for a while."""
    workers = processes.workers_of(server.pid)
    before = processes.cpu_seconds(workers)
    outcome = generator.drive(server.url, next_request, connections=plan.connections, seconds=plan.seconds)
    spent = processes.cpu_seconds(workers) - before
    return Side(outcome.per_second, outcome.median_ms, outcome.p99_ms, spent * 1000 / max(len(outcome.latencies_ms), 1))


def spread(values: list[float]) -> str:
    """Write a median with its extremes."""
    return f"{statistics.median(values):.2f} ({min(values):.2f} to {max(values):.2f})"


def medians(sides: list[Side]) -> tuple[str, str, str, str]:
    """Write the medians of one server over all pairs."""
    return (
        f"{statistics.median(side.per_second for side in sides):,.0f}",
        f"{statistics.median(side.median_ms for side in sides):.2f}",
        f"{statistics.median(side.p99_ms for side in sides):.2f}",
        f"{statistics.median(side.cpu_ms for side in sides):.3f}",
    )


def measure_dose(service: Child, bare: Child, plan: Plan) -> str:
    """Dose with all-different questions against both bare answers, in turns."""
    dose = different_doses()
    sources: dict[str, tuple[Child, Callable[[], bytes]]] = {
        "dose, every question different": (service, dose),
        "bare jsonify, same structure": (bare, lambda: generator.get("/same-structure")),
        "bare jsonify, one text of the same size": (bare, lambda: generator.get("/same-size")),
    }
    for server, source in sources.values():
        measure_side(server, source, replace(plan, seconds=min(plan.seconds, 1.0)))
    found: dict[str, list[Side]] = {name: [] for name in sources}
    for pair in range(plan.pairs):
        order = list(sources) if pair % 2 == 0 else list(reversed(sources))
        for name in order:
            found[name].append(measure_side(*sources[name], plan))
    rows = [(name, *medians(sides)) for name, sides in found.items()]
    own, *baselines = found.items()
    ratios = [
        (
            f"dose / {name}",
            spread([mine.per_second / theirs.per_second for mine, theirs in zip(own[1], sides, strict=True)]),
            spread([theirs.cpu_ms / mine.cpu_ms for mine, theirs in zip(own[1], sides, strict=True)]),
        )
        for name, sides in baselines
    ]
    return "\n".join(
        (
            f"Throughput, {plan.pairs} pairs of {plan.seconds:g} s, {plan.connections} connections",
            table(("answers", "per second", "median ms", "p99 ms", "worker CPU ms"), rows),
            "",
            table(("ratio (1 = as fast as the baseline)", "by throughput", "by CPU per answer"), ratios),
        )
    )


def compare_request() -> bytes:
    """Return a compare request of 50 products made from three invented ones."""
    case = scenario()
    invented: list[dict[str, Any]] = [product for product in case["products"] if product["id"] in _MEASURED]
    products = [
        {**invented[index % len(invented)], "id": f"p{index}", "price": 10 + index}
        for index in range(_COMPARED_PRODUCTS)
    ]
    body = compare_body(case["animals"][0], products, case["ingredient"])
    return generator.post("/v1/compare", json.dumps(body).encode())


def measure_compare(service: Child, plan: Plan) -> str:
    """Compare of 50 products and a single dose, in turns, over one connection each."""
    dose, compare = different_doses(), compare_request()
    compared: list[float] = []
    dosed: list[float] = []
    for _ in range(plan.pairs):
        compared.append(generator.one_by_one(service.url, (compare for _ in range(plan.repeats))).median_ms)
        dosed.append(generator.one_by_one(service.url, (dose() for _ in range(plan.repeats))).median_ms)
    ratios = [a / b for a, b in zip(compared, dosed, strict=True)]
    rows = [
        (f"compare of {_COMPARED_PRODUCTS} products, ms", spread(compared)),
        ("one dose, ms", spread(dosed)),
        ("ratio", spread(ratios)),
    ]
    return "\n".join(("One request at a time", table(("figure", "median (extremes over the pairs)"), rows)))


def measure_memory(service: Child, bare: Child) -> str:
    """Proportional set size of parents and workers after the load."""
    rows = [
        (
            name,
            f"{processes.memory_mib(child.pid):.1f}",
            ", ".join(f"{processes.memory_mib(worker):.1f}" for worker in processes.workers_of(child.pid)),
        )
        for name, child in (("service", service), ("bare Flask", bare))
    ]
    return "\n".join(("Memory after the load (PSS, MiB)", table(("server", "parent", "each worker"), rows)))


def _seconds(action: Callable[[], object]) -> float:
    started = time.perf_counter()
    action()
    return time.perf_counter() - started


def _start_and_stop() -> Iterator[float]:
    started = time.perf_counter()
    with serving():
        yield time.perf_counter() - started


def measure_start(plan: Plan) -> str:
    """From starting the command to the first ready answer, against importing the two largest libraries."""
    own = own_environment()
    ready: list[float] = []
    imported: list[float] = []
    for _ in range(plan.pairs):
        ready.extend(_start_and_stop())
        imported.append(_seconds(lambda: subprocess.run([sys.executable, "-P", "-c", _IMPORTS], env=own, check=True)))
    ratios = [a / b for a, b in zip(ready, imported, strict=True)]
    rows = [
        ("fabella serve until /readyz answers, s", spread(ready)),
        (f"python -c '{_IMPORTS}', s", spread(imported)),
        ("ratio", spread(ratios)),
    ]
    return "\n".join(("Time to ready", table(("figure", "median (extremes over the pairs)"), rows)))


def run(plan: Plan) -> None:
    """Start both servers, measure everything, print it."""
    with tempfile.TemporaryDirectory() as folder, ExitStack() as servers:
        service = servers.enter_context(serving())
        with urllib.request.urlopen(f"{service.url}/v1/dose?species=dog&weight=34kg&ingredient=glucosamine") as answer:
            body = answer.read()
        imitated = Path(folder, "dose.json")
        imitated.write_bytes(body)
        bare = servers.enter_context(serving(command=(_BARE,), arguments=("--body", str(imitated))))
        print(f"A dose answer has {len(body):,} bytes.\n")
        print(measure_dose(service, bare, plan), end="\n\n", flush=True)
        print(measure_compare(service, plan), end="\n\n", flush=True)
        print(measure_memory(service, bare), end="\n\n", flush=True)
    print(measure_start(plan), flush=True)


def main() -> None:
    """Read the options and run."""
    usual = Plan()
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pairs", type=int, default=usual.pairs)
    parser.add_argument("--seconds", type=float, default=usual.seconds, help="of each half of a pair")
    parser.add_argument("--connections", type=int, default=usual.connections)
    parser.add_argument("--repeats", type=int, default=usual.repeats, help="requests per pair, one at a time")
    chosen = parser.parse_args()
    run(Plan(chosen.pairs, chosen.seconds, chosen.connections, chosen.repeats))


if __name__ == "__main__":
    main()
