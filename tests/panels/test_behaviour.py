"""Controls, sessions, static output: what the learner does, and what is said back."""

from __future__ import annotations

import html.parser
import itertools
import re
from typing import Annotated

import pytest
import toy_panel
from toy_panel import Current, Resistance, Torque

from evlib.ground.quantity import Number, Quantity
from evlib.panels import markup
from evlib.panels.controls import plain_number, quantity
from evlib.panels.panel import Amount, Panel, Session, Table, Twin, button, choice, corners

Temperature = Annotated[Number, Quantity("t", "K", "oil temperature", above=0, slider=(253.15, 393.15), kind="reading")]
Teeth = Annotated[Number, Quantity("z", "", "teeth", low=10, high=99, slider=(20, 60), whole=True)]


def test_the_slider_widens_to_the_builds_value_and_only_as_far():
    assert quantity("a.x", Current, 300.0).span == (0, 600)
    assert quantity("a.x", Current, 750.0).span == (0, 750)
    assert quantity("a.x", Current, "750 A").at(100) == 750.0


def test_a_value_that_is_not_known_starts_in_the_middle_and_says_so():
    control = quantity("a.x", Resistance, None)
    assert control.start == pytest.approx(0.01)  # the geometric middle of 1 and 100 mohm
    assert "not known" in control.note
    assert quantity("a.x", Current, None).start == 300.0
    assert quantity("a.x", Current, 10).note == ""


def test_nonsense_declarations_are_refused():
    with pytest.raises(TypeError, match="declares no quantity"):
        quantity("a.x", float, 1.0)
    with pytest.raises(ValueError, match="no slider"):
        quantity("a.x", Quantity("x", "", "x"), 1.0)
    with pytest.raises(ValueError, match="allowed"):
        quantity("a.x", Current, -5.0)
    with pytest.raises(ValueError, match="one, two"):
        choice("a.x", ("one", "two"), start="three")


def test_steps_run_over_the_whole_span_evenly_or_by_equal_ratios():
    linear = quantity("a.x", Current, 300.0)
    assert [linear.at(s) for s in (0, 1, 50, 100)] == [0, 6, 300, 600]
    log = quantity("a.x", Resistance, 0.02)
    assert log.at(50) == pytest.approx(0.01)
    assert log.at(0) == 0.001 and log.at(100) == 0.1
    for control in (linear, log, quantity("a.x", Torque, 0.0), quantity("a.x", Temperature, None)):
        values = [control.at(step) for step in range(control.steps + 1)]
        assert all(a < b for a, b in itertools.pairwise(values))
        assert [control.step(value) for value in values] == list(range(control.steps + 1))


def test_whole_numbers_move_by_ones():
    control = quantity("a.z", Teeth, 33)
    assert control.steps == 40
    assert [control.at(step) for step in (0, 1, 40)] == [20, 21, 60]


def test_values_on_the_slider_read_well_in_the_units_shown():
    control = quantity("a.x", Torque, 0.0)
    assert control.show(control.at(37), system="SI") == "-78 N m"
    shown = control.show(control.at(37, system="shop"), system="shop")
    assert re.fullmatch(r"-\d+ lbf ft", shown)


@pytest.mark.parametrize(
    ("text", "system", "newton_metres"),
    [
        ("90 lbf ft", "SI", 122.0236),  # NIST SP 811: 1 lbf ft = 1.355818 N m
        ("90", "shop", 122.0236),
        ("90", "SI", 90.0),
        ("  120 ", "SI", 120.0),
        ("0.12 kN m", "shop", 120.0),
        ("-1,5", "SI", -1.5),
        ("½", "SI", 0.5),
    ],
)
def test_typing_takes_units_or_means_the_unit_beside_the_box(text, system, newton_metres):
    assert quantity("a.x", Torque, 0.0).typed(text, system=system) == pytest.approx(newton_metres, rel=1e-6)


def test_typing_reaches_the_hard_limits_beyond_the_slider():
    control = quantity("a.x", Torque, 0.0)
    assert control.typed("2000") == 2000.0
    assert control.state(2000.0)["outside"] != "" and control.state(2000.0)["step"] == 100
    assert control.state(300.0)["outside"] == ""


@pytest.mark.parametrize("text", ["2001", "nonsense", "", "5 V", "1e40", "nan", "90 gal", "--"])
def test_what_can_not_be_taken_explains_itself_and_changes_nothing(text):
    session = Session(toy_panel.panel())
    frame = session.receive({"kind": "set", "set": {"torque": {"text": text}}})
    assert len(frame["problems"]["torque"]) > 10
    assert session.values == toy_panel.panel().start
    assert frame["scene"]


def test_an_out_of_range_value_names_what_is_allowed():
    session = Session(toy_panel.panel())
    frame = session.receive({"kind": "set", "set": {"torque": {"text": "9000 N m"}}})
    assert "9000 N m was given; allowed: at least -2000 N m and at most 2000 N m" in frame["problems"]["torque"]


