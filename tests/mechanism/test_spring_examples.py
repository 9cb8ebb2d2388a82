"""Springs against examples worked in textbooks.

Bhandari: V. B. Bhandari, Design of Machine Elements, chapter 10 (Springs), by the answers printed
in its textbook companion (FOSSEE, Scilab, book 764), read there. Shigley: Budynas and Nisbett,
Shigley's Mechanical Engineering Design, chapter 10 (Mechanical Springs), from memory. Textbooks
correct for curvature by Wahl's factor where EN 13906-1 takes Bergsträsser's.
"""

from __future__ import annotations

from math import ceil, pi, sqrt

import pytest

from barstock.mechanism.springs.compression_spring import Compression, mean_for
from barstock.mechanism.springs.extension_spring import Extension
from barstock.mechanism.springs.round_wire_coil import curvature
from barstock.mechanism.springs.torsion_spring import Torsion

INCH, LBF, KPSI = 25.4, 4.4482216, 6.894757
BHANDARI_G = 81370.0


def wahl(index: float) -> float:
    """Wahl's factor, as both books have it."""
    return (4 * index - 1) / (4 * index - 4) + 0.615 / index


def test_bhandari_10_1_a_spring_for_1250_n() -> None:
    # P = 1250 N, 30 mm, C = 6, half of 1090 MPa allowed: d 6.6251, say 7; D 42; N 8; Nt 10
    allowed = 0.5 * 1090
    assert sqrt(8 * wahl(6) * 1250 * 6 / (pi * allowed)) == pytest.approx(6.625083, rel=1e-6)
    coil = Compression(7, 42, 8, 0, shear=BHANDARI_G)
    assert coil.turns == 10
    # free 109.337611: solid, gaps of 1 mm between all turns, and the deflection
    assert coil.solid + 9 + 1250 / coil.rate == pytest.approx(109.337611, rel=1e-6)


def test_bhandari_10_2_a_spring_between_two_loads() -> None:
    # 2.5 to 3.5 kN over 5 mm, C = 5: d 10.547, say 11; D 55; N 5; rate 179.014 N/mm; free 99.5515
    coil = Compression(11, 55, 5, 0, shear=BHANDARI_G)
    assert coil.rate == pytest.approx(179.014, rel=1e-6)
    assert coil.turns == 7
    assert coil.solid + 6 * 0.5 + 3500 / coil.rate == pytest.approx(99.551543, rel=1e-6)
    assert sqrt(8 * wahl(5) * 3500 * 5 / (pi * 0.5 * 1050)) == pytest.approx(10.546976, rel=1e-6)


def test_bhandari_10_3_turns_for_a_rate() -> None:
    # D = 150, d = 21, 75 N/mm: N 7.814775, and the coil of so many turns has that diameter again
    coil = Compression(21, 150, 7.814775, 0, shear=BHANDARI_G)
    assert coil.rate == pytest.approx(75, rel=1e-6)
    assert mean_for(75, 21, 7.814775, BHANDARI_G) == pytest.approx(150, rel=1e-6)


def test_bhandari_10_7_eight_springs_of_a_clutch() -> None:
    # 300 N each, 15 mm, C = 8, d 5, D 40: N 4.966 or 5, rate 19.865723, Nt 7
    coil = Compression(5, 40, 5, 0, shear=BHANDARI_G)
    assert coil.rate == pytest.approx(19.865723, rel=1e-7)
    assert ceil(BHANDARI_G * 5**4 / (8 * 40**3 * 20)) == 5
    assert coil.solid + 6 + 300 / coil.rate == pytest.approx(56.101389, rel=1e-7)


def test_bhandari_10_19_one_spring_within_another() -> None:
    # inner 15 mm shorter; 1000 N: the outer carries 706.021, the inner 293.979 N
    outer = Compression(6, 36, 10, 100, shear=BHANDARI_G)
    inner = Compression(5, 30, 8, 85, shear=BHANDARI_G)
    down = (1000 + 15 * inner.rate) / (outer.rate + inner.rate)
    assert down == pytest.approx(24.988839, rel=1e-6)
    assert outer.load_at(100 - down) == pytest.approx(706.021471, rel=1e-6)
    assert inner.load_at(100 - down) == pytest.approx(293.978529, rel=1e-6)
    assert wahl(6) * outer.stress(706.021471) == pytest.approx(375.305136, rel=1e-6)
    assert wahl(6) * inner.stress(293.978529) == pytest.approx(225.032219, rel=1e-6)


def test_bhandari_10_21_a_torsion_spring() -> None:
    # D = 18, d = 1.6, 3 N mm per radian: 392.6 turns, printed as 393
    assert ceil(207000 * 1.6**4 / (64 * 18 * 3)) == 393
    assert Torsion(1.6, 18, 393, young=207000).rate == pytest.approx(3, rel=2e-3)


