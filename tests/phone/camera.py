"""What lies before the fake camera: pictures as a film that Chromium plays in place of a camera, from its start again
when it ends.

    film(path, [on_wood(label_of(pdf, sheet("a4-3x8"), 0))])
    chromium.launch(args=[*FLAGS, *arguments(path)])       then context.grant_permissions(["camera"])
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from pathlib import Path

import pypdfium2
from PIL import Image, ImageDraw

from shopfloor.paper.label_sheets import Sheet

WIDTH, HEIGHT = 1280, 720
PER_SECOND = 10
WOOD = (150, 96, 58)


def arguments(path: Path) -> list[str]:
    """Chromium's arguments: this film is the one camera.  Whether a page may use it is the test's to grant."""
    return ["--use-fake-device-for-media-stream", f"--use-file-for-fake-video-capture={path}"]


def film(path: Path, pictures: Iterable[Image.Image], *, each: int = 1) -> Path:
    """Write pictures, all of one size, as a YUV4MPEG2 film (4:2:0, JPEG range), each shown `each` times."""
    with path.open("wb") as file:
        size = None
        for picture in pictures:
            if size is None:
                size = picture.size
                file.write(f"YUV4MPEG2 W{size[0]} H{size[1]} F{PER_SECOND}:1 Ip A1:1 C420jpeg\n".encode())
            assert picture.size == size, "a film has one size"
            y, cb, cr = picture.convert("YCbCr").split()
            half = (size[0] // 2, size[1] // 2)
            frame = y.tobytes() + cb.resize(half).tobytes() + cr.resize(half).tobytes()
            for _ in range(each):
                file.write(b"FRAME\n" + frame)
    return path


def wood(width: int = WIDTH, height: int = HEIGHT) -> Image.Image:
    """A plank from above: darker and lighter grain along it."""
    lines = Image.new("RGB", (width, height), WOOD)
    pen = ImageDraw.Draw(lines)
    for row in range(0, height, 6):
        shade = round(14 * math.sin(row / 17) + 9 * math.sin(row / 5.3))
        points = [(x, row + 5 * math.sin(x / 160 + row / 90)) for x in range(0, width + 40, 40)]
        pen.line(points, fill=(WOOD[0] + shade, WOOD[1] + shade, WOOD[2] + shade), width=5)
    return lines


def on_wood(
    label: Image.Image, *, wide: int = 420, turned: float = 7, size: tuple[int, int] = (WIDTH, HEIGHT)
) -> Image.Image:
    """A label, `wide` pixels across in the picture, lying on a plank, turned by degrees."""
    picture = wood(*size)
    high = round(label.height * wide / label.width)
    paper = label.convert("RGBA").resize((wide, high), Image.Resampling.LANCZOS)
    paper = paper.rotate(turned, Image.Resampling.BICUBIC, expand=True)
    picture.paste(paper, ((size[0] - paper.width) // 2, (size[1] - paper.height) // 2), paper)
    return picture


def label_of(pdf: bytes, layout: Sheet, place: int, *, dpi: int = 300) -> Image.Image:
    """One label cut from a printed sheet; places count from 0, along the rows from the top left of the first page."""
    page, place = divmod(place, layout.places)
    document = pypdfium2.PdfDocument(pdf)
    sheet = document[page].render(scale=dpi / 72).to_pil()
    document.close()
    left, bottom = layout.corner(place)
    dots = dpi / 25_400_000
    top = layout.page_height - bottom - layout.height
    return sheet.crop(tuple(round(x * dots) for x in (left, top, left + layout.width, top + layout.height)))
