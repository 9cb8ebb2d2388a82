"""Work gripped in the vise, along the jaws or standing on end."""

from __future__ import annotations

from barstock.words.holding.way_in_words import WayInWords

WAYS = {"vise": WayInWords(), "on end": WayInWords()}
