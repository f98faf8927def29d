"""What a class buys, by hand beforehand and against the values of cutting that others proved."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from generator.base.errors import InputError
from generator.lesson.buying import buying
from generator.lesson.prices import read_prices
from tests.lesson.classes import CLASS, RECIPES, class_of, roster_of

PRICES = (RECIPES / "stock" / "class.yaml").read_text(encoding="utf-8")
COSTS = CLASS + "  costs: {room: 60, tutor: 120, fee: 48}\n"


def test_panels_rings_and_cloth_of_eight(tmp_path: Path) -> None:
    items = {item.key: item for item in buying(class_of(tmp_path)).items}
    # N + ⌈N/8⌉ panels and rings of each kind.
    assert items["panel 26"].needed.value == 9
    assert items["fitter-ring 26"].needed.value == items["plain-ring 26"].needed.value == 9
    # Eight of 1015 × 240, one-way, on 1370: 1920 mm as CP-SAT proved for 1350; a twentieth over, up to 100.
    cloth = items["cloth Kelp print"]
    assert cloth.needed.exact == pytest.approx(1.92)
    assert cloth.packs.value == pytest.approx(2.1)
    assert cloth.cost.value == pytest.approx(2.1 * 14.5)
    # Nine panels of 975 on one roll of 10 m leave 10 000 − 8775.
    assert items["panel 26"].packs.value == 1
    assert items["panel 26"].left.exact == pytest.approx(1.225)
    # Tape: both rings 1921, seam 186, a tenth over each.
    tape = items["ring-tape + seam-tape"]
    assert tape.needed.exact == pytest.approx(8 * (round(1921 * 1.1, 1) + round(186 * 1.1, 1)) / 1000)
    assert tape.packs.value == 1
    assert tape.left.exact == pytest.approx(50 - 8 * (round(1921 * 1.1, 1) + round(186 * 1.1, 1)) / 1000)


def test_packs_are_rounded_up_and_what_is_over_is_left(tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").write_text(PRICES.replace("pack: 21", "pack: 3"), encoding="utf-8")
    items = {i.key: i for i in buying(class_of(tmp_path, CLASS + "  stock: ./mine.yaml\n")).items}
    label = items["label"]
    assert (label.needed.value, label.packs.value, label.left.value) == (8, 3, 1)
    assert label.cost.value == pytest.approx(3 * 3.15)


def test_a_head_costs_its_share_and_the_class_pays_for_itself_from_a_number_on(tmp_path: Path) -> None:
    bought = buying(class_of(tmp_path, COSTS))
    goods = sum(item.cost.value for item in bought.items)
    assert bought.goods.value == pytest.approx(goods)
    assert bought.head.value == pytest.approx((goods - bought.kept.value + 180) / 8, abs=0.011)
    each = (goods - bought.kept.value) / 8
    assert bought.even is not None
    even = bought.even.value
    assert even == math.ceil(180 / (48 - each))
    assert even * (48 - each) >= 180 > (even - 1) * (48 - each)


def test_a_fee_below_the_material_never_pays(tmp_path: Path) -> None:
    bought = buying(class_of(tmp_path, COSTS.replace("fee: 48", "fee: 9")))
    assert bought.fee is not None
    assert bought.even is None


def test_people_who_bring_cloth_buy_none_and_each_size_has_its_rings() -> None:
    bought = buying(roster_of(RECIPES / "pier-drum.yaml"))
    keys = {item.key: item.needed.value for item in bought.items}
    assert not any(key.startswith("cloth") for key in keys)
    assert keys["fitter-ring 25"] == 6 + 1
    assert keys["fitter-ring 35"] == 5 + 1
    # Each size with its own spare: 7 of 797 and 6 of 1112 need 12.3 m, two rolls of 10 m.
    assert 7 * 797 + 6 * 1112 > 10_000
    panels = next(item for item in bought.items if item.things == ("panel",))
    assert (panels.needed.value, panels.packs.value) == (13, 2)


def test_a_list_of_prices_is_refused_with_all_its_faults(tmp_path: Path) -> None:
    path = tmp_path / "prices.yaml"
    path.write_text(
        "prices: 1\ncurrency: EUR\nthings:\n"
        "  - {thing: label, price: £3}\n"
        "  - {thing: label, price: 3, pack: 0}\n"
        "  - {thing: panel, price: 3, pack: 2, serves: 3}\n"
        "  - {thing: glue, prise: 3}\n"
        "  - {price: 3}\n",
        encoding="utf-8",
    )
    with pytest.raises(InputError) as caught:
        read_prices(path)
    told = str(caught.value)
    for part in ("“£3” is not an amount", "“label” stands in the list twice", "“0” is out of bounds",
                 "panel is bought in two forms", "has no key “prise”", "has no thing"):  # fmt: skip
        assert part in told, part


def test_a_panel_that_no_roll_of_the_list_holds_is_refused_in_words(tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").write_text(PRICES.replace("width: 30 cm", "width: 12 cm"), encoding="utf-8")
    with pytest.raises(InputError, match="a panel of 975 × 220 mm for 26 does not come out of"):
        buying(class_of(tmp_path, CLASS + "  stock: ./mine.yaml\n"))


def test_what_has_no_price_and_what_no_measure_counts_is_told(tmp_path: Path) -> None:
    without = "\n".join(line for line in PRICES.splitlines() if "label" not in line)
    (tmp_path / "mine.yaml").write_text(without, encoding="utf-8")
    assert buying(class_of(tmp_path, CLASS + "  stock: ./mine.yaml\n")).unpriced == ("label",)
    # A braid along a tucked rim has a width and no length of its own: nobody may take it for bought.
    braided = class_of(tmp_path, "braid: {width: 12 mm}\n" + CLASS.replace("4 h", "9 h"))
    assert "braid" in buying(braided).unpriced
