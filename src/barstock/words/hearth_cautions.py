"""The cautions of the hearth and the pickle. They stand beside the step they belong to.

They are common practice and replace nothing: makers' safety data sheets, local rules and, where
work carries people or pressure, licensed practice come first.
"""

from __future__ import annotations

from barstock.route import Cleaning

HEARTH = (
    "The makers' safety data sheets of alloy, flux and pickle, and the rules of the place you work "
    "in, come before anything printed here.",
    "Work in moving air, out of the fume: flux gives off fluorides, brass gives off zinc. Never "
    "use an alloy with cadmium.",
    "Wear eye protection, leather gloves and cotton or wool; nothing that burns near the hearth; "
    "an extinguisher and water within reach.",
    "Look for closed hollows: a joint that shuts air in can burst when heated. Drill a vent first.",
    "Galvanised, painted or plated steel gives off poison when heated: strip the coat first.",
    "Stand gas bottles upright, test hoses for leaks with soapy water, fit a flashback arrestor "
    "where oxygen is used, and shut the bottle when done.",
    "Hot work looks like cold work. Chalk HOT on the hearth; let the filler set before touching.",
)

QUENCH = (
    "Let the work go black and below about 100 °C, by itself, before it meets water: steam scalds, "
    "and a sudden chill cracks joints of unlike metals.",
    "Never quench in the pickle: it spits acid and gives off fume.",
)

PICKLE = (
    "Acid into water, never water into acid.",
    "Goggles, gloves and an apron; water beside you to wash with at once; good ventilation; a lid.",
    "No iron or steel in a bath for copper alloys, tongs included: it plates copper over the work.",
    "Keep it labelled, locked up and away from children; dispose of spent pickle, which holds "
    "copper, as the local rules say.",
)

STUBBORN = (
    "Glassy flux that water does not move was overheated: chip it off with eye protection on, or "
    "soak overnight in warm water."
)

CARRIES = (
    "Where it will be lifted, carry people or hold pressure, its design and testing belong to the "
    "local code, the club's or insurer's rules and licensed inspection."
)


def of_cleaning(told: Cleaning) -> tuple[str, ...]:
    """The cautions of the cleaning after the heats."""
    by_hand = (STUBBORN,) if told.by_hand else ()
    return (*QUENCH, *(PICKLE if told.dips else ()), *by_hand)
