"""The proportions against the published tables and their own sums."""

import pytest

from library.body.tables import TABLES


@pytest.mark.parametrize(
    ("table", "total"),
    [
        # de Leva (1996) Table 4: the women's masses add up to 99.99 % through rounding (from memory)
        pytest.param("female", 0.9999, id="women-published-rounding"),
        pytest.param("male", 1.0, id="men"),
        pytest.param("neutral", 1.0, id="neutral"),
    ],
)
def test_masses_add_up(table, total):
    assert TABLES[table].total_mass() == pytest.approx(total, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "share"),
    [
        # Winter, Biomechanics and Motor Control of Human Movement, Table 4.1 (from memory)
        pytest.param("total leg", 0.161, id="leg"),
        pytest.param("total arm", 0.050, id="arm"),
        pytest.param("trunk", 0.497, id="trunk"),
        pytest.param("head, arms and trunk", 0.678, id="head-arms-trunk"),
    ],
)
def test_neutral_masses_reproduce_winters_combined_segments(name, share):
    table = TABLES["neutral"]
    leg = table.thigh.mass + table.shank.mass + table.foot.mass
    arm = table.upper_arm.mass + table.forearm.mass + table.hand.mass
    trunk = table.pelvis.mass + table.abdomen.mass + table.thorax.mass
    sums = {
        "total leg": leg,
        "total arm": arm,
        "trunk": trunk,
        "head, arms and trunk": trunk + table.head.mass + 2 * arm,
    }
    assert sums[name] == pytest.approx(share, abs=5e-4)


@pytest.mark.parametrize(
    ("table", "share"),
    # de Leva (1996) Table 4, row trunk: 42.57 % women, 43.46 % men (from memory)
    [pytest.param("female", 0.4257, id="women"), pytest.param("male", 0.4346, id="men")],
)
def test_trunk_parts_add_up_to_de_levas_trunk(table, share):
    parts = TABLES[table]
    assert parts.pelvis.mass + parts.abdomen.mass + parts.thorax.mass == pytest.approx(share, abs=1e-6)


def test_neutral_trunk_parts_reproduce_winters_centre_of_mass():
    # Winter, Table 4.1 (from memory): trunk, hip to shoulder joint, centre of mass half way
    table = TABLES["neutral"]
    parts = (table.pelvis, table.abdomen, table.thorax)
    centre = sum(part.mass * part.centre_height for part in parts) / sum(part.mass for part in parts)
    assert centre == pytest.approx(0.50 * table.shoulder, abs=0.004)
