"""One dataset release in memory: immutable rows and the indexes that answers need."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from itertools import product
from types import MappingProxyType
from typing import Any, TypeVar

from service.reference import records

T = TypeVar("T")


def _by_id(rows: Iterable[T], key: str = "id") -> Mapping[str, T]:
    return MappingProxyType({getattr(row, key): row for row in rows})


def _grouped(rows: Iterable[T], *keys: str) -> Mapping[Any, tuple[T, ...]]:
    groups: dict[Any, list[T]] = {}
    for row in rows:
        key = tuple(getattr(row, name) for name in keys) if len(keys) > 1 else getattr(row, keys[0])
        groups.setdefault(key, []).append(row)
    return MappingProxyType({key: tuple(found) for key, found in groups.items()})


def _meanings_of_spellings(reference: Reference) -> tuple[Counter[str], Counter[tuple[str, str]]]:
    """Count the spellings of each ingredient, and those of them that mean a hazard too."""
    targets: dict[str, tuple[set[str], set[str]]] = {}
    for row in reference.names:
        if row.target_id is not None and row.type != "false_friend":
            owners, hazards = targets.setdefault(row.name.casefold(), (set(), set()))
            if row.target_kind == "hazard":
                hazards.add(row.target_id)
            else:
                owners.add(reference.owner_of(row) or "")
    spellings = Counter(owner for owners, _ in targets.values() for owner in owners)
    meant = Counter(pair for owners, hazards in targets.values() for pair in product(sorted(owners), sorted(hazards)))
    return spellings, meant


@dataclass(frozen=True, slots=True)
class DatasetStamp:
    """Which release an answer was computed from. ``sha256`` is that of the release's descriptor."""

    version: str
    sha256: str
    released: str


