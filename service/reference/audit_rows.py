"""What must hold between rows beyond what every start checks: sources, origins, guidance and reachability by name.

``checking.check_tables`` decides whether a release may answer; these checks decide whether it may be published.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields

from service.reference.checking import Defects, Tables, valid_cas
from service.reference.guidance_rules import RuleError, recompute, recompute_reassessment_days
from service.reference.records import Fact, Source
from service.reference.table_columns import row_key

# Rules rather than publications: they may stand although no row uses them yet.
SPECIAL_SOURCES = frozenset({"common-practice", "memory", "own-arithmetic"})
_STRENGTH: Mapping[str, int] = {"read": 0, "cited": 1, "common_practice": 2, "memory": 3}
# A source may back a convention instead of a row, such as how labels count spoons; its note then says so.
_BACKS_A_CONVENTION = "used for: "
_ID_IN_TEXT = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_TEXT_THAT_EXPLAINS = ("locator", "note", "limit_or_conflict", "conflicts", "gaps", "published_check")


def check_rows(tables: Tables) -> tuple[str, ...]:
    """Check provenance, guidance and names of all tables.

    Parameters
    ----------
    tables
        Records by table name. A key that leads nowhere is left for ``check_tables`` to report.

    Returns
    -------
    tuple of str
        One sentence per defect; empty where there is none.
    """
    return tuple(defect for check in _CHECKS for defect in check(tables))


def _label(table: str, row: object) -> str:
    return f"{table} " + " + ".join(str(getattr(row, name)) for name in row_key(table))


def _facts(tables: Tables) -> Iterable[tuple[str, Fact]]:
    return ((table, row) for table, rows in tables.items() for row in rows if isinstance(row, Fact))


def _texts(row: Fact | Source, *names: str) -> Iterable[str]:
    """Text cells of a row, only of the columns named where any are."""
    for field in fields(row):
        value = getattr(row, field.name)
        if isinstance(value, str) and (not names or field.name in names):
            yield value


def _ids_named(texts: Iterable[str], known: Iterable[str]) -> set[str]:
    """Source ids that a text names.

    Only ids with a digit or a hyphen are looked for, because an id such as ``care`` is a common word as well.
    """
    looked_for = {id_ for id_ in known if re.search(r"[0-9-]", id_)}
    return {id_ for text in texts for id_ in _ID_IN_TEXT.findall(text.lower()) if id_ in looked_for}


def _orphan_sources(tables: Tables) -> Defects:
    known = {source.id for source in tables["sources"]}
    used: set[str] = set()
    for rows in tables.values():
        for row in rows:
            for field in fields(row):
                if field.name.endswith(("source_id", "source_ids")):
                    value = getattr(row, field.name)
                    used.update(value if isinstance(value, tuple) else (value,))
            others = known - {getattr(row, "id", None)}
            used |= _ids_named(_texts(row), others)
    for source in tables["sources"]:
        if source.id not in used | SPECIAL_SOURCES and _BACKS_A_CONVENTION not in (source.note or ""):
            yield f"sources {source.id}: no row uses it, and its note does not say what it is used for"


def _backed_origins(tables: Tables) -> Defects:
    """A row is seen no better than the best of its sources, unless its text names the source that it was seen in."""
    origins = {source.id: source.origin for source in tables["sources"]}
    for table, row in _facts(tables):
        if row.origin not in _STRENGTH:
            continue
        best = min((origins[id_] for id_ in row.source_ids if id_ in origins), key=_rank, default="memory")
        named = _ids_named(_texts(row, *_TEXT_THAT_EXPLAINS), origins)
        explained = any(_rank(origins[id_]) <= _rank(row.origin) for id_ in named)
        if _rank(best) > _rank(row.origin) and not explained:
            yield f"{_label(table, row)}: origin {row.origin}, but the best of its sources is {best}"


def _rank(origin: str) -> int:
    """Place of an origin, the best first; a word that is none ranks last."""
    return _STRENGTH.get(origin, len(_STRENGTH))


def _guidance(tables: Tables) -> Defects:
    regimens = {regimen.id: regimen for regimen in tables["regimens"]}
    for row in tables["guidance"]:
        label = _label("guidance", row)
        if {regimens[id_].origin for id_ in row.regimen_ids if id_ in regimens} == {"memory"}:
            yield f"{label}: rests on regimens of origin memory alone"
        try:
            expected = recompute(regimens, row, tables["guidance"])
            days = recompute_reassessment_days(regimens, row)
        except (RuleError, LookupError, ArithmeticError, ValueError) as error:
            yield f"{label}: its rule cannot be computed: {error}"
            continue
        if (row.amount_low, row.amount_high) != expected:
            yield f"{label}: {row.amount_low} to {row.amount_high}, its rule gives {expected[0]} to {expected[1]}"
        if row.reassess_after_days != days:
            yield f"{label}: reassess_after_days {row.reassess_after_days}, its trial gives {days}"


def _reachable(tables: Tables) -> Defects:
    """Every ingredient and hazard can be found by at least one spelling."""
    names = [row for row in tables["names"] if row.type != "false_friend"]
    ingredient_of = {
        "form": {form.id: form.ingredient_id for form in tables["forms"]},
        "hazard": {hazard.id: hazard.ingredient_id for hazard in tables["hazards"]},
        "ingredient": {ingredient.id: ingredient.id for ingredient in tables["ingredients"]},
    }
    named = {ingredient_of.get(row.target_kind, {}).get(row.target_id) for row in names}
    hazards = {row.target_id for row in names if row.target_kind == "hazard"}
    for ingredient in tables["ingredients"]:
        if ingredient.id not in named:
            yield f"ingredients {ingredient.id}: no name leads to it"
    first_of: dict[str, str] = {}
    for hazard in tables["hazards"]:
        # A spelling of the ingredient brings up its first hazard; a second one needs a spelling of its own.
        first = first_of.setdefault(hazard.ingredient_id, hazard.id) == hazard.id
        if hazard.id not in hazards and not (first and hazard.ingredient_id in named):
            yield f"hazards {hazard.id}: no name leads to it"


def _registry_numbers(tables: Tables) -> Defects:
    for row in tables["hazards"]:
        if row.cas is not None and not valid_cas(row.cas):
            yield f"hazards {row.id}: the check digit of CAS {row.cas} is wrong"


_CHECKS: tuple[Callable[[Tables], Defects], ...] = (
    _orphan_sources,
    _backed_origins,
    _guidance,
    _reachable,
    _registry_numbers,
)
