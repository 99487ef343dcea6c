"""`spares request add`: a file from a tablet becomes a request or a voice; nothing untrusted gets in, nothing is lost."""

import base64
import io

import pytest
from PIL import Image

from tests.edge.conftest import bytes_of

REQUEST = """\
on: 2026-11-24
by: fitter
name: Blind cord toggle
what_it_does: "Holds the cord: at the end.\\nSnaps in."
fleet: A1
vehicles: ["11", "13-14"]
place: cab
numbers: ["007-1"]
sizes_mm: [18, 42.5]
yearly_demand: 0.5
stops_without: Nothing; the driver is blinded.
"""
VOICE = """\
adds_to: coat-hook
on: 2026-11-24
by: keeper
yearly_demand: 2
note: "Also: in car 13"
"""


def jpeg(size=(64, 48), **how):
    held = io.BytesIO()
    Image.effect_noise(size, 40).convert("RGB").save(held, "JPEG", **how)
    return held.getvalue()


def with_photo(photo, text=REQUEST):
    coded = base64.b64encode(photo).decode()
    lines = [coded[i : i + 76] for i in range(0, len(coded), 76)]
    return text + "photo_data: |-\n" + "".join(f"  {line}\n" for line in lines)


def requests_of(depot):
    return bytes_of(depot / "catalogue/requests")


def test_a_request_gets_the_next_number_and_reads_as_it_was_sent(depot, sent, spares):
    before = requests_of(depot)
    code, out, err = spares("request", "add", sent(REQUEST))
    assert (code, err) == (0, "")
    after = requests_of(depot)
    assert set(after) - set(before) == {"R-0001.yml"}
    assert "R-0001.yml" in out
    text = after["R-0001.yml"].decode()
    assert 'vehicles: ["11", "13-14"]' in text
    assert "sizes_mm: [42.5, 18]" in text  # largest first
    assert spares("check")[0] == 0
    code, _, _ = spares("request", "add", sent(REQUEST.replace("toggle", "knot")))
    assert code == 0
    assert "R-0002.yml" in requests_of(depot)


def test_a_number_is_never_given_twice(depot, sent, spares):
    (depot / "catalogue/requests/photos").mkdir()
    (depot / "catalogue/requests/photos/R-0007.jpg").write_bytes(jpeg())
    assert spares("request", "add", sent(REQUEST))[0] == 0
    assert "R-0008.yml" in requests_of(depot)


def test_several_files_at_once_and_a_dry_run_of_them(depot, sent, spares):
    files = [sent(REQUEST, "a.yml"), sent(REQUEST.replace("cord", "rail"), "b.yml"), sent(VOICE, "c.yml")]
    before = requests_of(depot)
    code, out, _ = spares("request", "add", *files, "--dry-run")
    assert code == 0
    assert "Would be written: requests/R-0002.yml" in out
    assert requests_of(depot) == before
    assert spares("request", "add", *files)[0] == 0
    assert set(requests_of(depot)) == {"coat-hook.yml", "R-0001.yml", "R-0002.yml"}


def test_a_photo_becomes_a_small_file_without_what_it_tells(depot, sent, spares):
    image = Image.effect_noise((100, 75), 40).convert("RGB").resize((2000, 1500))
    exif = image.getexif()
    exif[0x0112], exif[0x010E] = 6, "taken in the yard"  # EXIF 2.3: turned by a quarter, description
    held = io.BytesIO()
    image.save(held, "JPEG", quality=30, exif=exif, comment=b"secret")
    assert spares("request", "add", sent(with_photo(held.getvalue())))[0] == 0
    kept = requests_of(depot)
    assert b"photo: photos/R-0001.jpg\n" in kept["R-0001.yml"]
    assert b"photo_data" not in kept["R-0001.yml"]
    photo = kept["photos/R-0001.jpg"]
    with Image.open(io.BytesIO(photo)) as found:
        assert (found.format, found.size) == ("JPEG", (960, 1280))
        assert not found.getexif()
    assert b"secret" not in photo
    assert b"yard" not in photo
    assert spares("check")[0] == 0


