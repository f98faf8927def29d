"""Only the browser that was opened with the secret is answered; only what the page itself sends is done."""

from __future__ import annotations

import http.client
import socket
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from tests.page.served import Served, serve

RECIPE = "net-loft.yaml"
CHANGING = (
    "/new", "/sample/net-loft.yaml", "/language", f"/shade/{RECIPE}/try", f"/shade/{RECIPE}/change",
    f"/shade/{RECIPE}/do", f"/shade/{RECIPE}/what-if", f"/shade/{RECIPE}/print",
)  # fmt: skip


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serve(tmp_path_factory.mktemp("guarded") / "shades", "net-loft") as page:
        yield page


def files(served: Served) -> Mapping[str, bytes]:
    return {str(path): path.read_bytes() for path in sorted(served.folder.rglob("*")) if path.is_file()}


def test_the_page_answers_its_own_browser(served: Served) -> None:
    assert served.ask("GET", "/").status == 200
    assert served.ask("GET", f"/shade/{RECIPE}").status == 200


def test_it_listens_on_this_machine_alone(served: Served) -> None:
    table = Path("/proc/net/tcp").read_text(encoding="ascii").splitlines()[1:]
    listening = [line.split()[1] for line in table if line.split()[3] == "0A"]
    assert f"0100007F:{served.port:04X}" in listening
    assert f"00000000:{served.port:04X}" not in listening
    with socket.socket(socket.AF_INET6) as other, pytest.raises(OSError, match=r"refused|unreachable|assign"):
        other.connect(("::1", served.port))


@pytest.mark.parametrize("cookie", [None, "", "rimfold=x", "rimfold-0=x"])
def test_without_the_secret_nothing_is_shown(served: Served, cookie: str | None) -> None:
    for path in ("/", f"/shade/{RECIPE}", "/static/page.css"):
        answer = served.ask("GET", path, headers={"Cookie": cookie})
        assert answer.status == 403
        assert "Net loft" not in answer.text


@pytest.mark.parametrize("key", ["", "wrong", "x" * 5000])
def test_a_wrong_secret_opens_nothing(served: Served, key: str) -> None:
    answer = served.ask("GET", f"/enter?key={key}", headers={"Cookie": None})
    assert answer.status == 403
    assert "set-cookie" not in answer.headers


def test_the_cookie_is_for_this_page_alone_and_no_script_reads_it(served: Served) -> None:
    answer = served.ask("GET", f"/enter?key={served.key}", headers={"Cookie": None})
    said = answer.headers["set-cookie"].lower()
    assert "httponly" in said
    assert "samesite=strict" in said
    assert f"rimfold-{served.port}=" in said


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "localhost:1", "127.0.0.1.evil.example", None])
def test_a_name_elsewhere_that_points_here_is_refused(served: Served, host: str | None) -> None:
    assert served.ask("GET", "/", headers={"Host": host}).status in (400, 421)


@pytest.mark.parametrize(
    "origin", [None, "null", "http://evil.example", "http://127.0.0.1:1", "https://127.0.0.1"]
)
@pytest.mark.parametrize("path", CHANGING)
def test_a_form_of_another_page_changes_nothing(served: Served, path: str, origin: str | None) -> None:
    before = files(served)
    assert served.ask("POST", path, {"title": "Forged", "do": "add-size"}, {"Origin": origin}).status == 403
    assert files(served) == before


@pytest.mark.parametrize("path", CHANGING)
def test_reading_changes_nothing(served: Served, path: str) -> None:
    before = files(served)
    assert served.ask("GET", path).status in (200, 404, 405)
    assert files(served) == before


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_there_are_no_other_ways_of_asking(served: Served, method: str) -> None:
    assert served.ask(method, f"/shade/{RECIPE}").status == 405


@pytest.mark.parametrize(
    "name",
    ["../secret.yaml", "..%2Fsecret.yaml", "%2e%2e%2fsecret.yaml",
     "/etc/passwd", "%2Fetc%2Fpasswd", "link.yaml",
     "..", ".hidden.yaml", "net-loft.yaml%00.yaml", "out/x.yaml", "C:%5Cx.yaml", "a" * 300 + ".yaml"],
)  # fmt: skip
def test_no_name_leads_out_of_the_folder(served: Served, name: str) -> None:
    secret = served.folder.parent / "secret.yaml"
    secret.write_text("rimfold: 1\ntitle: Secret shade\n", encoding="utf-8")
    link = served.folder / "link.yaml"
    if not link.is_symlink():
        link.symlink_to(secret)
    for path in (f"/shade/{name}", f"/shade/{name}/steps", f"/static/{name}", f"/print/{name}"):
        answer = served.ask("GET", path)
        assert answer.status in (400, 404), path
        assert "Secret shade" not in answer.text
    assert "Secret shade" not in served.ask("GET", "/").text
    link.unlink()


