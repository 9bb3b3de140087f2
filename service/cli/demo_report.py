"""Answers of the service as text that a person likes to read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from service.cli.text_table import number, paragraph, span, table

Answer = dict[str, Any]

_VERDICTS = {
    "stop": "STOP",
    "ask_veterinarian": "ask the veterinarian",
    "incomplete": "incomplete: not all was recognised",
    "nothing_found": "no record speaks against it",
}
_SHOWN_LEVELS = ("avoid", "veterinarian")


def words(identifier: str | None) -> str:
    """Write an identifier as words."""
    return (identifier or "-").replace("_", " ")


def money(amount: float | None, currency: str | None) -> str:
    """Write an amount of money with its currency, ``-`` for none; small ones to four digits."""
    if amount is None:
        return "-"
    written = f"{amount:,.2f}" if amount >= 0.1 else f"{amount:.4g}"
    return f"{written} {currency or ''}".rstrip()


def count_of(count: float | None, unit: str) -> str:
    """Write a count with its unit, ``2 tablets``."""
    return f"{number(count)} {unit}" + ("" if count == 1 else "s")


def heading(case: Answer) -> str:
    """Say who this is about, and that none of it is real."""
    animal = case["animal"]
    who = (
        f"{animal['name']}: a {animal['species']} of {animal['weight']}, {animal['age_years']} years old, "
        f"at {case['shelter']['name']}; takes {' and '.join(case['medications'])}."
    )
    return "\n".join(("Fabella, an invented case", paragraph(case["invented"]), paragraph(who)))


def _title(position: int, question: str, request: str) -> str:
    return f"{position}. {question}\n   {request}\n"


def _cautions(answers: Iterable[Answer], said: str = "") -> list[str]:
    """Each caution once, in the order of the answers; none that another one, or what was said before, contains."""
    texts = dict.fromkeys(caution["text"] for answer in answers for caution in answer["cautions"])
    fuller = [text for text in texts if text not in said and sum(text in other for other in texts) == 1]
    return [paragraph(text, bullet="! ") for text in fuller]


def dose_section(path: str, dose: Answer) -> str:
    """Daily amounts per phase, what the evidence says, and what to be careful about."""
    rows = [
        (
            phase["phase"],
            span(phase["low_mg"], phase["high_mg"]),
            span(phase["moiety_low_mg"], phase["moiety_high_mg"]),
            number(phase["divided_doses"]),
            "no set end" if phase["days_low"] is None else f"{span(phase['days_low'], phase['days_high'])} days",
            words(phase["origin"]),
        )
        for phase in dose["phases"]
    ]
    headers = ("phase", "mg a day", "of which active", "doses a day", "for", "how this is known")
    lines = [
        _title(1, f"How much {dose['ingredient'].replace('-', ' ')} a day?", f"GET {path}"),
        table(headers, rows),
        paragraph(f"Amounts are mg of {dose['form'].replace('-', ' ')}."),
    ]
    evidence = dose["evidence"]
    if evidence:
        lines.append(paragraph(f"Evidence: {evidence['verdict']}. {evidence['summary']}"))
    if dose.get("reassess_after_days"):
        lines.append(paragraph(f"Look again after {dose['reassess_after_days']} days: stop what does not help."))
    return "\n".join([*lines, *_cautions([dose], evidence["summary"] if evidence else "")])


def normalise_section(products: Sequence[Answer], answers: Sequence[Answer]) -> str:
    """What one unit of each product holds and costs, whatever its label calls a serving."""
    rows = []
    for product, answer in zip(products, answers, strict=True):
        for index, fact in enumerate(answer["facts"]):
            low, high = fact["moiety_low_mg_per_unit"], fact["moiety_high_mg_per_unit"]
            rows.append(
                (
                    product["name"] if index == 0 else "",
                    f"{fact['name']} {fact['amount']} in {count_of(product['serving']['units'], product['unit'])}",
                    number(fact["mg_per_unit"]),
                    span(low, high),
                    money(answer["cost_per_unit"], answer["currency"]) if index == 0 else "",
                    money(fact["moiety_cost_per_mg"], answer["currency"]),
                    ", ".join(words(flag) for flag in fact["flags"]) or "-",
                )
            )
    headers = ("product", "label", "mg a unit", "active mg a unit", "unit costs", "active mg costs", "remarks")
    return "\n".join(
        (_title(2, "What is in one unit, and what does it cost?", "POST /v1/normalise"), table(headers, rows))
    )


def compare_section(compared: Answer) -> str:
    """Order the products by what the daily amount costs for this animal."""
    rows = [
        (
            number(row["rank"]),
            row["name"] or row["product_id"],
            count_of(row["units_per_day"], row["unit"]),
            " + ".join(number(target["achieved_mg"]) for target in row["targets"]),
            money(row["cost_per_day"], row["currency"]),
            money(row["cost_per_365_days"], row["currency"]),
            number(row["container_lasts_days"]),
            " ".join(row["why_not"]) or "-",
        )
        for row in compared["rows"]
    ]
    headers = ("rank", "product", "a day", "mg a day", "cost a day", "a year", "days a pack", "why not")
    aim = compared["targets"][0]
    goal = f"Aim: {span(aim['low_mg'], aim['high_mg'])} mg of {aim['form']} a day; the least that reaches it counts."
    return "\n".join(
        (_title(3, "Which is the better buy for this dog?", "POST /v1/compare"), table(headers, rows), paragraph(goal))
    )


def _finding_rows(name: str, screen: Answer) -> list[tuple[str, ...]]:
    findings = [finding for finding in screen["findings"] if finding["level"] in _SHOWN_LEVELS]
    verdict = _VERDICTS[screen["verdict"]]
    if not findings:
        return [(name, verdict, "-", "-", "-")]
    return [
        (
            name if index == 0 else "",
            verdict if index == 0 else "",
            " + ".join(subject.replace("-", " ") for subject in finding["subjects"]),
            finding["effect"],
            finding["action"],
        )
        for index, finding in enumerate(findings)
    ]


def screen_section(case: Answer, screens: Sequence[Answer]) -> str:
    """What the label hides, and what does not go with the animal's medicines."""
    rows = [
        row
        for product, screen in zip(case["products"], screens, strict=True)
        for row in _finding_rows(product["name"], screen)
    ]
    unknown = sorted({item["text"] for screen in screens for item in screen["unrecognised"]})
    lesser = sum(finding["level"] not in _SHOWN_LEVELS for screen in screens for finding in screen["findings"])
    lines = [
        _title(4, f"Does anything speak against them, with {' and '.join(case['medications'])}?", "POST /v1/screen"),
        table(("product", "verdict", "because of", "what can happen", "what to do"), rows),
    ]
    if lesser:
        lines.append(paragraph(f"Remarks of lesser weight, left out here: {lesser}."))
    if unknown:
        lines.append(paragraph(f"Not recognised, so not judged: {', '.join(unknown)}."))
    return "\n".join([*lines, *_cautions(screens)])


def closing(dose: Answer) -> str:
    """Say which data this came from and what it is not."""
    dataset = dose["dataset"]
    return "\n".join(
        (
            paragraph(f"Computed from dataset {dataset['version']} of {dataset['released']}.", indent=""),
            paragraph(dose["notice"], indent=""),
        )
    )
