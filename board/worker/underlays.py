"""Makes the files of an underlay: SVG, transparent PNG, OpenRaster."""

from collections.abc import Iterator
from io import BytesIO

from PIL import Image

from board.actions.underlays import fail_underlay, record_underlay
from board.models import Job
from board.picture_files import keep_file
from board.worker.decoding import decoded
from board.worker.outcome import Outcome
from board.worker.subjects import revision_of, underlay_of
from board.worker.underlay.layers import draw_layers
from board.worker.underlay.openraster import NamedPicture, as_openraster, laid_on, png_of
from board.worker.underlay.raster import as_picture
from board.worker.underlay.svg import as_svg


def handle(job: Job) -> Outcome:
    underlay, revision = underlay_of(job), revision_of(job)
    page = decoded(revision.picture)
    drawn = draw_layers(job.inputs)
    over: list[Image.Image] = []  # the layers without the drawing, in one

    def pictures() -> Iterator[NamedPicture]:
        yield "drawing", page.image
        for layer in drawn.layers:
            picture = as_picture(layer, page.size)
            over[:] = [laid_on(over[0] if over else None, picture)]
            yield layer.name, picture

    content = {"ora": as_openraster(pictures(), page.dpi), "svg": BytesIO(as_svg(drawn.layers, page.size))}
    if over:
        content["png"] = BytesIO(png_of(over[0], page.dpi))
    files = {kind: f"underlays/{job.digest[:2]}/{job.digest}.{kind}" for kind in content}
    for kind, file in content.items():
        keep_file(files[kind], file)

    def record() -> None:
        record_underlay(underlay=underlay, files=files, not_drawn=drawn.not_drawn)

    return Outcome({"layers": [layer.name for layer in drawn.layers], "not_drawn": drawn.not_drawn}, record)


def failed(job: Job) -> None:
    fail_underlay(underlay=underlay_of(job), reason=job.reason)
