"""Reading a tagged PDF back with pikepdf and pypdfium2, for tests."""

import io
import re
from dataclasses import dataclass, field

import pikepdf
import pypdfium2

# Painting operators: ISO 32000-1:2008, tables 60 (paths), 77 (shading), 87 (XObjects), 92 (inline), 109 (text).
PAINTING = {"f", "F", "f*", "S", "s", "B", "B*", "b", "b*", "sh", "Do", "EI", "Tj", "TJ", "'", '"'}
GREY_OR_RGB = {"g": 1, "G": 1, "rg": 3, "RG": 3}


@dataclass
class Element:
    """A structure element: kind, dictionary, parent's kind, children, marked parts (page, number)."""

    kind: str
    node: pikepdf.Dictionary
    parent: str
    children: list = field(default_factory=list)
    marks: list = field(default_factory=list)

    def below(self):
        yield self
        for child in self.children:
            yield from child.below()


@dataclass
class Marked:
    """What a page's content says: marked numbers, artifacts, what was painted outside any mark, colours."""

    numbers: list = field(default_factory=list)
    artifacts: int = 0
    loose: list = field(default_factory=list)
    colours: set = field(default_factory=set)


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(data))


def tree(pdf: pikepdf.Pdf) -> Element:
    """Return the structure tree from its root."""
    pages = {page.objgen: number for number, page in enumerate(pdf.pages)}
    root = Element("StructTreeRoot", pdf.Root.StructTreeRoot, "")
    _fill(root, pages)
    return root


def _fill(element: Element, pages: dict) -> None:
    kids = element.node.get("/K", [])
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary):
            child = Element(str(kid.S)[1:], kid, element.kind)
            element.children.append(child)
            _fill(child, pages)
        else:
            element.marks.append((pages[element.node.Pg.objgen], int(kid)))


def elements(pdf: pikepdf.Pdf, *kinds: str) -> list[Element]:
    return [element for element in tree(pdf).below() if not kinds or element.kind in kinds]


def marked(pdf: pikepdf.Pdf, page: pikepdf.Page) -> Marked:
    """Walk a page's content, and the forms it draws, with the stack of marked parts."""
    found = Marked()
    _walk(page, page.get("/Resources"), found, [])
    return found


def _walk(stream, resources, found: Marked, stack: list) -> None:
    for operands, operator in pikepdf.parse_content_stream(stream):
        name = str(operator)
        if name in ("BDC", "BMC"):
            stack.append(str(operands[0]))
            found.artifacts += stack[-1] == "/Artifact"
            if name == "BDC" and "/MCID" in operands[1]:
                found.numbers.append(int(operands[1].MCID))
        elif name == "EMC":
            stack.pop()
        elif name in PAINTING and not stack:
            found.loose.append(name)
        if name in GREY_OR_RGB:
            found.colours.add(tuple(round(float(value), 4) for value in operands))
        if name == "Do":
            form = resources.XObject[str(operands[0])]
            if form.get("/Subtype") == "/Form":
                _walk(form, form.get("/Resources", resources), found, list(stack))


def content_texts(pdf: pikepdf.Pdf) -> list[str]:
    """Return what the parts marked as content say, without the artifacts, piece by piece."""
    pieces = []
    for page in pdf.pages:
        letters = {name: _letters(font) for name, font in page.Resources.Font.items()}
        real, font = False, None
        for operands, operator in pikepdf.parse_content_stream(page):
            name = str(operator)
            if name in ("BDC", "BMC"):
                real = str(operands[0]) != "/Artifact"
            elif name == "Tf":
                font = letters[str(operands[0])]
            elif name in ("Tj", "TJ") and real:
                runs = operands[0] if name == "TJ" else [operands[0]]
                codes = b"".join(bytes(run) for run in runs if isinstance(run, pikepdf.String))
                pieces.append("".join(font.get(codes[at : at + 2], "") for at in range(0, len(codes), 2)))
    return pieces


def _letters(font) -> dict[bytes, str]:
    """Return {two-byte code: letters} of a font's ToUnicode map (ISO 32000-1, 9.10.3)."""
    rows = re.findall(rb"<([0-9a-fA-F]{4})>\s*<([0-9a-fA-F]+)>", font.ToUnicode.read_bytes())
    return {
        bytes.fromhex(code.decode()): bytes.fromhex(text.decode()).decode("utf-16-be") for code, text in rows
    }


def texts(data: bytes) -> list[str]:
    """Return the text of each page, with lines and spaces run together."""
    document = pypdfium2.PdfDocument(data)
    try:
        return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]
    finally:
        document.close()


def lines(data: bytes) -> list[list[tuple[float, float, float, float, str]]]:
    """Return (left, bottom, right, top, text) of the pieces of text of each page, in points."""
    document = pypdfium2.PdfDocument(data)
    try:
        pages = []
        for page in document:
            text = page.get_textpage()
            boxes = [text.get_rect(number) for number in range(text.count_rects())]
            pages.append([(*box, text.get_text_bounded(*box)) for box in boxes])
        return pages
    finally:
        document.close()


def font_sizes(data: bytes) -> list[float]:
    """Return the sizes of all letters in points. A page is drawn at three quarters: CSS pixels to points."""
    document = pypdfium2.PdfDocument(data)
    try:
        sizes = []
        for page in document:
            text = page.get_textpage()
            for number in range(text.count_chars()):
                size = pypdfium2.raw.FPDFText_GetFontSize(text, number)
                if not pypdfium2.raw.FPDFText_IsGenerated(text, number):
                    sizes.append(round(size * 0.75, 2))
        return sizes
    finally:
        document.close()