def test_a_giant_form_is_refused_before_it_is_read(served: Served) -> None:
    answer = served.ask("POST", f"/shade/{RECIPE}/do", headers={"Content-Length": str(10**12)})
    assert answer.status == 413


def test_a_form_that_does_not_say_how_long_it_is_is_stopped_on_the_way(served: Served) -> None:
    connection = http.client.HTTPConnection("127.0.0.1", served.port, timeout=60)
    head = {
        "Cookie": served.cookie, "Origin": served.origin, "Content-Type": "application/x-www-form-urlencoded",
    }  # fmt: skip

    def endless() -> Iterator[bytes]:
        for _ in range(64):
            yield b"text=" + b"x" * 65536

    try:
        connection.request("POST", f"/shade/{RECIPE}/do", endless(), head, encode_chunked=True)
        status = connection.getresponse().status
    except (BrokenPipeError, ConnectionResetError):
        status = 413
    assert status == 413
    assert served.ask("GET", "/").status == 200


def test_a_giant_field_is_refused_in_words(served: Served) -> None:
    before = files(served)
    fields = {"do": "text", "base": served.base(RECIPE), "text": "x" * 600_000}
    answer = served.ask("POST", f"/shade/{RECIPE}/do", fields)
    assert answer.status in (400, 413, 422)
    assert "Traceback" not in answer.text
    assert files(served) == before


@pytest.mark.parametrize("path", ["/", f"/shade/{RECIPE}", "/static/page.css", "/nowhere"])
def test_nothing_is_loaded_from_elsewhere_and_no_script_or_style_stands_in_a_page(
    served: Served, path: str
) -> None:
    answer = served.ask("GET", path)
    policy = answer.headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "://" not in policy
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["cross-origin-resource-policy"] == "same-origin"
    if answer.headers["content-type"].startswith("text/html"):
        assert "<style" not in answer.text
        assert " style=" not in answer.text
        assert " onclick" not in answer.text
        for tag in answer.text.split("<script")[1:]:
            assert tag.startswith(' src="/static/')


def test_two_windows_on_one_recipe_do_not_overwrite_each_other(served: Served) -> None:
    path, height = f"/shade/{RECIPE}/change", "v/sizes/35x20/height"
    base = served.base(RECIPE)
    unit = {"u/sizes/35x20/height": "mm", "size": "35x20"}
    first = served.ask("POST", path, {"base": base, height: "230", **unit})
    assert "Saved." in first.text
    kept = (served.folder / RECIPE).read_text(encoding="utf-8")
    assert "height: 230 mm" in kept
    second = served.ask("POST", path, {"base": base, height: "250", **unit})
    assert "The file has changed on the disk" in second.text
    assert (served.folder / RECIPE).read_text(encoding="utf-8") == kept
    assert served.ask("POST", f"/shade/{RECIPE}/do", {"base": base, "do": "add-size"}).status == 409
    assert (served.folder / RECIPE).read_text(encoding="utf-8") == kept
    forced = served.ask("POST", f"/shade/{RECIPE}/do", {"base": base, "do": "keep", height: "250", **unit})
    assert forced.status == 303
    assert "height: 250 mm" in (served.folder / RECIPE).read_text(encoding="utf-8")


def test_a_title_with_markup_is_text(served: Served) -> None:
    fields = {"base": served.base(RECIPE), "v/title": "<script>alert(1)</script> & 'x'"}
    assert "Saved." in served.ask("POST", f"/shade/{RECIPE}/change", fields).text
    for path in ("/", f"/shade/{RECIPE}", f"/shade/{RECIPE}/print"):
        assert "<script>alert" not in served.ask("GET", path).text
    served.ask("POST", f"/shade/{RECIPE}/do", {"base": served.base(RECIPE), "do": "undo"})
