import numpy as np
import pytest

from rushlight.electric.elements import BRIDGED_REGULATOR, TURNED_REGULATOR, Network
from rushlight.electric.led import law_spread
from rushlight.electric.network import columns_of, operating_point, source, string, wire
from rushlight.electric.network_shape import refitted, shape_of
from rushlight.electric.regulator import RegulatorLaw, regulator_current, regulator_law, regulator_voltage, warm_share
from rushlight.errors import OutOfRange
from rushlight.files.drawer_csv import read_drawer
from unit.electric.kirchhoff import current_of, solved, voltage_of

LAW = regulator_law(0.020, knee_v=1.8, knee_share=0.85, slope_siemens=2e-5)
WHITE = law_spread("warm_white").typical


def board(emf_v=9.0, *, count=1, ohm=1.0, law=LAW):
    return Network.of([
        source("supply", "plus", "minus", emf_v=emf_v, inner_ohm=0.5),
        string("leds", "plus", "minus", laws=[WHITE] * count, ohm=ohm, regulator=law),
    ])


def test_the_law_goes_through_the_points_of_the_sheet():
    assert regulator_current(LAW, np.array([1.8, 7.5])) == pytest.approx([0.017, 0.020], rel=1e-8)


@pytest.mark.parametrize("law", [LAW, RegulatorLaw(0.0047, 1.7, 4.3e-6), RegulatorLaw(0.03, 0.2, 1e-3)])
def test_voltage_at_a_current_undoes_current_at_a_voltage(law):
    volts = np.array([-0.4, 0.0, 1e-6, 0.3, 1.0, 5.0, 40.0])
    back, slope = regulator_voltage(*(np.array(x) for x in (law.plateau_a, law.knee_v, law.slope_siemens)),
                                    regulator_current(law, volts))
    # derived: the one is the other's inverse; slopes against a difference quotient
    assert back == pytest.approx(volts, abs=1e-9, rel=1e-9)
    near = (regulator_current(law, volts + 1e-6) - regulator_current(law, volts - 1e-6)) / 2e-6
    assert 1 / slope == pytest.approx(near, rel=1e-4)


@pytest.mark.parametrize(("knee", "share", "slope"), [(8.0, 0.5, 1e-5), (1.0, 1.2, 1e-5), (1.0, 0.5, 0.01)])
def test_a_law_that_cannot_be_is_refused(knee, share, slope):
    with pytest.raises(OutOfRange):
        regulator_law(0.02, knee_v=knee, knee_share=share, slope_siemens=slope)


def test_the_current_holds_while_the_supply_runs_down_and_drops_out_at_the_knee():
    amps = [float(current_of(net := board(v), solved(net), "leds")[0]) for v in (12.0, 9.0, 6.0, 3.5)]
    assert amps[0] == pytest.approx(amps[1], rel=0.02) and amps[1] == pytest.approx(amps[2], rel=0.1)
    assert amps[3] < 0.5 * amps[0]


def test_a_bridged_regulator_leaves_the_led_to_the_supply_and_a_turned_one_drops_like_a_diode():
    network = board(5.0, ohm=20.0)
    columns = columns_of(network, {"sound": (), "bridged": (), "turned": ()})
    states = np.array([[0, BRIDGED_REGULATOR, TURNED_REGULATOR]], np.int8)
    object.__setattr__(columns, "string_state", states)
    point = solved(network, columns)
    sound, bridged, turned = point.element_a[1]
    assert sound < 0.021 < turned < bridged
    bare = board(5.0, ohm=20.0, law=None)
    # derived: a bridge of a milliohm is as good as none
    assert bridged == pytest.approx(float(current_of(bare, solved(bare), "leds")[0]), rel=1e-4)
    inner = 5.0 - turned * 0.5
    drop = LAW.knee_v * np.log1p(turned / LAW.plateau_a)
    again = Network.of([source("supply", "plus", "minus", emf_v=inner - drop, inner_ohm=1e-3),
                        string("leds", "plus", "minus", laws=[WHITE], ohm=20.0)])
    assert turned == pytest.approx(float(current_of(again, solved(again), "leds")[0]), rel=1e-4)


