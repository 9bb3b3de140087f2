"""Reads a label as a whole: pack, facts, blends, lists, statements, and the product that other endpoints take."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from service.domain.common import Caution, origin_cautions
from service.domain.label_text import words
from service.domain.labels.allergens import allergens_of
from service.domain.labels.answer import (
    Blend,
    Fact,
    LabelAnswer,
    OtherIngredient,
    ProductFact,
    ProductServing,
    ReadProduct,
    Unread,
)
from service.domain.labels.blends import blend_of
from service.domain.labels.facts import FactReader
from service.domain.labels.findings import Findings, ListedText, Statement
from service.domain.labels.language import language_of
from service.domain.labels.packs import (
    container_reading,
    energy_reading,
    price_reading,
    serving_reading,
    serving_units_of,
    settle,
    unit_count_of,
    unit_energy_of,
    unit_word,
)
from service.domain.labels.reader import UnreadText, read_tokens, unread
from service.domain.labels.remainder import state_the_rest
from service.domain.labels.shared_amounts import with_marked_per
from service.domain.list_splitting import split_list
from service.domain.normalising import LabelHazard, ReadFact, label_hazards
from service.domain.products import Product
from service.domain.resolving import MOST_ITEMS, Resolution, resolver_for
from service.reference.release import Reference

LONGEST_LABEL = 20_000
MOST_FACTS = 60
_LONGEST_OTHER = 10_000
# More unknown words than this are no list of ingredients; slips are then not looked for, and the words stay unknown.
_MOST_STRANGE_WORDS = 300
# A warning speaks of what must not be given as well as of what is in it; only the latter names a content.
_SPEAK_OF_CONTENTS = frozenset(
    "contains contain containing sweetened coating coated made includes enthalt gesusst contient contiene with".split()
)
_FLAG_TEXTS = {
    "separator_ambiguous": "A number can be read two ways, a thousand apart; give the label's language, or check it.",
    "letter_among_digits": "A number has a letter among its digits; it was refused, not repaired.",
    "label_inconsistent": "The label prints two figures for one amount that disagree.",
    "amounts_undisclosed": "A blend hides the amounts of its members: only bounds follow from its total.",
    "amount_in_list": "An ingredient list holds an amount that was not read as a fact; look at it.",
    "list_cut": "The list of ingredients is longer than a product takes; what names a hazard was kept.",
    "household_measure": "A spoon or cup was taken at its labelled size; a printed millilitre would be better.",
}
"""Flags that a reader of the label should see in words."""


def read_label(
    reference: Reference,
    text: str,
    locale: str | None = None,
    price: Decimal | None = None,
    currency: str | None = None,
) -> LabelAnswer:
    """Read the text of one label.

    Parameters
    ----------
    reference
        The release to answer from.
    text
        The label as it came, at most 20,000 characters.
    locale
        Two-letter language of the label; found by its words where not given.
    price, currency
        Price of the container, where the caller knows it; it goes before a printed one.

    Returns
    -------
    LabelAnswer
        Facts with the characters that they come from; what was not understood stands in ``unread``.
    """
    found_language = locale or language_of(text)
    found = read_tokens(reference, text, found_language)
    settle(found.pack)
    return _Assembler(reference, found, found_language, price, currency).answer()


class _Assembler:
    def __init__(
        self, reference: Reference, found: Findings, locale: str | None, price: Decimal | None, currency: str | None
    ) -> None:  # fmt: skip
        self._reference, self._found, self._locale = reference, found, locale
        self._price, self._currency = price, currency
        self._resolver = resolver_for(reference)
        self._product = self._bare_product()
        self._words_left = _MOST_STRANGE_WORDS

    def answer(self) -> LabelAnswer:
        """Put everything together."""
        found = self._found
        facts, blends, product_facts, read = self._panel()
        others, resolutions = self._others()
        state_the_rest(found, facts, blends)
        unread_parts = self._unread(unread(found))
        resolutions += self._members(blends, facts)
        resolutions += [
            (fact.fact.name, "facts", one)
            for fact in read
            for one in fact.reading.members or (fact.reading.resolution,)
        ]
        hazards = label_hazards(self._reference, resolutions + self._hidden_hazards(unread_parts))
        product = self._finished(product_facts, others, unread_parts)
        flags = self._flags(facts, blends, unread_parts, product_facts)
        return LabelAnswer(
            locale=self._locale,
            species=tuple(found.species),
            product_type=found.product_type,
            serving=serving_reading(found.pack),
            container=container_reading(found.pack),
            price=price_reading(found.pack),
            energy=energy_reading(found.pack),
            facts=facts,
            blends=blends,
            other_ingredients=others,
            allergens=allergens_of(found, facts, blends, others),
            directions=tuple(found.directions),
            statements=tuple(found.statements),
            hazards=hazards,
            flags=flags,
            unread=unread_parts,
            product=product,
            cautions=self._cautions(flags, hazards, unread_parts, resolutions),
            source_ids=self._sources(read, hazards),
        )

    def _bare_product(self) -> Product:
        pack = self._found.pack
        serving_units = serving_units_of(pack)
        return Product(
            id="label",
            unit=unit_word(pack),
            serving_units=serving_units,
            # How many units a mass makes up is not for us to guess.
            serving_mass_g=pack.serving_mass_g if serving_units else None,
            unit_mass_g=pack.unit_mass_g,
            locale=self._locale,
        )

    def _panel(self) -> tuple[tuple[Fact, ...], tuple[Blend, ...], tuple[ProductFact, ...], tuple[ReadFact, ...]]:
        reader = FactReader(self._found.sheet, self._product)
        facts: list[Fact] = []
        blends: list[Blend] = []
        product_facts: list[ProductFact] = []
        read: list[ReadFact] = []
        for line in (with_marked_per(one, self._found.marked_per) for one in self._found.lines[:MOST_FACTS]):
            if line.section == "blend":
                blend, several = blend_of(reader, line)
                blends.append(blend)
                product_facts += [one for one in several if one.name.strip()]
                continue
            fact, source = reader.fact(line)
            facts.append(fact)
            read += [source] if source is not None else []
            product_facts += [ProductFact(fact.name, fact.amount)] if fact.name.strip() else []
        for line in self._found.lines[MOST_FACTS:]:
            self._found.covered[line.item.start : line.item.end] = bytes(line.item.end - line.item.start)
        return tuple(facts), tuple(blends), tuple(product_facts), tuple(read)

    def _others(self) -> tuple[tuple[OtherIngredient, ...], list[tuple[str, str, Resolution]]]:
        items, resolutions = [], []
        known: dict[tuple[str, bool], Resolution] = {}
        for one in self._found.listed:
            if not any(char.isalnum() for char in one.text):
                continue
            key = (one.text, one.denied)
            if key not in known:
                known[key] = self._meaning(one)
            meaning = known[key]
            resolutions.append((one.text, "other_ingredients", meaning))
            items.append(
                OtherIngredient(
                    one.text, meaning.match, meaning.ingredient, meaning.form, meaning.hazard, meaning.negated,
                    meaning.trace, one.span,
                )
            )  # fmt: skip
        return tuple(items), resolutions

    def _meaning(self, one: ListedText) -> Resolution:
        """Resolve an item; slips are looked for as long as the words of a long list of ingredients last."""
        meaning = self._found.sheet.exact(one.text, denied=one.denied)
        self._words_left -= len(meaning.not_understood)
        if not meaning.not_understood or self._words_left < 0:
            return meaning
        return self._resolver.resolve(one.text, one.denied, suggest=False)

    def _unread(self, texts: tuple[UnreadText, ...]) -> tuple[Unread, ...]:
        """Name the hazards in what was not understood; one look at all of it tells that most labels name none."""
        if not self._names_hazard(one.text for one in texts):
            return tuple(Unread(one.text, one.span.start, one.span.end, "not_understood", None) for one in texts)
        return tuple(
            Unread(one.text, one.span.start, one.span.end, "not_understood", self._hazard_in(one.text)) for one in texts
        )

    def _names_hazard(self, texts: Iterable[str]) -> bool:
        return self._hazard_in(". ".join(texts)) is not None

    def _hazard_in(self, text: str) -> str | None:
        meanings = self._found.sheet.exact(text).meanings
        return next((one.hazard for one in meanings if one.hazard is not None and not one.negated), None)

    def _members(self, blends: tuple[Blend, ...], facts: tuple[Fact, ...]) -> list[tuple[str, str, Resolution]]:
        """Resolve what stands inside blends and beside facts: a hazard there is a hazard of the label."""
        names = [
            one.name for blend in blends for one in (*blend.members, *(i for m in blend.members for i in m.members))
        ]
        names += [part.name for fact in facts for part in fact.constituents]
        return [(name, "facts", self._resolver.resolve(name, suggest=False)) for name in dict.fromkeys(names) if name]

    def _hidden_hazards(self, unread_parts: tuple[Unread, ...]) -> list[tuple[str, str, Resolution]]:
        """Look for hazards in what was not understood and in what was read as a mere sentence."""
        sentences = [(one.text, "unread") for one in unread_parts if one.hazard is not None]
        sentences += [(text, "statements") for text in self._telling_statements()]
        return [(text, where, self._found.sheet.exact(text)) for text, where in sentences]

    def _telling_statements(self) -> tuple[str, ...]:
        """Give the sentences that name a hazard as a content of the product."""
        # The names of a line about traces stand among the other ingredients already.
        listed = {one.span for one in self._found.listed}
        told = [one.text for one in self._found.statements if self._may_tell(one) and one.span not in listed]
        return tuple(text for text in told if self._hazard_in(text)) if self._names_hazard(told) else ()

    @staticmethod
    def _may_tell(one: Statement) -> bool:
        if one.kind == "warning":
            return not _SPEAK_OF_CONTENTS.isdisjoint(words(one.text))
        return one.kind != "negation"

    def _finished(
        self, facts: tuple[ProductFact, ...], others: tuple[OtherIngredient, ...], unread_parts: tuple[Unread, ...]
    ) -> ReadProduct:  # fmt: skip
        pack = self._found.pack
        kept, over = facts[:MOST_FACTS], facts[MOST_FACTS:]
        # What the label says is absent is no ingredient; it stays in `other_ingredients` of the answer.
        texts = [one.text for one in others if not one.negated]
        texts += [fact.name for fact in over]
        texts += [one.text for one in unread_parts if one.hazard is not None]
        texts += self._telling_statements()
        list_text = self._list_text(texts)
        given = self._price is not None
        serving_units = serving_units_of(pack)
        return ReadProduct(
            unit=unit_word(pack),
            unit_count=unit_count_of(pack, serving_units),
            price=self._price if given else pack.price if pack.currency else None,
            currency=self._currency if given else pack.currency if pack.price is not None else None,
            serving=ProductServing(serving_units, pack.serving_mass_g) if serving_units else None,
            unit_mass_g=pack.unit_mass_g,
            unit_energy_kcal=unit_energy_of(pack, serving_units),
            facts=kept,
            other_ingredients=list_text or None,
            locale=self._locale,
        )

    def _list_text(self, texts: list[str]) -> str:
        """Write the list that ``normalise`` takes; where it would be too long, what names a hazard is not left out."""
        whole = "; ".join(text.replace(";", ",") for text in texts)
        if len(whole) <= _LONGEST_OTHER and len(split_list(whole)) <= MOST_ITEMS:
            return whole
        self._found.flags.append("list_cut")
        told = [text for text in dict.fromkeys(texts) if self._hazard_in(text) is not None]
        kept: list[str] = []
        room, items = _LONGEST_OTHER, MOST_ITEMS
        for text in dict.fromkeys((*told, *texts)):
            plain = text.replace(";", ",")
            room, items = room - len(plain) - 2, items - len(split_list(plain))
            if room < 0 or items < 0:
                break
            kept.append(plain)
        return "; ".join(kept)

    def _flags(
        self, facts: tuple[Fact, ...], blends: tuple[Blend, ...], unread_parts: tuple[Unread, ...],
        all_facts: tuple[ProductFact, ...],
    ) -> tuple[str, ...]:  # fmt: skip
        pack = self._found.pack
        flags = [flag for flag, _ in self._found.sheet.plain.marks]
        flags += [*self._found.flags, *pack.serving_flags, *pack.container_flags, *pack.energy_flags, *pack.price_flags]
        flags += [
            flag
            for fact in facts
            for flag in (*fact.flags, *(inner for part in fact.constituents for inner in part.flags))
        ]
        flags += [flag for blend in blends for flag in blend.flags]
        flags += [flag for one in self._found.directions for flag in one.flags]
        flags += ["unread_text"] if unread_parts else []
        flags += ["too_many_facts"] if len(self._found.lines) > MOST_FACTS or len(all_facts) > MOST_FACTS else []
        return tuple(dict.fromkeys(flags))

    def _cautions(
        self, flags: tuple[str, ...], hazards: tuple[LabelHazard, ...], unread_parts: tuple[Unread, ...],
        resolutions: list[tuple[str, str, Resolution]],
    ) -> tuple[Caution, ...]:  # fmt: skip
        found = [Caution(flag, "caution", text) for flag, text in _FLAG_TEXTS.items() if flag in flags]
        if unread_parts:
            found.append(
                Caution(
                    "unread_text", "caution", "Parts of the label were not understood; they are listed in `unread`."
                )
            )
        if hazards:
            found.append(
                Caution(
                    "hazards_on_label",
                    "warning",
                    "The label names substances that can harm; screen it for this animal.",
                )
            )
        recalled = any(caution.code == "from_memory" for _, _, one in resolutions for caution in one.cautions)
        memory = origin_cautions({"memory"} if recalled else set())
        return (*found, *(replace(one, text="Some names were matched by recalled spellings.") for one in memory))

    def _sources(self, read: tuple[ReadFact, ...], hazards: tuple[LabelHazard, ...]) -> tuple[str, ...]:
        ids = [id_ for fact in read if fact.reading.form for id_ in fact.reading.form.source_ids]
        ids += [id_ for fact in read if fact.amount for id_ in fact.amount.unit.source_ids]
        return tuple(dict.fromkeys((*ids, *(id_ for hazard in hazards for id_ in hazard.source_ids))))
