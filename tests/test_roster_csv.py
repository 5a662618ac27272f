"""The roster of a class, line by line."""

import pytest

from board.roster_csv import read_roster


def test_lines_are_read_with_their_place_in_the_file():
    ann, owl = read_roster("\ufeffusername,name,alias,minor\nann,Ann Reed,,no\n\n,,Little Owl,yes\n")
    assert (ann.line, ann.username, ann.name, ann.is_minor, ann.faults) == (2, "ann", "Ann Reed", False, ())
    assert (owl.line, owl.username, owl.alias, owl.is_minor, owl.faults) == (4, "little-owl", "Little Owl", True, ())


def test_a_minors_real_name_is_not_kept():
    (line,) = read_roster("username,name,alias,minor\nfern,Real Name,Fern,yes\n")
    assert "Real" not in repr(line)


def test_semicolons_and_quoted_names_are_read():
    (line,) = read_roster('username;name\nann;"Reed; Ann"\n')
    assert line.name == "Reed; Ann" and not line.faults


@pytest.mark.parametrize(
    ("row", "fault"),
    [
        ("ann,Reed, Ann,,no", "more cells than columns"),
        ("ann,Ann,,perhaps", "yes or no"),
        ("ann,Ann,,yes", "A minor needs an alias"),
        ("ann reed,Ann,,no", "without spaces"),
        (f"ann,Ann,{'a' * 61},no", "at most 60"),
    ],
)
def test_each_line_says_what_is_wrong_with_it(row, fault):
    (line,) = read_roster(f"username,name,alias,minor\n{row}\n")
    assert any(fault in words for words in line.faults)


def test_a_name_that_stands_twice_is_told_at_the_second():
    first, second = read_roster("username\nann\nAnn\n")
    assert not first.faults and second.faults == ("“Ann” stands on line 2 already.",)


@pytest.mark.parametrize("text", ["", "name,minor\n", "username,birthday\n", "ann\nbert\n"])
def test_a_file_without_a_head_to_read_it_by_is_refused(text):
    with pytest.raises(ValueError, match="first line"):
        read_roster(text)
