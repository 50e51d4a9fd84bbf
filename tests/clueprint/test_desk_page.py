"""The page of `clueprint desk` in a browser: what a person sees and does, by keyboard and mouse, on large and small
screens. Skipped where there is no Chromium."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
import uvicorn

from clueprint.commands.desk import listening_at
from clueprint.desk.server import Desk, application
from clueprint.desk.shelf import Shelf
from schema.cells import Cell
from schema.files import load_puzzle, save_puzzle
from schema.kinds.thermometer import Thermometer
from schema.reading import Alternative, Item, Query, load_reading, save_reading
from tests.clueprint.desk_asking import NAME, PUZZLE

CHROMIUM = shutil.which("chromium")
playwright = pytest.importorskip("playwright.sync_api")
expect = playwright.expect
pytestmark = [
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine"),
    pytest.mark.slow,
    # Playwright leaves its own event loop and pipes to the garbage collector.
    pytest.mark.filterwarnings("ignore::ResourceWarning", "ignore::pytest.PytestUnraisableExceptionWarning"),
]
SLOW = 60_000
"""Milliseconds: many share this machine."""


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """A desk for this folder in this process, and its address; the command itself is tested in test_desk.py."""
    work, socket = Desk(Shelf(folder, ())), listening_at(0)
    server = uvicorn.Server(uvicorn.Config(application(work, "token"), log_level="critical", access_log=False))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [socket]})
    with socket:
        thread.start()
        yield f"http://127.0.0.1:{socket.getsockname()[1]}/token/"
        server.should_exit = server.force_exit = True
        thread.join()
    work.close()


@pytest.fixture(scope="module")
def browser():
    with playwright.sync_playwright() as driver:
        chromium = driver.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield chromium
        chromium.close()


@pytest.fixture
def folder(read_once, tmp_path):
    """A reading with three queries: a digit that may be another, a thermometer, a place."""
    shutil.copytree(read_once, tmp_path, dirs_exist_ok=True)
    into = tmp_path / "read"
    puzzle, reading = load_puzzle(into / PUZZLE), load_reading(into / NAME)
    tube = Thermometer(path=(Cell.parse("r4c1"), Cell.parse("r4c2")))
    changed = {name: getattr(puzzle, name) for name in type(puzzle).model_fields}
    save_puzzle(type(puzzle)(**{**changed, "constraints": (*puzzle.constraints, tube)}), into / PUZZLE)
    pointer = f"/constraints/{len(puzzle.constraints)}"
    items = [_doubtful(item) if item.item == "/givens/r1c1" else item for item in reading.items]
    items.append(Item(item=pointer, where=reading.corners, confidence=0.7, how="shape"))
    queries = (
        Query(item="/givens/r1c1", why="it was hard to read"),
        Query(item=pointer, why="its end is not clear"),
        Query(where=items[2].where, why="there is ink here"),
    )
    update = {"items": tuple(items), "queries": queries, "verdict": "query"}
    save_reading(reading.model_copy(update=update), into / NAME)
    return into


def _doubtful(item: Item) -> Item:
    return item.model_copy(update={"confidence": 0.6, "alternatives": (Alternative(value=4, confidence=0.4),)})


@pytest.fixture
def desk(browser, folder):
    """The page of the puzzle, opened from the list; what it asked for and what went wrong in it are kept."""
    with served(folder) as address:
        context = browser.new_context(viewport={"width": 1280, "height": 800})
        context.set_default_timeout(SLOW)
        shown = context.new_page()
        shown.asked, shown.faults = [], []
        shown.on("request", lambda request: shown.asked.append(request.url))
        shown.on("pageerror", lambda fault: shown.faults.append(str(fault)))
        shown.goto(address)
        shown.click("#puzzles a")
        shown.wait_for_selector("#drawing svg")
        shown.wait_for_selector("#proof:not([data-outcome=working])")
        yield shown
        assert shown.faults == []
        assert all(url.startswith(address) for url in shown.asked)
        context.close()


def queries(desk) -> list[str]:
    return desk.locator("#queries button").all_inner_texts()


def waiting(desk, count: int) -> None:
    """Wait until so many queries are left."""
    expect(desk.locator("#queries button")).to_have_count(count, timeout=SLOW)


def settled(desk) -> str:
    """What the checker says of the puzzle as it is now."""
    desk.wait_for_selector("#proof:not([data-outcome=working])")
    return desk.locator("#proof").get_attribute("data-outcome")


def test_an_empty_list_says_what_fills_it(browser, tmp_path):
    with served(tmp_path) as address:
        shown = browser.new_page()
        shown.goto(address)
        expect(shown.locator("#count")).to_contain_text("0 puzzles to look at", timeout=SLOW)
        expect(shown.locator("#count")).to_contain_text("choose “all”")
        shown.select_option("#filter select", "")
        expect(shown.locator("#count")).to_contain_text("clueprint read", timeout=SLOW)
        shown.close()


def test_queries_are_answered_by_keyboard_and_saved_on_request(desk, folder):
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    assert [text.rpartition(": ")[2] for text in queries(desk)] == [
        "it was hard to read", "its end is not clear", "there is ink here",
    ]  # fmt: skip
    assert "the given 1 in r1c1" in desk.inner_text("#item")
    desk.keyboard.press("a")
    waiting(desk, 2)
    assert "thermometer" in desk.inner_text("#item")
    desk.keyboard.press("n")
    desk.keyboard.press("p")
    # Faster than answers come: each is for what is shown after the one before.
    desk.keyboard.press("Delete")
    desk.keyboard.press("a")
    desk.wait_for_selector("#queries .none")
    assert settled(desk) == "one"
    assert "not saved" in desk.inner_text("#state")
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
    desk.keyboard.press("s")
    expect(desk.locator("#state")).to_have_text("clean", timeout=SLOW)
    assert load_reading(folder / NAME).verdict == "clean"
    assert not any(isinstance(c, Thermometer) for c in load_puzzle(folder / PUZZLE).constraints)
    assert (folder / f"{PUZZLE}.before").read_bytes() == before[PUZZLE]


def focused(desk) -> str:
    return desk.evaluate("(document.activeElement.closest('[id]') ?? document.body).id")


def test_the_keyboard_stays_where_it_was(desk):
    assert desk.title() == "Low Tide – Desk"
    assert focused(desk) == "heading"
    desk.locator(".digits button").last.focus()
    desk.keyboard.press("Enter")
    waiting(desk, 2)
    assert focused(desk) == "item"
    desk.locator("#queries button").last.focus()
    desk.keyboard.press("Enter")
    assert focused(desk) == "queries"
    desk.keyboard.press("a")
    waiting(desk, 1)
    assert focused(desk) == "queries"


@pytest.mark.parametrize("size", [(1280, 800), (800, 600), (390, 800)])
def test_an_item_stands_beside_its_query_however_many_there_are(desk, folder, size):
    reading = load_reading(folder / NAME)
    many = tuple(query.model_copy(update={"why": f"{query.why}, one of many"}) for query in reading.queries * 6)
    save_reading(reading.model_copy(update={"queries": many}), folder / NAME)
    desk.evaluate("fetch('api/reload/' + location.hash.slice(1), {method: 'POST'}).then(() => location.reload())")
    waiting(desk, len(many))
    desk.set_viewport_size({"width": size[0], "height": size[1]})
    settled(desk)
    for number in range(len(many)):
        desk.locator("#queries [aria-current]").scroll_into_view_if_needed()
        query = desk.locator("#queries [aria-current]").bounding_box()
        accept = desk.locator(".accept button").bounding_box()
        assert abs(query["y"] - accept["y"]) < size[1] / 2, number
        if size[0] > 640:  # a narrow page is scrolled as a whole
            assert query["y"] >= 0 and accept["y"] + accept["height"] <= size[1], number
        desk.keyboard.press("n")


def test_an_alternative_a_digit_and_undo(desk):
    desk.keyboard.press("c")
    waiting(desk, 2)
    assert desk.locator("#drawing [data-item='/givens/r1c1'] text").text_content() == "4"
    assert settled(desk) == "none"
    assert "cannot all be right" in desk.inner_text("#proof")
    desk.keyboard.press("u")
    waiting(desk, 3)
    assert desk.locator("#drawing [data-item='/givens/r1c1'] text").text_content() == "1"
    assert desk.locator("#undo").is_disabled()
    desk.click("#drawing [data-cell=r4c4]")
    desk.keyboard.press("1")
    desk.wait_for_selector("#drawing [data-item='/givens/r4c4']")
    assert desk.locator("#scan [data-item='/givens/r4c4']").count() == 1


def test_a_path_is_drawn_anew(desk):
    desk.keyboard.press("n")
    desk.keyboard.press("e")
    for cell in ("r4c1", "r3c2", "r3c3"):
        desk.click(f"#drawing [data-cell={cell}]")
    desk.keyboard.press("Enter")
    expect(desk.locator("#item h3")).to_contain_text("r3c3", timeout=SLOW)
    desk.keyboard.press("e")
    desk.keyboard.press("Escape")
    assert "r4c1, r3c2, r3c3" in desk.inner_text("#item h3")


def test_a_change_is_begun_by_its_button(desk):
    desk.keyboard.press("n")
    desk.click("#item button:has-text('Change its cells')")
    desk.click("#drawing [data-cell=r3c3]")
    desk.click("#drawing [data-cell=r3c4]")
    desk.keyboard.press("Enter")
    expect(desk.locator("#item h3")).to_contain_text("from r3c3 to r3c4", timeout=SLOW)


def test_a_path_is_drawn_by_keyboard_alone(desk):
    for key in ("n", "e", "ArrowDown", "Space", "ArrowRight", "Space", "ArrowDown", "Space", "Enter"):
        desk.keyboard.press(key)
    expect(desk.locator("#item h3")).to_contain_text("r1c1, r1c2, r2c2", timeout=SLOW)


def drag(desk, *cells: str) -> None:
    """Press on the first cell of the drawing, go over the others, let go."""
    for number, cell in enumerate(cells):
        box = desk.locator(f"#drawing [data-cell={cell}]").bounding_box()
        desk.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2, steps=4)
        if number == 0:
            desk.mouse.down()
    desk.mouse.up()


def test_a_mark_is_added_by_dragging_and_what_is_refused_stays_as_it_was_put(desk):
    desk.keyboard.press("m")
    desk.select_option("#item [name=kind]", "cage")
    drag(desk, "r4c3", "r4c4", "r3c4")
    desk.fill("#item [name=value]", "six")
    desk.keyboard.press("Enter")
    expect(desk.locator("#message")).to_contain_text("value: a whole number is needed", timeout=SLOW)
    expect(desk.locator("#item [name=cells]")).to_have_text("cells: r4c3 r4c4 r3c4")
    desk.fill("#item [name=value]", "6")
    desk.keyboard.press("Enter")
    expect(desk.locator("#item h3")).to_contain_text("cage 6", timeout=SLOW)
    assert desk.locator("#scan [data-item='/constraints/4']").count() == 1
    desk.keyboard.press("e")
    desk.click("#scan [data-cell=r3c4]")
    expect(desk.locator("#item [name=cells]")).to_have_text("cells: r4c3 r4c4", timeout=SLOW)
    desk.click("#undo")  # of what is being put together, not of what was put in
    expect(desk.locator("#item h3")).to_contain_text("r3c4", timeout=SLOW)
    desk.keyboard.press("u")
    expect(desk.locator("#drawing [data-item='/constraints/4']")).to_have_count(0, timeout=SLOW)


def test_a_clue_beside_the_grid_and_a_rule_without_a_mark_are_added(desk):
    desk.click("#add")
    desk.select_option("#item [name=kind]", "skyscraper")
    desk.click("#margin [data-beside='left 2']")
    assert desk.evaluate("document.activeElement.name") == "value"
    desk.keyboard.type("2")
    desk.keyboard.press("Enter")
    expect(desk.locator("#item h3")).to_contain_text("skyscraper clue 2 left of row 2", timeout=SLOW)
    desk.keyboard.press("m")
    desk.select_option("#item [name=kind]", "knight-apart")
    desk.keyboard.press("Enter")  # from the list of kinds to the cells
    desk.keyboard.press("Enter")
    expect(desk.locator("#everything [aria-current]")).to_contain_text("knight", timeout=SLOW)
    desk.keyboard.press("Delete")
    expect(desk.locator("#everything")).not_to_contain_text("knight", timeout=SLOW)


def test_a_pair_of_fields_and_the_boxes_by_keyboard(desk):
    desk.keyboard.press("m")
    desk.select_option("#item [name=kind]", "arrow")
    for key in ("Enter", "ArrowDown", "Space", "f", "ArrowRight", "Space", "ArrowDown", "Space", "Backspace", "Enter"):
        desk.keyboard.press(key)
    expect(desk.locator("#item h3")).to_contain_text("arrow from r1c1 to r1c2", timeout=SLOW)
    desk.evaluate("document.querySelector('#everythings').click()")
    settled(desk)
    desk.click("#everything button:has-text('boxes')")
    expect(desk.locator("#item h3")).to_contain_text("boxes", timeout=SLOW)
    desk.keyboard.press("e")
    desk.click("#drawing [data-cell=r1c3]")  # out of box 2 into box 1
    desk.keyboard.press("Enter")
    expect(desk.locator("#message")).to_contain_text("boxes: box 1 has 5 cells", timeout=SLOW)


def test_a_number_is_what_was_typed_also_where_a_proof_comes_meanwhile(desk):
    held = []
    desk.route("**/api/proof/**", lambda route: held.append(route))  # noqa: PLW0108 - it looks into what it is given
    desk.keyboard.press("Delete")
    waiting(desk, 2)
    desk.keyboard.press("m")
    desk.select_option("#item [name=kind]", "cage")
    drag(desk, "r4c3", "r4c4", "r3c4")
    desk.focus("#item [name=value]")
    desk.keyboard.type("1")
    while held:
        held.pop().continue_()
    settled(desk)
    desk.keyboard.type("2")
    desk.keyboard.press("Enter")
    expect(desk.locator("#item h3")).to_contain_text("cage 12", timeout=SLOW)
    desk.keyboard.press("v")
    desk.keyboard.type("7")  # in the stead of the 12
    desk.keyboard.press("Enter")
    expect(desk.locator("#item h3")).to_contain_text("cage 7", timeout=SLOW)
    desk.keyboard.press("v")
    desk.keyboard.type(" ")  # nothing, and not 0
    desk.keyboard.press("Enter")
    expect(desk.locator("#item h3")).not_to_contain_text("cage 7", timeout=SLOW)
    assert "cage 0" not in desk.inner_text("#item h3")


def test_a_box_that_was_emptied_does_not_keep_from_the_next(desk):
    desk.evaluate("document.querySelector('#everythings').click()")
    desk.click("#everything button:has-text('boxes')")
    for key in ("e", *["Backspace"] * 4, "f"):
        desk.keyboard.press(key)
    expect(desk.locator("#item [name='cells 1']")).to_have_text("1: empty", timeout=SLOW)
    expect(desk.locator("#item [name='cells 2']")).to_have_attribute("aria-pressed", "true", timeout=SLOW)


def test_the_puzzles_of_one_page_lead_to_one_another(desk, folder):
    for name in (NAME, PUZZLE):
        shutil.copy(folder / name, folder / name.replace("p1-1", "p1-2"))
    other = folder / NAME.replace("p1-1", "p1-2")
    other.write_text(other.read_text("utf-8").replace("p1-1.puzzle", "p1-2.puzzle"), "utf-8")
    desk.reload()
    desk.click("#page a:not([aria-current])")
    expect(desk.locator("#page [aria-current]")).to_have_text("2", timeout=SLOW)
    assert desk.locator("#scan .neighbour").count() == 1


def test_scan_and_drawing_light_up_in_step(desk):
    desk.hover("#drawing [data-item='/givens/r2c3']")
    desk.wait_for_selector("#scan [data-item='/givens/r2c3'].lit")
    desk.hover("#scan [data-item='/givens/r1c2']")
    desk.wait_for_selector("#drawing [data-item='/givens/r1c2'].lit")
    assert desk.locator("#drawing .lit").count() == 1
    natural = desk.evaluate("fetch(document.querySelector('#scan image').getAttribute('href')).then(r => r.status)")
    assert natural == 200


def test_the_outline_of_a_digit_does_not_cover_it(desk, folder):
    (where,) = (item.where for item in load_reading(folder / NAME).items if item.item == "/givens/r1c1")
    outline = desk.locator("#scan [data-item='/givens/r1c1']").get_attribute("points")
    drawn = [tuple(map(float, point.split(","))) for point in outline.split()]
    cell = (load_reading(folder / NAME).corners[1][0] - load_reading(folder / NAME).corners[0][0]) / 4
    for axis in (0, 1):
        assert min(p[axis] for p in drawn) <= min(p[axis] for p in where) - cell / 10
        assert max(p[axis] for p in drawn) >= max(p[axis] for p in where) + cell / 10


def test_somebody_else_changed_the_file(desk, folder):
    desk.keyboard.press("a")
    waiting(desk, 2)
    file = folder / NAME
    other = file.read_text("utf-8").replace("not clear", "not seen")
    file.write_text(other, "utf-8")
    desk.keyboard.press("s")
    desk.wait_for_selector("#message button")
    assert file.read_text("utf-8") == other
    desk.click("#message button")
    waiting(desk, 3)
    assert any("not seen" in text for text in queries(desk))


@pytest.mark.parametrize("size", [(1280, 800), (800, 600), (390, 800)])
def test_everything_is_in_reach_on_any_screen(desk, size):
    desk.set_viewport_size({"width": size[0], "height": size[1]})
    width = desk.evaluate("document.documentElement.scrollWidth")
    assert width <= size[0]
    for place in ("#scan svg", "#drawing svg", "#queries", "#save", ".accept button"):
        desk.locator(place).first.scroll_into_view_if_needed()
        box = desk.locator(place).first.bounding_box()
        assert box["width"] >= 30 and box["height"] >= 16
        assert box["x"] >= 0 and box["x"] + box["width"] <= size[0] + 1


def test_every_control_has_a_name_and_enough_contrast(desk):
    unnamed = desk.evaluate(
        "[...document.querySelectorAll('button, input, select, a')].filter(e => e.offsetParent &&"
        " !(e.textContent.trim() || e.getAttribute('aria-label') || e.labels?.length)).map(e => e.outerHTML)"
    )
    assert unnamed == []
    colours = (Path(__file__).parents[2] / "clueprint/desk/static/desk.css").read_text("utf-8")
    named = dict(line.strip(" ;").removeprefix("--").split(": ") for line in colours.split("\n}")[0].splitlines()[2:])
    paper = _luminance(named["paper"])
    for name in ("ink", "faint", "chosen", "lit", "asked"):
        # WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text.
        assert (paper + 0.05) / (_luminance(named[name]) + 0.05) >= 4.5, name


def _luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour, as WCAG 2.2 defines it."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
