"""A library that is not installed is named, with what cannot be done without it and how it is got."""

import hashlib
import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from generator.edge import cli
from generator.edge.refusals import Ending
from generator.measuring.one_mesh import Job, Order, made_of
from generator.measuring.products import FACTS
from generator.systems.lacking import PACKAGES

ROOT = Path(__file__).parents[2]
BOX = ROOT / "tests/reading/meshes/box.step"
FINDS = {
    "en": "spares: the package mini-racer is not installed; without it nothing can be found here, nor can a request be compared with what is there",
    "de": "spares: das Paket mini-racer ist nicht installiert; ohne es lässt sich hier nichts finden und keine Anfrage mit dem Vorhandenen vergleichen",
    "da": "spares: pakken mini-racer er ikke installeret; uden den kan intet findes her, og ingen anmodning kan sammenlignes med det, der er",
}


@pytest.mark.parametrize("language", FINDS)
def test_find_without_its_engine_says_so(depot, spares, monkeypatch, language):
    file = depot / "catalogue/depot.yml"
    file.write_text(re.sub(r"^language:.*\n", "", file.read_text("utf-8"), flags=re.MULTILINE) + f"language: {language}\n", "utf-8")
    monkeypatch.setitem(sys.modules, "py_mini_racer", None)
    code, out, err = spares("find", "knob")
    assert (code, out) == (Ending.PROBLEMS, "")
    told = " ".join(err.split())
    assert FINDS[language] in told
    assert "pip install mini-racer" in told


def test_any_other_library_is_named_too(depot, spares, monkeypatch):
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    monkeypatch.setattr(cli, "_run", lambda _: __import__("openpyxl"))
    code, _, err = spares("check")
    assert code == Ending.PROBLEMS
    assert "the package openpyxl is not installed; without it this cannot be done" in err
    assert "pip install openpyxl" in err


def test_a_module_of_our_own_is_a_fault_of_our_own(depot, spares, monkeypatch):
    monkeypatch.setattr(cli, "_run", lambda _: __import__("generator.that_is_not_there"))
    code, _, err = spares("check")
    assert (code, "a fault of spares itself" in err) == (Ending.FAULT, True)


def test_a_mesh_without_its_kernel_is_a_problem_that_is_not_kept(monkeypatch):
    order = Order(path=BOX, sha256=hashlib.sha256(BOX.read_bytes()).hexdigest(), units=None, tint="#000000")
    with monkeypatch.context() as blocked:
        blocked.setitem(sys.modules, "cascadio", None)
        found = made_of(Job(order=order, wanted=(FACTS,)))
    assert (found.key, dict(found.facts)) == ("no library", {"package": "cascadio"})
    assert FACTS in made_of(Job(order=order, wanted=(FACTS,)))


def test_a_build_goes_on_without_the_kernel_and_tells_the_part(depot):
    folder = depot / "catalogue/parts/EX-0001-lid-knob"
    (folder / "model.stl").unlink()
    shutil.copy(BOX, folder / "model.step")
    part = folder / "part.yml"
    part.write_text(part.read_text("utf-8").replace("model.stl", "model.step"), "utf-8")
    (depot / "none").mkdir()
    (depot / "none/cascadio.py").write_text("raise ModuleNotFoundError('none', name='cascadio')\n", "utf-8")
    path = {**os.environ, "PYTHONPATH": str(depot / "none")}

    def said(*words):
        run = subprocess.run([Path(sys.executable).with_name("spares"), *words], capture_output=True, text=True, check=False, env=path)
        return " ".join((run.stdout + run.stderr).split())

    told = said("build")
    assert "the package cascadio is not installed, without which the file cannot be read and measured" in told
    assert "pip install cascadio" in told
    assert "fault of spares" not in told
    assert (depot / "site/index.html").exists()
    path.pop("PYTHONPATH")
    assert "cascadio" not in said("check")


def test_every_library_that_comes_with_the_program_is_known():
    named = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["dependencies"]
    assert sorted(PACKAGES.values()) == sorted(re.match(r"[\w-]+", each)[0] for each in named)
