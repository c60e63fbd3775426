"""Setting up for real, in a small clone: the first start, the second, and each start after something went wrong."""

import subprocess
import time

import pytest


def check(module):
    return module.main(["check"])


def installed(module, code):
    """What the clone's own Python prints, started elsewhere and with a bare environment."""
    command = [str(module.venv_python()), "-c", code]
    return subprocess.run(command, cwd="/", env={}, capture_output=True, text=True).stdout.strip()


def test_first_start_installs_and_the_second_takes_no_time(clone, capfd):
    assert check(clone) == 0
    first = capfd.readouterr().out
    assert "Making .venv" in first and "Checked: 1.0" in first and "Set up in" in first
    assert installed(clone, "import evlib; print(evlib.__file__)") == str(clone.HERE / "evlib" / "__init__.py")
    log = clone.VENV / "install.log"
    written, began = log.stat().st_mtime_ns, time.monotonic()
    assert check(clone) == 0
    assert time.monotonic() - began < 3
    second = capfd.readouterr().out
    assert "Checked: 1.0" in second and "nstalling" not in second
    assert log.stat().st_mtime_ns == written


def test_new_pins_are_installed_at_the_next_start(filled, tiny_wheel):
    check(filled)
    filled.PINS.write_text(tiny_wheel(filled.WHEELS, "2.0"))
    check(filled)
    assert installed(filled, "import tiny_part; print(tiny_part.version)") == "2.0"


def test_a_start_that_was_cut_off_is_taken_up_again(filled, monkeypatch):
    with monkeypatch.context() as cut:
        cut.setattr(filled, "pip", lambda *_: (_ for _ in ()).throw(KeyboardInterrupt))
        with pytest.raises(SystemExit, match=r"^Stopped\. Start again to go on\.$"):
            check(filled)
    assert check(filled) == 0


@pytest.mark.parametrize("damage", ["python is gone", "pip is gone"])
def test_a_venv_that_does_not_run_is_made_anew(filled, damage):
    check(filled)
    if damage == "python is gone":
        filled.venv_python().unlink()
    else:
        (filled.VENV / "requirements.stamp").unlink()
        subprocess.check_call([str(filled.venv_python()), "-m", "pip", "uninstall", "-qqy", "pip"])
    assert check(filled) == 0


def test_a_clone_that_was_moved_finds_itself(filled, monkeypatch):
    check(filled)
    moved = filled.HERE.with_name("moved")
    filled.HERE.rename(moved)
    for name in ("HERE", "VENV", "WHEELS", "PINS", "TEST_PINS"):
        monkeypatch.setattr(filled, name, moved / getattr(filled, name).relative_to(filled.HERE.with_name("my clone")))
    monkeypatch.setattr(filled, "ROOM", {filled.PINS: 1, filled.TEST_PINS: 1})
    assert check(filled) == 0
    assert installed(filled, "import evlib; print(evlib.__file__)") == str(moved / "evlib" / "__init__.py")


def test_a_changed_download_is_refused(filled, refused):
    filled.PINS.write_text("tiny-part==1.0 --hash=sha256:" + 64 * "0" + "\n")
    assert "not the one that was pinned" in refused(check, filled)
    assert not (filled.VENV / "requirements.stamp").exists()


def test_a_package_that_is_not_there_for_this_machine(filled, refused):
    filled.PINS.write_text("no-such-part==1.0 --hash=sha256:" + 64 * "0" + "\n")
    sentence = refused(check, filled)
    assert "(no-such-part)" in sentence and "64-bit Python 3.11, 3.12 or 3.13" in sentence


def test_without_network(filled, refused, monkeypatch):
    for path in filled.WHEELS.iterdir():
        path.unlink()
    filled.WHEELS.rmdir()
    for name in ("HTTPS_PROXY", "https_proxy", "HTTP_PROXY", "http_proxy"):
        monkeypatch.setenv(name, "http://127.0.0.1:9")
    monkeypatch.setenv("PIP_RETRIES", "1")
    sentence = refused(check, filled)
    assert "could not be downloaded" in sentence and "HTTPS_PROXY" in sentence and "start.py pack" in sentence


def test_a_set_up_that_does_not_work_says_so_and_is_not_taken_as_done(filled, refused, monkeypatch):
    monkeypatch.setattr(filled, "VERIFY", "import a_panel_that_is_not_there")
    assert "No module named 'a_panel_that_is_not_there'" in refused(check, filled)
    assert not (filled.VENV / "requirements.stamp").exists()


def test_a_pack_for_another_machine_is_refused(filled, refused):
    (filled.WHEELS / filled.PACKED_FOR).write_text("Windows AMD64 Python 3.12\n")
    sentence = refused(check, filled)
    assert "packed for Windows AMD64 Python 3.12, and this is" in sentence
    (filled.WHEELS / filled.PACKED_FOR).write_text(filled.this_machine(filled.make_venv()) + "\n")
    assert check(filled) == 0


def test_packing_refuses_a_folder_in_use_or_inside_the_project(filled, refused, tmp_path):
    (tmp_path / "used").mkdir()
    (tmp_path / "used" / "mine.txt").write_text("keep")
    assert "exists already" in refused(filled.main, ["pack", str(tmp_path / "used")])
    assert (tmp_path / "used" / "mine.txt").read_text() == "keep"
    assert "lies inside the project" in refused(filled.main, ["pack", str(filled.HERE / "packed")])
    with pytest.raises(SystemExit) as end:
        filled.main(["pack"])
    assert end.value.code == 2


def test_progress_is_shown(filled, capfd):
    names = [f"part-{letter}" for letter in "abcdefghijkl"]
    code = "".join(f"print('Collecting {name}==1.0 (from -r x)'); " for name in names) + "print('Installing collected')"
    fake = filled.HERE / "fake_pip"
    fake.write_text(f'#!/bin/sh\nexec python3 -c "{code}"\n')
    fake.chmod(0o755)
    filled.pip(fake, "install", filled.PINS)
    said = capfd.readouterr().out
    assert "  10  part-j" in said and "putting them in place" in said
