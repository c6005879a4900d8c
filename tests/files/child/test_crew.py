"""Several children under one limit on memory."""

from concurrent.futures import ThreadPoolExecutor

import psutil

from labkit.files.child.crew import Crew
from tests.files import children
from tests.geometry.refused import refusal


def test_calls_are_answered_by_several_children():
    limits = {"seconds": 60, "memory_mb": 4096}
    with Crew(2) as crew, ThreadPoolExecutor(2) as pool:
        answers = list(pool.map(lambda n: crew.run(children.double, n, **limits), range(6)))
        pids = {each["child"] for each in answers}
    assert [each["answer"] for each in answers] == [0, 2, 4, 6, 8, 10]
    assert not any(map(psutil.pid_exists, pids))


def test_what_needs_more_than_its_share_is_done_alone_with_the_whole():
    """150 MB are more than half of 220 and less than the whole; twice at once they are more than that."""
    limits = {"seconds": 60, "memory_mb": 220}
    with Crew(2) as crew, ThreadPoolExecutor(2) as pool:
        held = list(pool.map(lambda n: crew.run(children.hold, n, **limits), (150, 150)))
    assert held == [150_000_000, 150_000_000]


def test_what_needs_more_than_the_whole_is_refused():
    with Crew(2) as crew:
        told = refusal(crew.run, children.eat_memory, seconds=60, memory_mb=200, about="boat.jpg")
        assert told.startswith("“boat.jpg” needs more than the 200 MB of memory this room allows")
        assert crew.run(children.double, 1, seconds=60, memory_mb=200)["answer"] == 2
