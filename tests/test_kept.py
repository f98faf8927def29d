"""Nothing is made twice: what is kept is put into its place again, the same to the byte, and only that."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.base.edition import NO_WISHES, Voice, Wishes
from generator.base.errors import RimfoldError
from generator.build import Made, make_all
from generator.examine import examine
from generator.jobs import Job, jobs_for
from generator.making import key, parts_of, together
from generator.record.verify import verify
from tests.record.quick import RECIPE, quick_recipe

KINDS = ("step-sheet",)


def jobs(recipe: Path) -> tuple[Job, ...]:
    works = examine(recipe).works
    return jobs_for(works, works, KINDS).jobs


def told(recipe: Path, out: Path) -> dict[str, Made]:
    found = {}
    for job, made in make_all(jobs(recipe), out):
        assert not isinstance(made, RimfoldError), made
        found[job.works[0].size.name] = made
    return found


def files(out: Path, size: str) -> dict[str, bytes]:
    home = out / "quick" / size
    return {str(path.relative_to(home)): path.read_bytes() for path in home.rglob("*") if path.is_file()}


@pytest.fixture(scope="module")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a recipe that was made, both sizes."""
    folder = tmp_path_factory.mktemp("kept")
    first = told(quick_recipe(folder / "recipes"), folder / "out")
    assert {size: made.anew for size, made in first.items()} == {"20": 2, "25": 2}
    return folder


def test_an_unchanged_recipe_is_not_made_again(made_once: Path) -> None:
    before = files(made_once / "out", "25")
    again = told(made_once / "recipes" / "quick.yaml", made_once / "out")
    assert [(made.anew, made.changed) for made in again.values()] == [(0, False), (0, False)]
    assert files(made_once / "out", "25") == before


def test_what_was_deleted_or_damaged_is_put_back_from_what_is_kept(made_once: Path) -> None:
    out = made_once / "out"
    before = files(out, "20")
    sheet = out / "quick" / "20" / "step-sheet.en.pdf"
    sheet.unlink()
    figure = next((out / "quick" / "20" / "figures").iterdir())
    figure.write_text("scribbled over", encoding="utf-8")
    again = told(made_once / "recipes" / "quick.yaml", out)
    assert (again["20"].anew, again["20"].changed) == (0, True)
    assert files(out, "20") == before
    (found,) = verify(out)
    assert found.good


def test_one_changed_size_makes_only_its_own_sheets_anew(made_once: Path, tmp_path: Path) -> None:
    recipe = quick_recipe(tmp_path / "recipes")
    first = {job.works[0].size.name: job for job in jobs(recipe)}
    # A line more above, and another height of the larger size.
    recipe.write_text("# a note\n" + RECIPE.replace("height: 180 mm", "height: 190 mm"), encoding="utf-8")
    second = {job.works[0].size.name: job for job in jobs(recipe)}
    same = {
        size: all(
            key(first[size], part, "here") == key(second[size], part, "here")
            for part in parts_of(first[size], NO_WISHES)
        )
        for size in first
    }
    assert same == {"20": True, "25": False}


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("title: Quick drum", "title: Quicker drum"),
        ("watts: 6", "watts: 7"),
        ("diameter: 250 mm", "diameter: 251 mm"),
        ("Gannetry Steps Workroom", "Gannetry Steps Workrooms"),
        ("outline: circle", "use: pendant\noutline: circle"),
    ],
)
def test_whatever_a_recipe_says_of_a_size_makes_it_another(tmp_path: Path, old: str, new: str) -> None:
    recipe = quick_recipe(tmp_path / "recipes")
    before = {key(job, part, "here") for job in jobs(recipe) for part in parts_of(job, NO_WISHES)}
    recipe.write_text(RECIPE.replace(old, new), encoding="utf-8")
    after = {
        key(job, part, "here")
        for job in jobs(recipe)
        if job.works[0].size.name == "25"
        for part in parts_of(job, NO_WISHES)
    }
    assert before & after == set()


def test_a_changed_technique_or_installation_makes_everything_another(tmp_path: Path) -> None:
    recipe = quick_recipe(tmp_path / "recipes")
    (job, _) = jobs(recipe)
    before = {part: key(job, part, "here") for part in parts_of(job, NO_WISHES)}
    assert {key(job, part, "elsewhere") for part in before} & set(before.values()) == set()
    way = recipe.parent / "short-way.yaml"
    way.write_text(way.read_text(encoding="utf-8") + "# a note\n", encoding="utf-8")
    (changed, _) = jobs(recipe)
    assert {key(changed, part, "here") for part in before} & set(before.values()) == set()


def test_parts_that_share_drawings_are_made_together(tmp_path: Path) -> None:
    recipe = quick_recipe(tmp_path / "recipes")
    work = examine(recipe).works[0]
    job = Job((work,), ("step-sheet", "work-plan", "crib-sheet", "pattern"))
    groups = together(parts_of(job, Wishes(languages=("en", "de"))))
    assert [[part.kind for part in group] for group in groups] == [
        ["step-sheet", "work-plan", ""], ["crib-sheet"], ["pattern"],
    ] * 2  # fmt: skip
    assert {part.edition.voice for group in groups for part in group} == {Voice("en"), Voice("de")}
