"""The child that reads strangers' files: what it may do, and what is heard of it when it may not."""

import os
import shutil
import subprocess
import sys
from contextlib import suppress

import psutil
import pytest

from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from tests.files import children
from tests.geometry.refused import refusal

ROOMY = {"seconds": 60, "memory_mb": 4096}


def guarded(function, *args, **limits):
    """A single call in a child of its own."""
    with Guarded() as child:
        return child.run(function, *args, **limits)


def refused(function, *args, **limits) -> str:
    return refusal(guarded, function, *args, **ROOMY | limits, about="boat.jpg")


def test_the_value_comes_back_from_another_process():
    with Guarded("json", "tests.files.children") as child:
        value = child.run(children.double, 21, **ROOMY)
        pid = child._child.pid
        assert value == {"answer": 42, "child": pid}
        assert pid != psutil.Process().pid
    assert not psutil.pid_exists(pid)


def test_one_child_answers_call_after_call():
    with Guarded() as child:
        answers = [child.run(children.double, number, **ROOMY) for number in range(3)]
    assert [each["answer"] for each in answers] == [0, 2, 4]
    assert len({each["child"] for each in answers}) == 1


@pytest.mark.parametrize("function", [children.stop_now, children.loop_for_ever])
def test_a_child_that_failed_is_replaced(function):
    with Guarded() as child:
        first = child.run(children.double, 1, **ROOMY)["child"]
        refusal(child.run, function, seconds=0.5, memory_mb=4096)
        assert not psutil.pid_exists(first)
        assert child.run(children.double, 2, **ROOMY)["answer"] == 4


def test_a_refusal_is_no_failure():
    with Guarded() as child:
        first = child.run(children.double, 1, **ROOMY)["child"]
        refusal(child.run, children.refuse, **ROOMY)
        assert child.run(children.double, 1, **ROOMY)["child"] == first


def test_a_child_is_replaced_after_so_many_calls(monkeypatch):
    monkeypatch.setattr("labkit.files.child.guarded._MOST_CALLS", 2)
    with Guarded() as child:
        pids = [child.run(children.double, 1, **ROOMY)["child"] for _ in range(4)]
    assert pids[0] == pids[1] != pids[2] == pids[3]


def test_a_refusal_keeps_what_it_amounts_to():
    with pytest.raises(LabError) as caught:
        guarded(children.refuse_damage, **ROOMY)
    assert caught.value.code == "damaged"


def test_what_is_no_longer_wanted_is_ended_though_never_asked():
    with Guarded() as child:
        pid = child._child.pid
        assert psutil.pid_exists(pid)
    assert not psutil.pid_exists(pid)


def test_what_it_prints_goes_nowhere(capfd):
    assert guarded(children.print_and_return, **ROOMY) == "the answer"
    assert capfd.readouterr() == ("", "")


def test_a_refusal_comes_back_as_it_is():
    assert refused(children.refuse) == "the sheet is too small: choose a larger one."


def test_any_other_error_becomes_one_sentence():
    assert refused(children.fail) == (
        "“boat.jpg” cannot be used: KeyError: 'no such\\n table.'. Save it anew and try again."
    )


def test_an_error_without_words_is_named():
    told = refused(children.fail_without_words)
    assert told == "“boat.jpg” cannot be used: ValueError. Save it anew and try again."


@pytest.mark.parametrize("code", [0, 3])
def test_a_decoder_that_dies_takes_only_the_child_with_it(code):
    assert refused(children.stop_at_once, code) == (
        f"“boat.jpg” made its decoder fail (exit {code}): save it anew and try again."
    )


def test_what_cannot_be_sent_back_is_told_as_a_failure():
    assert refused(children.not_json).startswith("“boat.jpg” made its decoder fail (exit 1)")


def test_one_that_loops_for_ever_is_ended():
    with Guarded() as child:
        pid = child.run(children.double, 1, **ROOMY)["child"]
        told = refusal(
            child.run, children.loop_for_ever, seconds=0.5, memory_mb=4096, about="boat.jpg"
        )
    assert told == (
        "“boat.jpg” took longer than the 0.5 seconds this room allows: it may be damaged; save it anew, "
        "or raise limits.seconds in the room's file."
    )
    assert not psutil.pid_exists(pid)


def test_one_that_would_be_done_later_is_not_waited_for():
    assert "took longer than the 0.5 seconds" in refused(children.take_a_while, seconds=0.5)
    assert guarded(children.take_a_while, **ROOMY) == "done at last"


OUT_OF_MEMORY = (
    "“boat.jpg” needs more than the {} MB of memory this room allows: save it with fewer pixels, "
    "or raise limits.memory_mb in the room's file."
)


def test_one_that_eats_memory_is_ended():
    assert refused(children.eat_memory, memory_mb=200) == OUT_OF_MEMORY.format(200)


