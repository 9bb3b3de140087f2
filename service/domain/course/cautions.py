"""What the reader of a plan must not miss."""

from __future__ import annotations

from collections.abc import Sequence

from service.domain.common import Caution, origin_cautions
from service.domain.course.answer import Course, Reassessment
from service.domain.course.request import PlanRequest
from service.domain.dose_answer import EvidenceSummary
from service.domain.dosing import age_cautions

_ORIGINS = ("common_practice", "memory")
_FORM_FLAGS = frozenset(("form_not_stated", "stabiliser_not_stated", "salt_or_base_ambiguous"))


def plan_cautions(
    request: PlanRequest,
    courses: Sequence[Course],
    evidence: EvidenceSummary | None,
    again: Sequence[Reassessment],
) -> tuple[Caution, ...]:
    """Gather the cautions of a plan.

    Parameters
    ----------
    request
        The course.
    courses
        One per product.
    evidence
        On the ingredient that amounts are judged by.
    again
        The days to look again.

    Returns
    -------
    tuple of Caution
        Each once.
    """
    phases = [phase for course in courses for phase in course.phases]
    origins = {phase.origin for phase in phases} | {one.origin for one in again}
    found = [*origin_cautions(origins & set(_ORIGINS))]
    if evidence is not None and evidence.verdict != "supported":
        found.append(Caution(f"evidence_{evidence.verdict}", "caution", evidence.summary))
    found += age_cautions(request.animal)
    found += _about_amounts(courses)
    found += _about_money(request, courses)
    if request.loading and not request.phases and phases and not any(one.phase == "loading" for one in phases):
        found.append(Caution("no_loading_published", "info", "No loading phase is published for this ingredient."))
    for course in courses:
        if course.verdict == "stop":
            text = f"{course.name or course.product_id} must not be given to this animal: {' '.join(course.warnings)}"
            found.append(Caution("must_not_be_given", "warning", text))
    if any(course.verdict not in ("nothing_found", "stop") for course in courses):
        text = "At least one product has findings: screen it in full before it is given for long."
        found.append(Caution("screen_each_product", "warning", text))
    return tuple(found)


def _about_amounts(courses: Sequence[Course]) -> list[Caution]:
    found = []
    flags = {flag for course in courses for flag in course.label_flags}
    phases = [phase for course in courses for phase in course.phases]
    if any(phase.origin == "caller" for phase in phases):
        text = "Amounts a day are those given in the request; what guidance says stands beside them where it exists."
        found.append(Caution("amounts_given", "info", text))
    if flags & _FORM_FLAGS:
        text = "Where a label leaves the form open, value is judged on the low reading and limits on the high one."
        found.append(Caution("judged_on_low_reading", "caution", text))
    if "units_not_divisible" in flags:
        text = "Units as told do not divide into such an amount: it can only be reached as a mean over several days."
        found.append(Caution("units_not_divisible", "caution", text))
    if "nearest_amount" in flags:
        text = "No number of units reaches the aim without passing the high end: the nearest was taken."
        found.append(Caution("nearest_amount", "caution", text))
    return found


def _about_money(request: PlanRequest, courses: Sequence[Course]) -> list[Caution]:
    found = []
    if request.price_change_per_year:
        text = "Prices are moved by the share given, once a year on the anniversary of the first day: an assumption."
        found.append(Caution("prices_assumed", "info", text))
    if any(course.discarded_units for course in courses):
        text = "Opened containers grow too old before they are used up; what is thrown away is paid for."
        found.append(Caution("discarded_after_opening", "caution", text))
    if any(course.wasted_units for course in courses):
        text = "The rest of a divided unit is counted as thrown away each day."
        found.append(Caution("divided_rest_discarded", "info", text))
    if any(purchase.containers > 1 for course in courses for purchase in course.purchases):
        text = "Several containers are bought at once: check on the pack that all keep until they are opened."
        found.append(Caution("check_best_before", "info", text))
    return found
