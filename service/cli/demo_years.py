"""The later parts of the demo's report: years of cost, the cheapest combination, the note for the practice."""

from __future__ import annotations

from typing import Any

from service.cli.demo_report import Section, count_of, money, words
from service.cli.text_table import number, paragraph, table

Answer = dict[str, Any]

_LINES_OF_NOTE = 24


def plan_section(planned: Answer) -> Section:
    """What the years cost with each pack size, and from when the larger one is ahead."""
    rows = [
        (
            course["name"],
            _phases(course),
            money(course["consumed_cost"], course["currency"]),
            money(course["paid_cost"], course["currency"]),
            number(course["containers"]),
            count_of(course["left_over_units"], course["unit"]),
        )
        for course in planned["alternatives"]
    ]
    lines = [
        table(("product", "given a day", "used", "paid", "packs", "left over"), rows),
        paragraph(
            f"From {planned['start_date']} to {planned['end_date']}, {number(planned['horizon_days'])} days; a pack is "
            f"bought on the day it is opened. Look again on {planned['next_reassessment']}."
        ),
        *_savings(planned),
        paragraph(f"If something moves, for {planned['name']}: {_moves(planned)}."),
        paragraph("The same as a calendar with refills: POST /v1/plan.ics"),
    ]
    return Section("What do years of it cost, and when is the next pack due?", "POST /v1/plan", lines)


def _savings(planned: Answer) -> list[str]:
    saving = planned["saving"]
    if saving is None:
        return []
    names = {course["product_id"]: course["name"] for course in planned["alternatives"]}
    said = [
        f"{names[saving['cheapest_product_id']]} saves {money(saving['paid'], saving['currency'])} against "
        f"{names[saving['dearest_product_id']]}."
    ]
    said += [
        f"{names[pair['product_id']]} has paid off on day {number(pair['ahead_for_good_from_day'])}."
        for pair in saving["pairs"]
        if pair["ahead_for_good_from_day"]
    ]
    return [paragraph(" ".join(said))]


def _moves(planned: Answer) -> str:
    told = []
    for one in planned["what_if"]:
        change = one["aim"] or f"x {number(one['factor'])}"
        told.append(f"{words(one['change'])} {change}: {money(one['paid_cost'], planned['currency'])}")
    return ", ".join(told)


def _phases(course: Answer) -> str:
    given = (f"{count_of(one['units_per_day'], course['unit'])} for {one['days']} days" for one in course["phases"])
    return "; ".join(given)


def combine_section(combined: Answer) -> Section:
    """The cheapest sets of products that reach several ingredients at once."""
    rows = [
        (
            number(found["rank"]),
            " + ".join(f"{count_of(one['units_per_day'], one['unit'])} of {one['name']}" for one in found["products"]),
            " + ".join(number(target["achieved_mg"]) for target in found["targets"]),
            money(found["cost_per_day"], found["currency"]),
            words(found["verdict"]),
        )
        for found in combined["combinations"]
    ]
    aims = (f"{number(target['aim_mg'])} mg of {words(target['ingredient'])}" for target in combined["targets"])
    wanted = " and ".join(aims)
    lines = [
        table(("rank", "a day", "mg a day", "cost a day", "screen"), rows),
        paragraph(f"Wanted: at least {wanted} a day. The first is {words(combined['status'])}."),
    ]
    return Section("Which products together reach two aims for the least?", "POST /v1/combine", lines)


def note_section(note: str) -> Section:
    """The beginning of the record for the practice, as it pastes."""
    shown = note.splitlines()[:_LINES_OF_NOTE]
    lines = [*(f"      | {line}".rstrip() for line in shown), paragraph("... and so on, down to sources and checksum.")]
    return Section("What does the practice get?", "POST /v1/care-note.txt", lines)
