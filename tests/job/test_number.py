"""Job numbers: the same for the same file and day, another for any other."""

import re
from datetime import date

from labkit.job.number import job_number

DAY = date(2031, 5, 12)


def test_the_same_file_has_one_number_a_day(tmp_path):
    one, copy = tmp_path / "one.tif", tmp_path / "copy" / "one.tif"
    copy.parent.mkdir()
    for file in (one, copy):
        file.write_bytes(b"II*\0" + bytes(200_000))
    number = job_number(one, DAY)
    assert re.fullmatch(r"310512-[2-9A-HJ-NP-Z]{5}", number)
    assert job_number(copy, DAY) == number
    assert job_number(one, date(2031, 5, 13))[6:] == number[6:] != number


def test_another_name_size_or_byte_makes_another_number(tmp_path):
    file = tmp_path / "one.tif"
    file.write_bytes(bytes(300_000))
    seen = {job_number(file, DAY), job_number(file, DAY, "two.tif")}
    file.write_bytes(bytes(300_001))
    seen.add(job_number(file, DAY))
    for at in (0, 150_010, 300_000):
        changed = bytearray(300_001)
        changed[at] = 1
        file.write_bytes(changed)
        seen.add(job_number(file, DAY))
    assert len(seen) == 6
    file.write_bytes(b"")
    assert job_number(file, DAY)
