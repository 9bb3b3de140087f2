"""Strategies that build invented labels from the kinds of lines that labels print, and texts that are no labels."""

from __future__ import annotations

from hypothesis import strategies as st

NAMES = (
    "Glucosamine HCl", "Glucosamine", "glucosamine sulfate 2KCl", "Chondroitin sulfate", "MSM", "Green lipped mussel",
    "Fish oil", "Omega 3", "EPA", "Vitamin E", "Vitamin D3", "Vitamin B12", "Manganese (as manganese sulfate)",
    "Zinc oxide", "Boswellia serrata extract (65 % boswellic acids)", "Turmeric (Curcuma longa)", "Hyaluronic acid",
    "Devil's claw extract (4:1)", "Coenzyme Q10", "Chlorhydrate de glucosamine", "Glucosaminhydrochlorid",
    "Crude protein",
    "Zorblax root", "Xylitol", "Hip & joint complex",
)  # fmt: skip
NUMBERS = (
    "1", "2", "5", "0.5", ".5", "1/2", "½", "1½", "250", "500", "1000", "1,000", "1.000", "1 500", "1\u202f500", "12,5",
    "1,250.5", "2.000,5", "10-20", "10–20", "4 to 6", "5OO", "5 00", "0", "500¹", "5 x 10^8", "3 400 000",
    "100.000.000",
)  # fmt: skip
UNITS = (
    "mg", "g", "mcg", "µg", "μg", "IU", "I.E.", "%", "ppm", "mg/kg", "IU/lb", "kg", "lb", "oz", "ml", "fl oz", "tsp",
    "tablets", "chews", "scoop", "kcal", "kcal/kg", "CFU", "MG", "grams", "", "",
)  # fmt: skip
HEADINGS = (
    "Active ingredients:", "Active ingredients per 2 chews:", "Amount per serving", "Ingredients:",
    "Other ingredients:",
    "Analytical constituents:", "Zusätze je kg:", "Additifs nutritionnels (par kg) :", "Directions:", "Warning:",
    "Each chew (4 g) contains:", "Guaranteed analysis", "Supplement facts", "Proprietary blend",
    "Store in a cool place.",
    "Allergens:", "Contains:", "May contain", "Free from", "Feeding guide: weight", "Composición:", "Lot", "Price",
    "Serving size:", "Servings per container:", "Net wt", "Calorie content (calculated):",
    "Complementary feed for dogs",
)  # fmt: skip
GLUE = (
    " ", " ", " ", "  ", ": ", ", ", "; ", ". ", " (", ") ", " [", "] ", " - ", " – ", " … ", " = ", " / ", "/",
    " per ",
    " per 2 chews", " daily", " min ", " max. ", " not less than ", " approx. ", " providing ", " (as ", " from ",
    " and ",
    " & ", " + ", "*", "†", "** ", "™", " • ", " | ", "\t", "\u00a0", "\u200b", "\u00ad", "'", "-\n", "\n", "\n",
    "\n\n",
    "\r\n", " x ", " each ", " of which: ", " no ", " without ", "€", " $", " USD", "<", ">", "~", ",", ".",
)  # fmt: skip

pieces = st.sampled_from((*NAMES, *NUMBERS, *UNITS, *HEADINGS, *GLUE, *GLUE))
# Every character that a request may hold.
characters = st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"], include_characters="\t\n\r")
raw = st.text(characters, max_size=300)
# Anything that a label may be mangled into: known pieces in any order, with stray characters between.
mangled = st.lists(st.one_of(pieces, pieces, pieces, st.text(characters, max_size=3)), max_size=40).map("".join)

amounts = st.builds("{}{}{}".format, st.sampled_from(NUMBERS), st.sampled_from(("", " ")), st.sampled_from(UNITS))
facts = st.builds(
    "{}{}{}{}".format,
    st.sampled_from(NAMES),
    st.sampled_from((" ", ": ", ", ", " ....... ", "\n", " - ")),
    amounts,
    st.sampled_from(("", "", "", " per chew", " per day", "*", " (min)", " 50 %", " (providing 12 mg zinc)")),
)
blends = st.builds(
    "{} blend {}{}{}".format,
    st.sampled_from(("Joint", "Proprietary", "Herbal")),
    amounts,
    st.sampled_from((": ", " (", ":\n  ")),
    st.lists(st.sampled_from(NAMES), min_size=1, max_size=5).map(", ".join),
)
LIST_HEADINGS = (
    "Ingredients:", "Other ingredients:", "Zusammensetzung:", "Contains:", "May contain", "Free from",
)  # fmt: skip
listed = st.sampled_from((*NAMES, "cellulose", "beef liver", "soy lecithin"))
lists = st.builds(
    "{} {}{}".format,
    st.sampled_from(LIST_HEADINGS),
    st.lists(listed, min_size=1, max_size=6).map(", ".join),
    st.sampled_from((".", "", ";")),
)
directions = st.builds(
    "{}{} {}: {} {} {}".format,
    st.sampled_from(("", "Directions: ", "Dogs ", "Up to ")),
    st.sampled_from(("5-10", "26–50", "over 20", "4", "10 to 25")),
    st.sampled_from(("kg", "lb", "lbs", "st")),
    st.sampled_from(("1", "½", "2", "1-2", "one")),
    st.sampled_from(("chew", "tablets", "scoop", "tsp", "")),
    st.sampled_from(("daily", "twice daily", "every other day", "for 4-6 weeks", "")),
)
packs = st.builds(
    "{} {}{}".format,
    st.sampled_from(("Serving size", "Servings per container:", "Net wt", "", "Each tablet weighs", "Price")),
    amounts,
    st.sampled_from(("", " (10 g)", " each", " 14 kcal per chew", " (30 free!)", " $24.90", " 19,90 €")),
)
sentences = st.sampled_from(
    (
        "Supports healthy joints and mobility.", "Keep out of reach of children.", "** Daily Value not established",
        "Store below 25 °C. Use within 30 days of opening.", "Lot 24C118  EXP 05/2027", "Contains no xylitol.",
        "Our 7-in-1 formula: 2,100 mg actives per scoop", "www.example.invalid", "*Values are averages; ± 10 %",
        "Complementary feed for dogs", "Calories 10 per chew", "3,450 kcal/kg, 14 kcal per chew",
    )
)  # fmt: skip
lines = st.one_of(facts, facts, facts, blends, lists, directions, packs, sentences, st.sampled_from(HEADINGS))
labels = st.lists(lines, min_size=1, max_size=12).map("\n".join)
