"""Answers of the service as text that a person likes to read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from service.cli.text_table import number, paragraph, span, table

Answer = dict[str, Any]

_VERDICTS = {
    "stop": "STOP",
    "ask_veterinarian": "ask the vet",
    "incomplete": "incomplete",
    "nothing_found": "none found",
}
_VERDICT_WORDS = (
    "STOP: not to be given. Ask the vet: only after a veterinarian has agreed. Incomplete: not all was understood. "
    "None found: no record of this release speaks against it; that is no clearance."
)
_SHOWN_LEVELS = ("avoid", "veterinarian")
_LANGUAGES = {"de": "German", "fr": "French", "es": "Spanish"}
# The label that is shown in full: another language, and directions by body weight.
_SHOWN_LABEL = "invented-mussel"


@dataclass(frozen=True, slots=True)
class Section:
    """One question of the report: what a person asks, which request answers it, and the answer."""

    question: str
    request: str
    lines: Sequence[str]

    def written(self, position: int) -> str:
        """Write the section with its number."""
        return "\n".join((f"{position}. {self.question}\n   {self.request}\n", *self.lines))


def written(case: Answer, sections: Sequence[Section], dose: Answer) -> str:
    """Write the whole report: who it is about, the sections in their order, which data it came from."""
    numbered = (section.written(position) for position, section in enumerate(sections, start=1))
    return "\n\n".join((heading(case), *numbered, closing(dose)))


def words(identifier: str | None) -> str:
    """Write an identifier as words."""
    return (identifier or "-").replace("_", " ").replace("-", " ")


def money(amount: float | None, currency: str | None) -> str:
    """Write an amount of money with its currency, ``-`` for none; small ones to four digits."""
    if amount is None:
        return "-"
    written_amount = f"{amount:,.2f}" if amount >= 0.1 else f"{amount:.4g}"
    return f"{written_amount} {currency or ''}".rstrip()


def count_of(count: float | None, unit: str) -> str:
    """Write a count with its unit, ``2 tablets``."""
    return f"{number(count)} {unit}" + ("" if count == 1 else "s")


def heading(case: Answer) -> str:
    """Say who this is about, and that none of it is real."""
    who = [
        (
            animal["name"],
            animal["species"],
            animal["weight"],
            number(animal["age_years"]),
            ", ".join(animal["medications"]) or "-",
            ", ".join(animal["conditions"]) or "-",
        )
        for animal in case["animals"]
    ]
    return "\n".join(
        (
            f"Fabella, an invented case: {case['shelter']['name']}",
            paragraph(case["invented"]),
            "",
            table(("animal", "species", "weight", "years", "medicines", "conditions"), who),
        )
    )


def _cautions(answers: Iterable[Answer], said: str = "") -> list[str]:
    """Each caution once, in the order of the answers; none that another one, or what was said before, contains."""
    texts = dict.fromkeys(caution["text"] for answer in answers for caution in answer["cautions"])
    fuller = [text for text in texts if text not in said and sum(text in other for other in texts) == 1]
    return [paragraph(text, bullet="! ") for text in fuller]


def dose_section(path: str, dose: Answer) -> Section:
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
    lines = [table(headers, rows), paragraph(f"Amounts are mg of {words(dose['form'])}.")]
    evidence = dose["evidence"]
    if evidence:
        lines.append(paragraph(f"Evidence: {evidence['verdict']}. {evidence['summary']}"))
    if dose.get("reassess_after_days"):
        lines.append(paragraph(f"Look again after {dose['reassess_after_days']} days: stop what does not help."))
    lines += _cautions([dose], evidence["summary"] if evidence else "")
    return Section(f"How much {words(dose['ingredient'])} a day?", f"GET {path}", lines)


def label_section(case: Answer, labels: Sequence[Answer]) -> Section:
    """One label as printed and as read, and what was left unread on all of them."""
    products = case["products"]
    shown = next(index for index, product in enumerate(products) if product["id"] == _SHOWN_LABEL)
    read = labels[shown]
    facts = [
        (fact["printed"], fact["name"], words(fact["form"] or fact["ingredient"]), number(fact["mg_per_unit"]))
        for fact in read["facts"]
    ]
    unread = [f"\u201c{place['text']}\u201d" for label in labels for place in label["unread"]]
    languages = sorted({_LANGUAGES[label["locale"]] for label in labels if label["locale"] in _LANGUAGES})
    count = sum(len(label["facts"]) for label in labels)
    lines = [
        *(f"      | {line}".rstrip() for line in case["labels"][_SHOWN_LABEL]),
        "",
        table(("printed", "name", "read as", "mg a unit"), facts),
        paragraph(
            f"All {len(labels)} labels: {count} amounts read, {' and '.join(languages)} among the languages. "
            f"Not understood, and said so: {', '.join(unread)}."
        ),
    ]
    return Section(f"What do the labels say? Here that of {products[shown]['name']}.", "POST /v1/labels/read", lines)


def normalise_section(case: Answer, answers: Sequence[Answer]) -> Section:
    """What one unit of each product holds of the wanted ingredient and costs, whatever its label calls a serving."""
    rows = []
    for product, answer in zip(case["products"], answers, strict=True):
        wanted = [fact for fact in answer["facts"] if fact["ingredient"] == case["ingredient"]]
        unit_cost = money(answer["cost_per_unit"], answer["currency"])
        remarks = ", ".join(words(flag) for flag in answer["label_flags"]) or "-"
        if not wanted:
            rows.append((product["name"], f"states no {words(case['ingredient'])}", "-", "-", unit_cost, "-", remarks))
        for fact in wanted:
            low, high = fact["moiety_low_mg_per_unit"], fact["moiety_high_mg_per_unit"]
            each = money(fact["moiety_cost_per_mg"], answer["currency"])
            told = f"{fact['name']} {_amount_as_told(fact, product)}"
            rows.append((product["name"], told, number(fact["mg_per_unit"]), span(low, high), unit_cost, each, remarks))
    headers = ("product", "label", "mg a unit", "active mg a unit", "unit costs", "active mg costs", "remarks")
    return Section("What is in one unit, and what does it cost?", "POST /v1/normalise", [table(headers, rows)])


def _amount_as_told(fact: Answer, product: Answer) -> str:
    if " per " in fact["amount"]:
        return str(fact["amount"])
    return f"{fact['amount']} in {count_of(product['serving']['units'], product['unit'])}"


def compare_section(animal: Answer, compared: Answer) -> Section:
    """Order the products by what the daily amount costs for this animal."""
    rows = [
        (
            number(row["rank"]),
            row["name"] or row["product_id"],
            "-" if row["units_per_day"] is None else count_of(row["units_per_day"], row["unit"]),
            " + ".join(number(target["achieved_mg"] or None) for target in row["targets"]),
            money(row["cost_per_day"], row["currency"]),
            money(row["cost_per_365_days"], row["currency"]),
            number(row["container_lasts_days"]),
        )
        for row in compared["rows"]
    ]
    headers = ("rank", "product", "a day", "mg a day", "cost a day", "a year", "days a pack")
    aim = compared["targets"][0]
    goal = f"Aim: {span(aim['low_mg'], aim['high_mg'])} mg of {words(aim['form'])} a day; the least reaching it counts."
    question = f"Which is the better buy for {animal['name']}?"
    return Section(
        question, "POST /v1/compare", [table(headers, rows), paragraph(goal), *_objections(compared["rows"])]
    )


def _objections(rows: Iterable[Answer]) -> list[str]:
    """Say why products are listed last, those with one reason together."""
    named: dict[str, list[str]] = {}
    for row in rows:
        for reason in row["why_not"]:
            named.setdefault(reason, []).append(row["name"] or row["product_id"])
    return [paragraph(f"{', '.join(names)}: {reason}", bullet="- ") for reason, names in named.items()]


def screen_section(case: Answer, screens: Sequence[Sequence[Answer]]) -> Section:
    """Verdicts for every animal and product, then what stands behind those that are not clear."""
    animals, products = case["animals"], case["products"]
    verdicts = [
        (product["name"], *(_VERDICTS[screens[row][column]["verdict"]] for row in range(len(animals))))
        for column, product in enumerate(products)
    ]
    names = [animal["name"].partition(" ")[0] for animal in animals]
    because = [
        (f"{name}, {product['name']}", finding["effect"], finding["action"])
        for name, of_animal in zip(names, screens, strict=True)
        for product, screen in zip(products, of_animal, strict=True)
        for finding in screen["findings"]
        if finding["level"] in _SHOWN_LEVELS
    ]
    every = [screen for of_animal in screens for screen in of_animal]
    unknown = sorted({item["text"] for screen in every for item in screen["unrecognised"]})
    lines = [table(("one serving a day of", *names), verdicts), paragraph(_VERDICT_WORDS), ""]
    lines.append(table(("for", "what can happen", "what to do"), _once(because)))
    lesser = sum(finding["level"] not in _SHOWN_LEVELS for screen in every for finding in screen["findings"])
    if lesser:
        lines.append(paragraph(f"Remarks of lesser weight, left out here: {lesser}."))
    if unknown:
        lines.append(paragraph(f"Not recognised, so not judged: {', '.join(unknown)}."))
    lines += _cautions(every)
    return Section("Does anything speak against them, for each animal?", "POST /v1/screen", lines)


def _once(because: Iterable[tuple[str, str, str]]) -> list[tuple[str, str, str]]:
    """Join the rows that say the same of several animals or products."""
    joined: dict[tuple[str, str], list[str]] = {}
    for whom, effect, action in because:
        joined.setdefault((effect, action), []).append(whom)
    return [("; ".join(whom), effect, action) for (effect, action), whom in joined.items()]


def closing(dose: Answer) -> str:
    """Say which data this came from and what it is not."""
    dataset = dose["dataset"]
    return "\n".join(
        (
            paragraph(f"Computed from dataset {dataset['version']} of {dataset['released']}.", indent=""),
            paragraph(dose["notice"], indent=""),
        )
    )
