"""Words of directions: how often, how long, for which weight (common practice)."""

from __future__ import annotations

from decimal import Decimal

from service.domain.labels.phrases import Phrases, any_of, by_meaning, split

TIMES = Phrases(
    by_meaning(
        {
            Decimal("2"): split(
                """
                    twice daily | twice a day | twice per day | 2x daily | 2x a day | 2 x daily | 2 x täglich |
                    am & pm | am and pm | am/pm | morning and evening | morgens und abends | bid | b.i.d. |
                    two times a day | two times daily | zweimal täglich | 2 mal täglich | deux fois par jour |
                    2 fois par jour | dos veces al día | 2 veces al día | matin et soir | mañana y noche |
                    every 12 hours | q12h | q 12 h | 2 times daily | 2 times a day | 2 times per day
                """
            ),
            Decimal("3"): split(
                """
                    three times daily | three times a day | dreimal täglich | trois fois par jour | tid |
                    3 times daily | 3 times a day | tres veces al día | 3 x täglich | every 8 hours | q8h | q 8 h
                """
            ),
            Decimal("1"): split(
                """
                    once daily | once a day | once per day | daily | per day | a day | each day | every day | /day |
                    einmal täglich | täglich | pro tag | am tag | par jour | une fois par jour | al día |
                    una vez al día | por día | sid | every 24 hours | q24h | q 24 h | each morning | every morning
                """
            ),
        }
    )
)

INTERVALS = Phrases(
    by_meaning(
        {
            2: split(
                """
                    every other day | every second day | alternate days | every 2 days | jeden zweiten tag |
                    alle 2 tage | un jour sur deux | tous les 2 jours | cada dos días | cada 2 días |
                    on alternate days | un día sí y otro no | días alternos | every two days
                """
            ),
            3: split(
                """
                    every third day | every 3 days | alle 3 tage | every three days
                """
            ),
            7: split(
                """
                    weekly | once a week | once weekly | per week | wöchentlich | par semaine | a la semana |
                    every week | einmal pro woche | pro woche | une fois par semaine | una vez a la semana
                """
            ),
            14: split(
                """
                    fortnightly | every other week | every second week | every two weeks | jede zweite woche |
                    alle zwei wochen | alle 14 tage | une semaine sur deux
                """
            ),
            30: split(
                """
                    monthly | once a month | once monthly | every month | einmal im monat | monatlich | par mois |
                    une fois par mois | al mes | una vez al mes
                """
            ),
        }
    )
)

PHASES = Phrases(
    by_meaning(
        {
            "loading": split(
                """
                    loading dose | loading period | loading phase | loading | load with | load | initial | initially |
                    first | to start |
                    starting dose | anfangsdosis | startphase | anfangs | zu beginn | dose de charge |
                    dose d'attaque | dosis de carga | dosis inicial | aufladephase | for the first |
                    during the first | die ersten | in den ersten | les premières | las primeras |
                    pendant les premières | first month
                """
            ),
            "maintenance": split(
                """
                    maintenance dose | maintenance | thereafter | then | afterwards | erhaltungsdosis |
                    danach | anschließend | dose d'entretien | ensuite | puis | mantenimiento |
                    dosis de mantenimiento | después | dann | followed by | reduce to
                """
            ),
        }
    )
)

# Words that begin what is given later, whatever was given first.
LATER = any_of(
    """
        then | thereafter | afterwards | danach | anschließend | ensuite | puis | después | dann | followed by |
        reduce to | then reduce
    """
)

# "1 tablet per 5 kg up to a maximum of 6 tablets"
AT_MOST = any_of(
    """
        up to a maximum of | to a maximum of | with a maximum of | a maximum of | maximum of | maximum | max | max. |
        up to a max of | up to max | not more than | no more than | never more than | at most | up to | do not exceed |
        don't exceed | not exceeding | höchstens | maximal | bis maximal | bis zu | nicht mehr als | bis zu maximal |
        au maximum | maximum de | jusqu'à un maximum de | jusqu'à | pas plus de | máximo de | máximo | como máximo |
        hasta un máximo de | hasta | no más de | fino a | massimo | al massimo
    """
)