@pytest.mark.parametrize(
    ("photo", "says"),
    [
        pytest.param(b"GIF89a" + bytes(40), "is no JPEG picture", id="another picture"),
        pytest.param(
            b"\xff\xd8\xff\xe0" + bytes(400), "is a JPEG that cannot be read", id="only its first bytes"
        ),
        pytest.param(jpeg((800, 600))[:2000], "is a JPEG that cannot be read", id="cut short"),
    ],
)
def test_what_is_no_photo_is_told(depot, sent, spares, photo, says):
    before = requests_of(depot)
    code, out, err = spares("request", "add", sent(with_photo(photo)))
    assert code == 1
    assert f"sent.yml:12:13: error REQ05: photo_data {says}" in out
    assert "nothing is added" in err
    assert requests_of(depot) == before


def test_a_picture_of_too_many_dots_is_refused_before_it_is_drawn(depot, sent, spares):
    bomb = jpeg((8, 8)).replace(
        bytes.fromhex("00080008"), bytes.fromhex("ffffffff"), 1
    )  # its header says 65,535²
    code, out, _ = spares("request", "add", sent(with_photo(bomb)))
    assert code == 1
    assert "error REQ05" in out


def test_a_voice_comes_behind_and_every_byte_stays(depot, sent, spares):
    file = depot / "catalogue/requests/coat-hook.yml"
    before = file.read_bytes()
    code, out, _ = spares("request", "add", sent(VOICE))
    assert code == 0
    assert file.read_bytes() == before + (
        b'also_wanted:\n  - on: 2026-11-24\n    by: keeper\n    yearly_demand: 2\n    note: "Also: in car 13"\n'
    )
    assert "requests/coat-hook.yml" in out
    once = file.read_bytes()
    code, _, err = spares("request", "add", sent(VOICE))
    assert code == 1
    assert "stands in coat-hook already" in err
    assert file.read_bytes() == once
    assert spares("request", "add", sent(VOICE.replace("keeper", "fitter")))[0] == 0
    assert file.read_bytes().startswith(once)


def test_the_same_request_is_not_added_twice(depot, sent, spares):
    assert spares("request", "add", sent(REQUEST))[0] == 0
    before = requests_of(depot)
    code, _, err = spares("request", "add", sent(REQUEST))
    assert (code, "already, as R-0001" in err) == (1, True)
    code, _, err = spares("request", "add", sent(REQUEST + "# again\n", "x.yml"), sent(REQUEST, "y.yml"))
    assert code == 1
    assert requests_of(depot) == before


def test_everything_wrong_is_told_at_once_with_its_place_and_mend(depot, sent, spares):
    before = requests_of(depot)
    bad = sent(
        "on: 2026-13-01\nby: fiter\nname: ''\nfleet: A9\nvehicles: [11, '9-1']\nplace: cabb\nsizes_mm: [0, wide, 1e9, 6000]\n"
        "yearly_demand: lots\nphoto: ../../depot.yml\nphoto_data: '<svg>'\nanswer: 5\n"
    )
    voice = sent(
        "adds_to: coat-hok\non: 2027-01-01\nby: nobody\nyearly_demand: -1\nnote: |\n  two\n  lines\n",
        "voice.yml",
    )
    code, out, err = spares("request", "add", bad, voice, depot / "nothing.yml", depot)
    assert code == 1
    for said in (
        "sent.yml:1:5: error REC03: on '2026-13-01' is not a day that exists",
        "sent.yml:3:7: error REC03: name is empty",
        "sent.yml:5:12: error REC03: vehicles[1] is 11 where a text is needed",
        "sent.yml:5:16: error REC03: vehicles[2] '9-1' runs backwards",
        "sent.yml:7:12: error REC03: sizes_mm[1] is 0",
        "sent.yml:7:15: error REC03: sizes_mm[2] is 'wide' where a number is needed",
        "sent.yml:8:16: error REC03: yearly_demand is 'lots' where a number is needed",
        "sent.yml:9:8: error REC03: photo '../../depot.yml' leads out of its folder",
        "sent.yml:10:13: error REC03: photo_data is '<svg>', which has not the right form",
        "sent.yml:11:1: error REC02: 'answer' is not a key",
        "'what_it_does' is missing",
        "'stops_without' is missing",
        "voice.yml:4:16: error REC03: yearly_demand is -1",
        "voice.yml:5:7: error REC03: note",
        "nothing.yml: error DISK02: is not there",
        "error DISK02: is no file",
    ):
        assert said in out, said
    assert out.count("    mend: ") == out.count(": error ")
    assert "nothing is added" in err
    assert requests_of(depot) == before