def test_shigley_10_1_music_wire_number_16() -> None:
    # d .037, D .400 in, 12.5 turns, squared ends: rate 4.13 lbf/in, KB 1.124, yield load 6.46 lbf,
    # 1.56 in deflection, free 2.06 in; from memory
    coil = Compression(
        0.037 * INCH, 0.400 * INCH, 10.5, 2.06 * INCH, "closed", 11.85e3 * KPSI, 28.5e3 * KPSI
    )
    assert coil.rate == pytest.approx(4.13 * LBF / INCH, rel=5e-3)
    assert curvature(coil.index) == pytest.approx(1.124, abs=1e-3)
    assert coil.corrected(6.46 * LBF) == pytest.approx(0.45 * 324 * KPSI, rel=6e-3)
    assert 6.46 * LBF / coil.rate == pytest.approx(1.56 * INCH, rel=6e-3)


def test_shigley_10_6_an_extension_spring() -> None:
    # d .035, OD .248 in, 12.17 turns, 1.19 lbf initial, loops r .106 and .089 in, 5.25 lbf: closed
    # length .817 in; 156.9 kpsi bending at the loop, 78.4 kpsi shear in its bend; from memory
    coil = Extension(0.035 * INCH, 0.213 * INCH, 12.17, 1.19 * LBF, 0.106 * INCH, 0.089 * INCH)
    assert coil.free == pytest.approx(0.817 * INCH, rel=1e-3)
    assert coil.loop_bending(5.25 * LBF) == pytest.approx(156.9 * KPSI, rel=3e-3)
    assert coil.loop_shear(5.25 * LBF) == pytest.approx(78.4 * KPSI, rel=3e-3)


def test_the_loops_of_an_extension_spring_work_with_it() -> None:
    # Shigley, example 10-6: 12.17 turns of the body make 12.17 + 11.6/28.7 = 12.57, rate 17.91
    # lbf/in; from memory
    coil = Extension(
        0.035 * INCH, 0.213 * INCH, 12.17, 1.19 * LBF, shear=11.6e3 * KPSI, young=28.7e3 * KPSI
    )
    assert coil.active == pytest.approx(12.57, abs=0.006)
    assert coil.rate == pytest.approx(17.91 * LBF / INCH, rel=5e-3)


@pytest.mark.parametrize(
    ("ends", "dead", "pitch"),
    [
        # a spring maker's page on pitch: free 1 in, wire .038, 4 working turns, closed: .222 in,
        # by (L - 3d)/n; ground (L - 2d)/n; open (L - d)/n (Shigley, table 10-1, from memory)
        ("closed", 3, 0.2215),
        ("closed and ground", 2, 0.231),
        ("open", 1, 0.2405),
    ],
)
def test_pitch_leaves_out_the_ends(ends: str, dead: int, pitch: float) -> None:
    coil = Compression(0.038 * INCH, 0.4 * INCH, 4, 1.0 * INCH, ends)
    assert coil.pitch == pytest.approx(pitch * INCH)
    assert coil.free == pytest.approx(4 * coil.pitch + dead * coil.wire)


def test_curvature_by_bergstrasser_is_within_1_5_per_cent_of_wahl() -> None:
    # Shigley, chapter 10: the two differ by less than 1 % in use
    for index in (4, 6, 8, 10, 12):
        assert curvature(index) == pytest.approx(wahl(index), rel=0.015)


def test_surge_is_as_en_13906_1_has_it() -> None:
    # EN 13906-1, 9.12: f = 3560 d/(n D²) √(G/ρ), ρ in kg/dm³; from memory
    coil = Compression(1.0, 8.0, 7, 25)
    printed = 3560 * 1.0 / (7 * 8.0**2) * sqrt(81500 / 7.85)
    assert coil.frequency == pytest.approx(printed, rel=2e-3)


def test_a_long_slender_spring_buckles_and_a_short_one_does_not() -> None:
    # Shigley, chapter 10: steel springs stand upright where L0 < 2.63 D/α, α = 0.5 on flat seats,
    # with E = 30, G = 11.5 Mpsi; from memory
    moduli = {"shear": 11.5e3 * KPSI, "young": 30e3 * KPSI}
    short = Compression(1, 8, 6, 5.22 * 8, **moduli)
    long = Compression(1, 8, 6, 5.30 * 8, **moduli)
    assert short.buckles_at() == float("inf")
    assert 0 < long.buckles_at() < long.free


def test_swelling_follows_from_the_wire_keeping_its_length() -> None:
    """A turn is the hypotenuse of pitch and circumference; solid, its pitch is the wire.

    That holds the ends from turning. The standard's coil is free to, and untwists: it swells more,
    but not twice as much.
    """
    coil = Compression(1.0, 8.0, 6, 6 * 3.0 + 2.0)
    turn = sqrt((pi * 8.0) ** 2 + 3.0**2)
    held = sqrt(turn**2 - 1.0**2) / pi - 8.0
    assert held < coil.swollen - coil.outside < 2 * held
