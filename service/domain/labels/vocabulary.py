"""Words around amounts, in English, German, French and Spanish, each list with the one thing that it says.

All of it is the wording of the trade and of labelling law (common practice; the terms of the European Union stand in
Regulation 767/2009, those of the United States in 21 CFR 101.36; source chem-s38, chem-s03). To teach the reader a new
wording, add it to the list whose meaning it has.
"""

from __future__ import annotations

from service.domain.labels.phrases import Phrases, any_of, by_meaning, split

BOUNDS = Phrases(
    by_meaning(
        {
            "less_than": split(
                """
                    less than | < | below | weniger als | moins de | menos de | inférieur à | meno di | minder dan
                """
            ),
            "min": split(
                """
                    min | min. | minimum | minimal | not less than | no less than | nlt | at least | more than |
                    mindestens | mind | mind. | nicht weniger als | mehr als | au moins | plus de | al menos |
                    como mínimo | mínimo | mín | mín. | más de | almeno | minimo | >= | ≥ | > | minstens | over
                """
            ),
            "max": split(
                """
                    max | max. | maximum | maximal | not more than | no more than | nmt | at most | up to |
                    höchstens | bis zu | nicht mehr als | jusqu'à | au plus | hasta | como máximo | máximo | máx |
                    máx. | massimo | fino a | <= | ≤ | pas plus de | no más de
                """
            ),
            "about": split(
                """
                    approx | approx. | approximately | about | ca | ca. | circa | ~ | ≈ | typ. | typically | typical |
                    average | avg | avg. | etwa | rund | environ | env. | aprox. | aproximadamente | unos | around
                """
            ),
        }
    )
)

# What an amount is for: "500 mg per chew", "pro Tablette", "par comprimé", "por comprimido".
PER = any_of(
    """
        pour |
        per each additional | for each additional | for every additional | per additional | per each | pour chaque |
        por cada | für je | par tranche de |
        per | pro | je | par | por | / | in each | for each | in every | for every | jede | jeder
    """
)

EACH = any_of(
    """
        each | ea | ea. | apiece | je | chacun | chacune | cada uno | cada una
    """
)

DAILY = any_of(
    """
        day | day's | daily | per day | a day | /day | each day | every day | once daily | once a day |
        pro tag | am tag |
        je tag | täglich | par jour | /jour | quotidien | al día | por día | diario | daily dose | daily serving |
        daily amount | tagesdosis | tagesration | tagesportion | tag | jour | día | dose journalière |
        dosis diaria | racion diaria | diaria
    """
)

BODY_WEIGHT = any_of(
    """
        body weight | bodyweight | of body weight | of bodyweight | bw | b.w. | body mass | of dog | dog |
        live weight | körpergewicht | kgw | kg körpergewicht | lebendgewicht | poids corporel |
        de poids corporel | de poids vif | poids vif | de poids | peso corporal | de peso corporal | de peso |
        peso vivo | de peso vivo | weight | of weight | pc
    """
)

OF_PRODUCT = any_of(
    """
        of product | product | of feed | feed | as fed | produkt | futter | alleinfutter | de produit |
        d'aliment | aliment | de producto | producto | de pienso | pienso | of powder | powder | me
    """
)

PACK_WORDS = any_of(
    """
        tube | tubes | carton | tin | can | blister | blisters | strip | dispenser |
        day supply | days supply | day's supply | days' supply | tage vorrat | tagesvorrat | jours de cure |
        bottle | tub | pack | bag | jar | box | pouch | container | pot | packung | flasche | beutel | bottles |
        pouches | boxes | flaschen | packungen | cartons | tins | cans | flacon | flacons | envase | envases |
        tubs | packs | bags | jars | boxs | pouchs | containers | pots | packungs | flasches | beutels |
        twin pack | free | gratis | extra
    """
)

SPECIES_WORDS = Phrases(
    by_meaning(
        {
            "dog": split(
                """
                    dog | dogs | hund | hunde | hunden | chien | chiens | perro | perros | canine | puppies | puppy |
                    welpen | chiot | chiots | cachorros | cane | cani | honden | adult dogs
                """
            ),
            "horse": split(
                "horse | horses | pony | ponies | pferd | pferde | pferden | cheval | chevaux | caballo | caballos"
            ),
            "cat": split(
                """
                    cat | cats | katze | katzen | chat | chats | gato | gatos | feline | kitten | kittens | gatti |
                    katten
                """
            ),
        }
    )
)

BLEND_WORDS = any_of(
    """
        blend | blends | proprietary | mix | mixture | complex | matrix | formula | mélange | mezcla | mischung |
        komplex | complexe | complejo | kräutermischung | miscela | wirkstoffmischung | formule | rezeptur |
        wirkstoffkomplex | gelenkkomplex | kräuterkomplex | cocktail
    """
)

# "2,100 mg actives" adds up what cannot be split: a claim, not an ingredient.
SUM_WORDS = frozenset(
    split(
        """
            actif | actifs | active | actives | activos | aktive | aktiver | combined | formula | gesamt |
            ingredient | ingredients | joint | key | of | per | power | principles | strength | supplements |
            support | total | totals | wirkstoff | wirkstoffe
        """
    )
)

PROVIDING = Phrases(
    by_meaning(
        {
            "content": split(
                """
                    providing | provides | yielding | yields | supplying | delivering | containing | contains | with |
                    of which | including | incl. | incl | davon | enthält | enthaltend | liefert | mit | dont |
                    apportant | contenant | teneur en | avec | aportando | que aporta | que contiene | de los cuales |
                    de las cuales | con | standardised to | standardized to | standardisiert auf | standardisé à |
                    titré à | titré en | estandarizado al | estandarizado a | which | std. to | std to |
                    stand. to | standardised |
                standardized | std. | standardisiert | mit einem gehalt von | minimum of
                """
            ),
            "equivalent": split(
                """
                    equivalent to | equiv. to | equiv to | equal to | equivalent | equals | corresponding to | = |
                    entspricht | entsprechend | équivalent à | soit | correspondant à | equivalente a |
                    corresponde a | eq. | eq | equiv. | equiv
                """
            ),
            "source": split(
                """
                    from | derived from | sourced from | aus | von | issu de | issue de | provenant de |
                    procedente de | de | extracted from | ex | as | als | sous forme de | como | en forma de
                """
            ),
        }
    )
)
