"""Words of a label that deny, hedge or merely describe; none of them names a substance by itself."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from service.domain.denial_words import (
    ABSENT,
    AUXILIARY,
    CONTAINING,
    GOVERNING,
    LEADING,
    LISTING,
    NEGATING_WORDS,
    PROCESSED,
    PROCESSED_ENGLISH,
    TRANSPARENT,
)
from service.domain.negating import Span, negated_words
from service.domain.trace_wording import TRACE_WORDS, traced_before, traced_from

_FLAVOR_WORDS = {"flavor", "flavors", "flavored", "flavoring", "flavorings", "aroma", "geschmack", "taste", "type"}
# Of what is named like this some is in it: "garlic powder flavor".
_MATERIALS = frozenset(
    """powder powders powdered extract extracts juice juices concentrate concentrates oil oils pulver poudre polvo
    polvere extrakt extrait extracto estratto saft jus zumo succo broth broths paste puree""".split()
)
# Words that describe an item without changing which substance it is. "oil" and "essential" are left out on
# purpose: an oil of a harmless herb can be a different and harmful substance.
QUALIFIERS = frozenset(
    """a an the of and or with from in as for to by per plus added contains containing source sources based organic
    natural naturally derived pure purified refined raw fresh dried dry dehydrated freeze frozen cooked roasted
    ground milled whole powder powdered granules granulated extract extracts concentrate concentrated
    concentrates standardized standardised root roots leaf leaves bark stem stems rhizome herb flower flowers
    aerial parts part seed seeds fruit fruits berry berries bean beans peel rind pulp flesh resin gum blend
    complex grade food feed pharmaceutical premium quality fine micro micronized ultra certified sustainable
    wild caught farmed pasture raised free range human non gmo vegan vegetarian vegetable plant animal
    artificial synthetic identical nature ingredient ingredients additive additives minimum min max not less
    than sodium potassium dihydrate monohydrate anhydrous usp bp ep ph eur fcc active total approx about ca ci d
    dl l e ins preservative preservatives antioxidant antioxidants color colors colorant sweetener sweeteners
    emulsifier emulsifiers stabilizer stabilizers thickener thickeners acidity regulator regulators humectant
    anticaking agent agents binder binders filler fillers coating coatings capsule capsules shell lubricant
    carrier glazing flavor flavors flavoring preserved stabilized mg g kg mcg ug iu ml l percent ppm cfu billion
    million x und mit aus oder der die das getrocknet gemahlen pulver extrakt bio naturlich et avec de du des la
    le les en poudre extrait sec seche bio naturel naturelle y con del los las el polvo extracto seco natural
    sweetened providing provides yielding yields supplying delivering equivalent equiv corresponding supplied form
    formula elemental element bovine porcine avian ovine marine chicken sternum sternal tracheal trachea rooster
    comb combs nutritional technological sensory zootechnical maximum more
    als von dem den im je aus zusatz zugesetzt zugesetzte getrocknete getrockneter getrocknetes gemahlene
    sauce seasoning
    zusatzstoff zusatzstoffe ernahrungsphysiologische technologische sensorische zootechnische entspricht
    sous forme ajoute ajoutee ajoutes ajoutees additifs nutritionnels technologiques sensoriels deshydrate
    deshydratee seches poudres provenant
    como forma anadido anadida anadidos anadidas agregado aditivos nutricionales tecnologicos sensoriales
    deshidratado deshidratada procedente
    day days week weeks month months year years hour hours tag tage woche wochen monat monate jour jours semaine
    semaines mois dia dias semana semanas mes meses adult puppy puppies dog dogs cat cats daily once twice
    which including davon dont cuales cui vegetal vegetale vegetaux pflanzlich pflanzliche pflanzlichem
    fresco fresca frescos frescas molido molida molidos picado picada triturado rallado granulado ecologico ecologica
    organico organica crudo cruda tostado tostada diente dientes hoja hojas granos soluble menos
    frais fraiche hache hachee moulu moulue broye broyee biologique biologiques gousse gousses feuille feuilles vert
    verte torrefie cru crue cuit cuite rouge moins
    verse rode gele gedroogde gedroogd gemalen gesneden biologische gehakte fijngehakte rauwe gebakken teentje
    teentjes bladeren blad minder dan
    secco secca tritato macinato biologico spicchi spicchio foglie meno moido dente dentes folhas
    frisch frischer frische frisches gehackt gehackter gemahlener roher rohe""".split()
)
# What denials and warnings are said with beside their own words: "this product is guaranteed free from".
_SAID = frozenset("product products produkt producto produit prodotto guaranteed garantiert nothing gesusst".split())
IGNORED_WORDS = (
    QUALIFIERS
    | NEGATING_WORDS
    | TRANSPARENT
    | TRACE_WORDS
    | LEADING
    | AUXILIARY
    | ABSENT
    | LISTING
    | GOVERNING
    | CONTAINING
    | PROCESSED
    | PROCESSED_ENGLISH
    | _SAID
)
JOINING_WORDS = frozenset("and und et y or oder ou with mit avec con".split())


@dataclass(frozen=True, slots=True)
class Wording:
    """Which words of an item a negation reaches, from where it speaks of traces, and where a traced name begins."""

    negated: frozenset[int]
    traced_from: int
    traced: frozenset[int] = frozenset()


def wording_of(tokens: tuple[str, ...], named: Collection[Span], breaks: Collection[int]) -> Wording:
    """Find the reach of the negations and the trace phrases of an item.

    Parameters
    ----------
    tokens
        The words of one item.
    named
        Where known names stand in it.
    breaks
        Positions of words where the sense breaks off.

    Returns
    -------
    Wording
        Positions; the number of words where no trace is spoken of.
    """
    traced = traced_before(tokens, {span.end: span.start for span in named})
    return Wording(negated_words(tokens, named, breaks, QUALIFIERS), traced_from(tokens), traced)


def only_a_flavor(start: int, end: int, tokens: tuple[str, ...], *, is_plant: bool = True) -> bool:
    """``chocolate flavor`` names a taste; ``natural chocolate flavor`` may hold the plant and stays a hazard.

    Parameters
    ----------
    start
        Where the name begins among the words.
    end
        Where it ends (exclusive).
    tokens
        The words of one item, as :func:`service.domain.label_text.words` cuts them.
    is_plant
        False for a substance: nothing tastes "of xylitol" without it.

    Returns
    -------
    bool
        ``True`` where the words after it make it a taste and nothing says that the plant, or a powder, an extract, a
        juice or an oil of it, is in it.
    """
    if end >= len(tokens) or tokens[end] not in _FLAVOR_WORDS or not is_plant:
        return False
    if "artificial" in tokens:
        return True
    natural = "natural" in tokens[:end] or tokens[end + 1 :] == ("natural",)
    return not natural and _MATERIALS.isdisjoint(tokens[start:end])
