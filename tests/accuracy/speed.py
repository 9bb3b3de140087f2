"""How long the label reader takes for hostile texts, beside an ordinary label that is read in turns with them.

A slow minute of the machine strikes both sides of a pair; the ratios hold from machine to machine, milliseconds do not.
"""

from __future__ import annotations

import gc
from collections.abc import Callable
from statistics import median
from time import perf_counter

from service.domain.labels.assembling import LONGEST_LABEL, read_label
from service.reference.release import Reference

RUNS = 5
# Invented.
ORDINARY = """Supplement Facts
Serving Size: 2 soft chews (10 g)
Servings per container: 45
Amount Per Serving   % Daily Value
Glucosamine HCl   1,000 mg   *
Chondroitin sulfate   800 mg   *
MSM   400 mg   *
Vitamin E (as d-alpha-tocopheryl acetate)   30 IU   25 %
Joint blend 300 mg: turmeric, yucca, boswellia
* Daily Value not established
Other ingredients: cellulose, magnesium stearate, natural flavour, glycerin.
Directions: Dogs up to 25 lb: 1 chew daily. 26-50 lb: 2 chews daily. Over 50 lb: 3 chews daily.
Store below 25 \u00b0C. Keep out of reach of children.
Net wt 450 g"""
PIECES = {
    "the ordinary label, over and over": f"{ORDINARY}\n\n",
    "one amount a line": "MSM 500 mg\n",
    "amounts in one line": "MSM 500 mg ",
    "amounts between commas": "MSM 500 mg, ",
    "blends": "joint blend 5 mg: ",
    "nested brackets": "a (5 mg ",
    "names with brackets": "MSM (ab cd)",
    "open brackets": "(",
    "numbers": "1 ",
    "groups of digits": "1,000.",
    "ranges": "10-20 ",
    "one endless word": "a",
    "unknown words": "zq xv ",
    "slips of a hazard": "xyiltol, ",
    "a list of hazards": "xylitol, ",
    "denials": "no xylitol ",
    "amounts for amounts": "per 2 chews ",
    "of which": "of which 5 mg ",
    "directions": "10 kg: 1 chew daily. ",
    "prices": "$5 ",
    "line ends": "\n",
    "headings": "Ingredients: ",
    "marks": "*\u2020",
    "fractions": "1\u00bd ",
    # Found by the fuzz run.
    "digits between signs": "E-9!6",
    "half a direction": "9: 0 ct*2-; S+T DWarning:",
    "fractions on lines of their own": "\u00bd \r\n\u00fc",
}


def hostile_texts() -> dict[str, str]:
    """Give texts of the greatest length that is accepted, each of one piece over and over."""
    return {name: (piece * (LONGEST_LABEL // len(piece) + 1))[:LONGEST_LABEL] for name, piece in PIECES.items()}


def report(reference: Reference, runs: int = RUNS) -> str:
    """Say how many milliseconds each hostile text takes, and how many ordinary labels could be read in that time.

    Parameters
    ----------
    reference
        The release to answer from.
    runs
        How often each pair is timed; medians are told, and the very first reading, when no name was remembered yet.

    Returns
    -------
    str
        One line per text, slowest first.
    """
    read_label(reference, ORDINARY)
    # As the service does before its workers begin: what the dataset takes is not gone through at every collection.
    gc.collect()
    gc.freeze()
    found = {name: _pairs(reference, text, runs) for name, text in hostile_texts().items()}
    ordinary = median(one for pairs in found.values() for _, one in pairs)
    in_order = sorted(found, key=lambda name: -_hostile(found[name]))
    lines = [
        f"ordinary label of {len(ORDINARY)} characters: {ordinary * 1000:.1f} ms",
        f"slowest text of {LONGEST_LABEL:,} characters: {_hostile(found[in_order[0]]) * 1000:.0f} ms, "
        f"slowest first reading: {max(pairs[0][0] for pairs in found.values()) * 1000:.0f} ms",
    ]
    return "\n".join([*lines, *(_line(name, found[name]) for name in in_order)])


def _line(name: str, pairs: list[tuple[float, float]]) -> str:
    ratios = [hostile / ordinary for hostile, ordinary in pairs]
    return (
        f"  {name}: {_hostile(pairs) * 1000:.0f} ms, {median(ratios):.1f} ordinary labels "
        f"({min(ratios):.1f} to {max(ratios):.1f}), first {pairs[0][0] * 1000:.0f} ms"
    )


def _hostile(pairs: list[tuple[float, float]]) -> float:
    return median(hostile for hostile, _ in pairs)


def _pairs(reference: Reference, text: str, runs: int) -> list[tuple[float, float]]:
    """Time a text and the ordinary label in turns."""
    return [
        (_seconds(lambda: read_label(reference, text)), _seconds(lambda: read_label(reference, ORDINARY)))
        for _ in range(runs)
    ]


def _seconds(act: Callable[[], object]) -> float:
    start = perf_counter()
    act()
    return perf_counter() - start
