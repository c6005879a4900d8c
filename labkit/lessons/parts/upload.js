// Sends the file that the reader chooses to Python, piece by piece, each when the one before has
// arrived, and shows how far it is. What a piece may weigh is any server's limit on one message.

function render({ model, el }) {
  const button = document.createElement("button");
  const chooser = document.createElement("input");
  const bar = document.createElement("progress");
  el.classList.add("labkit-upload");
  button.type = "button";
  button.className = "jupyter-button labkit-command";
  button.textContent = model.get("label");
  chooser.type = "file";
  chooser.accept = model.get("accept");
  chooser.hidden = true;
  bar.setAttribute("aria-label", "how much of the picture has arrived");
  bar.hidden = true;
  el.append(button, chooser, bar);
  let file = null;

  async function sendFrom(start) {
    const piece = await file.slice(start, start + model.get("piece")).arrayBuffer();
    model.send({ name: file.name, size: file.size, start }, undefined, [new DataView(piece)]);
  }

  function stop() {
    file = null;
    bar.hidden = true;
    button.disabled = false;
    chooser.value = "";
  }

  button.addEventListener("click", () => chooser.click());
  chooser.addEventListener("change", () => {
    file = chooser.files[0] ?? null;
    if (!file) return;
    if (file.size > model.get("limit")) {
      model.send({ name: file.name, size: file.size, start: 0 });
      return;
    }
    bar.max = Math.max(file.size, 1);
    bar.value = 0;
    bar.hidden = false;
    button.disabled = true;
    sendFrom(0);
  });

  model.on("msg:custom", ({ arrived }) => {
    if (!file) return;
    if (arrived === null || arrived >= file.size) {
      stop();
      button.focus();
      return;
    }
    bar.value = arrived;
    sendFrom(arrived).catch(stop);
  });
}

export default { render };
