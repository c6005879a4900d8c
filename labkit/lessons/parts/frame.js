// Keeps plain keys that are meant for an app from the notebook round it, where x cuts the cell, m turns
// it into text, and an arrow goes to the next one. Shift + Enter and all that has Ctrl, Alt or the like
// still reach the notebook.

function keep(event) {
  const forNotebook = event.ctrlKey || event.altKey || event.metaKey;
  if (!forNotebook && !(event.shiftKey && event.key === "Enter")) event.stopPropagation();
}

function render({ el }) {
  let waiting;
  const begin = () => {
    const app = el.closest(".labkit-app");
    if (app) app.addEventListener("keydown", keep);
    else waiting = requestAnimationFrame(begin); // not in the page yet
  };
  begin();
  return () => cancelAnimationFrame(waiting);
}

export default { render };
