"""How strong a screw is, and how far it should go in.

Sources: ISO 898-1:2013 clause 9.1.6.1 (stress area of metric threads), ASME B1.1 appendix B (of
unified ones); engagement lengths are common practice.
"""

from __future__ import annotations

from math import pi

from barstock.handbook.materials import Material
from barstock.handbook.thread_form import Thread

SOURCE = "ISO 898-1 clause 9.1.6.1, ASME B1.1 appendix B"

# material family: engagement in diameters of a steel screw; common practice
_ENGAGEMENT = (
    ("steel", 1.0), ("iron", 1.5), ("brass", 1.5), ("bronze", 1.5), ("gunmetal", 1.5),
    ("nickel silver", 1.25), ("copper", 1.75), ("aluminium", 2.0), ("acetal", 2.5),
)  # fmt: skip


def tensile_stress_area(form: Thread) -> float:
    """The area that carries the pull [mm2].

    ISO 898-1: pi/4 (d - 0.9382 p)2; ASME B1.1: pi/4 (D - 0.9743/n)2; other forms: on the mean of
    effective and root diameters, as ISO 898-1 defines it.

    >>> from barstock.handbook.threads import thread
    >>> round(tensile_stress_area(thread("M3")), 2)
    5.03
    """
    if form.series.startswith("UN"):
        across = form.major - 0.9743 * form.pitch
    elif form.angle == 60:
        across = form.major - 0.9382 * form.pitch
    else:
        across = (form.effective + form.root) / 2
    return pi / 4 * across**2


def engagement_length(form: Thread, of: Material) -> float:
    """Least length of full thread in a tapped hole for a steel screw [mm]. Common practice.

    >>> from barstock.handbook.materials import material
    >>> from barstock.handbook.threads import thread
    >>> engagement_length(thread("M3"), material("aluminium"))
    6.0
    """
    return engagement_diameters(of) * form.major


def engagement_diameters(of: Material) -> float:
    """The least length of full thread in diameters of the screw. Common practice.

    >>> from barstock.handbook.materials import material
    >>> engagement_diameters(material("aluminium"))
    2.0
    """
    families = [(share, word) for word, share in _ENGAGEMENT if word in of.name]
    return max(families)[0] if families else 1.5
