"""A lesson on the screen, and its apps, worked as a reader works them."""

import re
import time
from dataclasses import dataclass

from playwright.sync_api import Locator, Page, expect

from labkit.geometry.length import Length, length

SECONDS = 60_000
DRAWING = "stage => stage.querySelector('svg').outerHTML.replace(/href=\"data:[^\"]*\"/g, '')"
PICTURE = '[id$="-picture"]'


class Lesson:
    """A notebook in JupyterLab with every cell run. ``errors`` is what the browser complained of."""

    def __init__(self, page: Page, url: str, name: str):
        self.page, self.name, self.errors = page, name, []
        page.on("console", self._hear)
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        page.goto(f"{url}/doc/workspaces/{name}/tree/{name}.ipynb")
        expect(page.get_by_text("Python 3 (ipykernel) | Idle")).to_be_visible(timeout=SECONDS)
        self._menu("Run", "Run All Cells")
        expect(self._prompts(re.compile(r"\[(\*| )\]"))).to_have_count(0, timeout=SECONDS)
        self.apps = [App(self, each) for each in page.locator(".labkit-app").all()]

    def app(self, code: str) -> "App":
        """The app that the cell with this code shows."""
        cell = self.page.locator(".jp-CodeCell").filter(
            has=self.page.locator(".jp-InputArea", has_text=re.compile(rf"\b{re.escape(code)}\s*$"))
        )
        return App(self, cell.locator(".labkit-app").first)

    def output(self, number: int) -> Locator:
        """What that code cell shows, counted from nought."""
        cell = self.page.locator(".jp-CodeCell").nth(number)
        cell.evaluate("cell => cell.scrollIntoView({block: 'start'})")
        return cell.locator(".jp-Cell-outputArea")

    def settled(self, number: int, look: str, most: float, patience: float = 20):
        """What ``look`` says of a cell's output, its height and faults, once it is drawn."""
        deadline = time.monotonic() + patience
        while True:
            seen = self.output(number).evaluate(look)
            if (seen and seen[0] <= most and not seen[1]) or time.monotonic() > deadline:
                return seen
            self.page.wait_for_timeout(100)

    @property
    def line(self) -> "App":
        """The line at its top."""
        return App(self, self.page.locator(".labkit-app:has(.labkit-settings)").first)

    def call_me(self, name: str) -> None:
        """Type the reader's name into the line at the top."""
        field = self.line.show().menu("your name")
        field.fill(name)
        field.press("Tab")

    def large(self, on: bool) -> None:
        """Large type, or not, for all apps."""
        switch = self.line.show().button("Large type")
        if (switch.get_attribute("aria-pressed") == "true") != on:
            switch.click()
        other = ".labkit-app:not(.labkit-large)" if on else ".labkit-app.labkit-large"
        expect(self.page.locator(other)).to_have_count(0)

    def theme(self, name: str) -> None:
        """Choose one of JupyterLab's themes."""
        self._menu("Settings", "Theme", name)
        light = "true" if "Light" in name else "false"
        expect(self.page.locator(f'body[data-jp-theme-light="{light}"]')).to_be_attached()

    def restart(self) -> None:
        """Restart the kernel, and run nothing. It is there again when this ends."""
        self._menu("Kernel", "Restart Kernel…")
        self.page.locator(".jp-Dialog .jp-mod-accept").click()
        restarting = self.page.get_by_text(re.compile(r"\| (Restarting|Unknown|Connecting)"))
        expect(restarting.first).to_be_visible()
        expect(self.page.get_by_text("Python 3 (ipykernel) | Idle")).to_be_visible(timeout=SECONDS)

    def resize(self, width: int, height: int) -> None:
        """Make the window so large."""
        self.page.set_viewport_size({"width": width, "height": height})

    def _prompts(self, text) -> Locator:
        return self.page.locator(".jp-CodeCell .jp-InputPrompt", has_text=text)

    def _menu(self, bar: str, *items: str) -> None:
        self.page.locator(".lm-MenuBar-itemLabel").get_by_text(bar, exact=True).click()
        for item in items:
            self.page.locator(".lm-Menu-itemLabel").get_by_text(item, exact=True).click()

    def _hear(self, message) -> None:
        if message.type == "error":
            self.errors.append(f"{message.text} ({message.location['url']})")


