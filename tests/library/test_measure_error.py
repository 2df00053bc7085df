"""The sums of measurement error against worked examples and printed pairs of figures."""

from decimal import Decimal as D

import numpy as np
import pytest

from library.measure_error import change_limit, gap_change_limit, sem_from_reliability, within_person_sd
from library.measures import measure


def test_sem_from_spread_and_reliability():
    """SD 6.0 and ICC 0.90 give 1.90: standard formula, from memory; agrees with the printed pairs below."""
    assert round(sem_from_reliability(D("6.0"), D("0.90")), 2) == D("1.90")


@pytest.mark.parametrize("icc", ["1.01", "-0.1"])
def test_a_reliability_lies_between_0_and_1(icc):
    with pytest.raises(ValueError, match="between 0 and 1"):
        sem_from_reliability(D(6), D(icc))


@pytest.mark.parametrize(
    ("sem", "printed", "places"),
    [
        # Bland, note on the repeatability coefficient (York, 2005): 1.96 x root 2 x SEM, worked for SEM 1.90.
        pytest.param("1.90", "5.27", 2, id="worked example"),
        # Goldberg et al., Gait Posture 2011;33:737-739: SEM 8.7 s, MDC95 24.1 s.
        pytest.param("8.7", "24.1", 1, id="single-leg stance"),
        # Ferreira et al. 2021: functional reach SEM 2.96 cm, MDC95 8.2 cm; grip SEM 1.26 and 1.05 kg, 3.5 and 2.9.
        pytest.param("2.96", "8.2", 1, id="functional reach"),
        pytest.param("1.26", "3.5", 1, id="grip, dominant"),
        pytest.param("1.05", "2.9", 1, id="grip, other"),
        # J Sports Sci Med 2009;8(1):116-122, Table 1: SEM 1.4 with MDC 4, SEM 1.2 with MDC 3.
        pytest.param("1.4", "4", 0, id="seated reach, 1.4"),
        pytest.param("1.2", "3", 0, id="seated reach, 1.2"),
        # Latimer et al., Spine 1999;24:2085-2090: SEM 15.6 s; a secondary page prints 43.2 s for it.
        pytest.param("15.6", "43.2", 1, id="back-extensor hold"),
    ],
)
def test_change_limit_at_95(sem, printed, places):
    assert round(change_limit(D(sem)), places) == D(printed)


def test_change_limit_from_the_unrounded_sem():
    """The worked example prints 5.26 at 95 % and 4.41 at 90 %, from the unrounded SEM of 1.897."""
    sem = sem_from_reliability(D("6.0"), D("0.90"))
    assert round(change_limit(sem), 2) == D("5.26")
    assert round(change_limit(sem, level=90), 2) == D("4.41")
    assert round(change_limit(sem) / change_limit(sem, level=90), 4) == D("1.1915")


def test_change_limit_of_means_of_three_tries():
    """SEM 1.90, three tries each time: 3.04 (Bland's formula with each variance over its number of tries)."""
    assert round(change_limit(D("1.90"), tries=(3, 3)), 2) == D("3.04")
    assert change_limit(D("1.90"), tries=(3, 3)) < change_limit(D("1.90"), tries=(1, 3))


def test_the_side_bridge_limit_is_derived_from_its_typical_error():
    of = measure("side_bridge")
    assert round(change_limit(of.sem.value), 1) == of.limit


def test_change_of_a_gap_has_four_readings():
    assert gap_change_limit(D(0), D("1.90")) == D("7.448")
    assert round(gap_change_limit(D("1.9")), 3) == D("2.687")


PAIRS = [(41, 45), (60, 52), (75, 80), (33, 36)]


def test_error_from_people_tested_twice():
    """root((16 + 64 + 25 + 9) / 8) = 3.77, limit 10.5: Bland and Altman, BMJ 1996;313:744, on made-up pairs."""
    sw = within_person_sd(PAIRS)
    assert round(sw, 2) == D("3.77")
    assert round(change_limit(sw), 1) == D("10.5")
    # The same from the definition: the root of the mean of each person's own variance.
    assert float(sw) == pytest.approx(np.sqrt(np.var(PAIRS, axis=1, ddof=1).mean()))


def test_error_needs_a_pair():
    with pytest.raises(ValueError, match="pair"):
        within_person_sd([])
