"""The files in requests/: requests for new designs, and voices for them that lie there as they came."""

from dataclasses import dataclass

from generator.reading.disk import Disk
from generator.reading.meshes.endings import MESH_ENDINGS
from generator.reading.validating import record
from generator.reading.yaml_places import YamlFile
from generator.records.catalogue import KeptFile
from generator.records.problems import Problem, doubt, wrong
from generator.records.requests import AddedVoice, Request, Wanted

PHOTOS = ("jpg", "jpeg", "png", "webp")


@dataclass(frozen=True, slots=True)
class ReadRequests:
    """Requests by id with every voice that lies beside them, the voices by file; photos and models by path in requests/."""

    requests: dict[str, Request]
    voices: dict[str, AddedVoice]
    files: dict[str, KeptFile]
    models: dict[str, KeptFile]
    refused: frozenset[str]
    """Photos and models that requests name and that lie there: why they are not taken is told at the file."""


def read_requests(disk: Disk, sources: dict[str, YamlFile]) -> ReadRequests:
    """Every record of requests/; problems go into the sources and the disk."""
    requests: dict[str, Request] = {}
    voices: dict[str, AddedVoice] = {}
    for name, source in sources.items():
        found = asked(source)
        if isinstance(found, Request):
            requests[name] = found
            if found.photo_data is not None:
                _remind(source, "photo_data", doubt("REQ01", "photo as text", "add", file=source.file))
        elif found:
            voices[name] = found
            told = doubt("REQ01", "voice", "add", number=found.adds_to, file=source.file)
            _remind(source, "adds_to", told)
        if found and found.looked_for:
            _remind(source, "looked_for", doubt("REQ01", "looked for", "add", file=source.file))
    photos, models = _photos(disk), _models(disk, requests)
    refused = _refused(disk, requests, {**photos, **models})
    return ReadRequests(_with_voices(requests, voices), voices, photos, models, refused)


def asked(source: YamlFile) -> Request | AddedVoice | None:
    """What a request file says, or None with its problems in `source`."""
    is_voice = isinstance(source.content, dict) and "adds_to" in source.content
    return record(AddedVoice, source) if is_voice else record(Request, source)


def _remind(source: YamlFile, key: str, problem: Problem) -> None:
    source.problems.append(problem.at(source.where((key,), key=True)))


def _with_voices(requests: dict[str, Request], voices: dict[str, AddedVoice]) -> dict[str, Request]:
    together = dict(requests)
    for _, voice in sorted(voices.items()):
        request = together.get(voice.adds_to)
        if request:
            wanted = Wanted(on=voice.on, by=voice.by, yearly_demand=voice.yearly_demand, note=voice.note)
            together[voice.adds_to] = request.model_copy(
                update={"also_wanted": (*request.also_wanted, wanted)}
            )
    return together


def _photos(disk: Disk) -> dict[str, KeptFile]:
    found = {}
    for name in disk.names("requests/photos"):
        kept = disk.kept(f"requests/photos/{name}") if name.lower().rpartition(".")[2] in PHOTOS else None
        if kept and kept.kind.is_picture:
            found[f"photos/{name}"] = kept
        elif kept:
            disk.add(f"requests/photos/{name}", doubt("PHOTO01", "no picture", "put"))
    return found


def _models(disk: Disk, requests: dict[str, Request]) -> dict[str, KeptFile]:
    """What lies in requests/models/ and is a model by its name; whether it can be read shows where it is measured."""
    found = {}
    named = {request.model for request in requests.values()}
    for name in disk.names("requests/models"):
        file, is_named = f"requests/models/{name}", f"models/{name}" in named
        is_model = name.lower().rpartition(".")[2] in MESH_ENDINGS
        if not is_model and not disk.is_folder(file):
            disk.add(file, wrong("REQ06", "no model", endings=MESH_ENDINGS) if is_named else doubt("REQ06", "no model", endings=MESH_ENDINGS))
            continue
        kept = disk.kept(file) if is_model else None
        if kept:
            found[f"models/{name}"] = kept
        if not is_named and (kept or not is_model):  # of what cannot be taken that alone is told
            disk.add(file, doubt("REQ06", "unnamed", file=f"models/{name}"))
    return found


def _refused(disk: Disk, requests: dict[str, Request], kept: dict[str, KeptFile]) -> frozenset[str]:
    """What is named, lies there and is not kept, where a problem of its own, or of a folder above it, says why."""
    told = {each.where.file for each in disk.problems}
    named = {name for request in requests.values() for name in (request.photo, request.model) if name and name not in kept}
    return frozenset(
        name for name in named if disk.is_there(f"requests/{name}") and any(f"requests/{name}/".startswith(f"{each}/") for each in told)
    )
