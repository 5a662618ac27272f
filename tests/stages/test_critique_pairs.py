"""Everybody gives and gets exactly k critiques, for every k < n, and nobody reads their own."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.stages.critique_pairs import join_critics, pair_critics


@given(st.integers(2, 60).flatmap(lambda n: st.tuples(st.just(n), st.integers(1, n - 1))), st.integers(0, 2**64 - 1))
@settings(max_examples=150, deadline=None, derandomize=True)
def test_the_balance_is_exact(sizes, seed):
    count, each_reads = sizes
    read = pair_critics(range(count), each_reads, seed)
    assert set(read) == set(range(count))
    for student, works in read.items():
        assert len(works) == len(set(works)) == each_reads and student not in works
    received = Counter(work for works in read.values() for work in works)
    assert set(received.values()) == {each_reads} and len(received) == count


@pytest.mark.parametrize("count", range(2, 12))
def test_every_k_of_small_classes(count):
    for each_reads in range(1, count):
        received = Counter(work for works in pair_critics(range(count), each_reads, 7).values() for work in works)
        assert received == dict.fromkeys(range(count), each_reads)


def test_no_two_read_each_other_while_there_is_a_choice():
    for seed in range(20):
        read = pair_critics(range(9), 4, seed)
        assert not [(a, b) for a in read for b in read[a] if a in read[b]]


def test_another_seed_draws_otherwise():
    assert len({str(sorted(pair_critics(range(12), 2, seed).items())) for seed in range(8)}) == 8


def test_in_another_round_nobody_reads_whom_they_read_before_while_there_is_a_choice():
    before = pair_critics(range(24), 3, 3)
    for seed in range(8):
        read = pair_critics(range(24), 3, seed, before)
        assert not [(a, b) for a in read for b in read[a] if b in before[a]]
    assert set(pair_critics(range(3), 2, 1, pair_critics(range(3), 2, 3))) == {0, 1, 2}  # there is none


@given(st.integers(2, 30).flatmap(lambda n: st.tuples(st.just(n), st.integers(1, n - 1))), st.integers(0, 2**64 - 1))
@settings(max_examples=60, deadline=None, derandomize=True)
def test_who_comes_later_reads_as_many_and_no_one_bears_it_all(sizes, seed):
    count, each_reads = sizes
    reads = pair_critics(range(count), each_reads, seed)
    for newcomer in (count, count + 1):
        read, readers = join_critics(reads, each_reads, seed)
        assert len(set(read)) == len(set(readers)) == each_reads and newcomer not in {*read, *readers}
        reads = {**{one: [*reads[one], *[newcomer] * (one in readers)] for one in reads}, newcomer: read}
    received = Counter(work for works in reads.values() for work in works)
    assert max(received.values()) - each_reads <= 2 and max(map(len, reads.values())) - each_reads <= 2


def test_who_comes_later_reads_nobody_again_and_none_who_reads_them_while_there_is_a_choice():
    read, readers = join_critics(pair_critics(range(9), 2, 5), 2, 7, read_before=[0, 1, 2])
    assert not {0, 1, 2} & set(read) and not set(read) & set(readers)


@pytest.mark.parametrize(("count", "each_reads"), [(0, 1), (1, 1), (5, 0), (5, 5), (5, -1)])
def test_nobody_can_read_more_others_than_there_are(count, each_reads):
    with pytest.raises(ValueError, match="Each can read|It takes two"):
        pair_critics(range(count), each_reads, 1)


def test_of_two_each_can_read_one_other():
    with pytest.raises(ValueError, match="Each can read one other here"):
        pair_critics(range(2), 2, 1)