@dataclass(frozen=True)
class App:
    """One app of a lesson."""

    lesson: Lesson
    root: Locator

    def show(self) -> "App":
        """Bring it to the top of the window."""
        self.root.evaluate("app => app.scrollIntoView({block: 'start'})")
        return self

    @property
    def stage(self) -> Locator:
        """The sheet that takes the focus."""
        return self.root.locator(".labkit-stage").first

    @property
    def drawing(self) -> str:
        """The drawing's SVG, without the photo's bytes."""
        return self.stage.evaluate(DRAWING)

    def redrawn_since(self, drawing: str, patience: float = 5) -> bool:
        """Whether the drawing is another one, or becomes one within so many seconds."""
        deadline = time.monotonic() + patience
        while self.drawing == drawing and time.monotonic() < deadline:
            self.root.page.wait_for_timeout(50)
        return self.drawing != drawing

    @property
    def readings(self) -> dict[str, str]:
        """What is read off, by its label."""
        rows = self.root.locator(".labkit-readings > div").all()
        return dict(
            row.evaluate("row => [...row.children].map(e => e.textContent)") for row in rows
        )

    def reading(self, label: str) -> Locator:
        """One figure."""
        row = self.root.locator(".labkit-readings > div").filter(
            has=self.root.page.locator("span").get_by_text(label, exact=True)
        )
        return row.locator("b")

    def measure(self, label: str) -> Length:
        """One figure, as a length."""
        return length(self.reading(label).text_content().split(" (")[0])

    @property
    def message(self) -> Locator:
        """What is said below the app."""
        return self.root.locator(".labkit-message").last

    def accessible(self, role: str) -> list[dict[str, str]]:
        """Every node of that role as a screen reader is told of it: name, value and properties."""
        page = self.root.page
        talk = page.context.new_cdp_session(page)
        mark = f"app-{id(self)}"
        self.root.evaluate("(app, mark) => { app.dataset.mark = mark }", mark)
        found = talk.send(
            "Runtime.evaluate", {"expression": f"document.querySelector('[data-mark=\"{mark}\"]')"}
        )
        query = {"objectId": found["result"]["objectId"], "role": role}
        nodes = talk.send("Accessibility.queryAXTree", query)["nodes"]
        talk.detach()
        return [_told(node) for node in nodes if not node.get("ignored")]

    def sliders(self) -> dict[str, "Slider"]:
        """Every slider, by its label."""
        rows = self.root.locator(".labkit-slider:visible").all()
        return {row.locator("label").first.text_content(): Slider(row) for row in rows}

    def slider(self, label: str) -> "Slider":
        """One slider."""
        return self.sliders()[label]

    def menu(self, label: str) -> Locator:
        """A menu, or a box to type in."""
        return self.root.get_by_label(label, exact=True).first

    def button(self, name: str) -> Locator:
        """A button."""
        return self.root.get_by_role("button", name=name, exact=True).first

    def press(self, name: str) -> None:
        """Press a button by the keyboard."""
        self.button(name).focus()
        self.root.page.keyboard.press("Enter")

    def inch(self) -> float:
        """How many pixels of the screen an inch of the sheet takes."""
        return self.stage.evaluate(
            "stage => { const svg = stage.querySelector('svg'); return svg.dataset.unitScale"
            " * svg.getScreenCTM().a }"
        )

    def picture(self) -> dict:
        """The picture's box on the screen."""
        return self.stage.locator(f"{PICTURE} > rect").first.bounding_box()


def _told(node: dict) -> dict[str, str]:
    told = {each["name"]: str(each["value"].get("value", "")) for each in node["properties"]}
    for part in ("name", "value"):
        told[part] = str(node.get(part, {}).get("value", ""))
    return told


@dataclass(frozen=True)
class Slider:
    """One slider and the figure beside it."""

    row: Locator

    @property
    def handle(self) -> Locator:
        """What takes the focus."""
        return self.row.locator(".noUi-handle")

    @property
    def told(self) -> Locator:
        """The figure."""
        return self.row.locator("> .widget-label")

    def press(self, key: str, times: int = 1) -> None:
        """Press a key on it."""
        self.handle.focus()
        for _ in range(times):
            self.row.page.keyboard.press(key)

    def step_up(self, steps: int) -> None:
        """So many steps upwards, five at a time as far as that goes."""
        self.press("PageUp", steps // 5)
        self.press("ArrowRight", steps % 5)