DOUBLE = Phrases(
    by_meaning(
        {
            Decimal("2"): split(
                """
                    double | double the amount | double dose | twice the amount | doppelte | doppelte menge |
                    doubler | doble | double dosage
                """
            ),
            Decimal("3"): split(
                """
                    triple
                """
            ),
            Decimal("0.5"): split(
                """
                    half | halve | half the amount | halbieren | hälfte | moitié | mitad
                """
            ),
        }
    )
)

# "3x daily", "2 mal am Tag", "3 fois par semaine": a count, one of these, and what it is in.
TIMES_SIGNS = frozenset("x \u00d7 time times mal fois veces vez volte maal".split())
# The same in one word; once a week is an interval of seven days.
TIMES_WORDS = Phrases(
    by_meaning(
        {
            Decimal(2): split("twice | zweimal"),
            Decimal(3): split("thrice | dreimal"),
            Decimal(4): split("viermal"),
        }
    )
)
EVERY = any_of("every | alle | tous les | toutes les | cada | ogni")
IN_A_DAY = any_of(
    """
        daily | a day | per day | /day | each day | day | täglich | am tag | pro tag | /tag | tag | par jour | /jour |
        jour | al día | por día | al giorno | per dag
    """
)
IN_A_WEEK = any_of(
    """
        weekly | a week | per week | /week | each week | wöchentlich | pro woche | in der woche | par semaine |
        a la semana | por semana | alla settimana | per week
    """
)
ADDITIONAL = frozenset("additional extra further weitere weiteren supplementaires supplementaire adicional".split())

# "After 6 weeks" begins the next phase; "after meals" does not.
AFTER = frozenset("after nach apres despues tras dopo na".split())

DAYS = Phrases(
    by_meaning(
        {
            1: split(
                """
                    day | days | tag | tage | tagen | jour | jours | día | días
                """
            ),
            7: split(
                """
                    week | weeks | wk | wks | woche | wochen | semaine | semaines | semana | semanas
                """
            ),
            30: split(
                """
                    month | months | monat | monate | monaten | mois | mes | meses
                """
            ),
        }
    )
)

ABOVE = any_of(
    """
        over | above | oltre | sopra | more than | > | from | über | ab | plus de | más de | à partir de |
        desde | mehr als |
        greater than | at least | ≥ | >= | heavier than
    """
)

BELOW = any_of(
    """
        under | below | fino a | sotto | meno di | up to | less than | < | unter | bis | bis zu | moins de |
        jusqu'à | menos de | hasta | ≤ |
        <= | to | lighter than
    """
)

AND_OVER = any_of(
    """
        and over | and above | or more | and up | + | or over | und mehr | und darüber | et plus | y más | o más |
        or above | plus | and heavier | or heavier | and more
    """
)

AND_UNDER = any_of(
    """
        and under | or less | and below | or under | et moins | y menos | oder weniger | and less
    """
)

NOT_ABOVE_EDGE = frozenset(
    split(
        """
            > | above | greater | heavier | mas | mehr | more | over | plus | uber
        """
    )
)

COUNT_WORDS = Phrases(
    by_meaning(
        {
            Decimal("0.5"): split(
                """
                half a | half | one half | a half | mezza | mezzo | eine halbe | halbe | ein halber | halber | un demi |
                une demi | demi | media | medio | medio de | la moitié d'un
                """
            ),
            Decimal("1.5"): split(
                """
                one and a half | one and one half | eineinhalb | anderthalb | un et demi | une et demie | uno y medio |
                una y media | un comprimé et demi
                """
            ),
            Decimal("2.5"): split("two and a half | zweieinhalb | deux et demi | dos y medio | dos y media"),
            Decimal(1): split("one | a | an | ein | eine | einen | un | une | una | uno"),
            Decimal(2): split("two | zwei | deux | dos | due"),
            Decimal(3): split("three | drei | trois | tres | tre"),
            Decimal(4): split("four | vier | quatre | cuatro | quattro"),
            Decimal(5): split("five | fünf | cinq | cinco | cinque"),
            Decimal(6): split("six | sechs | seis | sei"),
            Decimal(7): split("seven | sieben | sept | siete | sette"),
            Decimal(8): split("eight | acht | huit | ocho | otto"),
            Decimal(10): split("ten | zehn | dix | diez | dieci"),
        }
    )
)
