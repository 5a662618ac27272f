"""Every kind of finding has its page, written for who draws; what it says of trust is what README says."""

import re
from pathlib import Path

import pytest

from api.principles import DRAWN
from board.check_registry import CHECKS
from board.how_measured import HOW_MEASURED
from board.page_checks import heights, perspective, proportions, same_as, still
from board.screens.how_measured import caption_of

README = (Path(__file__).resolve().parent.parent / "README.md").read_text()
KINDS = [(entry, kind) for entry in CHECKS.values() for kind in entry.findings]
WIDENED = {module.__name__.rpartition(".")[2].replace("_", "-"): module.WIDENED_AT_THUMBNAIL
           for module in (heights, perspective, proportions, same_as, still)}
by_kind = pytest.mark.parametrize(("entry", "kind"), KINDS, ids=[kind for _, kind in KINDS])


def test_every_kind_has_its_page_and_every_page_is_of_a_kind():
    assert set(HOW_MEASURED) == {kind for _, kind in KINDS}


@by_kind
def test_a_page_has_a_figure_and_says_all_that_one_would_ask(entry, kind):
    told = HOW_MEASURED[kind]
    assert kind in DRAWN and len(caption_of(kind)) > 20
    assert told.what and told.how and told.sources and told.unseen and told.trust


@by_kind
def test_a_page_tells_tolerances_that_the_check_has(entry, kind):
    assert set(HOW_MEASURED[kind].tolerances) <= set(entry.tolerances)


@pytest.mark.parametrize("entry", CHECKS.values(), ids=CHECKS)
def test_every_tolerance_is_told_on_some_page_of_its_check(entry):
    assert set(entry.tolerances) == {name for kind in entry.findings for name in HOW_MEASURED[kind].tolerances}


@pytest.mark.parametrize("entry", [entry for entry in CHECKS.values() if entry.tolerances], ids=lambda entry: entry.id)
def test_whoever_sets_a_tolerance_reads_its_name_its_unit_and_what_it_means(client, cast, entry):
    client.force_login(cast.outsider)
    row = next(one for one in client.get("/api/v1/checks").json() if one["id"] == entry.id)
    assert [one["name"] for one in row["tolerances_told"]] == list(entry.tolerances)
    for one in row["tolerances_told"]:
        assert one["label"] and one["unit"] and one["means"].endswith(".") and "_" not in one["label"]


@by_kind
def test_how_far_to_trust_it_is_told_in_the_figures_of_the_readme(entry, kind):
    row = next(line for line in README.splitlines() if line.startswith(f"| `{entry.id}` |"))
    told = " ".join(HOW_MEASURED[kind].trust)
    assert set(re.findall(r"\d+(?:\.\d+)?", told)) <= set(re.findall(r"\d+(?:\.\d+)?", row))


@by_kind
def test_what_is_let_go_at_thumbnail_stage_is_what_the_check_does(entry, kind):
    told = HOW_MEASURED[kind].at_thumbnail
    assert not told or f"{WIDENED[entry.id]:g} times" in told


@pytest.mark.parametrize("kind", ["height-off", "resolution-low", "near-trim"])
def test_where_advice_could_mislead_it_defers_to_who_decides(kind):
    defers = r"local rules and a licensed professional decide|printer's own specification stands above"
    assert re.search(defers, HOW_MEASURED[kind].caution)


@by_kind
def test_the_page_opens(client, cast, entry, kind):
    client.force_login(cast.outsider)
    answer = client.get(f"/how-measured/{kind}")
    assert answer.status_code == 200 and f"principles/{kind}.svg" in answer.content.decode()
    assert f'href="/how-measured/{kind}"' in client.get("/how-measured").content.decode()


def test_no_page_of_what_no_check_finds(client, cast):
    client.force_login(cast.outsider)
    assert client.get("/how-measured/no-such-thing").status_code == 404
    client.logout()
    assert client.get("/how-measured/stray-edge").status_code == 302


def test_a_board_shows_its_own_tolerances_to_those_who_see_it(client, cast):
    cast.board.own_tolerances = {"perspective": {"eye_level_split": 0.09}}
    cast.board.save(update_fields=["own_tolerances"])
    for name, sees in (("artist", True), ("outsider", False)):
        client.force_login(cast.people[name])
        told = client.get(f"/how-measured/eye-level-split?board={cast.board.pk}").content.decode()
        assert (">9</span> % of the panel" in told, cast.board.title in told) == (sees, sees)
        assert "6" + ("" if sees else "</span>") + " % of the panel" in told