@pytest.mark.parametrize(
    ("text", "says"),
    [
        pytest.param(
            REQUEST.replace("A1", "A9"), "sent.yml:5:8: error LINK01: names the fleet 'A9'", id="fleet"
        ),
        pytest.param(REQUEST.replace("by: fitter", "by: fiter"), "did you mean 'fitter'?", id="role"),
        pytest.param(
            REQUEST.replace("13-14", "13-15"), "names vehicle 15, which A1 does not have", id="vehicle"
        ),
        pytest.param(
            REQUEST.replace("11-24", "11-26"),
            "error REQ03: is dated 2026-11-26, which is still to come",
            id="day",
        ),
        pytest.param(REQUEST + "photo: photos/x.jpg\n", "error REQ04: names the photo", id="photo elsewhere"),
        pytest.param(
            VOICE.replace("coat-hook", "coat-hok"), "did you mean 'coat-hook'?", id="voice for none"
        ),
        pytest.param(VOICE + "name: x\n", "error REC02: 'name' is not a key", id="voice with more"),
        pytest.param(b"\xff\xfe\x00", "is not UTF-8", id="no text"),
        pytest.param(b"", "is empty", id="empty"),
        pytest.param(b"a: " + b"x" * 1_100_000, "is 1.2 MB large", id="large"),
        pytest.param("&a [*a]", "uses the YAML reference", id="reference"),
        pytest.param("!!python/object/apply:os.system ['true']", "uses the YAML tag", id="tag"),
    ],
)
def test_each_mistake_is_told(depot, sent, spares, text, says):
    before = bytes_of(depot / "catalogue")
    code, out, _ = spares("request", "add", sent(text))
    assert code == 1
    assert says in out
    assert bytes_of(depot / "catalogue") == before


def test_a_voice_for_an_answered_request_is_refused(depot, sent, spares):
    file = depot / "catalogue/requests/coat-hook.yml"
    file.write_text(file.read_text(encoding="utf-8") + "answered_by: EX-0001\n", encoding="utf-8")
    code, out, _ = spares("request", "add", sent(VOICE))
    assert code == 1
    assert "order EX-0001" in out


def test_what_is_dropped_in_by_hand_reads_well_and_is_moved(depot, spares):
    folder = depot / "catalogue/requests"
    (folder / "from-the-tablet.yml").write_text(with_photo(jpeg()), encoding="utf-8")
    (folder / "voice.yml").write_text(VOICE, encoding="utf-8")
    code, out, _ = spares("check")
    assert code == 0
    assert "from-the-tablet.yml:12:1: warning REQ01" in out
    assert "voice.yml:1:1: warning REQ01" in out
    assert spares("request", "add", folder / "from-the-tablet.yml", folder / "voice.yml")[0] == 0
    assert set(requests_of(depot)) == {"coat-hook.yml", "R-0001.yml", "photos/R-0001.jpg"}
    assert "no problems" in spares("check")[1]


def test_a_request_that_has_its_number_keeps_it(depot, spares):
    file = depot / "catalogue/requests/R-0012.yml"
    file.write_text(with_photo(jpeg(), REQUEST + "answered_by: EX-0001\n"), encoding="utf-8")
    assert spares("request", "add", file)[0] == 0
    assert set(requests_of(depot)) == {"coat-hook.yml", "R-0012.yml", "photos/R-0012.jpg"}
    assert file.read_text(encoding="utf-8").endswith("photo: photos/R-0012.jpg\nanswered_by: EX-0001\n")
    code, _, err = spares("request", "add", file)
    assert (code, "has its number already" in err) == (1, True)


def test_a_disk_that_fails_leaves_everything_as_it_was(depot, sent, spares, monkeypatch):
    before = requests_of(depot)

    def fails(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("generator.edge.disk.atomic.os.fsync", fails)
    for text in (with_photo(jpeg()), VOICE):
        code, _, err = spares("request", "add", sent(text))
        assert code == 1
        assert "the disk is full" in err
    assert requests_of(depot) == before


def test_a_photo_that_is_missing_is_told(depot, spares):
    file = depot / "catalogue/requests/coat-hook.yml"
    file.write_text(file.read_text(encoding="utf-8") + "photo: photos/R-1.jpg\n", encoding="utf-8")
    code, out, _ = spares("check")
    assert code == 1
    assert "coat-hook.yml:12:8: error EVID01: names the file photos/R-1.jpg, which is not there" in out
