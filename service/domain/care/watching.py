"""What to watch for while an animal is given something, and what to do then."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from service.domain.care.answer import CareFinding, Sign, Told
from service.domain.care.wording import about, listed, sentence, short_name
from service.domain.common import Animal
from service.reference.release import Reference

_COMMON_PRACTICE = "common_practice"
_SOURCES = ("common-practice",)
_TOLD_LEVELS = ("avoid", "veterinarian", "watch")
_TOLD_KINDS = ("hazard", "interaction", "condition")
_DUPLICATION = "duplication"
# How the notes of conditions begin that tell what to do.
_ADVICE = ("Watch ", "Check ", "Mind ", "Keep ", "Record ")
# Signs that every handout on supplements names; none of them has a source of its own in the dataset.
_GENERAL = (
    (
        "Itching, hives, a swollen face or hard breathing",
        "Stop everything new and see a veterinarian at once.",
    ),
    (
        "Vomiting, diarrhoea, dark or bloody stools, or no appetite",
        "Stop what was begun last and call the practice.",
    ),
    (
        "More or less drinking or urinating, tiredness, yellow gums or eyes",
        "Call the practice and have blood and urine looked at.",
    ),
)
_HELPS = {
    "dog": "Whether it helps: getting up, stairs, length of walks",
    "cat": "Whether it helps: jumping up and down, grooming, use of the litter tray",
}
_HELPS_ACTION = "Note it once a week on the same day, on the same scale; what has not helped by the reassessment stops."


def watch_for(
    reference: Reference, findings: Iterable[CareFinding], conditions: Iterable[Told], animal: Animal
) -> tuple[Sign, ...]:
    """Gather what to watch for.

    Parameters
    ----------
    reference
        The release to answer from.
    findings
        Findings of the screen.
    conditions
        Conditions of the animal as told.
    animal
        Its species decides what shows that something helps.

    Returns
    -------
    tuple of Sign
        First what findings describe: of hazards the recorded signs with their onset; of pairs what may happen, unless
        they are not to be given together at all. Then what the records of its conditions say is to be looked at, and
        general signs, which are common practice without a source.
    """
    own = [
        Sign(
            text=_text(reference, finding),
            action=sentence(finding.action),
            general=False,
            level=finding.level,
            subjects=finding.subjects,
            origin=finding.origin,
            source_ids=finding.source_ids,
        )
        for finding in findings
        if _can_be_watched(finding)
    ]
    own += [sign for one in conditions for sign in _of_condition(reference, one)]
    general = [
        Sign(sentence(text), action, True, None, (), _COMMON_PRACTICE, _SOURCES)
        for text, action in (*_GENERAL, (_HELPS[animal.species], _HELPS_ACTION))
    ]
    return (*dict.fromkeys(own), *general)


def is_advice(note: str) -> bool:
    """Say whether the note of a condition tells what to look at, and not what the condition is.

    Parameters
    ----------
    note
        The note of its record.

    Returns
    -------
    bool
        ``True`` for "Watch for changes in glucose control when any supplement starts or stops".
    """
    return note.startswith(_ADVICE)


def _of_condition(reference: Reference, told: Told) -> Iterator[Sign]:
    for one in told.taken_as:
        row = reference.conditions.get(one.id)
        if row is not None and row.note and is_advice(row.note):
            text = sentence(f"With {short_name(row.name)}")
            yield Sign(text, sentence(row.note), False, None, (row.id,), row.origin, row.source_ids)


def _can_be_watched(finding: CareFinding) -> bool:
    if finding.level not in _TOLD_LEVELS or finding.kind not in _TOLD_KINDS or finding.favourable:
        return False
    return finding.kind == "hazard" or (finding.level != "avoid" and finding.topic != _DUPLICATION)


def _text(reference: Reference, finding: CareFinding) -> str:
    if finding.kind != "hazard":
        return about(finding)
    rows = [row for row in reference.tables["hazard_thresholds"] if row.id in finding.record_ids and row.signs]
    if not rows:
        return about(finding)
    seen = dict.fromkeys(f"{row.signs} (onset {row.onset})" if row.onset else row.signs for row in rows)
    return sentence(f"{listed(finding.subject_names)}: {'; '.join(seen)}")