def test_temperatures_are_typed_as_read():
    control = quantity("a.t", Temperature, 293.15)
    assert control.unit() == "°C" and control.state(293.15)["number"] == "20"
    assert control.typed("80") == pytest.approx(353.15)
    assert control.typed("212 °F") == pytest.approx(373.15)
    assert control.typed("212", system="shop") == pytest.approx(373.15)


def test_a_frame_follows_the_values():
    session = Session(toy_panel.panel())
    before = session.receive({"kind": "hello"})
    after = session.receive({"kind": "set", "set": {"current": {"step": 80}, "wiring": {"option": "in series"}}})
    assert after["controls"]["current"]["shown"] == "480 A"
    # P = I^2 R with twice 20 mohm: 480^2 x 0.04 = 9216 W, worked by hand
    assert "9.22 kW" in after["sentence"] and "9.22 kW" in after["alt"] and "9.22 kW" in after["table"]
    assert before["scene"] != after["scene"]


def test_buttons_count_and_unknown_options_are_left_alone():
    session = Session(toy_panel.panel())
    for _ in range(2):
        session.receive({"kind": "set", "set": {"more": {"press": 1}}})
    session.receive({"kind": "set", "set": {"wiring": {"option": "<script>"}}})
    assert session.values["more"] == 2 and session.values["wiring"] == "alone"


def test_reset_brings_back_the_exact_start():
    session = Session(toy_panel.panel())
    start = session.receive({"kind": "hello"})
    session.receive({"kind": "set", "set": {"torque": {"step": 3}, "current": {"text": "777 A"}}})
    session.receive({"kind": "hold"})
    back = session.receive({"kind": "reset"})
    assert session.values == toy_panel.panel().start
    assert {k: v for k, v in back.items() if k != "seq"} == {k: v for k, v in start.items() if k != "seq"}


def test_a_held_case_stays_as_a_ghost_with_a_table_of_differences():
    session = Session(toy_panel.panel())
    assert session.receive({"kind": "hold"})["held"] is True
    frame = session.receive({"kind": "set", "set": {"current": {"text": "400"}, "wiring": {"option": "in series"}}})
    ghosts = [item for item in frame["scene"]["items"] if item.get("ghost")]
    assert len(ghosts) == 5  # four curves and the point
    assert "<td" in frame["differences"] and "+100 A" in frame["differences"]
    # held 300^2 x 0.02 = 1.80 kW; now 400^2 x 0.04 = 6.40 kW, by hand
    assert all(number in frame["differences"] for number in ("1.80 kW", "6.40 kW", "+4.60 kW"))
    assert "torque" not in frame["differences"]
    again = session.receive({"kind": "hold"})
    assert again["held"] is False and again["differences"] == ""
    assert not any(item.get("ghost") for item in again["scene"]["items"])


def test_units_switch_and_switch_back():
    session = Session(toy_panel.panel())
    shop = session.receive({"kind": "system"})
    assert shop["controls"]["torque"]["unit"] == "lbf ft" and shop["controls"]["torque"]["number"] == "90"
    assert "hp" in shop["table"]
    assert session.values == toy_panel.panel().start
    assert session.receive({"kind": "system"})["controls"]["torque"]["unit"] == "N m"


def test_the_case_is_a_build_files_fragment():
    session = Session(toy_panel.panel())
    case = session.receive({"kind": "copy"})["case"]
    assert '[machine]\nwinding_resistance = "20 mohm"\nwiring = "alone"\n' in case
    assert "more" not in case


def test_a_coarse_answer_follows_the_drag_and_says_so():
    session = Session(toy_panel.panel(takes_long=True))
    moving = session.receive({"kind": "set", "set": {"current": {"step": 60}}, "final": False})
    assert moving["coarse"] == "coarse while you move" and "12 points" in moving["sentence"]
    done = session.receive({"kind": "set", "set": {"current": {"step": 60}}, "final": True})
    assert done["coarse"] == "" and "400 points" in done["sentence"]


def test_a_calculation_that_has_no_answer_keeps_the_last_picture_and_says_why():
    def fussy(**values):
        if values["current"] > 500:
            raise ValueError("current: 600 A is outside 0 to 500, the range of the toy table")
        return toy_panel.compute(**values)

    import dataclasses

    session = Session(dataclasses.replace(toy_panel.panel(), compute=fussy))
    session.receive({"kind": "set", "set": {"current": {"step": 50}}})
    frame = session.receive({"kind": "set", "set": {"current": {"step": 100}}})
    assert "toy table" in frame["problem"] and "scene" not in frame
    assert session.values["current"] == 300.0 and frame["controls"]["current"]["number"] == "300"