@pytest.mark.skipif(sys.platform != "linux", reason="the limit is set on Linux only")
def test_the_child_itself_has_a_limit_on_memory():
    """What it may take, and what it had before: less than as much again."""
    most = guarded(children.most_memory, seconds=60, memory_mb=4096)
    assert 4096e6 < most < 2 * 4096e6


def test_memory_is_seen_from_outside_where_the_system_sets_no_limit():
    """190 MB are within the limit set in the child, which adds what it had; not within 200 in all."""
    assert refused(children.sit_on_memory, 190, memory_mb=200) == OUT_OF_MEMORY.format(200)


def test_a_decoder_that_says_it_has_no_memory_left():
    assert refused(children.run_out_of_memory) == OUT_OF_MEMORY.format(4096)


NOT_STARTED = (
    "the program that reads pictures could not be started ({}): close other programs and try again, "
    "or install what README names again."
)


def test_a_child_that_cannot_be_started_is_told_with_the_reason(monkeypatch, tmp_path):
    monkeypatch.setattr(sys, "executable", str(tmp_path / "python"))
    with Guarded() as child, pytest.raises(LabError) as caught:
        child.run(children.double, 1, **ROOMY, about="boat.jpg")
    assert str(caught.value) == NOT_STARTED.format("no such file or directory")
    assert caught.value.code == "not-looked-at"


def test_a_child_that_ends_at_once_is_told(monkeypatch):
    if not (ends_at_once := shutil.which("false", path="/bin:/usr/bin")):
        pytest.skip("this system has no command false")
    monkeypatch.setattr(sys, "executable", ends_at_once)
    with Guarded() as child:
        told = refusal(child.run, children.double, 1, **ROOMY, about="boat.jpg")
    assert told == NOT_STARTED.format("exit 1")


def test_a_child_that_lacks_what_it_needs_says_so():
    with Guarded("labkit.no_such_module") as child:
        told = refusal(child.run, children.double, 1, **ROOMY, about="boat.jpg")
    why = "ModuleNotFoundError: No module named 'labkit.no_such_module'"
    assert told == NOT_STARTED.format(why)


def test_the_next_call_tries_again(monkeypatch, tmp_path):
    with Guarded() as child:
        with monkeypatch.context() as broken:
            broken.setattr(sys, "executable", str(tmp_path / "python"))
            child.end()
            refusal(child.run, children.double, 1, **ROOMY)
        assert child.run(children.double, 1, **ROOMY)["answer"] == 2


@pytest.mark.parametrize(
    ("then", "heard"),
    [
        ("", "last"),
        ("refuse", "it is refused."),
        ("die", "the file made its decoder fail (exit 3)"),
    ],
)
def test_what_was_said_before_a_call_failed_is_heard(then, heard):
    said = []
    with Guarded() as child:
        try:
            told = child.run(children.say_then, then, **ROOMY, hear=said.append)
        except LabError as refused:
            told = str(refused)
    assert said == ["first", "second"]
    assert told.startswith(heard)


# Alone


def test_nothing_of_the_folder_it_is_started_in_is_imported(tmp_path, monkeypatch):
    """Neither from the folder itself nor through a variable of Python's own that leads to it."""
    for name in ("json", "psutil", "imagecodecs"):
        (tmp_path / f"{name}.py").write_text("open('was-run', 'w').close()\nraise SystemExit\n")
    (tmp_path / "sitecustomize.py").write_text("open('was-run', 'w').close()\n")
    monkeypatch.chdir(tmp_path)
    monkeypatch.syspath_prepend("")
    monkeypatch.setenv("PYTHONPATH", f".{os.pathsep}{tmp_path}")
    with Guarded("imagecodecs") as child:
        assert child.run(children.double, 21, **ROOMY)["answer"] == 42
        assert not any(name.startswith("PYTHON") for name in child.run(children.variables, **ROOMY))
    assert not (tmp_path / "was-run").exists()


def test_it_ends_when_its_parent_is_killed(tmp_path):
    """Though it is at work, and nobody is there to end it."""
    program = (
        "import sys\nfrom labkit.files.child.guarded import Guarded\nfrom tests.files import children\n"
        "child = Guarded()\nprint(child.run(children.double, 1, seconds=60, memory_mb=4096)['child'])\n"
        "sys.stdout.flush()\nchild.run(children.loop_for_ever, seconds=600, memory_mb=4096)"
    )
    with subprocess.Popen(
        [sys.executable, "-c", program], stdout=subprocess.PIPE, text=True
    ) as parent:
        child = psutil.Process(int(parent.stdout.readline()))
        parent.kill()
    with suppress(psutil.NoSuchProcess):
        child.wait(timeout=60)
    assert not child.is_running()


def test_the_refusals_are_of_the_one_family():
    with pytest.raises(LabError):
        guarded(children.fail, **ROOMY)
