"""Makes the files of an underlay: SVG, transparent PNG, OpenRaster."""

from io import BytesIO

from board.actions.underlays import fail_underlay, record_underlay
from board.models import Job
from board.picture_files import keep_file
from board.worker.decoding import decoded
from board.worker.outcome import Outcome
from board.worker.subjects import revision_of, underlay_of
from board.worker.underlay.layers import draw_layers
from board.worker.underlay.openraster import as_openraster, merged_picture, png_of
from board.worker.underlay.raster import as_picture
from board.worker.underlay.svg import as_svg


def handle(job: Job) -> Outcome:
    underlay, revision = underlay_of(job), revision_of(job)
    page = decoded(revision.picture)
    drawn = draw_layers(job.inputs)
    pictures = [(layer.name, as_picture(layer, page.size)) for layer in drawn.layers]
    over = merged_picture([picture for _, picture in pictures]) if pictures else None
    content = {
        "svg": BytesIO(as_svg(drawn.layers, page.size)),
        "ora": as_openraster([("drawing", page.image), *pictures], page.dpi),
        **({"png": BytesIO(png_of(over, page.dpi))} if over else {}),
    }
    files = {kind: f"underlays/{job.digest[:2]}/{job.digest}.{kind}" for kind in content}
    for kind, file in content.items():
        keep_file(files[kind], file)

    def record() -> None:
        record_underlay(underlay=underlay, files=files, not_drawn=drawn.not_drawn)

    return Outcome({"layers": [layer.name for layer in drawn.layers], "not_drawn": drawn.not_drawn}, record)


def failed(job: Job) -> None:
    fail_underlay(underlay=underlay_of(job), reason=job.reason)