def test_the_spread_multiplies_what_flows():
    network = board(9.0)
    columns = columns_of(network, {"on": ()}, shifts_v={"low": 0.0, "typical": 0.0}, limits={"low": [1.1]})
    low, typical = operating_point(network, columns).element_a[1]
    assert low == pytest.approx(1.1 * typical, rel=2e-3)


def test_the_regulator_at_one_led_of_a_chain_keeps_its_own_voltage():
    network = Network.of([
        source("supply", "plus", "minus", emf_v=12.0, inner_ohm=0.5),
        string("first", "plus", "between", laws=[WHITE], ohm=1.0, regulator=LAW),
        wire("link", "between", "after", ohm=0.1),
        string("second", "after", "minus", laws=[WHITE], ohm=1.0),
    ])
    point = solved(network)
    second = float(voltage_of(network, point, "after")[0])
    amps = float(current_of(network, point, "second")[0])
    led = Network.of([source("s", "a", "b", emf_v=second, inner_ohm=1e-3), string("l", "a", "b", laws=[WHITE], ohm=1.0)])
    assert amps == pytest.approx(float(current_of(led, solved(led), "l")[0]), rel=1e-4)


def test_another_regulator_is_another_shape():
    with pytest.raises(OutOfRange):
        refitted(shape_of(board()), board(law=RegulatorLaw(0.01, 1.0, 1e-5)))


def test_far_backwards_nothing_flows():
    point = solved(board(-900.0))
    assert np.abs(point.element_a).max() < 2e-9  # the leak of 1e-12 S alone


def test_every_row_of_the_drawer_gives_a_law():
    for row in read_drawer().regulators:
        law = regulator_law(row.current_ma.typical / 1000, knee_v=row.knee_v, knee_share=row.knee_share,
                            slope_siemens=row.slope_siemens, law_v=row.test_v)
        assert float(regulator_current(law, row.test_v)) == pytest.approx(row.current_ma.typical / 1000, rel=1e-6)


def share(fall=0.0022, over=-50.0, ohm=600.0, volts=5.0, amps=0.02):
    return float(warm_share(np.array(fall), np.array(over), kelvin_per_volt_ampere=np.array(ohm), volts=np.array(volts),
                            cool_a=np.array(amps)))


def test_a_part_that_is_as_warm_as_at_its_test_gives_what_is_stated():
    # derived: 360 K/W on the test's board, 7.5 V and 20 mA are 54 K over 25 degC air; the sheet's pulse is 22.5 mA
    assert share(over=25 - 79, ohm=360, volts=7.5, amps=0.020 * 1.0) == pytest.approx(1.0, abs=1e-9)
    assert 20 * share(over=25 - 79, volts=0.0) == pytest.approx(22.5, rel=0.01)  # source: NSI45020A/D, pulse at 25 degC


@pytest.mark.parametrize("volts", [0.0, 0.5, 3.0, 10.0, 40.0])
@pytest.mark.parametrize("over", [-80.0, 0.0, 60.0])
@pytest.mark.parametrize("fall", [0.0, 0.001, 0.02])
def test_current_and_warmth_agree(fall, over, volts):
    """Second method: the fixed point by halving."""
    found = share(fall, over, volts=volts)
    low, high = 0.0, 20.0
    for _ in range(200):
        middle = (low + high) / 2
        rises = np.exp(-fall * (over + 600 * volts * 0.02 * middle)) > middle
        low, high = (middle, high) if rises else (low, middle)
    assert found == pytest.approx(low, rel=1e-9)


def test_more_volts_and_warmer_air_leave_less():
    assert share(volts=2) > share(volts=8) > share(volts=8, over=-20)
