"""A stamp is current exactly as long as nothing it was made from has changed."""

from hypothesis import given
from hypothesis import strategies as st

from deploy.launch import stamps
from deploy.launch.environment import digest_of, pinned
from deploy.launch.places import CONSTRAINTS, PYPROJECT


def test_a_stamp_holds_until_the_digest_changes(tmp_path):
    stamp = tmp_path / "deep" / "stamp"
    stamps.write(stamp, "aa")

    assert stamps.is_current(stamp, "aa")
    assert not stamps.is_current(stamp, "bb")
    assert not stamps.is_current(tmp_path / "none", "aa")


@given(st.lists(st.text(), max_size=4), st.lists(st.text(), max_size=4))
def test_different_lists_of_texts_have_different_digests(one, other):
    same = stamps.digest_of_texts(one) == stamps.digest_of_texts(other)

    assert same == (one == other)


def test_a_tree_changes_with_names_and_contents_but_not_with_what_is_left_out(tmp_path):
    (tmp_path / "src").mkdir()
    (tmp_path / "src" / "a.ts").write_text("1")
    before = stamps.digest_of_tree(tmp_path, frozenset({"dist"}))

    (tmp_path / "dist").mkdir()
    (tmp_path / "dist" / "b.js").write_text("built")
    assert stamps.digest_of_tree(tmp_path, frozenset({"dist"})) == before

    (tmp_path / "src" / "a.ts").rename(tmp_path / "src" / "b.ts")
    assert stamps.digest_of_tree(tmp_path, frozenset({"dist"})) != before


def test_the_environment_is_renewed_when_list_pins_or_python_change():
    first = digest_of(["a==1", "b==2"], "a==1", "3.11")

    assert digest_of(["b==2", "a==1"], "a==1", "3.11") == first
    assert digest_of(["a==1"], "a==1", "3.11") != first
    assert digest_of(["a==1", "b==2"], "a==2", "3.11") != first
    assert digest_of(["a==1", "b==2"], "a==1", "3.12") != first


def test_every_requirement_is_pinned_and_agrees_with_the_constraints():
    constraints = {
        line.split("==")[0].lower().replace("-", "_"): line.split("==")[1]
        for line in CONSTRAINTS.read_text().splitlines()
        if "==" in line
    }

    for requirement in pinned(PYPROJECT, with_tests=True):
        name, _, version = requirement.partition("==")
        plain = name.split("[")[0].lower().replace("-", "_")
        assert version, requirement
        assert constraints[plain] == version
