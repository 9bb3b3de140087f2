"""The guides: one list that the index, the views and the tests follow."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Guide:
    """One guide. ``slug`` is the end of its address and the name of its template."""

    slug: str
    title: str
    summary: str


START = (
    Guide(
        "start-app",
        "For an app",
        "You build an app or a site about pets, and want a daily amount with what must be said beside it.",
    ),
    Guide(
        "start-database",
        "For a shelter database",
        "You keep many animals in a table, and want each row answered, stored and explainable a year later.",
    ),
    Guide(
        "start-spreadsheet",
        "For a spreadsheet",
        "You want the numbers in cells, without writing a program.",
    ),
    Guide(
        "start-carer",
        "For a carer",
        "You stand in front of a shelf, or hold a tub in your hand, and have one animal in mind.",
    ),
    Guide(
        "start-writer",
        "For a writer",
        "You write about joint supplements, and want charts and numbers that a reader can check.",
    ),
)
METHOD = (
    Guide(
        "amounts",
        "How amounts are derived",
        "From what was published, through a rule that is written down, to tablets and money; with one example worked.",
    ),
    Guide(
        "origin-and-evidence",
        "How to read origin and evidence",
        "Four words for how a value is known, five for what trials say, and what recollection alone may do.",
    ),
    Guide(
        "verdicts",
        "What the verdicts mean",
        "Stop, ask a veterinarian, incomplete, nothing found: what leads to each, and why none of them says harmless.",
    ),
    Guide(
        "plans",
        "Plans, prices and calendars",
        "How days, years, packs and prices are counted, and when a large pack has paid off.",
    ),
    Guide(
        "combinations",
        "The cheapest combination",
        "How a set of products for several targets is searched, and what is told when none fits.",
    ),
    Guide(
        "care-note",
        "The care note",
        "What stands on the sheet for the veterinary practice, and how it can be made again.",
    ),
)
INTERFACE = (
    Guide("words", "Every caution and every flag", "The words that answers carry for programs, each with its meaning."),
    Guide("errors", "Errors", "Every kind of problem, with an answer as it comes."),
    Guide(
        "limits",
        "Limits and stability",
        "How much one request may hold, and what may and may not change within version 1.",
    ),
)
GROUPS = (("Quick start", START), ("How it works", METHOD), ("The interface", INTERFACE))
GUIDES = {guide.slug: guide for _, guides in GROUPS for guide in guides}
