"""Measure the cheapest combination: 50 invented products and four targets, against a comparison of the same products.

    python -m tests.load.measure_combine

Everything that an answer takes is measured: reading the labels, screening each product, the integer programme with its
exact checks, screening what is answered. Combination and comparison are run in turns, instance by instance, in one
process; loading the solver for the first time is measured apart, in processes of its own. All products are invented.
"""

from __future__ import annotations

import argparse
import random
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from functools import partial

from service.cli.text_table import table
from service.domain.combining.answer import CombineAnswer
from service.domain.combining.combining import combine
from service.domain.combining.request import CombineRequest
from service.domain.common import Animal
from service.domain.comparing import CompareRequest, compare
from service.domain.products import LabelFact, Product
from service.domain.targets import Target
from service.reference.release import Reference
from service.reference.releases import load_all

_PRODUCTS = 50
_DOG = Animal("dog", Decimal(30), Decimal(6))
_TARGETS = tuple(Target(id_) for id_ in ("glucosamine", "chondroitin-sulfate", "msm", "epa-dha"))
# What a unit of an invented product may hold of each target, as labels print it.
_ACTIVES = {
    "Glucosamine HCl": (100, 900),
    "Glucosamine": (100, 900),
    "Chondroitin sulfate": (50, 600),
    "MSM": (100, 900),
    "EPA": (50, 600),
    "DHA": (30, 400),
}
_OTHERS = {"Vitamin D3": ("mcg", 1, 9), "Vitamin E": ("mg", 5, 40), "Manganese": ("mg", 1, 5)}
_DIVISIBLE = {"tablet": ("whole", "halves", "quarters"), "capsule": ("whole", "opens"), "ml": ("millilitre_tenths",)}
_COLD = "import time; start = time.perf_counter(); import scipy.optimize; print(time.perf_counter() - start)"


def product(number: int, chance: random.Random) -> Product:
    """Invent one product: one to four actives, sometimes a vitamin, some price."""
    unit = chance.choice(tuple(_DIVISIBLE))
    actives = chance.sample(tuple(_ACTIVES), chance.randint(1, 4))
    facts = [LabelFact(name, f"{chance.randint(*_ACTIVES[name])} mg") for name in actives]
    if chance.random() < 0.3:
        name = chance.choice(tuple(_OTHERS))
        written, least, most = _OTHERS[name]
        facts.append(LabelFact(name, f"{chance.randint(least, most)} {written}"))
    return Product(
        id=f"p{number}",
        name=f"Invented product {number}",
        unit=unit,
        unit_count=Decimal(chance.choice((30, 60, 90, 120, 200))),
        price=Decimal(chance.randint(500, 6000)) / 100,
        currency="EUR",
        serving_units=Decimal(1),
        divisible=chance.choice(_DIVISIBLE[unit]),
        facts=tuple(facts),
        other_ingredients="cellulose, magnesium stearate",
    )


def request_of(seed: int, most_products: int) -> CombineRequest:
    """Invent one instance."""
    chance = random.Random(seed)  # noqa: S311 - invented products, not secrets
    products = tuple(product(number, chance) for number in range(_PRODUCTS))
    return CombineRequest(_DOG, _TARGETS, products, most_products=most_products)


def _seconds(action: Callable[[], object]) -> float:
    started = time.perf_counter()
    action()
    return time.perf_counter() - started


def _spread(values: list[float]) -> tuple[str, str, str]:
    return f"{statistics.median(values):.3f}", f"{min(values):.3f}", f"{max(values):.3f}"


def cold_import(times: int) -> list[float]:
    """Import the solver in fresh processes."""
    command = [sys.executable, "-P", "-c", _COLD]
    return [float(subprocess.run(command, check=True, capture_output=True).stdout) for _ in range(times)]


def measure(reference: Reference, instances: int, most_products: int) -> list[tuple[str, str, str, str]]:
    """Run combination and comparison of the same products in turns."""
    combined: list[float] = []
    compared: list[float] = []
    answers: list[CombineAnswer] = []
    for seed in range(instances):
        wanted = replace(request_of(seed, most_products), time_limit_seconds=Decimal(5))
        beside = CompareRequest(wanted.animal, wanted.targets, wanted.products)
        # A first comparison fills the memory of names that both read from.
        compare(reference, beside)
        compared.append(_seconds(partial(compare, reference, beside)))
        started = time.perf_counter()
        answers.append(combine(reference, wanted, time.monotonic))
        combined.append(time.perf_counter() - started)
    settled = sum(answer.search_complete for answer in answers)
    fits = sum(bool(answer.combinations) for answer in answers)
    ratios = [one / other for one, other in zip(combined, compared, strict=True)]
    return [
        (f"combine, s (most_products {most_products}; {fits} fit, {settled} settled)", *_spread(combined)),
        ("compare of the same products, s", *_spread(compared)),
        ("combine / compare", *_spread(ratios)),
    ]


def main() -> None:
    """Read the options, measure, print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--instances", type=int, default=25)
    parser.add_argument("--most-products", type=int, nargs="+", default=[2, 3, 5, 50])
    parser.add_argument("--cold", type=int, default=5, help="fresh processes that import the solver")
    chosen = parser.parse_args()
    reference = load_all().newest
    combine(reference, request_of(0, 3), time.monotonic)
    rows = [("first import of scipy.optimize, s", *_spread(cold_import(chosen.cold)))]
    for most_products in chosen.most_products:
        rows += measure(reference, chosen.instances, most_products)
    head = f"{_PRODUCTS} products, {len(_TARGETS)} targets, {chosen.instances} instances each"
    print(head, table(("figure", "median", "least", "most"), rows), sep="\n")


if __name__ == "__main__":
    main()
