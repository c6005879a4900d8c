"""What a refusal shows of itself."""

from IPython.core.interactiveshell import InteractiveShell

from labkit.errors import LabError


def test_a_notebook_shows_the_sentence_and_no_traceback(capsys):
    shell = InteractiveShell()
    shell.run_cell("from labkit.geometry.length import length\nlength('12')")
    told = capsys.readouterr().out
    assert "12" in told
    assert "Traceback" not in told
    assert "LabError" not in told
    assert LabError("a sentence.")._render_traceback_() == ["a sentence."]
