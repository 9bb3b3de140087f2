"""Allergens that labelling law names (source chem-s48; words of other languages from memory), and how they are told."""

from __future__ import annotations

from service.domain.labels.phrases import Phrases, any_of, by_meaning, split

# Names that hold the word of an allergen and bring none.
NO_ALLERGEN = ""

ALLERGEN_WORDS = Phrases(
    by_meaning(
        {
            NO_ALLERGEN: split(
                """
                    milk thistle | cocoa butter | shea butter | coconut milk | coconut butter | oyster mushroom |
                    oyster mushrooms | wheatgrass | wheat grass | milk vetch | goat's rue | buckwheat
                """
            ),
            "crustacean shellfish": split(
                """
                    crustacean | crustaceans | crustacean shellfish | shrimp | shrimps | prawn | crab | lobster |
                    krill | krebstiere | krebstieren | crustacés | crustáceos | crayfish | crab shell | shrimp shell
                """
            ),
            "mollusc shellfish": split(
                """
                    mollusc | molluscs | mollusk | mollusks | mollusc shellfish | mussel | mussels | oyster |
                    oysters | clam | weichtiere | weichtieren | mollusques | moluscos | squid | scallop |
                    green lipped mussel |
                    green-lipped mussel | grünlippmuschel | muschel | moule | mejillón
                """
            ),
            "shellfish": split(
                """
                    shellfish | schalentiere | marisco | mariscos | fruits de mer | meeresfrüchte
                """
            ),
            "fish": split(
                """
                    fish | anchovy | anchovies | sardine | sardines | salmon | cod | mackerel | tuna | herring |
                    fisch | fischen | fische | poisson | poissons | pescado | lachs | saumon | salmón |
                    fish oil | menhaden | pollock |
                    tilapia
                """
            ),
            "milk": split(
                """
                    milk | dairy | whey | casein | caseinate | lactose | cheese | milch | lait | leche |
                    milk protein | molke | lactosérum | suero de leche | yogurt | yoghurt | butter
                """
            ),
            "egg": split(
                """
                    egg | eggs | eggshell | eggshell membrane | ei | eier | œuf | œufs | huevo | huevos
                """
            ),
            "soy": split(
                """
                    soy | soya | soybean | soybeans | soja | soy lecithin | soya lecithin
                """
            ),
            "wheat": split(
                """
                    wheat | weizen | blé | trigo | wheat flour
                """
            ),
            "gluten": split(
                """
                    gluten | barley | rye | spelt | gerste | orge | cebada
                """
            ),
            "peanut": split(
                """
                    peanut | peanuts | peanut butter | erdnuss | erdnüsse | cacahuète | cacahuete | arachide
                """
            ),
            "tree nut": split(
                """
                    tree nut | tree nuts | almond | almonds | hazelnut | walnut | cashew | pistachio | pecan |
                    macadamia | nüsse | schalenfrüchte | fruits à coque | frutos de cáscara | nuts
                """
            ),
            "sesame": split(
                """
                    sesame | sesam | sésame | sésamo
                """
            ),
            "celery": split(
                """
                    celery | sellerie | céleri | apio
                """
            ),
            "mustard": split(
                """
                    mustard | senf | moutarde | mostaza
                """
            ),
            "lupin": split(
                """
                    lupin | lupine | altramuz
                """
            ),
            "sulphites": split(
                """
                    sulphites | sulfites | sulfite | sulphite | sulfur dioxide | sulphur dioxide | sulfitos
                """
            ),
            "beef": split(
                """
                    beef | rind | bœuf | bovine | vacuno
                """
            ),
            "chicken": split(
                """
                    chicken | poultry | huhn | geflügel | poulet | volaille | pollo
                """
            ),
        }
    )
)

CONTAINS = any_of(
    """
        contains | contain | enthält | contient | contiene | contains:
    """
)

MAY_CONTAIN = any_of(
    """
        may contain | may contain traces of | kann spuren von | kann enthalten | peut contenir | puede contener |
        may also contain | peut contenir des traces de | puede contener trazas de | kann spuren enthalten |
        made in a plant | manufactured in a plant | produced in a plant | processed in a plant | made on equipment |
        manufactured on equipment | produced on equipment | processed on equipment | shared equipment |
        packed in a facility | packed in a plant | hergestellt in einem betrieb | in einem betrieb |
        fabriqué dans un atelier | fabriqué dans une usine | produit dans un atelier | elaborado en una instalación |
        elaborado en una fábrica | fabricado en una instalación | fabricado en instalaciones |
        traces of | spuren von | made in a facility | manufactured in a facility | produced in a facility |
        processed in a facility
    """
)

AROUND_TRACES = frozenset(
    """
    that which where also handles handle processes process uses use produces produce manufactures stores packs packages
    with in the is are processed handled used stored made may be present from of contain contains traces products
    der die das dem denen auch verarbeitet verarbeiten werden wird gelagert abgepackt enthalten spuren von mit
    qui traite utilise manipule aussi des du de d' la le les l' sont ou traces
    que donde se procesa procesan maneja manipula tambien utiliza utilizan los las el trazas
    """.split()
)
"""Words that stand around the names in a sentence about traces."""

DENIES = any_of(
    """
        no | free from | free of | without | contains no | does not contain | no added | never | non | ohne |
        frei von | ohne zusatz | enthält kein | enthält keine | keine | kein | sans | ne contient pas |
        exempt de | sin | no contiene | libre de | exento de | senza | zero | made without | not made with |
        free
    """
)
