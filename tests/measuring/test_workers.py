"""As many processes work on meshes as processors and memory allow, and one at least."""

import pytest

from generator.measuring.workers import usual_workers, workers_for
from generator.systems.capacity import available_mb

GB = 1024


@pytest.mark.parametrize(
    ("cores", "available_mb", "expected"),
    [
        (8, 64 * GB, 8),  # memory for 16
        (8, 16 * GB, 4),
        (8, 16 * GB - 1, 3),
        (8, 5 * GB, 1),
        (8, 1 * GB, 1),  # less than one may take: one works all the same
        (8, 0, 1),
        (1, 64 * GB, 1),
        (8, None, 2),  # nobody says how much there is
        (1, None, 1),
    ],
)
def test_every_worker_can_take_its_limit(cores, available_mb, expected):
    assert workers_for(cores, available_mb, 4 * GB) == expected


def system(root, *, free_mb, groups="", **limits):
    """A root folder as Linux shows it; limits: group → (limit, used), both in MB, or 'max'."""
    (root / "proc/self").mkdir(parents=True)
    (root / "proc/meminfo").write_text(f"MemTotal: 1 kB\nMemAvailable:   {free_mb * 1024} kB\n")
    (root / "proc/self/cgroup").write_text(groups)
    for name, (limit, used) in limits.items():
        group = root / "sys/fs/cgroup" / name.replace("__", "/")
        group.mkdir(parents=True, exist_ok=True)
        names = ("memory.limit_in_bytes", "memory.usage_in_bytes") if "memory" in name else ("memory.max", "memory.current")
        (group / names[0]).write_text(f"{limit if limit == 'max' else limit * 1024 * 1024}\n")
        (group / names[1]).write_text(f"{used * 1024 * 1024}\n")
    return root


def test_the_system_tells_what_is_free(tmp_path):
    assert available_mb(system(tmp_path, free_mb=9000)) == 9000


@pytest.mark.parametrize("limits", [{"jail": (5000, 1500)}, {"jail__build": (5000, 1500), "jail": ("max", 1)}])
def test_a_group_of_this_process_or_around_it_limits_it(tmp_path, limits):
    assert available_mb(system(tmp_path, free_mb=9000, groups="0::/jail/build\n", **limits)) == 3500


def test_an_older_kind_of_group_limits_it_too(tmp_path):
    groups = "5:cpu:/elsewhere\n4:memory:/jail\n"
    assert available_mb(system(tmp_path, free_mb=9000, groups=groups, memory__jail=(4000, 1000))) == 3000


def test_a_group_that_is_over_its_limit_leaves_nothing(tmp_path):
    assert available_mb(system(tmp_path, free_mb=9000, groups="0::/jail\n", jail=(1000, 1500))) == 0


def test_of_this_machine_at_least_one_worker_comes_out():
    assert usual_workers(4 * GB) >= 1