def test_a_panel_says_what_is_wrong_with_its_declaration():
    good = toy_panel.panel()
    parts = {"id": "x", "title": "t", "compute": good.compute, "draw": good.draw, "twin": good.twin}
    with pytest.raises(ValueError, match="names that differ"):
        Panel(controls=(button("more", "a"), button("more", "b")), **parts)
    with pytest.raises(ValueError, match="names that differ"):
        Panel(controls=(), **parts)
    with pytest.raises(ValueError, match="probe 'y'"):
        Panel(controls=(button("more", "a"),), probe="y", **parts)
    with pytest.raises(ValueError, match="allowed: letters"):
        Panel(controls=(button("more", "a"),), **{**parts, "id": "a b"})


def test_corners_are_all_of_them_and_the_middle():
    found = list(corners(toy_panel.panel()))
    assert found[0] == toy_panel.panel().start
    assert found[1]["current"] == 300.0
    assert len(found) == 2 + 2 * 2 * 2 * 3 * 2
    assert len({tuple(sorted(case.items())) for case in found[2:]}) == 48


class Reader(html.parser.HTMLParser):
    def __init__(self, text):
        super().__init__()
        self.open, self.images, self.problems = [], [], []
        self.feed(text)
        self.problems += self.open

    def handle_starttag(self, tag, attrs):
        if tag == "img":
            self.images.append(dict(attrs))
        else:
            self.open.append(tag)

    def handle_endtag(self, tag):
        if self.open.pop() != tag:
            self.problems.append(tag)


def test_the_static_output_has_picture_words_and_table_and_no_widget_view():
    markup_text, plain = markup.panel_html(toy_panel.panel(), "0123abcd")
    read = Reader(markup_text)
    assert read.problems == []
    (image,) = read.images
    assert image["alt"].startswith("Four curves") and image["src"].startswith("data:image/png;base64,")
    assert "widget-view" not in markup_text and "<script" not in markup_text
    assert "At 300 A the resistance turns 1.80 kW into heat" in markup_text
    assert plain.splitlines()[0] == "Heat in a resistance" and "1.80 kW" in plain


def test_the_static_output_is_the_same_each_time_but_for_its_mark():
    one, _ = markup.panel_html(toy_panel.panel(), "0123abcd")
    two, _ = markup.panel_html(toy_panel.panel(), "89ef4567")
    assert one != two and markup.masked(one) == markup.masked(two)


def test_words_from_a_result_can_not_become_markup():
    twin = Twin(alt='"><b>', sentence="<i>5 < 6</i>", table=Table(("a", "b"), (("<u>", "&"),)))
    text = markup.static_html(toy_panel.draw, toy_panel.compute(**toy_panel.panel().start), twin)
    assert Reader(text).images[0]["alt"] == '"><b>'
    assert "<b>" not in text and "<i>" not in text and "<u>" not in text


def test_show_gives_one_output_with_html_and_text(monkeypatch):
    sent = []
    monkeypatch.setattr(markup, "_display", lambda page, text: sent.append((page, text)))
    toy_panel.panel().show()
    result = toy_panel.compute(**toy_panel.panel().start)
    markup.show(toy_panel.draw, result, toy_panel.twin(result), title="Seen")
    assert len(sent) == 2
    assert "evlib-mount" in sent[0][0] and "evlib-mount" not in sent[1][0]
    assert sent[1][1].startswith("Seen\nAt 300 A")


def test_twins_and_tables_refuse_gaps():
    with pytest.raises(ValueError, match="alt is empty"):
        Twin(alt=" ", sentence="x", table=Table(("a",), ()))
    with pytest.raises(ValueError, match="has 1 cells"):
        Table(("a", "b"), (("x",),))


def test_changes_carry_their_sign_and_temperatures_are_differences():
    assert Amount(5.0, "N").change(Amount(7.0, "N")) == "-2.00 N"
    assert Amount(7.0, "N").change(Amount(5.0, "N")) == "+2.00 N"
    assert Amount(300.0, "K").change(Amount(290.0, "K")) == "+10.0 K"


def test_differences_of_a_table_with_several_columns_name_both():
    before = Table(("gear", "torque", "speed"), (("low", Amount(1.0, "N m"), Amount(2.0, "rad/s")),))
    after = Table(("gear", "torque", "speed"), (("low", Amount(3.0, "N m"), Amount(2.0, "rad/s")),))
    assert after.differences(before) == [["low, torque", "1.00 N m", "3.00 N m", "+2.00 N m"]]


def test_numbers_are_plain():
    assert [plain_number(v) for v in (0.05, 1650.0, 12.5, 0.0, -3.0)] == ["0.05", "1650", "12.5", "0", "-3"]


def test_the_server_connection_switches_the_delay_off():
    from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection

    from evlib.panels.server import NoDelayConnection

    assert issubclass(NoDelayConnection, ZMQChannelsWebsocketConnection)
    calls = []

    class Handler:
        def set_nodelay(self, value):
            calls.append(value)

    class Parent:
        def connect(self):
            calls.append("connected")

    made = type("Made", (Parent,), {"connect": NoDelayConnection.connect, "websocket_handler": Handler()})
    with pytest.raises(TypeError):  # it goes on to the real connection, which this stand-in is not
        made().connect()
    assert calls == [True]
