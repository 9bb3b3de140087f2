"""What a reader of a combination must not miss."""

from __future__ import annotations

from collections.abc import Sequence

from service.domain.combining.answer import BEST_FOUND, NOT_SETTLED, Block, Combination
from service.domain.combining.describing import HIGH_READING_ABOVE, NO_LIST
from service.domain.combining.intake import Contents
from service.domain.combining.request import CombineRequest
from service.domain.combining.screens import AVOID, OVER_LIMIT, VETERINARIAN
from service.domain.combining.telling import told
from service.domain.common import Caution, origin_cautions
from service.domain.compare_answer import TargetRange
from service.domain.screening_answers import ScreenAnswer

_OPEN_FORM = frozenset({"form_not_stated", "stabiliser_not_stated"})
_ON_LOW_READING = Caution(
    "judged_on_low_reading",
    "caution",
    "Where a label leaves the form open, targets are reached on the low reading and upper limits kept on the high one.",
)
_ABOVE_RANGE = Caution(
    HIGH_READING_ABOVE,
    "caution",
    "On the high reading of its labels a combination passes the high end of a range: it lies in the range only if the "
    "low reading is the true one. With high_end_on high_reading none does.",
)
_WITHOUT_LIST = Caution(
    NO_LIST,
    "caution",
    "A product came without its list of other ingredients: nothing is known about what else is in it, and the screen "
    "saw its facts alone.",
)
_FINDINGS = Caution(
    "screen_each_combination", "warning", "At least one combination has findings: read them before giving it."
)
_CUT_SHORT = Caution(
    "time_ran_out",
    "caution",
    "The time for the search ran out. What is answered keeps to every rule, but a cheaper set may exist: gap says by "
    "how much at most. More seconds settle it.",
)
_NOT_SETTLED = Caution(
    "time_ran_out",
    "caution",
    "The time ran out before any set was found or excluded. Give it more seconds, or fewer products.",
)


def cautions_of(
    request: CombineRequest,
    ranges: Sequence[TargetRange],
    contents: Contents,
    before: ScreenAnswer,
    status: str,
    combinations: Sequence[Combination],
    blocks: Sequence[Block],
) -> tuple[Caution, ...]:
    """Gather what must be said beside the sets.

    Parameters
    ----------
    request
        What was asked for.
    ranges
        The targets, settled.
    contents
        The products, and what is given already.
    before
        The screen without any product.
    status
        How far the search came.
    combinations, blocks
        What was found, or what stands in the way.

    Returns
    -------
    tuple of Caution
        Each once.
    """
    flags = {flag for one in combinations for product in one.products for flag in product.label_flags}
    origins = {wanted.origin for wanted in ranges} | {block.limit_origin or "" for block in blocks}
    for one in combinations:
        origins |= {finding.origin for finding in one.findings}
        origins |= {total.limit_origin or "" for total in one.totals}
    found = list(origin_cautions(origins))
    if flags & _OPEN_FORM:
        found.append(_ON_LOW_READING)
    if any(_is_above(one, ranges) for one in combinations):
        found.append(_ABOVE_RANGE)
    if NO_LIST in flags:
        found.append(_WITHOUT_LIST)
    found += _given_already(request, ranges, contents, before)
    if any(one.verdict != "nothing_found" for one in combinations):
        found.append(_FINDINGS)
    if any(one.status == BEST_FOUND for one in combinations):
        found.append(_CUT_SHORT)
    return (*found, _NOT_SETTLED) if status == NOT_SETTLED else tuple(found)


def _is_above(one: Combination, ranges: Sequence[TargetRange]) -> bool:
    pairs = zip(one.targets, ranges, strict=True)
    return any(result.achieved_high_mg > wanted.high_mg >= result.achieved_mg for result, wanted in pairs)


def _given_already(
    request: CombineRequest, ranges: Sequence[TargetRange], contents: Contents, before: ScreenAnswer
) -> list[Caution]:
    found = []
    held = [
        f"{wanted.ingredient} (at least {told(low)} mg)"
        for wanted, (low, high) in zip(ranges, contents.given.targets, strict=True)
        if high
    ]
    if held and not request.count_other_supplements:
        text = (
            f"What is given already holds {', '.join(held)} a day, which does not count towards the targets: the "
            "animal gets both. With count_other_supplements true it counts."
        )
        found.append(Caution("given_not_counted", "warning", text))
    avoid = [one.effect for one in before.findings if one.level == AVOID]
    if avoid:
        text = f"Something must not be given or be so already, without any of the products: {' '.join(avoid)}"
        found.append(Caution("already_stopped", "warning", text))
    over = [one.effect for one in before.findings if one.kind == OVER_LIMIT and one.level == VETERINARIAN]
    if over:
        text = f"What is given already passes an upper limit, so nothing is added to it: {' '.join(over)}"
        found.append(Caution("already_over_limit", "warning", text))
    return found
