"""The files in requests/: requests for new designs, and voices for them that lie there as they came."""

from dataclasses import dataclass

from generator.reading.disk import Disk
from generator.reading.validating import record
from generator.reading.yaml_places import Written
from generator.records.catalogue import KeptFile
from generator.records.problems import Problem, Severity
from generator.records.requests import AddedVoice, Request, Wanted

PHOTOS = ("jpg", "jpeg", "png", "webp")


@dataclass(frozen=True, slots=True)
class ReadRequests:
    """Requests by id with every voice that lies beside them, the voices by file, and the photos by path in requests/."""

    requests: dict[str, Request]
    voices: dict[str, AddedVoice]
    files: dict[str, KeptFile]


def read_requests(disk: Disk, sources: dict[str, Written]) -> ReadRequests:
    """Every record of requests/; problems go into the sources and the disk."""
    requests: dict[str, Request] = {}
    voices: dict[str, AddedVoice] = {}
    for name, source in sources.items():
        found = asked(source)
        if isinstance(found, Request):
            requests[name] = found
            if found.photo_data is not None:
                _remind(source, "photo_data", "still holds its photo as text")
        elif found:
            voices[name] = found
            _remind(source, "adds_to", f"is a voice for {found.adds_to} that does not stand there yet")
    return ReadRequests(_with_voices(requests, voices), voices, _photos(disk))


def asked(source: Written) -> Request | AddedVoice | None:
    """What a request file says, or None with its problems in `source`."""
    is_voice = isinstance(source.content, dict) and "adds_to" in source.content
    return record(AddedVoice, source) if is_voice else record(Request, source)


def _remind(source: Written, key: str, says: str) -> None:
    fix = f"run: spares request add catalogue/{source.file}"
    where = source.where((key,), key=True)
    source.problems.append(Problem(code="REQ01", where=where, says=says, fix=fix, severity=Severity.WARNING))


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
            says = "is no picture that can be shown, and is left out"
            disk.add(
                "PHOTO01",
                f"requests/photos/{name}",
                says,
                "put a whole JPEG, PNG or WebP picture there",
                Severity.WARNING,
            )
    return found
