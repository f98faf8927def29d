"""What a recipe says of kits, as later rooms get it: values, places, and what the house says besides."""

from __future__ import annotations

from pathlib import Path

from generator.recipe.kits import Limits
from tests.recipe.reading import LAMP, PLAIN, ROOT, read_file, read_size, read_text

KITS = """\
kits:
  count: {25: 12}
  lot: PD-03
  link: https://my-workroom.example/drum
  edition: "2"
  spares: {seam-tape: 1, panel: 3}
  cautions:
    - Keep the bag away from small children.
    - Mind the wire's ends.
"""


def test_values_stand_as_they_are_written(tmp_path: Path) -> None:
    size = read_size(tmp_path, PLAIN + LAMP + KITS)
    assert size.kits is not None
    assert size.boxes == 12
    assert (size.kits.lot, size.kits.edition) == ("PD-03", "2")
    assert size.kits.link == "https://my-workroom.example/drum"
    assert size.kits.spares == {"seam-tape": 1, "panel": 3}
    assert size.kits.cautions == ("Keep the bag away from small children.", "Mind the wire's ends.")


def test_what_kits_do_not_say_the_house_says(tmp_path: Path) -> None:
    size = read_size(tmp_path, PLAIN + LAMP + KITS + "  overlap: {most: 2 cm}\n")
    assert size.kits is not None
    assert (size.kits.parts, size.kits.format) == ("kit", "booklet")
    assert size.kits.overlap == size.limits == Limits(least=10.0, most=20.0)


def test_without_kits_there_are_none_but_a_supplied_panel_has_its_limits(tmp_path: Path) -> None:
    recipe = read_text(tmp_path, PLAIN + LAMP)
    (size,) = recipe.sizes
    assert recipe.kits is None
    assert size.kits is None
    assert size.boxes == 0
    assert size.limits == Limits(least=10.0, most=15.0)


def test_every_value_has_its_place(tmp_path: Path) -> None:
    text = PLAIN + LAMP + KITS
    size = read_size(tmp_path, text)
    lines = text.splitlines()
    for key, sign in {
        "kits": "kits:",
        "kits.count.25": "12}",
        "kits.lot": "PD-03",
        "kits.link": "https://",
        "kits.spares.panel": "3}",
        "kits.cautions.1": "Mind",
    }.items():
        span = size.span(key)
        line = next(n for n, line in enumerate(lines, 1) if n >= 7 and sign in line)
        assert (span.line, span.column) == (line, lines[line - 1].index(sign) + 1), key
    # What only the house says has the place of the section.
    assert size.span("kits.parts") == size.span("kits")


def test_a_maker_has_an_address_and_ways_to_be_reached(tmp_path: Path) -> None:
    maker = read_size(
        tmp_path,
        PLAIN + LAMP + "maker: {name: W, address: Quay 1, phone: 00 1, email: a@b.example, web: b.example}\n",
    ).maker
    assert maker is not None
    assert (maker.address, maker.phone, maker.email, maker.web) == (
        "Quay 1",
        "00 1",
        "a@b.example",
        "b.example",
    )


def test_the_sample_packs_what_its_workroom_sells() -> None:
    recipe = read_file(ROOT / "recipes" / "pier-drum.yaml")
    assert {size.name: size.boxes for size in recipe.sizes} == {"25": 12, "35": 12, "45": 0}
    assert recipe.kits is not None
    assert recipe.kits.lot == "PD-03"
