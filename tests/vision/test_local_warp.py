import numpy as np
import pytest

from board.vision.local_warp import fit_local_warp, spline_weights, still
from board.vision.patch_votes import PatchVotes

TALL, STRIP = (400.0, 640.0), (900.0, 60.0)


def votes_at(at, seed=0):
    """Votes that fix each point in one direction more than in the other."""
    turns = np.random.default_rng(seed).uniform(0, np.pi, len(at))
    axes = np.stack([np.stack([np.cos(turns), np.sin(turns)], -1), np.stack([-np.sin(turns), np.cos(turns)], -1)], axis=2)
    say = np.einsum("nij,j,nkj->nik", axes, [1.0, 0.1], axes)
    return PatchVotes(at, np.zeros_like(at), np.full(len(at), 0.9), np.full(len(at), 0.3), say)


def pulled(warp, at, votes, shift, slack_px):
    """The gradient, by each node, of what the fit makes least, at the weights that `warp` itself gives the votes."""
    rows, cols = warp.nodes.shape[:2]
    across, down = spline_weights(at[:, 0] / warp.extent[0], cols), spline_weights(at[:, 1] / warp.extent[1], rows)
    miss = warp.at(at) - shift
    weight = votes.worth / (1 + np.einsum("ni,nij,nj->n", miss, votes.say, miss) / slack_px**2) ** 2
    by_votes = np.einsum("nr,nc,n,nij,nj->rci", down, across, weight, votes.say, miss)
    bent = [np.diff(np.eye(n), 2, axis=0) for n in (rows, cols)]
    turned = [np.diff(np.eye(n), 1, axis=0) for n in (rows, cols)]
    stiff = np.einsum("ar,as,scx->rcx", bent[0], bent[0], warp.nodes) + np.einsum("ac,ad,rdx->rcx", bent[1], bent[1], warp.nodes)
    stiff += 2 * np.einsum("ar,as,bc,bd,sdx->rcx", turned[0], turned[0], turned[1], turned[1], warp.nodes)
    return by_votes + 0.003 * stiff + 0.001 * warp.nodes


@pytest.mark.parametrize("extent", [TALL, STRIP])
def test_the_field_is_the_one_that_bends_and_misses_least(extent):
    at = np.random.default_rng(1).uniform(0, 1, (60, 2)) * extent
    at[:2] = [0, 0], extent  # the last nodes, too
    votes, shift = votes_at(at), 3 * np.sin(at / 150)
    # With slack enough no vote is discounted, so that the weights stay as they are from round to round.
    warp = fit_local_warp(at, votes, shift, extent, 1e6, 1e6)
    assert np.abs(warp.nodes).max() > 2
    at_rest, off = (np.abs(pulled(one, at, votes, shift, 1e6)).max() for one in (warp, still(extent)))
    assert at_rest < 1e-9 * off


def test_a_vote_that_no_smooth_field_can_follow_is_discounted():
    at = np.stack(np.meshgrid(np.linspace(20, 380, 9), np.linspace(20, 620, 15)), -1).reshape(-1, 2)
    shift = np.tile([2.0, -1.0], (len(at), 1))
    shift[60] = [-9.0, 8.0]
    warp = fit_local_warp(at, votes_at(at), shift, TALL, 1.2, 5.0)
    assert np.abs(warp.at(at) - [2.0, -1.0]).max() < 0.2
