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
        ("j\ufffdrgen,,,no", "Save the file again as UTF-8"),
    ],
)
def test_each_line_says_what_is_wrong_with_it(row, fault):
    (line,) = read_roster(f"username,name,alias,minor\n{row}\n")
    assert any(fault in words for words in line.faults)


def test_a_quotation_mark_that_is_not_closed_takes_in_no_other_student():
    quill, reed, ann = read_roster('username,name,alias,minor\nquill,"Quill Oar,,no\nreed,Reed Oar,,no\r\nann,"Ann" Oar,,no')
    assert (quill.line, quill.faults) == (2, ("A quotation mark is not closed. Each student stands on a line of their own.",))
    assert (reed.line, reed.username, reed.faults) == (3, "reed", ())
    assert (ann.line, ann.name, ann.faults) == (4, "Ann Oar", ())


def test_bare_cells_at_the_end_of_lines_are_no_columns():
    ann, bert = read_roster("username;name;alias;minor;;\nann;Ann;;no; ;\nbert;Bert\n;;;;;\n")
    assert (ann.name, ann.faults, bert.name, bert.faults) == ("Ann", (), "Bert", ())


def test_letters_put_together_of_two_signs_are_one():
    (line,) = read_roster("alias\nJu\u0308rgen\n")
    assert (line.username, line.alias) == ("j\u00fcrgen", "J\u00fcrgen")


def test_two_with_one_alias_are_told_and_can_be_used():
    first, second = read_roster("username,alias\nann,Owl\nbert,owl\n")
    assert not first.remarks and second.remarks == ("The alias “owl” stands on line 2 too.",) and not second.faults


def test_a_name_that_stands_twice_is_told_at_the_second():
    first, second = read_roster("username\nann\nAnn\n")
    assert not first.faults and second.faults == ("“Ann” stands on line 2 already.",)


@pytest.mark.parametrize("text", ["", "name,minor\n", "username,birthday\n", "ann\nbert\n"])
def test_a_file_without_a_head_to_read_it_by_is_refused(text):
    with pytest.raises(ValueError, match="first line"):
        read_roster(text)


def test_what_is_no_roster_at_all_is_refused():
    with pytest.raises(ValueError, match="Line 2 is longer"):
        read_roster(f"username\n{'a' * 200_000}\n")
