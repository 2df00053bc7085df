"""What the PDF engine leaves out of a tagged page, put in just before the file is written.

Each function works on the engine's own objects (pydyf) and changes them in place:
- `set_scope`: header cells say whether they head a row or a column (ISO 14289-1, 7.5).
- `place_figures`: the boxes of figures in points from the foot of the page, as ISO 32000-1, 14.8.5.4.3 asks;
  the engine writes them in CSS pixels from the top.
- `free_repeats`: heads and foot lines that only repeat become pagination artifacts (ISO 14289-1, 7.8).
- `add_language`: dc:language beside the title in the document's XMP.
"""

from xml.etree import ElementTree

import pydyf

POINTS_PER_PIXEL = 0.75
# An HTML article is used on the page for nothing but what repeats.
REPEATED = "/Art"

_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_DC = "http://purl.org/dc/elements/1.1/"


def finish(document, pdf) -> None:
    """Run after the engine has built the PDF (a WeasyPrint finisher)."""
    tree = Tree(pdf)
    set_scope(tree)
    place_figures(tree, [page.height * POINTS_PER_PIXEL for page in document.pages])
    free_repeats(tree)


class Tree:
    """The structure elements of a PDF, and what they refer to."""

    def __init__(self, pdf):
        self.pdf = pdf
        self.by_reference = {item.reference: item for item in pdf.objects if isinstance(item, pydyf.Object)}
        self.elements = [
            item
            for item in pdf.objects
            if isinstance(item, pydyf.Dictionary) and item.get("Type") == "/StructElem"
        ]
        self.pages = list(pdf.page_references)

    def kind(self, kind: str):
        return [element for element in self.elements if element["S"] == kind]

    def children(self, element):
        """Return the structure elements right below one, in order."""
        return [self.by_reference[kid] for kid in element["K"] if isinstance(kid, bytes)]

    def below(self, element):
        """Yield an element and everything below it."""
        yield element
        for child in self.children(element):
            if child.get("Type") == "/StructElem":
                yield from self.below(child)


def set_scope(tree: Tree) -> None:
    """A header is a row's when its row holds data cells, else a column's."""
    for row in tree.kind("/TR"):
        cells = tree.children(row)
        scope = "/Row" if any(cell["S"] == "/TD" for cell in cells) else "/Column"
        for cell in cells:
            if cell["S"] == "/TH":
                cell["A"]["Scope"] = scope


def place_figures(tree: Tree, heights: list[float]) -> None:
    """heights: of the pages in points."""
    for figure in tree.kind("/Figure"):
        height = heights[tree.pages.index(figure["Pg"])]
        left, top, right, bottom = (value * POINTS_PER_PIXEL for value in figure["A"]["BBox"])
        figure["A"]["BBox"] = pydyf.Array(
            round(value, 2) for value in (left, height - bottom, right, height - top)
        )


def free_repeats(tree: Tree) -> None:
    """Take repeated elements out of the tree and mark what they painted as artifacts."""
    root = tree.by_reference[tree.pdf.catalog["StructTreeRoot"]]
    numbers = tree.by_reference[root["ParentTree"]]["Nums"]
    for repeated in tree.kind(REPEATED):
        if not repeated:  # inside one that was dealt with: a box may stand for the same article twice
            continue
        parent = tree.by_reference[repeated["P"]]
        parent["K"].remove(repeated.reference)
        page = tree.pages.index(repeated["Pg"])
        owners = numbers[2 * page + 1]
        marks = set()
        for element in list(tree.below(repeated)):
            marks |= {kid for kid in element["K"] if isinstance(kid, int)}
            # The object stays where it is, empty, so that the file's numbering holds.
            element.clear()
        for mark in marks:
            owners[mark] = "null"
        _as_artifact(_content(tree, page), marks)


def _content(tree: Tree, page: int) -> list:
    return tree.by_reference[tree.by_reference[tree.pages[page]]["Contents"]].stream


def _as_artifact(operations: list, marks: set[int]) -> None:
    """operations: name, properties and operator of a marked part stand in a row of three."""
    for place, operation in enumerate(operations):
        if isinstance(operation, pydyf.Dictionary) and operation.get("MCID") in marks:
            operations[place - 1] = "/Artifact"
            operations[place] = pydyf.Dictionary({"Type": "/Pagination"})


def add_language(metadata) -> None:
    """Make the engine's XMP name the language, which it does not by itself."""
    describe = metadata.generate_rdf_metadata

    def with_language(variant, version, conformance):
        rdf = ElementTree.fromstring(describe(variant, version, conformance))
        description = ElementTree.SubElement(rdf, f"{{{_RDF}}}Description", {f"{{{_RDF}}}about": ""})
        bag = ElementTree.SubElement(
            ElementTree.SubElement(description, f"{{{_DC}}}language"), f"{{{_RDF}}}Bag"
        )
        ElementTree.SubElement(bag, f"{{{_RDF}}}li").text = metadata.lang
        return ElementTree.tostring(rdf, encoding="utf-8")

    metadata.generate_rdf_metadata = with_language
