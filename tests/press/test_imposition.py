"""Print sheets are folded as hands fold them, with page numbers read back from the printed file."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence

import pikepdf
import pypdfium2
import pytest
from PIL import Image, ImageChops, ImageFilter

from generator.base.errors import PressError, UsageError
from generator.press.engine import render
from generator.press.folding import folds
from generator.press.imposition import impose
from generator.press.reading import sheets as sides_of
from generator.press.sheet import Sheet
from tests.press.drawn import MM, pages
from tests.press.pages import page as html_page
from tests.press.paper import Mark, folded, leafed, printed, turned

A5, A6, A7 = (148, 210), (105, 148), (74, 105)
SCHEMES = {"booklet": A5, "folded": A6, "slit": A7}
SRA4 = (225, 320)
"""The raw sheet for A4 with bleed (ISO 217, from memory), mm."""
TRIMS = {"booklet": (297, 210), "folded": (210, 297), "slit": (297, 210)}

BLUR = ImageFilter.BoxBlur(2)


def document(count: int, size: tuple[float, float], title: str = "Small pages") -> bytes:
    """Pages with their number at head and foot, and a frame along their edge."""
    width, height = size[0] / MM, size[1] / MM
    with pikepdf.new() as file:
        font = pikepdf.Dictionary(
            Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Courier
        )
        for number in range(1, count + 1):
            file.add_blank_page(page_size=(width, height))
            words = (
                f"BT /F 9 Tf {width / 2:.3f} {height - 40:.3f} Td (h{number}) Tj ET "
                f"BT /F 9 Tf {width / 2:.3f} 30 Td (f{number}) Tj ET 0 0 {width:.3f} {height:.3f} re S"
            )
            file.pages[-1].contents_add(file.make_stream(words.encode()))
            file.pages[-1].Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F=font))
        file.docinfo["/Title"] = title
        written = io.BytesIO()
        file.save(written)
    return written.getvalue()


def read(sheets: bytes) -> list[list[Mark]]:
    """Numbers on each printed side, with their places in mm from the corner of the trimmed sheet."""
    with pikepdf.open(io.BytesIO(sheets)) as file:
        corners = [(float(leaf.trimbox[0]) * MM, float(leaf.trimbox[1]) * MM) for leaf in file.pages]
    return [list(_marks(side, corner)) for side, corner in zip(sides_of(sheets), corners, strict=True)]


def _marks(side: Sheet, corner: tuple[float, float]) -> Iterator[Mark]:
    places = {}
    for run in side.runs:
        x, y = run.letters[0].origin
        places["".join(run.text.split())] = (x * MM - corner[0], y * MM - corner[1])
    for name, head in places.items():
        if name.startswith("h"):
            yield Mark(int(name[1:]), head, places[f"f{name[1:]}"])


def numbers(marks: Sequence[Mark | None]) -> list[int]:
    """Page numbers as they are seen; every page that is not blank must stand upright."""
    assert all(mark.upright for mark in marks if mark)
    return [mark.number if mark else 0 for mark in marks]


def expected(count: int, pages_there: int) -> list[int]:
    """Blank pages stand before the last page; a lone page is the front."""
    ahead = list(range(1, count)) if count > 1 else [1]
    last = [count] if count > 1 else []
    return ahead + [0] * (pages_there - len(ahead) - len(last)) + last


def stitched(sides: Sequence[Sequence[Mark]]) -> list[Mark | None]:
    """Sheets printed on both sides, turned on the short edge, collated, folded once and leafed through."""
    width, height = TRIMS["booklet"]
    stack = []
    for front, back in zip(sides[::2], sides[1::2], strict=True):
        # The outermost sheet lies lowest, its front to the table; the next one on top of it.
        stack += turned([printed(front, back, 0, (width, height))], 0, width / 2)
    return leafed(folded(stack, 0, width / 2, beyond=False), width / 2)


@pytest.mark.parametrize("count", range(1, 65))
def test_a_stitched_booklet_reads_in_order_and_upright(count: int) -> None:
    seen = stitched(read(impose(document(count, A5), "booklet")))
    assert len(seen) == 4 * -(-count // 4)
    assert numbers(seen) == expected(count, len(seen))


@pytest.mark.parametrize("count", range(1, 9))
def test_a_sheet_folded_twice_opens_to_a_pair_and_then_to_four_panels(count: int) -> None:
    width, height = TRIMS["folded"]
    outer, inner = read(impose(document(count, A6), "folded"))
    # Printed with its outer side first, turned on the long edge; then it lies inner side up.
    sheet = turned([printed(outer, inner, 0, (width, height))], 0, width / 2)
    panels = sorted(sheet[0].upper, key=lambda mark: (-round(mark.foot[1]), mark.foot[0]))
    half = folded(sheet, 1, height / 2, beyond=True)
    leaves = folded(half, 0, width / 2, beyond=False)
    assert len(leaves) == 4
    cover, hidden, also_hidden, left, right, *_, back = leafed(leaves, width / 2)
    del hidden, also_hidden
    order = expected(count, 8)
    assert numbers([cover, left, right, back]) == [order[0], order[1], order[6], order[7]]
    assert numbers(panels) == [number for number in order[2:6] if number]


def test_a_slit_sheet_becomes_a_booklet_of_eight_pages() -> None:
    width, height = TRIMS["slit"]
    (face,) = read(impose(document(8, A7), "slit"))
    # Folded lengthwise with the print outside: the upper row goes behind the lower one.
    lying = turned([printed(face, (), 0, (width, height))], 0, width / 2)
    front, behind = reversed(turned(folded(lying, 1, height / 2, beyond=True), 0, width / 2))
    seen_in_front = sorted(front.upper, key=lambda mark: mark.foot[0])
    seen_behind = sorted(behind.over(0, width / 2).upper, key=lambda mark: -mark.foot[0])
    before, after = numbers(seen_in_front), numbers(seen_behind)
    # Pushed together, the slit opens: in front the two middle columns close on themselves to a leaf, behind
    # too; the outer columns stay as they are. So four leaves stand round one line, and each has two pages.
    leaves = [
        (after[0], before[0]),
        (before[1], before[2]),
        (before[3], after[3]),
        (after[2], after[1]),
    ]
    assert [number for leaf in leaves for number in leaf] == list(range(1, 9))


def test_every_way_to_fold_has_been_folded_here() -> None:
    assert set(folds()) == set(SCHEMES)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_sheets_are_raw_ones_with_a_trimmed_sheet_in_the_middle_and_bleed_round_it(scheme: str) -> None:
    width, height = TRIMS[scheme]
    raw = (SRA4[1], SRA4[0]) if width > height else SRA4
    with pikepdf.open(io.BytesIO(impose(document(8, SCHEMES[scheme]), scheme))) as file:
        assert len(file.pages) == {"booklet": 4, "folded": 2, "slit": 1}[scheme]
        for leaf in file.pages:
            media, trim, bleed = (
                [float(side) * MM for side in box] for box in (leaf.mediabox, leaf.trimbox, leaf.bleedbox)
            )
            assert media == pytest.approx([0, 0, *raw], abs=0.1)
            across, up = (raw[0] - width) / 2, (raw[1] - height) / 2
            assert trim == pytest.approx([across, up, across + width, up + height], abs=0.1)
            assert bleed == pytest.approx([across - 3, up - 3, across + width + 3, up + height + 3], abs=0.1)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_pages_keep_their_size_and_lie_side_by_side_within_the_trimmed_sheet(scheme: str) -> None:
    (width, height), (wide, high) = TRIMS[scheme], SCHEMES[scheme]
    for size, paths in pages(impose(document(8, SCHEMES[scheme]), scheme)):
        across, up = (size[0] - width) / 2, (size[1] - height) / 2
        frames = [
            path.box for path in paths if path.box[2] - path.box[0] > 50 and path.box[3] - path.box[1] > 50
        ]
        assert len(frames) == (width * height) // (wide * high)
        for left, top, right, bottom in frames:
            assert (right - left, bottom - top) == pytest.approx((wide, high), abs=0.01)
            assert left > across - 0.01
            assert right < across + width + 0.01
            assert top > up - 0.01
            assert bottom < up + height + 0.01
        for one in frames:
            for two in frames:
                apart = one[2] < two[0] + 0.01 or one[3] < two[1] + 0.01
                assert one == two or apart or two[2] < one[0] + 0.01 or two[3] < one[1] + 0.01


@pytest.mark.parametrize("scheme", SCHEMES)
def test_marks_stand_outside_the_bleed_on_the_lines_of_cut_and_fold(scheme: str) -> None:
    width, height = TRIMS[scheme]
    wide, high = SCHEMES[scheme]
    columns, rows = round(width / wide), round(height / high)
    for size, paths in pages(impose(document(8, SCHEMES[scheme]), scheme)):
        across, up = (size[0] - width) / 2, (size[1] - height) / 2
        marks = [
            path
            for path in paths
            if path.width and len(path.points) == 2 and _outside(path.box, size, TRIMS[scheme])
        ]
        for path in marks:
            left, top, right, bottom = path.box
            assert right - left + bottom - top == pytest.approx(4, abs=0.01)
            beyond = max(across - right, left - across - width, up - bottom, top - up - height)
            assert beyond == pytest.approx(3, abs=0.01), "a mark reaches into the bleed"
        crops = [path for path in marks if not path.dash]
        dashed = [path for path in marks if path.dash]
        assert len(crops) == 8
        assert {round(path.box[0] - across, 1) for path in crops if _stands(path.box)} == {0, width}
        assert {round(path.box[1] - up, 1) for path in crops if not _stands(path.box)} == {0, height}
        stands = sorted({round(path.box[0] - across, 2) for path in dashed if _stands(path.box)})
        lies = sorted({round(path.box[1] - up, 2) for path in dashed if not _stands(path.box)})
        assert stands == pytest.approx([width * n / columns for n in range(1, columns)], abs=0.1)
        assert lies == pytest.approx([height * n / rows for n in range(1, rows)], abs=0.1)
        assert len(dashed) == 2 * (len(stands) + len(lies))


def test_the_slit_is_drawn_under_the_two_middle_columns_alone() -> None:
    ((size, paths),) = pages(impose(document(8, A7), "slit"))
    long = [
        path.box for path in paths if path.width and len(path.points) == 2 and path.box[2] - path.box[0] > 10
    ]
    assert long == [
        pytest.approx((size[0] / 2 - 297 / 4, size[1] / 2, size[0] / 2 + 297 / 4, size[1] / 2), abs=0.1)
    ]


def test_print_sheets_say_what_they_are_and_how_to_print_them() -> None:
    for scheme, edge in (("booklet", "/DuplexFlipShortEdge"), ("folded", "/DuplexFlipLongEdge")):
        with pikepdf.open(io.BytesIO(impose(document(8, SCHEMES[scheme]), scheme))) as file:
            assert "not for reading" in str(file.docinfo["/Title"])
            assert "Small pages" in str(file.docinfo["/Title"])
            assert file.Root.ViewerPreferences.Duplex == edge
            assert file.Root.ViewerPreferences.PrintScaling == "/None"
            assert "/StructTreeRoot" not in file.Root
            assert "/MarkInfo" not in file.Root
    with pikepdf.open(
        io.BytesIO(impose(document(8, A5), "booklet", title="Inserts for the printer"))
    ) as file:
        assert str(file.docinfo["/Title"]) == "Inserts for the printer"


def test_the_same_document_gives_the_same_print_sheets() -> None:
    assert impose(document(12, A5), "booklet") == impose(document(12, A5), "booklet")


def test_a_page_of_the_document_engine_looks_the_same_on_the_print_sheet() -> None:
    small = html_page("<h1>Pier drum</h1><p>Roll the seam, then tuck.</p>", "@page { size: A5; margin: 9mm }")
    pdf = render(small)
    ours = paint(pdf, 0)
    sheet = paint(impose(pdf, "booklet"), 0)
    scale = 200 / 25.4
    corner = (round((11.5 + 148.5 + 0.25) * scale), round(7.5 * scale))
    there = sheet.crop((*corner, corner[0] + ours.width, corner[1] + ours.height))
    ink = ImageChops.invert(ours)
    assert sum(ink.histogram()[128:]) > 2000
    difference = ImageChops.difference(ours.filter(BLUR), there.filter(BLUR))
    assert sum(difference.histogram()[60:]) == 0


@pytest.mark.parametrize(
    ("count", "size", "scheme", "words"),
    [
        (8, A6, "booklet", "page 1 is 105.0 × 148.0 mm, and the fold “booklet” takes pages of 148 × 210 mm"),
        (9, A6, "folded", "the document has 9 pages, the fold “folded” takes 8"),
    ],
)
def test_what_does_not_fit_on_the_sheet_is_refused(
    count: int, size: tuple[int, int], scheme: str, words: str
) -> None:
    with pytest.raises(PressError, match=words):
        impose(document(count, size), scheme)


def test_an_unknown_fold_is_refused_with_those_that_there_are() -> None:
    with pytest.raises(UsageError, match="booklet, folded, slit"):
        impose(document(8, A5), "concertina")


def _outside(box: tuple[float, float, float, float], size: Sequence[float], trim: Sequence[float]) -> bool:
    across, up = (size[0] - trim[0]) / 2, (size[1] - trim[1]) / 2
    left, top, right, bottom = box
    return right < across or left > across + trim[0] or bottom < up or top > up + trim[1]


def _stands(box: tuple[float, float, float, float]) -> bool:
    return box[2] - box[0] < box[3] - box[1]


def paint(pdf: bytes, number: int) -> Image.Image:
    """A page in grey, 200 dots an inch."""
    file = pypdfium2.PdfDocument(pdf)
    image: Image.Image = file[number].render(scale=200 / 72, grayscale=True).to_pil()
    file.close()
    return image
