"""Saves among other programs: what changed underneath, links, locks, a kill, two at once."""

import errno
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from conftest import FLOATS_CSV

from lakemap.basis.errors import BadInputError
from lakemap.inputs.folder import read_field
from lakemap.saving import locks, save
from lakemap.saving.floats import save_floats
from lakemap.saving.records import FloatChange, Saved, Underneath
from lakemap.saving.stamps import stamp_of

FT = 0.3048
CHANGE = FloatChange(float_id="1", values={"depth": 11 * FT})
CHANGED = FLOATS_CSV.replace("10,8,10", "10,8,11")
PLAN = """\
float_id,lon,lat,length_ft,width_ft,depth_ft,position_of,status,hook
1,-37.005000000,41.005000000,10,8,11,primary,set,centre
2,-37.004000000,41.006000000,12,10,12,primary,set,centre
"""


def opened(here):
    return stamp_of(here), read_field(here)


def underneath(here, stamp, field, *changes):
    """The files as they are stay; the plan stands beside."""
    before = {path.name: path.read_bytes() for path in here.iterdir()}
    made = save_floats(here, field, changes or [CHANGE], stamp=stamp)
    assert isinstance(made, Underneath)
    after = {path.name: path.read_bytes() for path in here.iterdir()}
    assert after.pop(made.kept) is not None
    assert after == before
    return made


def refused(here, stamp, field):
    before = {path.name: path.read_bytes() for path in here.iterdir() if path.is_file()}
    with pytest.raises(BadInputError) as told:
        save_floats(here, field, [CHANGE], stamp=stamp)
    assert {path.name: path.read_bytes() for path in here.iterdir() if path.is_file()} == before
    assert "nothing was written" in str(told.value)
    return str(told.value)


def test_changed_underneath(folder):
    here = folder()
    stamp, field = opened(here)
    now = 'float_id,lon,lat,length_ft,width_ft,depth_ft,owner\n1,-37.0051,41.005,10,8,13,"a\nb"\n4,-37.004,41.006,12,10,12,\n'
    folder(floats__csv=now)
    made = underneath(here, stamp, field)
    # by hand: 0.0001 degrees of longitude there, 8.39 m, 27.5 ft
    assert made.says == (
        "float 2 was taken away",
        "float 4 was added",
        "float 1 was moved by 27.5 ft",
        "float 1: depth 10 ft → 13 ft",
        "float 1: owner blank → a b",
    )
    assert made.file == "floats.csv"
    assert made.kept == "floats.csv.plan"
    assert (here / made.kept).read_text(encoding="utf-8") == PLAN
    assert underneath(here, stamp, field).kept == "floats.csv.plan-2"
    assert read_field(here).floats_file == "floats.csv"  # neither is read


def test_the_plan_kept_beside_is_a_floats_file(folder):
    here = folder()
    stamp, field = opened(here)
    folder(floats__csv=CHANGED)
    kept = underneath(here, stamp, field).kept
    (here / kept).replace(here / "floats.csv")
    assert read_field(here).floats[0].depth_m == pytest.approx(11 * FT)


def test_unreadable_underneath(folder):
    here = folder()
    stamp, field = opened(here)
    folder(floats__csv="float_id,lon\n1,2\n")
    says = underneath(here, stamp, field).says
    assert says[0] == "floats.csv can't be read as it is now"
    assert any("lat: the column is missing" in text for text in says)
    folder(floats__csv="")
    assert underneath(here, stamp, field).says == ("floats.csv is empty now",)
    (here / "floats.csv").unlink()
    assert underneath(here, stamp, field).says == ("floats.csv was taken away since it was read",)


def test_written_anew_without_a_difference(folder):
    here = folder()
    stamp, field = opened(here)
    folder(floats__csv=FLOATS_CSV.replace("\n", "\r\n"))
    assert "nothing that is read from it differs" in underneath(here, stamp, field).says[0]


def test_what_the_floats_rest_on(folder):
    here = folder()
    stamp, field = opened(here)
    (here / "field.toml").write_text((here / "field.toml").read_text() + "# more\n")
    lake = (here / "lake.csv").read_text()
    (here / "lake.csv").write_text(lake.replace("41.01", "41.011"))
    (here / "floats.xlsx").write_bytes(b"x")
    assert underneath(here, stamp, field).says == (
        "field.toml has changed since it was read",
        "floats.xlsx was added since it was read",
        "lake.csv has changed since it was read",
    )


