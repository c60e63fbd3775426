"""A small clone to start in: the real start.py and folder module, one tiny pinned package, nothing from the network."""

import hashlib
import importlib.util
import os
import shutil
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def load(path):
    spec = importlib.util.spec_from_file_location("start", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def tiny_wheel(folder, version="1.0"):
    """A wheel of one module; returns its line for a requirements file."""
    folder.mkdir(exist_ok=True)
    path, info = folder / f"tiny_part-{version}-py3-none-any.whl", f"tiny_part-{version}.dist-info"
    with zipfile.ZipFile(path, "w") as wheel:
        wheel.writestr("tiny_part.py", f"version = {version!r}\n")
        wheel.writestr(f"{info}/METADATA", f"Metadata-Version: 2.1\nName: tiny-part\nVersion: {version}\n")
        wheel.writestr(f"{info}/WHEEL", "Wheel-Version: 1.0\nGenerator: x\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        wheel.writestr(f"{info}/RECORD", "")
    return f"tiny-part=={version} --hash=sha256:{hashlib.sha256(path.read_bytes()).hexdigest()}\n"


@pytest.fixture(name="tiny_wheel")
def make_tiny_wheel():
    return tiny_wheel


@pytest.fixture
def start():
    """The module start.py of this clone."""
    return load(ROOT / "start.py")


@pytest.fixture
def refused():
    """Calls something that must end with one plain sentence, and gives that sentence."""

    def call(function, *arguments):
        with pytest.raises(SystemExit) as end:
            function(*arguments)
        sentence = end.value.code
        assert isinstance(sentence, str), "it must end with a sentence, not with a number"
        assert "\n" not in sentence and sentence.endswith(".") and len(sentence) < 330, sentence
        return sentence

    return call


@pytest.fixture
def no_pip_settings(monkeypatch):
    """pip as on a machine that nobody has set up."""
    for name in [name for name in os.environ if name.upper().startswith("PIP_")]:
        monkeypatch.delenv(name)
    monkeypatch.setenv("PIP_CONFIG_FILE", os.devnull)


@pytest.fixture
def clone(tmp_path, monkeypatch, no_pip_settings):
    """start.py loaded from a small clone whose pins are one tiny wheel; its panel check is one import."""
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path / "learner"))
    place = tmp_path / "my clone"
    (place / "evlib" / "ground").mkdir(parents=True)
    for name in ("start.py", "evlib/__init__.py", "evlib/ground/__init__.py", "evlib/ground/folder.py"):
        shutil.copy(ROOT / name, place / name)
    for name in ("requirements.txt", "requirements-test.txt"):
        (place / name).write_text(tiny_wheel(place / "wheels"))
    module = load(place / "start.py")
    monkeypatch.setattr(module, "VERIFY", "import evlib, tiny_part; print('Checked:', tiny_part.version)")
    return module


@pytest.fixture(scope="session")
def empty_venv(tmp_path_factory):
    """A .venv with pip alone, made once."""
    place = tmp_path_factory.mktemp("venv") / ".venv"
    venv.EnvBuilder(with_pip=True, symlinks=os.name != "nt").create(place)
    return place


@pytest.fixture
def filled(clone, empty_venv):
    """The small clone with a .venv that has pip, as after a start that got no further: saves making one each time."""
    shutil.copytree(empty_venv, clone.VENV, symlinks=True)
    return clone


@pytest.fixture
def no_pip_settings_later(request):
    """The same, from the moment it is called."""
    return lambda: request.getfixturevalue("no_pip_settings")
