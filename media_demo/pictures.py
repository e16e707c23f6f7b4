"""The demo's pictures: drawn once by `python -m media_demo.draw`, kept as one WebP each in `exhibits/`.

The build reads them and draws only what is missing, smaller, so that it works in any case. Points, outline
and regions are not kept: they follow from the settings and are computed at each build. No Django here.
"""

from __future__ import annotations

import io
import json
from collections.abc import Iterable
from pathlib import Path

from PIL import Image

from courses.drawn import Prepared, prepare_drawing
from courses.figure import draw, drawing_of
from media_demo.figures import Figure
from shared.pictures.renditions import Rendition, rendition_name, renditions

FOLDER = Path(__file__).parent / "exhibits"
INDEX = FOLDER / "index.json"
QUALITY = 82
# A picture that is not kept is drawn this wide: enough to try things out, in a fraction of the time.
SKETCH_WIDTH = 640
# Beside the picture as it was drawn there is a small one; what lies between takes time and saves nothing here.
SMALL = 480
FORMATS = ("webp", "jpeg")


def path_of(figure: Figure) -> Path:
    """Where the picture of a figure is kept."""
    return FOLDER / f"{figure.key}.webp"


def encoded(image: Image.Image) -> bytes:
    """As a picture is kept."""
    stream = io.BytesIO()
    image.save(stream, "WEBP", quality=QUALITY, method=6)
    return stream.getvalue()


def draw_and_keep(figure: Figure) -> int:
    """Draw a figure at its finest and keep it; returns how many bytes it takes."""
    content = encoded(draw(figure.view, figure.settings, figure.width).image)
    FOLDER.mkdir(exist_ok=True)
    path_of(figure).write_bytes(content)
    return len(content)


def picture_of(figure: Figure) -> bytes:
    """The kept picture, or a smaller one drawn now."""
    path = path_of(figure)
    if path.exists():
        return path.read_bytes()
    return encoded(draw(figure.view, figure.settings, SKETCH_WIDTH).image)


def prepare(figure: Figure) -> Prepared:
    """Everything that an exhibit of this figure brings along. About a fifth of a second."""
    content = picture_of(figure)
    image = Image.open(io.BytesIO(content)).convert("RGB")
    return prepare_drawing(
        drawing_of(figure.view, figure.settings, image),
        figure.settings,
        dict(figure.faults),
        _sizes(image, content),
    )


def _sizes(image: Image.Image, content: bytes) -> list[Rendition]:
    """The picture as it is kept, and a thumbnail, also for readers without WebP: a tenth of the usual work."""
    small = image.resize(
        (SMALL, round(image.height * SMALL / image.width)), Image.Resampling.LANCZOS, reducing_gap=1.5
    )
    thumbnails = list(renditions(small, formats=FORMATS))
    digest = thumbnails[0].name.partition("-")[0]
    name = rendition_name(digest, image.width, "webp")
    return [Rendition(name, image.width, image.height, "webp", content), *thumbnails]


def index_of(figures: Iterable[Figure]) -> dict[str, dict[str, object]]:
    """What `index.json` says: of each file, the view and the settings that it shows."""
    rows = {figure.key: {"view": figure.view, **figure.settings.to_dict()} for figure in figures}
    return dict(sorted(rows.items()))


def write_index(figures: Iterable[Figure]) -> None:
    """Put the index beside the pictures, one line for each."""
    lines = [f"{json.dumps(key)}: {json.dumps(row)}" for key, row in index_of(figures).items()]
    INDEX.write_text("{\n" + ",\n".join(lines) + "\n}\n", encoding="utf-8")


def read_index() -> dict[str, dict[str, object]]:
    """The index beside the pictures; empty where none are kept."""
    return json.loads(INDEX.read_text(encoding="utf-8")) if INDEX.exists() else {}
