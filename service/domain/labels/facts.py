"""From a line of a panel to a fact: what its name refers to and how many milligrams that is."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal

from service.domain.errors import InvalidInput
from service.domain.labels.answer import Fact, PerReading, ProductFact, SecondFigure
from service.domain.labels.findings import PanelLine
from service.domain.labels.item_shapes import Aside, Item
from service.domain.labels.parents import inherited_parts, is_more_than
from service.domain.labels.quantities import Per, Quantity
from service.domain.labels.sheet import Sheet
from service.domain.labels.vocabulary import BOUNDS
from service.domain.normalising import ReadFact, read_facts
from service.domain.products import LabelFact, Product
from service.domain.rounding import amount as rounded
from service.domain.rounding import amount_range
from service.reference.release import Reference

LONGEST_NAME, LONGEST_AMOUNT = 200, 120
_SHARES = ("fraction", "mass_per_mass", "iu_per_mass", "activity_per_mass")
_OF_MASS = ("fraction", "mass_per_mass")
_KILOGRAM_G = Decimal(1000)
_EXTRACT = ("extract", "extrakt", "extrait", "extracto", "estratto")
# More than 100 g of one substance in a unit is a misprint or no amount of a substance.
_IMPLAUSIBLE_MG = Decimal(100_000)
_MOST_IU = Decimal(1_000_000)
_VOLUME_SHARES = (" v/v", " vol", " vol.", " w/w")
_FIGURES = ("equivalent", "source", "restated")
_NO_DIRECT_MASS = ("day", "body_weight")
_NOT_OF_A_NAME = " |/:-\u2013\u2014=,*#\u2020\u2021\u00a7.\u2022\u00b7"
_NO_BRACKETS = str.maketrans(dict.fromkeys("()[]{}", " "))
_BOUND_WORDS = {"min": "min ", "max": "max ", "less_than": "less than "}


@dataclass(frozen=True, slots=True)
class FactTexts:
    """Name and amount of a fact as text that ``normalise`` reads; ``per_free`` is without what the amount is for."""

    name: str
    amount: str | None
    per_free: str | None


def texts_of(sheet: Sheet, line: PanelLine) -> FactTexts:
    """Write the name and the amount of a line as one fact.

    Parameters
    ----------
    sheet
        The label.
    line
        The line with the context that it stands in.

    Returns
    -------
    FactTexts
        Contents that the label states stand in a bracket behind the amount; what it was made from stays in the name.
    """
    item = inherited_parts(sheet, line.item)
    name = _name(sheet, item)
    if item.quantity is None or item.quantity.refused:
        return FactTexts(name[:LONGEST_NAME], None, None)
    base = _quantity_text(sheet, item.quantity, _bound_of(sheet, item))
    asides = [_aside_text(sheet, one) for one in item.asides if one.kind != "source" and not _in_name(item, one)]
    asides += [_parts_text(sheet, tuple(line.parts))] if line.parts else []
    told = next((text for text in asides if text), "")
    per_free = f"{base} ({told})" if told and len(base) + len(told) + 3 <= LONGEST_AMOUNT else base
    what_for = per_text(line.per, item.quantity)
    with_per = f"{base}{what_for}" + (
        f" ({told})" if told and len(base) + len(what_for) + len(told) + 3 <= LONGEST_AMOUNT else ""
    )
    if line.per is not None and line.per.kind == "body_weight":
        return FactTexts(name[:LONGEST_NAME], None, per_free)
    return FactTexts(name[:LONGEST_NAME], with_per, per_free)


def _name(sheet: Sheet, item: Item) -> str:
    """Give the printed name, without bounds, footnote marks and brackets that belong to the amount."""
    start, end = item.name
    pieces, at = [], start
    for aside in sorted(item.asides, key=lambda one: one.start):
        only_purity = item.purity is not None and (aside.start + 1, aside.end - 1) == (
            item.purity.start,
            item.purity.end,
        )
        if start <= aside.start < end and (aside.kind in ("bound", "per") or only_purity):
            pieces.append(sheet.text(at, aside.start))
            at = aside.end
    pieces.append(sheet.text(at, end))
    text = " ".join(piece for piece in pieces if piece)
    text = text.strip(_NOT_OF_A_NAME) or text
    for ending in _VOLUME_SHARES:
        text = text.removesuffix(ending)
    if item.purity is not None:
        text = f"{text} {sheet.text(item.purity.start, item.purity.end)}"
    # "Zinc 15 mg (as zinc oxide)", "500 mg sulfate (from 628 mg ...)": the source belongs to the name.
    told = [_source_text(sheet, one) for one in item.asides if one.kind == "source" and not _in_name(item, one)]
    return f"{text} ({told[0]})" if told and len(text) + len(told[0]) + 3 <= LONGEST_NAME else text


def _source_text(sheet: Sheet, aside: Aside) -> str:
    """``(as 628 mg X)`` and ``(from 628 mg X)`` say the same: what the amount was made from."""
    text = _aside_text(sheet, aside)
    first, _, rest = text.partition(" ")
    return f"from {rest}" if aside.quantity is not None and first.casefold() in ("as", "als", "como") else text


def _in_name(item: Item, aside: Aside) -> bool:
    return item.name[0] <= aside.start < item.name[1]


def _bound_of(sheet: Sheet, item: Item) -> str | None:
    """``Manganese (min) 40 ppm``: the bound stands in the name and belongs to the amount."""
    if item.quantity is not None and (item.quantity.bound is not None or "min_and_max" in item.quantity.flags):
        return item.quantity.bound
    for aside in item.asides:
        hit = BOUNDS.find(sheet.tokens, aside.start + 1, aside.end - 1) if aside.kind == "bound" else None
        if hit is not None and hit.meaning != "about":
            return hit.meaning
    return None


def _quantity_text(sheet: Sheet, found: Quantity, bound: str | None) -> str:
    """Write an amount the plain way: bound, number as printed, unit."""
    number, unit = sheet.text(found.number.start, found.number.end), found.unit.alias if found.unit is not None else ""
    if "fraction" in found.flags:
        number = f"{found.number.low.normalize():f}"
    if number[:1] in (".", ",") or ("scientific_notation" in found.flags and "10" not in number):
        number = f"{found.number.low.normalize():f}"
    if "min_and_max" in found.flags:
        number = f"{found.number.low.normalize():f}-{found.number.high.normalize():f}"
    about = "about " if "approximate" in found.flags and bound is None else ""
    return f"{_BOUND_WORDS.get(bound or '', '')}{about}{number} {unit}".strip()


def per_text(per: Per | None, found: Quantity) -> str:
    """Write what an amount is for, as ``normalise`` reads it.

    Parameters
    ----------
    per
        What the label says; ``None`` for a serving.
    found
        The amount.

    Returns
    -------
    str
        For example ``" per 2 chews"``; empty where the amount itself says it, or for a serving.
    """
    if per is None or found.unit is None or found.unit.dimension in _SHARES or found.unit.dimension.endswith("_volume"):
        return ""
    if per.kind in ("serving", *_NO_DIRECT_MASS):
        return "" if per.count == 1 or per.kind in _NO_DIRECT_MASS else f" per {per.count.normalize():f} servings"
    unit = per.unit.alias if per.unit is not None else "unit"
    return f" per {unit}" if per.count == 1 else f" per {per.count.normalize():f} {unit}"


def _aside_text(sheet: Sheet, aside: Aside) -> str:
    if aside.kind == "content":
        return _parts_text(sheet, aside.items)
    if aside.kind == "restated" and aside.quantity is not None and aside.items:
        return _quantity_text(sheet, aside.quantity, aside.quantity.bound)
    if aside.kind in ("restated", "equivalent", "source", "words"):
        inside = sheet.closing.get(aside.start) == aside.end - 1
        return sheet.text(aside.start + 1, aside.end - 1) if inside else sheet.text(aside.start, aside.end)
    return ""


def _parts_text(sheet: Sheet, parts: tuple[Item, ...]) -> str:
    written = []
    for part in parts:
        amount = _quantity_text(sheet, part.quantity, part.quantity.bound) if part.quantity is not None else ""
        # A bracket within the bracket would end it: "EPA (as ethyl ester) 270 mg".
        name = sheet.text(*part.name).translate(_NO_BRACKETS).strip(_NOT_OF_A_NAME)
        written.append(" ".join(f"{name} {amount}".split()))
    return ", ".join(text for text in written if text)


@dataclass(frozen=True, slots=True)
class FactReader:
    """Turns lines into facts; ``product`` tells serving and unit, its own facts do not count."""

    sheet: Sheet
    product: Product
    _known: dict[tuple[object, ...], tuple[ReadFact | None, str | None]] = field(default_factory=dict)

    @property
    def _reference(self) -> Reference:
        return self.sheet.reference

    def fact(self, line: PanelLine) -> tuple[Fact, ReadFact | None]:
        """Read one line.

        Parameters
        ----------
        line
            The line with its context.

        Returns
        -------
        tuple
            The fact, and what the domain makes of its name and amount; ``None`` where the amount cannot be used.
        """
        texts = texts_of(self.sheet, line)
        item = inherited_parts(self.sheet, line.item)
        alone = replace(self.product, serving_units=Decimal(1), serving_mass_g=None, unit_mass_g=None)
        if self._is_share(item.quantity):
            # A share of the product is told for a kilogram of it.
            alone = replace(alone, unit_mass_g=_KILOGRAM_G)
        plain, problem = self._read(alone, texts.name, texts.per_free)
        if plain is None:
            # An amount that cannot be used takes nothing from what the name says.
            plain, _ = self._read(alone, texts.name, None)
        real, why_not = self._read(self.product, texts.name, texts.amount) if texts.amount else (None, None)
        fact = self._assembled(line, item, texts, plain, real, problem or why_not)
        return fact, real or plain

    def _is_share(self, found: Quantity | None) -> bool:
        return found is not None and found.unit is not None and found.unit.dimension in _SHARES

    def _read(self, product: Product, name: str, amount: str | None) -> tuple[ReadFact | None, str | None]:
        """Read a name and an amount as ``normalise`` does, once; else why they cannot be used."""
        key = (product.serving_units, product.serving_mass_g, product.unit_mass_g, name, amount)
        if key not in self._known:
            try:
                read = read_facts(self._reference, replace(product, facts=(LabelFact(name, amount),)))[0]
                self._known[key] = (read, None)
            except InvalidInput as error:
                self._known[key] = (None, error.issues[0].detail)
        return self._known[key]

    def _assembled(
        self, line: PanelLine, item: Item, texts: FactTexts, plain: ReadFact | None, real: ReadFact | None,
        problem: str | None,
    ) -> Fact:  # fmt: skip
        sheet, found = self.sheet, item.quantity
        source = plain or real
        reading = source.reading if source else None
        share = self._is_share(found)
        printed = _Masses.of(plain)
        usable = real if line.per is None or line.per.kind != "day" else None
        per_unit, per_serving = _Masses.of(usable), _Masses.of(usable, self.product.serving_units or Decimal(1))
        flags = [*(source.flags if source else ()), *(found.flags if found else ()), *line.flags]
        if share and (real is None or "no_serving_mass" in real.flags):
            flags.append("no_serving_mass")
        if found is not None and found.unit is None and not found.refused:
            flags.append("unit_missing")
        if line.per is not None and line.per.kind in _NO_DIRECT_MASS:
            flags.append(f"per_{line.per.kind}")
        flags += ["several_columns"] if item.columns else []
        flags += ["amount_implausible"] if share and found is not None and _is_more_than_all(found) else []
        flags += ["unit_suspicious"] if _too_many_units(plain) else []
        flags += ["amount_implausible"] if per_unit.high is not None and per_unit.high > _IMPLAUSIBLE_MG else []
        parts = [
            self.part(part, item, nested=False)
            for aside in item.asides
            if aside.kind == "content"
            for part in aside.items
            if part.quantity is not None
        ]
        parts += [self.part(part, item, nested=True) for part in line.parts]
        flags += ["constituent_not_additive"] if parts else []
        contents = [part.quantity for aside in item.asides if aside.kind == "content" for part in aside.items]
        flags += ["label_inconsistent"] if any(is_more_than(one, found) for one in contents) else []
        return Fact(
            name=texts.name, amount=texts.amount if usable is not None else None,
            printed=sheet.text(item.start, item.end),
            ingredient=reading.ingredient if reading else None, form=reading.form.id if reading and
            reading.form else None,
            value=found.number.low if found and not found.refused and found.number.low == found.number.high else None,
            value_low=found.number.low if found and not found.refused else None,
            value_high=found.number.high if found and not found.refused else None,
            unit=found.unit.unit if found and found.unit else None, per=_per_reading(line.per, found),
            basis=_basis(reading.basis if reading else None, texts.name), bound=_bound_of(sheet, item),
            mg=None if share else printed.exact, mg_low=None if share else printed.low, mg_high=None if share
            else printed.high,
            mg_per_kg=printed.exact if share else None,
            iu_per_kg=_iu_per_kg(found),
            mg_per_serving=per_serving.exact, mg_low_per_serving=per_serving.low,
            mg_high_per_serving=per_serving.high,
            mg_per_unit=per_unit.exact, mg_low_per_unit=per_unit.low, mg_high_per_unit=per_unit.high,
            moiety=reading.moiety if reading else None, moiety_mg=printed.moiety_exact,
            moiety_low_mg=printed.moiety_low, moiety_high_mg=printed.moiety_high,
            moiety_low_mg_per_unit=per_unit.moiety_low, moiety_high_mg_per_unit=per_unit.moiety_high,
            share_of_parent=None, daily_value_percent=item.second.number.low if item.second else None,
            constituents=tuple(parts),
            second_figures=tuple(self._second(one) for one in item.asides if one.kind in _FIGURES and one.quantity),
            footnotes=tuple(_mark(mark) for mark in item.marks),
            why_not=found.refused if found and found.refused else problem,
            flags=tuple(dict.fromkeys(flags)), span=sheet.span(item.start, item.end), name_span=sheet.span(*item.name),
            amount_span=sheet.span(found.start, found.end) if found else None,
        )  # fmt: skip

    def checked(self, name: str, amount: str | None) -> ProductFact:
        """Give a name and an amount as ``normalise`` takes them, without an amount that it would refuse.

        Parameters
        ----------
        name, amount
            As text.

        Returns
        -------
        ProductFact
            Shortened to what ``normalise`` accepts.
        """
        usable = amount is not None and self._read(self.product, name, amount)[0] is not None
        return ProductFact(name[:LONGEST_NAME].strip(), amount if usable else None)

    def part(self, part: Item, parent: Item, *, nested: bool) -> Fact:
        """Read a constituent; a share is a share of its parent, unless the parent is itself a share of the product.

        Parameters
        ----------
        part
            The constituent.
        parent
            What it is contained in.
        nested
            Whether that follows from what it is, not from a bracket.

        Returns
        -------
        Fact
            Never added to its parent.
        """
        fact, _ = self.fact(PanelLine(part, None, "part", 0, 0, flags=("nested_by_rule",) if nested else ()))
        share = (
            part.quantity is not None and part.quantity.unit is not None and part.quantity.unit.dimension in _OF_MASS
        )
        whole = parent.quantity
        if (
            share
            and part.quantity is not None
            and part.quantity.unit is not None
            and whole is not None
            and whole.unit is not None
            and not self._is_share(whole)
        ):
            fraction = part.quantity.number.low * part.quantity.unit.factor
            mass = whole.number.low * whole.unit.factor * fraction if whole.unit.dimension == "mass" else None
            exact = rounded(mass) if mass is not None else None
            fact = replace(
                fact,
                share_of_parent=fraction,
                mg=exact,
                mg_low=exact,
                mg_high=exact,
                mg_per_kg=None,
                moiety_mg=None,
                moiety_low_mg=None,
                moiety_high_mg=None,
            )
        return replace(
            fact, mg_per_serving=None, mg_low_per_serving=None, mg_high_per_serving=None, mg_per_unit=None,
            mg_low_per_unit=None, mg_high_per_unit=None, moiety_low_mg_per_unit=None, moiety_high_mg_per_unit=None,
        )  # fmt: skip

    def _second(self, aside: Aside) -> SecondFigure:
        found = aside.quantity
        unit = found.unit if found else None
        mg = found.number.low * unit.factor if found and unit and unit.dimension == "mass" else None
        return SecondFigure(
            aside.kind, _aside_text(self.sheet, aside), found.number.low if found else None,
            unit.unit if unit else None,
            rounded(mg) if mg else None, self.sheet.span(aside.start, aside.end),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Masses:
    """Low and high of a substance and of its moiety in mg, rounded; exact where both are one."""

    low: Decimal | None = None
    high: Decimal | None = None
    moiety_low: Decimal | None = None
    moiety_high: Decimal | None = None

    @classmethod
    def of(cls, read: ReadFact | None, units: Decimal = Decimal(1)) -> _Masses:
        """Take the masses of a fact as it was read, for so many units, and round once."""
        if read is None:
            return cls()
        mass = read.mass
        return cls(*_pair(mass.mg_low, mass.mg_high, units), *_pair(mass.moiety_low_mg, mass.moiety_high_mg, units))

    @property
    def exact(self) -> Decimal | None:
        """Give the mass as printed where low and high are one."""
        return self.low if self.low == self.high else None

    @property
    def moiety_exact(self) -> Decimal | None:
        """Give the mass of the moiety where low and high are one."""
        return self.moiety_low if self.moiety_low == self.moiety_high else None


def _pair(low: Decimal | None, high: Decimal | None, factor: Decimal) -> tuple[Decimal | None, Decimal | None]:
    if low is None or high is None:
        return None, None
    if low == high:
        return rounded(low * factor), rounded(low * factor)
    return amount_range(low * factor, high * factor)


def _per_reading(per: Per | None, found: Quantity | None) -> PerReading | None:
    if found is None:
        return None
    if found.unit is not None and found.unit.dimension in _SHARES:
        return PerReading("product_mass", Decimal(1), "kilogram")
    if per is None:
        return PerReading("serving", Decimal(1), "serving")
    return PerReading(per.kind, per.count, per.unit.unit if per.unit else None)


def _basis(basis: str | None, name: str) -> str | None:
    """Say what the number counts; of a plant extract it counts the extract."""
    if basis in ("as_labelled", "material", None) and any(word in name.casefold() for word in _EXTRACT):
        return "extract"
    return basis


def _is_more_than_all(found: Quantity) -> bool:
    """``MSM 120 %``: no product holds more of something than itself."""
    unit = found.unit
    return unit is not None and unit.dimension == "fraction" and found.number.low * unit.factor > 1


def _too_many_units(read: ReadFact | None) -> bool:
    """400 mg of vitamin D3 are 16 million IU: micrograms were meant, or the label is wrong."""
    form, high = (read.reading.form, read.mass.mg_high) if read else (None, None)
    return bool(form and high and form.iu_per_mg_high and high * form.iu_per_mg_high > _MOST_IU)


def _iu_per_kg(found: Quantity | None) -> Decimal | None:
    """``150 IU/lb`` in IU per kg of product: the factor of these units is IU per kg."""
    if found is None or found.refused or found.unit is None or found.unit.dimension != "iu_per_mass":
        return None
    return rounded(found.number.low * found.unit.factor)


def _mark(text: str) -> str:
    return "".join(str(ord(char) - 0xE000) if "\ue000" <= char <= "\ue009" else char for char in text)
