"""The log reader finds planted troubles at their times, and refuses what is no log."""

import numpy as np
import pytest

from evlib.hydraulics.log import Log, findings, read_log

RPM = np.pi / 30


def quiet(seconds=20.0, step=0.01):
    """A log in which all is well: 600 kPa, pump on for ten seconds, then the internal pump."""
    t = np.arange(0, seconds, step)
    return {
        "time": t, "pressure": np.full(t.size, 600e3), "speed": np.where(t < 10, 0.0, 900 * RPM),
        "pump": np.where(t < 10, 1.0, 0.0),
    }  # fmt: skip


def found(log, **given):
    return [(f.trouble, f.start, f.end) for f in findings(Log(**log), needed=450e3, **given)]


def test_a_quiet_log_has_no_findings():
    assert found(quiet()) == []


def test_a_dip_with_its_times():
    log = quiet()
    log["pressure"][(log["time"] >= 4.995) & (log["time"] <= 5.305)] = 300e3
    assert found(log) == [("dip", pytest.approx(5.0), pytest.approx(5.30))]
    assert found(log, dip_longer=0.5) == []


def test_chatter_counts_switchings_close_together():
    log = quiet()
    for i in range(5):  # on and off every 0.4 s from 12 s: ten switchings
        log["pump"][(log["time"] >= 12 + 0.8 * i) & (log["time"] < 12.4 + 0.8 * i)] = 1.0
    (trouble, start, end), *rest = found(log)
    assert trouble == "chatter" and rest == []
    assert (start, end) == (pytest.approx(12.0, abs=0.011), pytest.approx(15.6, abs=0.011))
    assert found(log, chatter_count=11) == []


def test_three_switchings_are_no_chatter_four_are():
    log = quiet()
    log["pump"][(log["time"] >= 12) & (log["time"] < 12.4)] = 1.0
    assert found(log) == []  # one on and one off, the first off two seconds earlier
    log["pump"][(log["time"] >= 12.8) & (log["time"] < 13.2)] = 1.0
    assert [f[0] for f in found(log)] == ["chatter"]


def test_slow_fill_from_pump_on_until_pressure_is_there():
    log = quiet()
    log["pump"][log["time"] >= 15] = 1.0
    log["speed"][log["time"] >= 15] = 0.0
    log["pressure"][(log["time"] >= 15) & (log["time"] < 15.9)] = 200e3
    assert found(log) == [("slow fill", pytest.approx(15.0), pytest.approx(15.9))]
    assert found(log, fill_within=1.0) == [("dip", pytest.approx(15.0), pytest.approx(15.89))]


def test_late_handover_is_told_with_its_speed():
    log = quiet()
    log["pressure"][(log["time"] >= 10.1) & (log["time"] < 10.6)] = 350e3
    (one,) = findings(Log(**log), needed=450e3)
    assert one.trouble == "late handover" and one.start == pytest.approx(10.0) and "900 rpm" in one.words


def test_a_file_with_units_is_read(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text("speed [rpm],time [s],pressure [psi],pump\n0,0,100,1\n600,0.5,90,0\n\n", encoding="utf-8")
    log = read_log(path)
    assert log.time.tolist() == [0.0, 0.5]
    assert log.pressure == pytest.approx([689475.7, 620528.2], rel=1e-6)  # NIST SP 811: 6894.757 Pa
    assert log.speed[1] == pytest.approx(62.8319, rel=1e-5)
    assert log.pump.tolist() == [1.0, 0.0]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "at least two lines"),
        ("time [s],pressure [kPa],speed [rpm]\n0,1,2\n1,1,2\n", "no column 'pump'"),
        ("time [s],pressure,speed [rpm],pump\n0,1,2,1\n1,1,2,1\n", "names no unit"),
        ("time [s],pressure [m],speed [rpm],pump\n0,1,2,1\n1,1,2,1\n", "'m' is not one of"),
        ("time [s],pressure [kPa],speed [rpm],pump\n0,1,2,1\n1,x,2,1\n", "line 3"),
        ("time [s],pressure [kPa],speed [rpm],pump\n0,1,2,1\n1,1\n", "line 3"),
        ("time [s],pressure [kPa],speed [rpm],pump\n0,1,2,1\n1,nan,2,1\n", "not finite"),
        ("time [s],pressure [kPa],speed [rpm],pump\n0,1,2,1\n0,1,2,1\n", "line 3: time does not rise"),
    ],
)
def test_what_is_no_log_is_said_in_one_sentence(tmp_path, text, words):
    path = tmp_path / "bad.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ValueError, match=r"bad.csv|is not one of") as raised:
        read_log(path)
    assert words in str(raised.value) and "\n" not in str(raised.value)
