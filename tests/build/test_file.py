"""The build file: every mistake in one report, nothing half-written, comments kept."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evlib.build.__main__ import main
from evlib.build.file import BadBuild, blank, find_build, is_list, parse_build, read_build, save_values
from evlib.build.review import review
from evlib.build.schema import curve_of, declared
from evlib.ground.checks import NOT_KNOWN
from evlib.ground.quantity import quantity_of
from evlib.ground.tables import middle

QUANTITIES = {
    path: quantity_of(hint)
    for path, hint in declared().items()
    if quantity_of(hint) is not None and curve_of(hint) is None and not is_list(hint)
}

BAD = [
    ("", "empty file"),
    ("   \n", "empty file"),
    ("[vehicle", "not TOML"),
    ("[vehicle]\nmass = 1\nmass = 2", "not TOML"),
    ("x = " + "[" * 5000, "nested too deep"),
    ("[vehicle]\nmass = " + "9" * 5000, "not TOML"),
    ("[vehicle]\nmass = " + "9" * 400, "300 digits"),
    ("[vehicle]\nmass = nan", "vehicle.mass: nan was given"),
    ("[vehicle]\nmass = inf", "vehicle.mass: inf was given"),
    ("[vehicle]\nmass = true", "True was given"),
    ("[vehicle]\nmass = 2020-01-01", "was given"),
    ('[vehicle]\nmass = "-5 kg"', "vehicle.mass: -5 kg was given"),
    ('[vehicle]\nmass = "5 mm"', "vehicle.mass: 5 mm was given; '5 mm': the unit 'mm' is not one of kg, lb"),
    ('[vehicle]\nmass = "2 tons"', "which ton"),
    ('[vehicle]\nmas = "900 kg"', "did you mean 'mass'"),
    ('[vehicel]\nmass = "900 kg"', "did you mean 'vehicle'"),
    ('[vehicle]\nwinding_limit = "900 K"', "it belongs at machine.winding_limit"),
    ("vehicle = 3", "wanted a table"),
    ('[vehicle]\nmass = { value = "900 kg", from = "hearsay" }', "allowed: measured, catalogue, guess"),
    ('[vehicle]\nmass = { value = "900 kg", spread = "200 %" }', "0 to 100 %"),
    ('[vehicle]\nmass = { value = "900 kg", sprad = "2 %" }', "did you mean 'spread'"),
    ('[vehicle]\nmass = { weight = "900 kg" }', "vehicle.mass"),
    ('[vehicle]\ndriven_axle = "raer"', "did you mean 'rear'"),
    ('[vehicle]\nfitted = "yes"', "allowed: true or false"),
    ('[pack]\ncell_open_voltage = { x = ["0 %"], y = ["3 V"] }', "two or more pairs"),
]


@pytest.mark.parametrize(("text", "words"), BAD, ids=[words for _, words in BAD])
def test_a_bad_file_is_one_report_and_exit_status_two(text, words, tmp_path, capsys):
    path = tmp_path / "bad.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadBuild) as caught:
        read_build(path)
    assert words in str(caught.value)
    out = tmp_path / "sheet.html"
    assert main(["sheet", str(path), "-o", str(out)]) == 2
    assert not out.exists()
    assert list(tmp_path.iterdir()) == [path]
    assert words in capsys.readouterr().err


def test_all_mistakes_come_in_one_report():
    with pytest.raises(BadBuild) as caught:
        parse_build('[vehicle]\nmas = 1\nmass = "-1 kg"\n[pack]\nfoo = 1\nfitted = 3\n')
    assert [problem.field for problem in caught.value.problems] == [
        "vehicle.mas", "vehicle.mass", "pack.foo", "pack.fitted",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("content", "words"),
    [(b"\xff\xfe[\x00v\x00", "UTF-8"), (b"# " + b"x" * 1_100_000, "at most"), (b"a\x00b", "not TOML")],
)
def test_bytes_that_are_no_build(tmp_path, content, words):
    path = tmp_path / "bad.toml"
    path.write_bytes(content)
    with pytest.raises(BadBuild, match=words):
        read_build(path)


def test_a_missing_file_and_a_folder_are_one_sentence(tmp_path, capsys):
    for path in (tmp_path / "none.toml", tmp_path):
        with pytest.raises(BadBuild, match="cannot be read"):
            read_build(path)
    with pytest.raises(BadBuild, match=r"no build of that name; there are: .*orchard_van"):
        find_build("orchid_van")
    assert main(["sheet", "orchard_van", "-o", str(tmp_path / "none" / "sheet.html")]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_a_bom_and_windows_line_ends_are_read(tmp_path):
    path = tmp_path / "windows.toml"
    path.write_bytes(b'\xef\xbb\xbf[vehicle]\r\nmass = "900 kg"\r\n')
    assert read_build(path).value("vehicle.mass") == 900


def test_a_blank_build_names_every_value_and_nothing_is_known():
    text = blank()
    build = parse_build(text)
    for path in declared():
        assert f"# {path.rsplit('.', 1)[1]} = " in text
        assert build.value(path) is None or path.endswith(".fitted")
    assert {check.verdict for check in review(build).checks} == {NOT_KNOWN}


def test_a_blank_file_is_not_written_over(tmp_path):
    path = tmp_path / "mine.toml"
    assert main(["blank", "-o", str(path)]) == 0
    before = path.read_text()
    assert main(["blank", "-o", str(path)]) == 2
    assert path.read_text() == before


def test_saving_keeps_comments_and_refuses_what_cannot_be_read_back(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text('# my van\n[vehicle]\nmass = { value = "900 kg", from = "guess" } # weigh it\n', encoding="utf-8")
    save_values(path, {"vehicle.mass": "950 kg", "pack.cells_in_series": "96"})
    text = path.read_text(encoding="utf-8")
    assert "# my van" in text
    assert "# weigh it" in text
    assert 'from = "guess"' in text
    build = read_build(path)
    assert (build.value("vehicle.mass"), build.value("pack.cells_in_series")) == (950, 96)
    with pytest.raises(BadBuild, match=r"vehicle\.mass"):
        save_values(path, {"vehicle.mass": "950 mm"})
    assert path.read_text(encoding="utf-8") == text
    save_values(path, {"vehicle.mass": None})
    assert read_build(path).value("vehicle.mass") is None


def test_where_a_value_comes_from_is_kept():
    build = parse_build('[vehicle]\nmass = { value = "900 kg", from = "measured", spread = "2 %", note = "scales" }')
    origin = build.origins["vehicle.mass"]
    assert (origin.text, origin.source, origin.spread, origin.note) == ("900 kg", "measured", 0.02, "scales")


@settings(max_examples=300)
@given(st.sampled_from(sorted(QUANTITIES)), st.floats(allow_nan=True, allow_infinity=True), st.booleans())
def test_any_number_at_any_quantity_is_within_its_limits_or_refused(path, value, as_text):
    quantity = QUANTITIES[path]
    text = f'"{value!r}"' if as_text else repr(value)
    try:
        build = parse_build(_at(path, text))
    except BadBuild as error:
        assert path.rsplit(".", 1)[0] in str(error)
        return
    read = build.value(path)
    assert math.isfinite(read)
    assert quantity.low <= read <= quantity.high
    assert quantity.above < read < quantity.below


@pytest.mark.parametrize("path", sorted(QUANTITIES))
@pytest.mark.parametrize("system", ["SI", "shop"])
def test_every_quantity_reads_what_it_shows(path, system):
    quantity = QUANTITIES[path]
    value = middle(quantity)
    shown = quantity.show(value, system=system, digits=9)
    if "e" in shown.split()[0]:
        shown = repr(value)
    assert quantity.accept(shown) == pytest.approx(value, rel=1e-6)


@settings(max_examples=200)
@given(st.text(max_size=300))
def test_any_text_is_a_build_or_one_report(text):
    try:
        parse_build(text)
    except BadBuild as error:
        assert error.problems


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=8,
)


@settings(max_examples=300)
@given(st.sampled_from(sorted(declared())), JSON)
def test_any_value_anywhere_is_read_or_reported(path, value):
    import tomlkit

    if value is None:
        return
    try:
        text = _at(path, tomlkit.item(value).as_string())
    except (ValueError, TypeError, tomlkit.exceptions.TOMLKitError):
        return  # TOML cannot say it
    try:
        parse_build(text)
    except BadBuild as error:
        assert all(problem.field for problem in error.problems)


def _at(path, text):
    place, name = path.rsplit(".", 1)
    return f"[{place}]\n{name} = {text}\n"
