"""Looks at papers as a person or a scanner would: text, pages, and pictures of pages."""

import subprocess
from io import BytesIO

import numpy
import zxingcpp
from PIL import Image
from pypdf import PdfReader

from shop.core.ids import new_id
from shop.documents import services


def pages(document):
    with document.file.open() as file:
        return PdfReader(BytesIO(file.read())).pages


def text(document):
    return " ".join(" ".join(page.extract_text() for page in pages(document)).split())


def picture(document, folder, dpi, page=1):
    """One page as a printer of so many dots per inch would put it on paper."""
    with document.file.open() as file:
        (folder / "paper.pdf").write_bytes(file.read())
    command = ["pdftoppm", "-r", str(dpi), "-f", str(page), "-l", str(page), "-gray"]
    subprocess.run(
        [*command, "-singlefile", str(folder / "paper.pdf"), str(folder / "page")], check=True
    )
    with Image.open(folder / "page.pgm") as page_picture:
        return page_picture.copy()


def codes_on(picture):
    return {(code.format.name, code.text) for code in zxingcpp.read_barcodes(numpy.array(picture))}


def issued(repair, kind):
    return services.issue(kind=kind, repair_id=repair.id, cause_id=new_id())
