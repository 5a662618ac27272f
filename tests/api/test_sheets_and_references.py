from board.models import Event, Job, Panel, Reference
from tests.pictures import png, upload

SQUARE = [[0.1, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9]]


def test_a_sheet_is_received_and_looked_at(cast, client_of):
    url = f"/api/v1/boards/{cast.board.pk}/sheets"
    row = client_of("artist").post(url, {"image": upload(png(shade=9))}, format="multipart").json()
    assert row["state"] == "received"
    assert Job.objects.get(sheet=row["id"]).kind == "sheet"
    assert client_of("editor").post(url, {"image": upload()}, format="multipart").status_code == 403


def test_a_sheet_is_cut_into_pages_that_one_draws(world, client_of):
    url = f"/api/v1/sheets/{world.sheet.pk}/cuts"
    cuts = [{"polygon": SQUARE, "page": world.cast.page.pk}]
    assert client_of("artist").put(url, {"cuts": cuts}).json()["cuts"] == cuts
    assert Job.objects.get(sheet=world.sheet, kind="cut").state == "queued"


def test_a_sheet_is_not_cut_twice_into_one_page_or_into_anothers(world, client_of):
    url = f"/api/v1/sheets/{world.sheet.pk}/cuts"
    twice = [{"polygon": SQUARE, "page": world.cast.page.pk}] * 2
    assert client_of("artist").put(url, {"cuts": twice}).status_code == 400
    assert client_of("artist").put(url, {"cuts": []}).status_code == 400
    assert client_of("artist").put(url, {"cuts": [{"polygon": SQUARE, "page": 99_999}]}).status_code == 400


def test_references_are_listed_and_removed(world, client_of):
    url = f"/api/v1/boards/{world.cast.board.pk}/references"
    (row,) = client_of("reader").get(url).json()["results"]
    assert (row["title"], row["kind"], row["state"]) == ("The wheel house", "still", "ready")
    assert client_of("reader").delete(f"/api/v1/references/{row['id']}").status_code == 403
    assert client_of("artist").delete(f"/api/v1/references/{row['id']}").status_code == 204
    assert client_of("reader").get(url).json()["results"] == []


def test_a_reference_tells_which_panels_are_drawn_from_it(world, client_of):
    url = f"/api/v1/boards/{world.cast.board.pk}/references"
    assert client_of("reader").get(url).json()["results"][0]["panels"] == []
    panel = world.artists.panel
    Panel.objects.filter(pk=panel.pk).update(still=world.reference)
    Panel.objects.create(page=world.artists.page, order=9, still=world.reference, is_gone=True)
    row = {"panel": panel.pk, "page": panel.page_id, "page_number": 1, "page_numbers": [1], "order": panel.order}
    assert client_of("reader").get(url).json()["results"][0]["panels"] == [row]
    assert client_of("student").get(url).json()["results"][0]["panels"] == []


def test_a_reference_gets_another_title_and_kind(world, client_of):
    url = f"/api/v1/references/{world.reference.pk}"
    world.model_sheet.delete()
    client_of("artist").put(f"{url}/camera", {"yfov_deg": 40.0, "eye_height_m": 1.6})
    Reference.objects.filter(pk=world.reference.pk).update(numbers={"eye_level": [[0, 0.4], [1, 0.4]]})
    assert client_of("artist").patch(url, {"title": "The race"}).json()["title"] == "The race"
    assert Reference.objects.get().camera is not None
    row = client_of("artist").patch(url, {"kind": "prop"}).json()
    assert (row["kind"], row["perspective"], row["camera"]) == ("prop", {}, None)
    client_of("artist").patch(url, {"kind": "still"})
    job = Job.objects.get(reference=world.reference, kind="reference")
    assert (job.state, job.inputs["kind"]) == ("queued", "still")
    assert Event.objects.filter(kind="reference-changed").count() == 3
    assert client_of("artist").patch(url, {"title": ""}).status_code == 400


def test_a_still_that_panels_are_drawn_from_stays_one(world, client_of):
    Panel.objects.filter(pk=world.artists.panel.pk).update(still=world.reference)
    answer = client_of("artist").patch(f"/api/v1/references/{world.reference.pk}", {"kind": "pose"})
    assert answer.status_code == 409 and "Untie them first" in answer.json()["detail"]
    world.reference.refresh_from_db()
    assert world.reference.kind == "still"


def test_a_model_sheet_stays_one_while_it_is_somebodys(world, client_of):
    Reference.objects.filter(pk=world.model_sheet.reference_id).update(kind="model-sheet")
    answer = client_of("artist").patch(f"/api/v1/references/{world.model_sheet.reference_id}", {"kind": "pose"})
    assert answer.status_code == 409 and "model sheet" in answer.json()["detail"]


def test_an_outsider_finds_neither(world, client_of):
    assert client_of("outsider").get(f"/api/v1/sheets/{world.sheet.pk}").status_code == 404
    assert client_of("outsider").get(f"/api/v1/references/{world.reference.pk}/file").status_code == 404


def test_a_failed_job_is_tried_once_more(world, client_of):
    url = f"/api/v1/jobs/{world.artists.job.pk}"
    assert client_of("artist").get(url).json()["state"] == "failed"
    assert client_of("reader").post(f"{url}/tries").status_code == 403
    assert client_of("artist").post(f"{url}/tries").status_code == 201
    assert client_of("artist").get(url).json()["state"] == "queued"


def test_jobs_are_filtered_by_state(world, client_of):
    url = f"/api/v1/boards/{world.cast.board.pk}/jobs"
    rows = client_of("artist").get(url + "?state=failed").json()["results"]
    assert {row["state"] for row in rows} == {"failed"} and len(rows) == 2


def test_the_checks_are_told_with_their_tolerances(cast, client_of):
    answer = client_of("reader").get("/api/v1/checks").json()
    perspective = next(row for row in answer if row["id"] == "perspective")
    assert perspective["tolerances"]["stray_edge_deg"] > 0
    assert "stray-edge" in perspective["findings"]
