"""A care note as a sheet of paper shows it: every figure and sentence in its place, for the page and for plain text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from service.domain.care.answer import AmountRow, CareFinding, CareNote, CareScreen, Question, Told
from service.domain.care.watching import is_advice
from service.domain.care.wording import about, in_a_sentence, listed, sentence, short_name
from service.domain.common import NOTICE
from service.domain.rounding import significant
from service.pages.care_note_given import GivenView, beside_view, given_view
from service.pages.care_note_words import EVIDENCE, LEVELS, POSITIONS, REASONS, VERDICTS, milligrams, told, when
from service.pages.wording import brief, number, origin_words, sentence_case
from service.reference.records import Source
from service.reference.release import DatasetStamp

_PLACE = re.compile(r"\b(?:product|supplement):(\S+?)(?=[).;,]|\s|$)")
_LESSER = "note"
# What tells how the note was made and changes nothing on it.
_ASIDE = "info"
# Sources of ranges and findings come first; the rest stands in the answer for programs.
_MOST_SOURCES = 12
_DUPLICATE, _DUPLICATION = "duplicate", "duplication"
_PRESENTATION = "presentation"
_WEIGHT_DIGITS = 4


@dataclass(frozen=True, slots=True)
class AmountView:
    """One row of the table of daily amounts."""

    name: str
    counted_as: str
    when: str
    amount: str
    range: str
    known_by: str
    position: str
    evidence: str


@dataclass(frozen=True, slots=True)
class FindingView:
    """One finding: its level, what can happen, what to do."""

    level: str
    level_words: str
    text: str
    action: str


@dataclass(frozen=True, slots=True)
class SignView:
    """One thing to watch for."""

    text: str
    action: str
    general: bool


@dataclass(frozen=True, slots=True)
class QuestionView:
    """One question and whose it is."""

    text: str
    by_carer: bool


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything that stands on the sheet, in its order."""

    title: str
    facts: tuple[tuple[str, str], ...]
    given: tuple[GivenView, ...]
    amounts: tuple[AmountView, ...]
    amounts_when: str
    medications: tuple[str, ...]
    supplements: tuple[str, ...]
    conditions: tuple[str, ...]
    observations: tuple[str, ...]
    verdict: str
    verdict_text: str
    findings: tuple[FindingView, ...]
    remarks: tuple[str, ...]
    gaps: tuple[str, ...]
    questions: tuple[QuestionView, ...]
    reassess: tuple[tuple[str, str], ...]
    watch_for: tuple[SignView, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    more_sources: int
    dataset: DatasetStamp
    checksum: str
    reproduce: str
    notice: str


def sheet_of(note: CareNote, stamp: DatasetStamp, sources: Mapping[str, Source]) -> Sheet:
    """Lay a care note out for people.

    Parameters
    ----------
    note
        The answer of the domain.
    stamp
        The release that it comes from.
    sources
        The sources of that release.

    Returns
    -------
    Sheet
        Plain texts on single lines; nothing is computed here but words, rounding and order.
    """
    names = _names_of_products(note)
    amounts = tuple(_amount(note, row) for row in note.amounts)
    stretches = {row.when for row in amounts}
    named = tuple(dict.fromkeys(brief(sources[id_]) for id_ in note.source_ids))
    lesser = [one for one in note.screen.findings if one.level == _LESSER]
    return Sheet(
        title=f"Care note: {told(note.animal.name)}" if note.animal.name else "Care note",
        facts=_facts(note),
        given=tuple(given_view(product) for product in note.given),
        amounts=amounts,
        amounts_when=stretches.pop() if len(stretches) == 1 else "",
        medications=_told_texts(note.medications),
        supplements=tuple(beside_view(product) for product in note.other_supplements),
        conditions=_told_texts((*note.conditions, *note.traits)),
        observations=tuple(told(text) for text in note.observations),
        verdict=note.screen.verdict,
        verdict_text=VERDICTS[note.screen.verdict],
        findings=tuple(_finding(one, names) for one in told_once(note.screen.findings) if one.level != _LESSER),
        remarks=_remarks(lesser, names),
        gaps=_gaps(note.screen),
        questions=tuple(_question(one, names) for one in note.questions),
        reassess=_reassess(note),
        watch_for=tuple(
            SignView(_without_places(sign.text, names), told(sign.action), sign.general) for sign in note.watch_for
        ),
        cautions=tuple(_without_places(one.text, names) for one in note.cautions if one.level != _ASIDE),
        sources=named[:_MOST_SOURCES],
        more_sources=len(named) - len(named[:_MOST_SOURCES]),
        dataset=stamp,
        checksum=note.reproduce.inputs_sha256,
        reproduce=note.reproduce.text,
        notice=NOTICE,
    )


def _facts(note: CareNote) -> tuple[tuple[str, str], ...]:
    animal = note.animal
    weight = (
        f"{number(significant(animal.weight_kg, _WEIGHT_DIGITS))} kg"
        if animal.weight_kg is not None
        else "weight not told"
    )
    age = f"{number(animal.age_years)} years" if animal.age_years is not None else "age not told"
    found = [
        ("Identification", told(animal.identification or "")),
        ("Animal", f"{animal.species}, {weight}, {age}"),
        ("Note of", _date(note.note_date)),
        ("Course begins", _date(note.start_date)),
    ]
    return tuple((label, value) for label, value in found if value)


def _date(day: date | None) -> str:
    return day.isoformat() if day is not None else ""


def _names_of_products(note: CareNote) -> dict[str, str]:
    every = (*note.given, *note.other_supplements)
    return {product.product_id: told(product.name or product.product_id) for product in every}


def _without_places(text: str, names: Mapping[str, str]) -> str:
    """Name products as their packs do, where a sentence of the screen names their place in the request."""
    return told(_PLACE.sub(lambda found: names.get(found[1], found[1]), text))


def _amount(note: CareNote, row: AmountRow) -> AmountView:
    amount = milligrams(row.low_mg, row.high_mg) if row.low_mg is not None else "not known"
    if row.at_least and row.low_mg is not None:
        amount = f"at least {milligrams(row.low_mg, row.low_mg)}"
    name, counted = short_name(row.name), in_a_sentence(row.counted_as)
    verdicts = {one.ingredient: one.verdict for one in note.evidence}
    wanted, known_by = "none on record", ""
    if row.guidance is not None:
        ends = milligrams(row.guidance.low_mg, row.guidance.high_mg)
        wanted, known_by = f"{ends}, {row.guidance.phase}", origin_words(row.guidance.origin)
    evidence = EVIDENCE[verdicts[row.ingredient]] if row.ingredient in verdicts else ""
    return AmountView(
        name=sentence_case(name),
        counted_as="" if _says_no_more(counted, row.name) else counted.removeprefix(f"{name} "),
        when=when(row.from_day, row.to_day, row.from_date, row.to_date),
        amount=amount,
        range=wanted,
        known_by=known_by,
        position=POSITIONS[row.position],
        evidence=evidence,
    )


def _says_no_more(counted: str, name: str) -> bool:
    """Say whether a form is named by the words of its ingredient: "EPA plus DHA" beside "EPA and DHA"."""
    known = {*re.findall(r"\w+", name.casefold()), "plus"}
    return {*re.findall(r"\w+", counted.casefold())} <= known


def _told_texts(several: Iterable[Told]) -> tuple[str, ...]:
    return tuple(_told_text(one) for one in several)


def _told_text(one: Told) -> str:
    names = [meaning.name for meaning in one.taken_as if meaning.name.casefold() != one.text.strip().casefold()]
    # What a note tells to look at stands with what to watch for.
    notes = [sentence(meaning.note) for meaning in one.taken_as if meaning.note and not is_advice(meaning.note)]
    meant = f" (taken as {listed(list(dict.fromkeys(names)))})" if names else ""
    unknown = "" if one.understood else " (not understood)"
    return told(" ".join((f"{one.text.strip()}{meant}{unknown}.", *notes)) if notes else f"{one.text}{meant}{unknown}")


def told_once(findings: Sequence[CareFinding]) -> tuple[CareFinding, ...]:
    """Leave the record of a duplication out where the products that bring it are named already."""
    named = {id_ for finding in findings if finding.kind == _DUPLICATE for id_ in finding.subjects}
    return tuple(finding for finding in findings if finding.topic != _DUPLICATION or not named >= {*finding.subjects})


def _finding(finding: CareFinding, names: Mapping[str, str]) -> FindingView:
    return FindingView(
        finding.level,
        LEVELS[finding.level],
        _without_places(about(finding), names),
        told(sentence(finding.action)),
    )


def _remarks(findings: Iterable[CareFinding], names: Mapping[str, str]) -> tuple[str, ...]:
    """Write remarks, those on the presentation of several products together."""
    alike: dict[tuple[str, str], CareFinding] = {}
    texts: dict[str, None] = {}
    for finding in findings:
        if finding.kind != _PRESENTATION:
            texts[_remark(finding, names)] = None
            continue
        known = alike.get((finding.effect, finding.action))
        before = known.subject_names if known is not None else ()
        together = (", ".join((*before, *finding.subject_names)),)
        alike[finding.effect, finding.action] = replace(finding, subject_names=together)
    texts.update((_remark(finding, names), None) for finding in alike.values())
    return tuple(texts)


def _remark(finding: CareFinding, names: Mapping[str, str]) -> str:
    return _without_places(f"{about(finding)} {sentence(finding.action)}", names)


def _gaps(screen: CareScreen) -> tuple[str, ...]:
    unknown = list(dict.fromkeys(f"\u201c{one.text}\u201d" for one in screen.unrecognised))
    found = [f"Not understood, so not judged: {listed(unknown)}."] if unknown else []
    counted = [f"{one.count} {_reason(one.reason, one.count)}" for one in screen.not_assessed_counts]
    if counted:
        found.append(f"Not assessed: {listed(counted)}.")
    return tuple(told(text) for text in found)


def _reason(reason: str, count: int) -> str:
    single, several = REASONS.get(reason, (reason.replace("_", " "),) * 2)
    return single if count == 1 else several


def _question(question: Question, names: Mapping[str, str]) -> QuestionView:
    return QuestionView(_without_places(question.text, names), question.asked_by == "carer")


def _reassess(note: CareNote) -> tuple[tuple[str, str], ...]:
    """Say when to look again, ingredients with one day together."""
    by_day: dict[tuple[str, str], list[str]] = {}
    for one in note.reassessments:
        day = one.on_date.isoformat() if one.on_date else f"day {one.on_day}" if one.on_day else "now"
        by_day.setdefault((day, f"after {one.after_days} days"), []).append(short_name(one.name))
    return tuple((day, f"{after}: {listed(names)}") for (day, after), names in by_day.items())