def test_other_files_do_not_stop_a_save(folder):
    here = folder(soundings__csv="lon,lat,depth_ft\n-37.005,41.005,9\n")
    stamp, field = opened(here)
    folder(soundings__csv="lon,lat,depth_ft\n-37.005,41.005,8\n", floats__csv=FLOATS_CSV)
    made = save_floats(here, field, [CHANGE], stamp=stamp)
    assert isinstance(made, Saved)
    assert made.notes == ("soundings.csv has changed since; open the field again to see that",)
    # the next save still knows
    again = save_floats(
        here, read_field(here), [FloatChange(float_id="1", values={"depth": 3.0})], stamp=made.stamp
    )
    assert isinstance(again, Saved)
    assert again.notes == made.notes


def test_a_field_of_another_file(folder):
    here = folder()
    stamp, field = opened(here)
    folder(floats__csv=CHANGED)
    assert "the field is not the one that this file holds" in refused(here, stamp_of(here), field)
    assert stamp != stamp_of(here)


def test_the_version_before_is_the_last_one(folder):
    here = folder()
    (here / "floats.csv").chmod(0o640)
    for depth in (11, 12, 13):
        before = (here / "floats.csv").read_bytes()
        stamp, field = opened(here)
        save_floats(
            here, field, [FloatChange(float_id="1", values={"depth": depth * FT})], stamp=stamp
        )
        assert (here / "floats.csv.before").read_bytes() == before
        assert [(here / name).stat().st_mode & 0o777 for name in ("floats.csv", "floats.csv.before")] == [0o640] * 2  # fmt: skip
    assert {path.name for path in here.iterdir()} == {"field.toml", "lake.csv", "floats.csv", "floats.csv.before"}  # fmt: skip


def test_links_within_the_folder(folder):
    here = folder()
    (here / "kept").mkdir()
    (here / "floats.csv").rename(here / "kept" / "mine.txt")
    (here / "floats.csv").symlink_to(here / "kept" / "mine.txt")
    stamp, field = opened(here)
    assert isinstance(save_floats(here, field, [CHANGE], stamp=stamp), Saved)
    assert (here / "floats.csv").is_symlink()
    assert (here / "kept" / "mine.txt").read_text() == CHANGED
    assert (here / "floats.csv.before").read_text() == FLOATS_CSV


def test_links_that_lead_outside(folder, tmp_path):
    here = folder()
    outside = tmp_path / "outside.csv"
    (here / "floats.csv").rename(outside)
    (here / "floats.csv").symlink_to(outside)
    stamp, field = opened(here)
    assert "a link to a file outside the folder" in refused(here, stamp, field)
    assert outside.read_text() == FLOATS_CSV


def test_names_beside_that_are_links(folder, tmp_path):
    here = folder()
    other = tmp_path / "other"
    other.write_text("theirs")
    for name in ("floats.csv.before", "floats.csv.plan"):
        (here / name).symlink_to(other)
    stamp, field = opened(here)
    assert isinstance(save_floats(here, field, [CHANGE], stamp=stamp), Saved)
    made = save_floats(here, field, [CHANGE], stamp=stamp)
    assert isinstance(made, Underneath)
    assert made.kept == "floats.csv.plan-2"
    assert other.read_text() == "theirs"
    assert (here / "floats.csv.before").read_text() == FLOATS_CSV


def test_a_lock_that_is_a_link(folder, tmp_path):
    here = folder()
    other = tmp_path / "other"
    (here / locks.LOCK_NAME).symlink_to(other)
    stamp, field = opened(here)
    with pytest.raises(BadInputError, match="nothing was written"):
        save_floats(here, field, [CHANGE], stamp=stamp)
    assert not other.exists()


@pytest.mark.parametrize("name", [".~lock.floats.csv#", "~$floats.csv"])
def test_open_in_a_spreadsheet(folder, name):
    here = folder()
    (here / name).touch()
    stamp, field = opened(here)
    assert f"open in a spreadsheet ({name} stands beside it)" in refused(here, stamp, field)
    (here / name).unlink()
    assert isinstance(save_floats(here, field, [CHANGE], stamp=stamp), Saved)


def test_what_cannot_be_written(folder, monkeypatch):
    here = folder()
    stamp, field = opened(here)

    def fail(number):
        def write(*_, **__):
            raise OSError(number, os.strerror(number))

        return write

    monkeypatch.setattr(save, "write_whole", fail(errno.EACCES))
    assert "allow writing to it" in refused(here, stamp, field)
    monkeypatch.setattr(save, "write_whole", fail(errno.ENOSPC))
    assert "No space left" in refused(here, stamp, field)
    monkeypatch.setattr(os, "access", lambda *_: False)
    assert "allow writing to it" in refused(here, stamp, field)


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write anything"
)
def test_a_folder_that_cannot_be_written(folder):
    here = folder()
    stamp, field = opened(here)
    here.chmod(0o500)
    try:
        assert "can't be written to" in refused(here, stamp, field)
    finally:
        here.chmod(0o700)


