// Shows the drawing that Python makes, keeps the photo in it, and tells Python where the reader
// drags or nudges the picture. Python decides where it then is: snapping, limits and figures are its.

const SVG = "http://www.w3.org/2000/svg";
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const STRIDE = 8; // steps that an arrow takes with Shift

function render({ model, el }) {
  const stage = document.createElement("div");
  const told = document.createElement("details");
  const words = document.createElement("p");
  told.innerHTML = "<summary>In words</summary>";
  told.append(words);
  stage.className = "labkit-stage";
  told.className = "labkit-words";
  el.classList.add("labkit-sheetview");
  el.append(stage, told);
  const photos = new Map(); // by the id of its place in the drawing: decoded once, used again
  let drag = null;
  let pending = null; // where the arrows have asked for while Python has not answered yet
  let waiting = []; // keys pressed before Python has told where an earlier one led

  const svg = () => stage.querySelector("svg");

  function draw() {
    const text = model.get("drawing");
    const parsed = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
    for (const slot of model.get("photo") ? parsed.querySelectorAll("image:not([href])") : []) {
      slot.replaceWith(photoLike(slot));
    }
    stage.replaceChildren(parsed);
    showSnaps();
    words.textContent = model.get("sentence");
    told.hidden = !words.textContent;
  }

  function photoLike(slot) {
    if (!photos.has(slot.id)) {
      const made = document.createElementNS(SVG, "image");
      made.setAttribute("href", model.get("photo"));
      photos.set(slot.id, made);
    }
    const photo = photos.get(slot.id);
    for (const { name, value } of slot.attributes) photo.setAttribute(name, value);
    slot.closest("g")?.querySelector(":scope > path")?.remove(); // the empty box's cross
    return photo;
  }

  function showSnaps() {
    if (!drag) return;
    const root = svg();
    const { unitScale, originX, originY, sheetWidthIn, sheetHeightIn } = figures(root);
    const [left, top] = model.get("place");
    for (const { axis, at, line, label } of model.get("snaps")) {
      const hit = Math.abs((axis === "x" ? left : top) - at) < 1e-6;
      const mark = document.createElementNS(SVG, "line");
      const along = line * unitScale;
      const ends =
        axis === "x"
          ? [originX + along, originY, originX + along, originY + sheetHeightIn * unitScale]
          : [originX, originY + along, originX + sheetWidthIn * unitScale, originY + along];
      ["x1", "y1", "x2", "y2"].forEach((name, i) => mark.setAttribute(name, ends[i]));
      mark.setAttribute("class", hit ? "labkit-snap labkit-snap-hit" : "labkit-snap");
      const title = document.createElementNS(SVG, "title");
      title.textContent = label;
      mark.append(title);
      root.append(mark);
    }
  }

  function figures(root) {
    return Object.fromEntries(
      Object.entries(root.dataset).map(([name, value]) => [name, Number(value)]),
    );
  }

  function inches(event) {
    const root = svg();
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(
      root.getScreenCTM().inverse(),
    );
    const { unitScale, originX, originY } = figures(root);
    return [(point.x - originX) / unitScale, (point.y - originY) / unitScale];
  }

  function ask(left, top, by, thing) {
    const asked = { left, top, by, turn: (model.get("asked").turn ?? 0) + 1 };
    model.set("asked", thing === undefined ? asked : { ...asked, thing });
    model.save_changes();
  }

  stage.addEventListener("pointerdown", (event) => {
    const grasped = event.target.closest('[id$="-picture"], [data-drag], [data-thing]');
    if (!model.get("movable") || !grasped) return;
    const { thing } = grasped.dataset;
    const place = model.get("things")[thing] ?? model.get("place");
    drag = { from: inches(event), place: [...place], id: event.pointerId, thing };
    stage.setPointerCapture(event.pointerId);
    stage.classList.add("labkit-dragging");
    stage.focus({ preventScroll: true });
    event.preventDefault();
    if (thing !== undefined) ask(...place, "pick", thing);
    showSnaps();
  });
  stage.addEventListener("pointermove", (event) => {
    if (!drag || event.pointerId !== drag.id) return;
    const [x, y] = inches(event);
    const [left, top] = drag.place;
    ask(left + x - drag.from[0], top + y - drag.from[1], "drag", drag.thing);
  });
  const release = () => {
    if (!drag) return;
    drag = null;
    stage.classList.remove("labkit-dragging");
    draw();
  };
  stage.addEventListener("pointerup", release);
  stage.addEventListener("pointercancel", release);
  stage.addEventListener("keydown", (event) => {
    const way = ARROWS[event.key];
    const named = (event.shiftKey ? "Shift+" : "") + event.key;
    const by = model.get("further_keys")[named] ?? model.get("further_keys")[event.key.toLowerCase()];
    if (!(way || by) || !model.get("movable")) return;
    if (!way && (event.ctrlKey || event.altKey || event.metaKey)) return;
    event.preventDefault();
    event.stopPropagation();
    waiting.push({ by, way: way ?? [0, 0], far: event.shiftKey ? STRIDE : 1 });
    goOn();
  });

  // Where an arrow leads is known here; where any other key leads, only when Python has answered.
  function goOn() {
    while (waiting.length && (isAnswered() || (!waiting[0].by && pending))) {
      const { by, way, far } = waiting.shift();
      const [left, top] = pending ?? model.get("place");
      const step = model.get("step") * (by ? 1 : far);
      const place = [left + way[0] * step, top + way[1] * step];
      pending = by ? null : place;
      ask(...place, by ?? "key");
    }
  }

  const isAnswered = () => model.get("answered") === (model.get("asked").turn ?? 0);

  function describe() {
    const movable = model.get("movable");
    stage.classList.toggle("labkit-movable", movable);
    if (movable) {
      stage.tabIndex = 0;
      stage.setAttribute("role", "application");
      stage.setAttribute("aria-label", model.get("help"));
      stage.dataset.lmSuppressShortcuts = "true";
    }
  }

  model.on("change:drawing", draw);
  model.on("change:answered", () => {
    if (!isAnswered()) return;
    pending = null;
    goOn();
  });
  model.on("change:photo", () => {
    photos.clear();
    draw();
  });
  describe();
  draw();
}

export default { render };