@dataclass(frozen=True, eq=False)
class Reference:
    """All tables of one release, compared by identity so that it can key a cache.

    Build it with :func:`service.reference.releases.load_release`.
    """

    stamp: DatasetStamp
    tables: Mapping[str, tuple[Any, ...]] = field(repr=False)

    @cached_property
    def sources(self) -> Mapping[str, records.Source]:
        """Sources by id."""
        return _by_id(self.tables["sources"])

    @cached_property
    def ingredients(self) -> Mapping[str, records.Ingredient]:
        """Ingredients by id."""
        return _by_id(self.tables["ingredients"])

    @cached_property
    def names(self) -> tuple[records.Name, ...]:
        """Every spelling, in file order."""
        return self.tables["names"]

    @cached_property
    def names_by_ingredient(self) -> Mapping[str, tuple[str, ...]]:
        """Spellings that mean an ingredient, one of its forms or its hazard, false friends left out."""
        found: dict[str, list[str]] = {}
        for row in self.names:
            owner = self.owner_of(row)
            if owner is not None and row.type != "false_friend":
                found.setdefault(owner, []).append(row.name)
        return MappingProxyType({key: tuple(dict.fromkeys(names)) for key, names in found.items()})

    def owner_of(self, name: records.Name) -> str | None:
        """Id of the ingredient that a spelling leads to, ``None`` for a name that means none of ours.

        Parameters
        ----------
        name
            A row of table ``names``.

        Returns
        -------
        str or None
            Id of an ingredient.
        """
        if name.target_id is None:
            return None
        if name.target_kind == "form":
            return self.forms[name.target_id].ingredient_id
        if name.target_kind == "hazard":
            return self.hazards[name.target_id].ingredient_id
        return name.target_id

    @cached_property
    def forms(self) -> Mapping[str, records.Form]:
        """Chemical forms by id."""
        return _by_id(self.tables["forms"])

    @cached_property
    def forms_of(self) -> Mapping[str, tuple[records.Form, ...]]:
        """Chemical forms by ingredient id."""
        return _grouped(self.tables["forms"], "ingredient_id")

    @cached_property
    def regimens(self) -> Mapping[str, records.Regimen]:
        """Regimens by id."""
        return _by_id(self.tables["regimens"])

    @cached_property
    def regimens_of(self) -> Mapping[str, tuple[records.Regimen, ...]]:
        """Regimens by ingredient id."""
        return _grouped(self.tables["regimens"], "ingredient_id")

    @cached_property
    def guidance_of(self) -> Mapping[tuple[str, str], tuple[records.Guidance, ...]]:
        """Guidance rows by ingredient id and species."""
        return _grouped(self.tables["guidance"], "ingredient_id", "species")

    @cached_property
    def limits_of(self) -> Mapping[tuple[str, str], tuple[records.Limit, ...]]:
        """Limits by ingredient id and species."""
        return _grouped(self.tables["limits"], "ingredient_id", "species")

    @cached_property
    def evidence(self) -> Mapping[str, records.Evidence]:
        """Evidence by ingredient id."""
        return _by_id(self.tables["evidence"], "ingredient_id")

    @cached_property
    def beliefs_of(self) -> Mapping[str, tuple[records.Belief, ...]]:
        """Beliefs by ingredient id."""
        return _grouped(self.tables["beliefs"], "ingredient_id")

    @cached_property
    def hazards(self) -> Mapping[str, records.Hazard]:
        """Hazards by id."""
        return _by_id(self.tables["hazards"])

    @cached_property
    def hazards_of(self) -> Mapping[str, tuple[records.Hazard, ...]]:
        """Hazards by ingredient id."""
        return _grouped(self.tables["hazards"], "ingredient_id")

    @cached_property
    def hazards_by_name_of(self) -> Mapping[str, tuple[records.Hazard, ...]]:
        """Hazards by ingredient id: its own, and those that most of its spellings mean as well.

        ``cod-liver oil`` is an ingredient, and by the same words a source of vitamin A and of vitamin D3. A single
        spelling is no rule: ``choline bitartrate`` holds tartaric acid, choline as such does not.
        """
        spellings, meant = _meanings_of_spellings(self)
        found = {key: dict.fromkeys(row.id for row in rows) for key, rows in self.hazards_of.items()}
        for (owner, hazard_id), count in meant.items():
            if 2 * count > spellings[owner]:
                found.setdefault(owner, {}).setdefault(hazard_id)
        return MappingProxyType({key: tuple(self.hazards[id_] for id_ in ids) for key, ids in found.items()})

    @cached_property
    def thresholds_of(self) -> Mapping[tuple[str, str], tuple[records.Threshold, ...]]:
        """Hazard tiers by hazard id and species; rows marked ``do_not_use`` are left out of every answer."""
        usable = [row for row in self.tables["hazard_thresholds"] if row.use != "do_not_use"]
        return _grouped(usable, "hazard_id", "species")

    @cached_property
    def content_factors_of(self) -> Mapping[str, tuple[records.ContentFactor, ...]]:
        """Content factors by hazard id."""
        return _grouped(self.tables["content_factors"], "hazard_id")

    @cached_property
    def medications(self) -> Mapping[str, records.Medication]:
        """Medicines by id."""
        return _by_id(self.tables["medications"])

    @cached_property
    def drug_classes(self) -> Mapping[str, records.DrugClass]:
        """Classes of medicines by id."""
        return _by_id(self.tables["drug_classes"])

    @cached_property
    def conditions(self) -> Mapping[str, records.Condition]:
        """Conditions and traits by id."""
        return _by_id(self.tables["conditions"])

    @cached_property
    def interactions(self) -> tuple[records.Interaction, ...]:
        """Every interaction row, in file order."""
        return self.tables["interactions"]

    @cached_property
    def units(self) -> Mapping[str, records.Unit]:
        """Unit spellings by alias, exactly as printed."""
        return _by_id(self.tables["units"], "alias")

    @cached_property
    def units_any_case(self) -> Mapping[str, records.Unit]:
        """Unit spellings by folded alias; the first row of the table wins."""
        return MappingProxyType({row.alias.casefold(): row for row in reversed(self.tables["units"])})