def test_a_change_in_the_last_moment(folder, monkeypatch):
    """Another program, which knows no lock of ours, writes while the new file is being made."""
    here = folder()
    stamp, field = opened(here)
    plain = save.refuse_new_problems

    def slow(*states):
        plain(*states)
        (here / "floats.csv").write_text(FLOATS_CSV + "\n")

    monkeypatch.setattr(save, "refuse_new_problems", slow)
    made = save_floats(here, field, [CHANGE], stamp=stamp)
    assert isinstance(made, Underneath)
    assert made.says == ("floats.csv has changed just now",)
    assert (here / "floats.csv").read_text() == FLOATS_CSV + "\n"


def test_somebody_else_holds_the_folder(folder):
    here = folder()
    with locks.saving_lock(here), pytest.raises(BadInputError, match="another program is saving"):  # noqa: SIM117
        with locks.saving_lock(here, wait_s=0.05):
            pass
    assert not (here / locks.LOCK_NAME).exists()
    (here / locks.LOCK_NAME).write_text("left over")  # by one that was killed: nobody holds it
    stamp, field = opened(here)
    assert isinstance(save_floats(here, field, [CHANGE], stamp=stamp), Saved)


def test_a_disk_without_locks(folder, monkeypatch):
    import fcntl

    def no_locks(*_):
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(fcntl, "flock", no_locks)
    here = folder()
    stamp, field = opened(here)
    assert isinstance(save_floats(here, field, [CHANGE], stamp=stamp), Saved)


# ---- real processes

SAVER = """
import sys
from pathlib import Path
from lakemap.inputs.folder import read_field
from lakemap.saving.floats import save_floats
from lakemap.saving.records import FloatChange
from lakemap.saving.stamps import stamp_of
here, mine, task = Path(sys.argv[1]), sys.argv[2], sys.argv[3]
stamp, field = stamp_of(here), read_field(here)
print("ready", flush=True)
sys.stdin.readline()
if task == "once":
    made = save_floats(here, field, [FloatChange(float_id=mine, values={"owner": "by " + mine})], stamp=stamp)
    print(type(made).__name__, flush=True)
n = 0
while task == "forever":
    n = 1 - n
    values = {"owner": "ab"[n] * 50_000}
    made = save_floats(here, field, [FloatChange(float_id=mine, values=values)], stamp=stamp)
    stamp, field = made.stamp, read_field(here)
"""
HEAD = "float_id,lon,lat,length_ft,width_ft,owner\n"


def started(here, mine, task):
    process = subprocess.Popen(
        [sys.executable, "-c", SAVER, str(here), mine, task],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(__file__).parents[2],
    )
    assert process.stdout.readline() == "ready\n"
    return process


def go(process):
    process.stdin.write("\n")
    process.stdin.flush()


def test_of_two_at_once_one_is_told(folder):
    text = HEAD + "1,-37.005,41.005,10,8,\n2,-37.004,41.006,12,10,\n"
    for _ in range(3):
        here = folder(floats__csv=text)
        both = [started(here, name, "once") for name in "12"]
        for one in both:
            go(one)
        says = [one.communicate(timeout=60)[0].strip() for one in both]
        assert sorted(says) == ["Saved", "Underneath"]
        winner = str(says.index("Saved") + 1)
        owners = {one.float_id: one.owner for one in read_field(here).floats}
        assert owners == {"1": None, "2": None} | {winner: f"by {winner}"}
        plan = (here / "floats.csv.plan").read_text()
        assert f"by {3 - int(winner)}" in plan
        (here / "floats.csv.plan").unlink()


def test_killed_at_any_moment_the_file_is_whole(folder):
    here = folder(floats__csv=HEAD + "1,-37.005,41.005,10,8,\n")
    whole = {
        HEAD + f"1,-37.005,41.005,10,8,{owner}\n" for owner in ("", "a" * 50_000, "b" * 50_000)
    }
    dice = random.Random(4)  # noqa: S311 - no secret
    seen = set()
    for count in range(40):
        if count >= 8 and len(seen) > 1:  # on a loaded machine eight kills may all come too early
            break
        process = started(here, "1", "forever")
        go(process)
        time.sleep(dice.uniform(0.0, 0.5))
        process.send_signal(signal.SIGKILL)
        process.communicate(timeout=60)
        found = (here / "floats.csv").read_text()
        assert found in whole
        seen.add(found)
        before = here / "floats.csv.before"
        assert not before.exists() or before.read_text() in whole
    assert len(seen) > 1
    stamp, field = opened(here)
    save_floats(here, field, [FloatChange(float_id="1", values={"owner": "last"})], stamp=stamp)
    assert {path.name for path in here.iterdir()} == {"field.toml", "lake.csv", "floats.csv", "floats.csv.before"}  # fmt: skip
