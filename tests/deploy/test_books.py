"""The books are made ready once; what is there already is left alone."""

import pytest

from deploy.launch import books
from deploy.launch.problems import CannotStart

PRINTED = """12 model sheets
login: anna a-long-password tech
login: dora another-password front desk
done
"""


@pytest.fixture
def asked(tmp_path, monkeypatch):
    """Which commands of the shop were asked for; load_demo answers as it does."""
    words = []

    def run(doing, command, **_):
        words.append(command[3])
        return PRINTED if command[3] == "load_demo" else ""

    monkeypatch.setattr(books, "run_quietly", run)
    return words


def test_the_demo_is_loaded_once_and_its_logins_are_kept_for_the_owner(asked, tmp_path):
    books.make_ready(tmp_path, {}, is_demo=True)
    books.make_ready(tmp_path, {}, is_demo=True)

    first, again = ["migrate", "collectstatic", "load_demo"], ["migrate"]
    assert asked == [*first, "import_template", *again, "import_template"]
    assert books.demo_logins(tmp_path) == [
        "anna a-long-password tech",
        "dora another-password front desk",
    ]
    assert (tmp_path / books.LOGINS).stat().st_mode & 0o777 == 0o600


def test_a_job_template_that_does_not_fit_does_not_stop_the_start(tmp_path, monkeypatch, capsys):
    def run(doing, command, **_):
        if command[3] == "import_template":
            raise CannotStart("one.json: step a: a procedure is retired")
        return ""

    monkeypatch.setattr(books, "run_quietly", run)

    books.make_ready(tmp_path, {}, is_demo=False)

    assert "a procedure is retired" in capsys.readouterr().out


def test_static_files_are_collected_anew_when_what_goes_in_changed(asked, tmp_path, monkeypatch):
    books.make_ready(tmp_path, {}, is_demo=False)
    monkeypatch.setattr(books, "_static_sources", lambda: "other")

    books.make_ready(tmp_path, {}, is_demo=False)

    assert asked.count("collectstatic") == 2
    assert "load_demo" not in asked


def test_the_queue_is_private_to_its_owner(asked, tmp_path):
    books.make_ready(tmp_path, {}, is_demo=False)

    for name in ("messages", "control"):
        assert (tmp_path / "queue" / name).stat().st_mode & 0o777 == 0o700


def test_a_shop_of_ones_own_stays_one_whatever_is_asked_later(tmp_path):
    assert books.decide_kind(tmp_path, demo_wanted=False) == "own"
    assert books.decide_kind(tmp_path, demo_wanted=True) == "own"


def test_an_empty_shop_is_not_opened_where_the_demo_lies(tmp_path):
    assert books.decide_kind(tmp_path, demo_wanted=True) == "demo"

    with pytest.raises(CannotStart, match="holds the demo shop"):
        books.decide_kind(tmp_path, demo_wanted=False)

    assert books.decide_kind(tmp_path, demo_wanted=True) == "demo"


def test_what_a_backup_brought_back_is_checked_once(asked, tmp_path):
    (tmp_path / "brought-back").touch()

    books.make_ready(tmp_path, {}, is_demo=False)
    books.make_ready(tmp_path, {}, is_demo=False)

    assert asked.count("verify_chains") == 1


def test_records_that_do_not_hold_are_named_at_every_start_and_stop_none(
    asked, tmp_path, monkeypatch, capsys
):
    def fail(doing, command, **_):
        asked.append(command[3])
        if command[3] == "verify_chains":
            raise CannotStart("broken")

    monkeypatch.setattr(books, "run_quietly", fail)
    (tmp_path / "brought-back").touch()

    books.make_ready(tmp_path, {}, is_demo=False)
    books.make_ready(tmp_path, {}, is_demo=False)

    assert asked.count("verify_chains") == 2
    assert "Not every record is as it was written" in capsys.readouterr().out
