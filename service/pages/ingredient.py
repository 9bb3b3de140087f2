"""Everything the dataset holds about one ingredient, arranged for a page."""

from __future__ import annotations

from dataclasses import dataclass

from service.domain.common import SPECIES, Caution
from service.domain.describing import IngredientAnswer, NameItem
from service.domain.dose_answer import EvidenceSummary
from service.pages.hazard_view import Alarm, HazardView, alarm, present_hazard
from service.pages.ingredient_tables import form_table, guidance_table, limit_table, regimen_table
from service.pages.ingredient_words import KIND_WORDS, STANDING_WORDS
from service.pages.page_table import PageTable
from service.pages.pair_list import PairView, present_pairs
from service.pages.wording import sentence_case
from service.reference.release import Reference

# Some ingredients have hundreds of spellings; the rest is a link away.
MOST_NAMES = 60
_TYPE_ORDER = (
    "common",
    "salt",
    "botanical",
    "abbreviation",
    "e_number",
    "inci",
    "cas",
    "feed_code",
    "ins",
    "hidden_name",
)


@dataclass(frozen=True, slots=True)
class SpeciesAmounts:
    """The amounts that are answered for one species, and their chart with the text that stands for it."""

    species: str
    table: PageTable
    chart: str
    chart_alt: str


@dataclass(frozen=True, slots=True)
class BeliefView:
    """A common belief and where it stands."""

    statement: str
    standing: str
    summary: str
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class IngredientPage:
    """What the page shows. ``names`` are the first spellings, ``name_count`` is how many there are."""

    id: str
    name: str
    title: str
    kind: str
    what_it_does: str
    note: str | None
    alarm: Alarm | None
    cautions: tuple[Caution, ...]
    evidence: EvidenceSummary | None
    amounts: tuple[SpeciesAmounts, ...]
    regimens: PageTable
    beliefs: tuple[BeliefView, ...]
    forms: PageTable
    limits: PageTable
    hazards: tuple[HazardView, ...]
    pairs: tuple[tuple[str, tuple[PairView, ...]], ...]
    names: tuple[str, ...]
    name_count: int
    related: tuple[tuple[str, str], ...]
    origin: str
    source_ids: tuple[str, ...]

    @property
    def sections(self) -> tuple[tuple[str, str], ...]:
        """Anchor and heading of the sections that this ingredient has, in the order of the page."""
        every = (
            ("harm", "What harm it can do", self.hazards),
            ("evidence", "What trials say", self.evidence),
            ("amounts", "How much a day", self.amounts),
            ("published", "Published amounts", self.regimens),
            ("pairs", "Together with other things", self.pairs),
            ("beliefs", "What people believe", self.beliefs),
            ("forms", "Forms", self.forms),
            ("limits", "Limits", self.limits),
            ("names", "Names on labels", self.names),
            ("sources", "Sources", self.source_ids),
        )
        return tuple((anchor, heading) for anchor, heading, content in every if content)


def present_ingredient(reference: Reference, answer: IngredientAnswer) -> IngredientPage:
    """Arrange what is known of an ingredient.

    Parameters
    ----------
    reference
        The release that answered.
    answer
        Everything about one ingredient.

    Returns
    -------
    IngredientPage
        For the template.
    """
    hazards = tuple(present_hazard(reference, item) for item in answer.hazards)
    spellings = _names(answer.names)
    return IngredientPage(
        id=answer.id,
        name=answer.name,
        title=sentence_case(answer.name),
        kind=KIND_WORDS.get(answer.kind, answer.kind),
        what_it_does=answer.what_it_does,
        note=answer.note,
        alarm=alarm(answer.hazards),
        cautions=answer.cautions,
        evidence=answer.evidence if answer.id in reference.evidence else None,
        amounts=tuple(found for species in SPECIES if (found := _amounts(answer, species)) is not None),
        regimens=regimen_table(answer.regimens),
        beliefs=_beliefs(answer),
        forms=form_table(answer.forms),
        limits=limit_table(answer.limits),
        hazards=hazards,
        pairs=present_pairs(reference, answer.id, answer.interactions),
        names=spellings[:MOST_NAMES],
        name_count=len(spellings),
        related=tuple((id_, reference.ingredients[id_].name) for id_ in answer.screened_as),
        origin=answer.origin,
        source_ids=tuple(
            dict.fromkeys((*answer.source_ids, *(id_ for hazard in hazards for id_ in hazard.source_ids)))
        ),
    )


def _amounts(answer: IngredientAnswer, species: str) -> SpeciesAmounts | None:
    table = guidance_table(answer, species)
    if not table:
        return None
    return SpeciesAmounts(
        species=species,
        table=table,
        chart=f"species={species}&ingredient={answer.id}",
        chart_alt=f"Chart: milligrams of {answer.name} a day over the body weight of a {species}, as a band from the "
        "least to the most, with published amounts as points. The tables hold the same numbers.",
    )


def _beliefs(answer: IngredientAnswer) -> tuple[BeliefView, ...]:
    return tuple(
        BeliefView(
            row.statement, STANDING_WORDS.get(row.standing, row.standing), row.summary, row.origin, row.source_ids
        )
        for row in answer.beliefs
    )


def _names(names: tuple[NameItem, ...]) -> tuple[str, ...]:
    """Give every spelling once, English words first: these are what most readers look for."""

    def _rank(item: NameItem) -> tuple[bool, int]:
        return item.language != "en", _TYPE_ORDER.index(item.type) if item.type in _TYPE_ORDER else len(_TYPE_ORDER)

    return tuple(dict.fromkeys(item.name for item in sorted(names, key=_rank)))
