"""`python -m shop calc`: an answer as JSON, or one clear line."""

import json

from shop.calc.command_line import run

UNIT = '{"old_mark": "T80mAL250V", "old_volt": 230, "new_volt": 115}'


def test_an_answer_is_printed_with_its_working(capsys):
    code = run(["fuses.scale", UNIT])

    answer = json.loads(capsys.readouterr().out)
    assert code == 0
    assert answer["value"]["mark"] == "T160mAL250V"
    assert answer["working"]["sources"]


def test_without_arguments_all_names_are_listed(capsys):
    assert run([]) == 0
    assert "series_lamp.ramp" in capsys.readouterr().out


def test_bad_input_names_the_field_on_one_line(capsys):
    code = run(["fuses.scale", UNIT.replace("T80mA", "T77mA")])

    said = capsys.readouterr().err
    assert code == 2
    assert said.startswith("old_mark: ")
    assert said.count("\n") == 1


def test_what_is_no_json_and_what_is_no_calculator_are_refused(capsys):
    assert run(["fuses.scale", "{"]) == 2
    assert run(["tea", "{}"]) == 2
    assert run(["one"]) == 2
    assert capsys.readouterr().out == ""
