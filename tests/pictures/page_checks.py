"""What a picture or a page must be, whatever it shows."""
import html.parser
import re
import xml.etree.ElementTree as ElementTree

SVG = "{http://www.w3.org/2000/svg}"
VOID = {"meta", "br", "hr", "img", "link", "input"}


class Outline(html.parser.HTMLParser):
    """Elements in order; complains of a page whose elements do not nest."""

    def __init__(self):
        super().__init__()
        self.open = []
        self.seen = []
        self.faults = []
        self.words = []

    def handle_starttag(self, tag, attributes):
        self.seen.append((tag, dict(attributes), list(self.open)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attributes):
        self.seen.append((tag, dict(attributes), list(self.open)))

    def handle_endtag(self, tag):
        if not self.open or self.open[-1] != tag:
            self.faults.append(f"</{tag}> closes {self.open[-1:]}")
        else:
            self.open.pop()

    def handle_data(self, data):
        if "style" not in self.open:
            self.words.append(data)


def outline(text):
    parser = Outline()
    parser.feed(text)
    parser.close()
    return parser


def faults_of_svg_element(root):
    """An `svg` element says what it shows and has no number that is none."""
    faults = []
    if root.get("role") != "img":
        faults.append("role=img is missing")
    names = [child.tag.replace(SVG, "") for child in root][:2]
    if names != ["title", "desc"] or not all((child.text or "").strip() for child in root[:2]):
        faults.append(f"title and description must come first, found {names}")
    for element in root.iter():
        for name, value in element.attrib.items():
            if re.search(r"\b(nan|inf)\b|,\d*,", value, re.IGNORECASE) and name != "class":
                faults.append(f"{element.tag} {name}={value}")
        if element.tag.endswith(("script", "image", "use", "a")):
            faults.append(f"<{element.tag}> in a drawing")
    view = root.get("viewBox", "0 0 0 0").split()
    if len(view) != 4 or float(view[2]) <= 0 or float(view[3]) <= 0:
        faults.append(f"viewBox {view}")
    return faults


def faults_of_svg(text):
    return faults_of_svg_element(ElementTree.fromstring(text.encode("utf-8")))


def pictures_in(text):
    return re.findall(r"<svg.*?</svg>", text, re.DOTALL)


def faults_of_html(text):
    page = outline(text)
    faults = list(page.faults)
    if page.open:
        faults.append(f"left open: {page.open}")
    tags = [tag for tag, _, _ in page.seen]
    if "script" in tags:
        faults.append("a script")
    for tag, attributes, _ in page.seen:
        for name, value in attributes.items():
            if name in ("src", "href", "style") or name.startswith("on"):
                faults.append(f"{tag} {name}={value}")
    if re.search(r"https?://|@import|url\(", text):
        faults.append("something from elsewhere")
    for need in ("prefers-color-scheme:dark", "@media print", "@page", "planning aids"):
        if need not in text:
            faults.append(f"'{need}' is missing")
    figures = re.split(r"<figure[^>]*>", text)[1:]
    for figure in figures:
        inside = figure.split("</figure>")[0]
        if "<svg" not in inside or "<table" not in inside or "<figcaption>" not in inside:
            faults.append("a figure without picture, caption or table")
    if len(figures) != len(pictures_in(text)):
        faults.append("a picture outside a figure")
    for picture in pictures_in(text):
        faults += faults_of_svg_element(ElementTree.fromstring(picture))
    return faults
