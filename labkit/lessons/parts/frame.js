// What every app needs of the page: plain keys that are meant for it are kept from the notebook; buttons
// wait until all that was set before has arrived; a screen reader is told names, states and values; a
// message is brought into view.

// In a notebook x cuts the cell, m turns it into text, and an arrow goes to the next one. Shift + Enter
// and all that has Ctrl, Alt or the like still reach it.
function keep(event) {
  const forNotebook = event.ctrlKey || event.altKey || event.metaKey;
  if (!forNotebook && !(event.shiftKey && event.key === "Enter")) event.stopPropagation();
}

// A browser sends a changed value late where an earlier one is still under way, and a click at once: the
// click would be judged by the value before. So it waits for an echo, which comes after all of them.
function waitingForEcho(model) {
  const waiting = new Map();
  let count = 0;
  model.on("msg:custom", ({ echo }) => {
    const press = waiting.get(echo);
    waiting.delete(echo);
    press?.();
  });
  return (press) => {
    count += 1;
    waiting.set(count, press);
    model.send({ echo: count });
  };
}

// Home and End go to the ends the slider has now; its own keys go to those it began with.
function goToEnd(event) {
  const slider = event.target.closest(".noUi-target")?.noUiSlider;
  if (!slider || !["Home", "End"].includes(event.key)) return;
  const { min, max } = slider.options.range;
  slider.set([].concat(event.key === "Home" ? min : max)[0], true);
  event.preventDefault();
  event.stopPropagation();
}

function set(element, name, value) {
  if (element && element.getAttribute(name) !== value) element.setAttribute(name, value);
}

function describe(app) {
  for (const titled of app.querySelectorAll('[title="null"]')) titled.removeAttribute("title");
  for (const slider of app.querySelectorAll(".labkit-slider")) {
    const handle = slider.querySelector(".noUi-handle");
    const [name, told] = slider.querySelectorAll(".widget-label");
    set(handle, "aria-label", name?.textContent ?? "");
    set(handle, "aria-valuetext", told?.textContent ?? "");
    set(handle, "aria-disabled", String(Boolean(slider.querySelector(".noUi-target[disabled]"))));
  }
  for (const group of app.querySelectorAll(".widget-toggle-buttons")) {
    set(group, "role", "group");
    set(group, "aria-label", group.querySelector(".widget-label")?.textContent || "answers");
  }
  for (const toggle of app.querySelectorAll(".widget-toggle-button")) {
    set(toggle, "aria-pressed", String(toggle.classList.contains("mod-active")));
  }
}

function render({ model, el }) {
  const afterEcho = waitingForEcho(model);
  let waiting, seen;

  function press(button) {
    afterEcho(() => {
      button.dataset.labkitSettled = "yes";
      button.click();
      delete button.dataset.labkitSettled;
    });
  }

  function answerByEnter(event) {
    const field = event.target;
    const app = event.currentTarget;
    if (event.key !== "Enter" || event.shiftKey || field.type !== "text") return;
    const main = field.closest(".labkit-app") === app && app.querySelector(".labkit-main");
    if (!main) return;
    field.dispatchEvent(new Event("change", { bubbles: true }));
    press(main);
  }

  function follow(app) {
    app.addEventListener("keydown", goToEnd, true);
    app.addEventListener("keydown", answerByEnter, true);
    app.addEventListener("keydown", keep);
    app.addEventListener(
      "click",
      (event) => {
        const button = event.target.closest(".labkit-main, .labkit-command");
        if (!button || button.dataset.labkitSettled || button.closest(".labkit-app") !== app) return;
        event.stopPropagation();
        event.preventDefault();
        if (!app.classList.contains("labkit-busy")) press(button);
      },
      true,
    );
    seen = new MutationObserver((changes) => {
      describe(app);
      const told = changes
        .flatMap((change) => [...change.addedNodes])
        .find((node) => node.classList?.contains("labkit-message"));
      if (told?.closest(".labkit-app") === app) told.scrollIntoView({ block: "nearest" });
    });
    seen.observe(app, {
      subtree: true,
      childList: true,
      characterData: true,
      attributes: true,
      attributeFilter: ["class", "title", "aria-valuetext", "disabled"],
    });
    describe(app);
  }

  const begin = () => {
    const app = el.closest(".labkit-app");
    if (app) follow(app);
    else waiting = requestAnimationFrame(begin); // not in the page yet
  };
  begin();
  return () => {
    cancelAnimationFrame(waiting);
    seen?.disconnect();
  };
}

export default { render };
