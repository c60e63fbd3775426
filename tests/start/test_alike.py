"""What is written in more than one place is alike: pins, bounds, the conda route; and imports stay light."""

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
RUN, TEST = PROJECT["dependencies"], PROJECT["optional-dependencies"]["test"]
FILES = ("requirements.txt", "requirements-test.txt", "requirements-nbgrader.txt")


def pins(name):
    """Package name to version, of every pin in a file."""
    lines = re.findall(r"^([\w.-]+)==([^\s;]+)", (ROOT / name).read_text(encoding="utf-8"), re.MULTILINE)
    assert len(lines) == len(dict(lines)) > 50
    return {canonicalize_name(package): version for package, version in lines}


def test_the_conda_route_has_the_same_packages_and_bounds():
    text = (ROOT / "environment.yml").read_text(encoding="utf-8")
    listed = re.findall(r"^  - (\S+)$", text.partition("dependencies:")[2], re.MULTILINE)
    assert "python" + PROJECT["requires-python"] in listed
    listed.remove("python" + PROJECT["requires-python"])
    assert sorted(listed) == sorted(RUN)


@pytest.mark.parametrize(("name", "wanted"), [("requirements.txt", RUN), ("requirements-test.txt", RUN + TEST)])
def test_pins_hold_every_dependency_within_its_bounds(name, wanted):
    held = pins(name)
    for requirement in map(Requirement, wanted):
        assert requirement.specifier.contains(held[canonicalize_name(requirement.name)]), requirement
        assert len(requirement.specifier) == 2, f"{requirement} needs a lower and an upper bound"


def test_the_test_pins_only_add_to_the_others():
    assert pins("requirements.txt").items() <= pins("requirements-test.txt").items()


def test_nbgraders_pins_are_ours_where_both_have_a_package():
    """Its notebooks run on our Python, so that what passes between the two is of one version."""
    ours, theirs = pins("requirements-test.txt"), pins("requirements-nbgrader.txt")
    assert "nbgrader" in theirs and "nbgrader" not in ours
    assert {name: version for name, version in theirs.items() if ours.get(name, version) != version} == {}


@pytest.mark.parametrize("name", FILES)
def test_pins_have_hashes_and_no_addresses(name):
    text = (ROOT / name).read_text(encoding="utf-8")
    for block in re.split(r"\n(?=\w)", text):
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", block), block.splitlines()[0]
    assert not re.search(r"://|\bfile:|@ |find-links|index-url|\.(?:org|com|io|net)\b", text)


def test_this_python_runs_on_the_pins():
    from importlib.metadata import version

    held = pins("requirements-test.txt")
    direct = [Requirement(line).name for line in RUN + TEST]
    assert {name: version(name) for name in direct} == {name: held[canonicalize_name(name)] for name in direct}


@pytest.mark.parametrize("name", ["evlib", "evlib.build", "evlib.ground.folder"])
def test_imports_stay_light(name):
    heavy = "{'matplotlib', 'ipywidgets', 'anywidget', 'sympy', 'scipy.integrate', 'networkx', 'IPython'}"
    code = f"import sys, {name}; print(sorted({heavy} & set(sys.modules)))"
    said = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert said.stdout.strip() == "[]", said.stdout + said.stderr


def test_evlib_alone_loads_nothing_of_others():
    code = "import sys; before = set(sys.modules); import evlib, evlib.ground.folder; print(set(sys.modules) - before)"
    loaded = eval(subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True).stdout)
    top = {name.partition(".")[0] for name in loaded}
    assert top - set(sys.stdlib_module_names) == {"evlib"}


def lessons():
    """Name to markdown of every lesson."""
    found = {}
    for path in sorted((ROOT / "notebooks").glob("*.ipynb")):
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        found[path.stem] = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown")
    return found


def test_the_readme_lists_every_lesson_with_its_minutes():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    listed = {name: int(minutes) for name, minutes in re.findall(r"^\| `(\w+)` \|.*\| (\d+) \|$", readme, re.MULTILINE)}
    assert list(listed) == list(lessons())
    for name, text in lessons().items():
        said = re.search(r"(?m)(?:Time:?\**:? |It takes about |^)(\d+) minutes|Ten pieces of five minutes()", text)
        assert said, f"{name} does not say: **Time:** N minutes"
        assert int(said[1] or 50) == listed[name], name


def test_every_dependency_has_its_reason():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    reasons = [
        cell.strip() for line in re.findall(r"^\| ([\w, -]+) \|", text, re.MULTILINE) for cell in line.split(",")
    ]
    assert [name for name in (Requirement(line).name for line in RUN + TEST) if name not in reasons] == []


def test_only_what_belongs_there_is_at_the_top():
    wanted = "README.md DEVELOPERS.md LICENSE CHANGELOG.md pyproject.toml requirements.txt requirements-test.txt "
    wanted += "requirements-nbgrader.txt environment.yml start.py evlib notebooks data tests"
    there = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert there - {"__pycache__", "wheels"} == set(wanted.split())  # wheels: in a packed folder
