"""The one form in which a notebook is committed, and how to bring it into that form."""

import os
from pathlib import Path
from tempfile import TemporaryDirectory

import nbformat
from nbclient import NotebookClient

FOLDER = Path(__file__).parents[2] / "notebooks"
VIEW = "application/vnd.jupyter.widget-view+json"
METADATA = {
    "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
    "language_info": {"name": "python"},
}


def notebooks() -> list[Path]:
    """Every committed lesson, in order."""
    return sorted(FOLDER.glob("*.ipynb"))


def normal_form(notebook: nbformat.NotebookNode) -> nbformat.NotebookNode:
    """Without widget views, widget state, timings or execution metadata; with numbered cell ids."""
    clean = nbformat.from_dict(notebook)
    clean.metadata = nbformat.from_dict(METADATA)
    clean.nbformat, clean.nbformat_minor = 4, 5
    for number, cell in enumerate(clean.cells):
        cell.id = f"cell-{number:02}"
        cell.metadata = nbformat.from_dict({})
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(VIEW, None)
            output.pop("execution_count", None) if output.output_type != "execute_result" else None
            output.metadata = nbformat.from_dict({})
    return clean


def text_of(notebook: nbformat.NotebookNode) -> str:
    """The notebook as it is written to disk."""
    return nbformat.writes(notebook, indent=1, ensure_ascii=False) + "\n"


def executed(file: Path) -> nbformat.NotebookNode:
    """The notebook, run from the top in its own folder by a reader who has not said anything yet."""
    notebook = nbformat.read(file, as_version=4)
    with TemporaryDirectory() as home:
        environment = os.environ | {"LABKIT_HOME": home}
        client = NotebookClient(
            notebook,
            timeout=120,
            kernel_name="python3",
            resources={"metadata": {"path": str(file.parent)}},
        )
        client.execute(env=environment)
    return notebook


def refresh(file: Path) -> bool:
    """Run a notebook again and write its normal form; whether that changed the file."""
    before = file.read_text(encoding="utf-8")
    after = text_of(normal_form(executed(file)))
    if after == before:
        return False
    part = file.with_suffix(".part")
    part.write_text(after, encoding="utf-8")
    part.replace(file)
    return True
