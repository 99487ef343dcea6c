"""Things that can lie in a part's folder, and what has to become of each."""

import io
import os
import shutil
import socket
import struct
import zlib
from functools import partial
from pathlib import Path

from PIL import Image

SECRET = b"SECRET-OF-THE-MACHINE-7d1f"


# Each poison is made by a function that puts something into a part's folder and returns the bytes that must
# not vanish.


def document(name, content):
    def put(part):
        Path(part, "documents", os.fsdecode(name)).write_bytes(content)
        return content

    return put


def instead(name, content):
    def put(part):
        (part / name).write_bytes(content)

    return put


def pipe(name):
    def put(part):
        (part / name).unlink(missing_ok=True)
        os.mkfifo(part / name)

    return put


def folder(name):
    def put(part):
        (part / name).unlink(missing_ok=True)
        (part / name).mkdir()
        (part / name / "inner.txt").write_bytes(b"inside " + name.encode())
        return b"inside " + name.encode()

    return put


def link(name, to):
    def put(part):
        if (part / name).is_dir():
            shutil.rmtree(part / name)
        (part / name).unlink(missing_ok=True)
        (part / name).symlink_to(to)

    return put


def file_for_folder(name):
    def put(part):
        shutil.rmtree(part / name)
        (part / name).write_bytes(b"not a folder")

    return put


def a_socket(name):
    def put(part):
        here = Path.cwd()
        os.chdir(part)  # the name of a socket is limited to some hundred letters
        try:
            with socket.socket(socket.AF_UNIX) as one:
                one.bind(name)
        finally:
            os.chdir(here)

    return put


def device(name):
    def put(part):
        try:
            os.mknod(part / name, 0o666 | 0o020000, os.makedev(1, 5))  # endless zeros
        except PermissionError:
            (part / name).symlink_to("/dev/zero")

    return put


def deep(part):
    """A file in a folder of the documents must not vanish either."""
    (part / "documents/folder/in folder").mkdir(parents=True)
    (part / "documents/folder/in folder/named-deep.pdf").write_bytes(b"%PDF-1.4 deep")
    return b"%PDF-1.4 deep"


def sparse(name, start=b""):
    def put(part):
        (part / name).write_bytes(start)
        os.truncate(part / name, 2**40)

    return put


def told(put, name, *rest):
    """A poison that check must name, by the file's name."""
    return Path(name).name, put(name, *rest)


def png_chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png_bomb(wide, high, rows=1):
    head = png_chunk(b"IHDR", struct.pack(">IIBBBBB", wide, high, 1, 0, 0, 0, 0))
    body = zlib.compress(bytes((wide // 8 + 1) * rows), 9)
    return b"\x89PNG\r\n\x1a\n" + head + png_chunk(b"IDAT", body) + png_chunk(b"IEND", b"")


def text_bomb():
    """A small picture that carries 64 MiB of packed text."""
    whole = io.BytesIO()
    Image.new("RGB", (8, 8)).save(whole, "PNG")
    packed = png_chunk(b"zTXt", b"Comment\0\0" + zlib.compress(bytes(64 * 2**20), 9))
    return whole.getvalue()[:33] + packed + whole.getvalue()[33:]


def picture(kind, size=(64, 48)):
    file = io.BytesIO()
    Image.effect_noise(size, 90).convert("RGB").save(file, kind)
    return file.getvalue()


def photo(name, content):
    """content: its bytes, or what makes them when they are wanted: a bomb takes its time."""

    def put(part):
        (part / "photos" / name).write_bytes(content() if callable(content) else content)

    return put


def bmp_bomb():
    return (
        b"BM"
        + struct.pack("<IHHI", 54, 0, 0, 54)
        + struct.pack("<IiiHHIIiiII", 40, 60000, 60000, 1, 24, *[0] * 6)
    )


LAUGHS = b"a: &a [x, x, x, x, x, x, x, x, x]\n" + b"".join(
    b"%c: &%c [%s]\n" % (c, c, b", ".join([b"*%c" % (c - 1)] * 9)) for c in range(ord("b"), ord("k"))
)

# KEPT: offered byte for byte on the part's page, or named by check. None: nothing may break, that is all.
# Else it is the name that check must tell.
KEPT = "kept"
MARKDOWN = {
    "latin-md": (KEPT, document("plain-latin.md", "Prüfung bei 20 °C".encode("latin-1"))),
    "binary-md": (KEPT, document("plain-binary.md", bytes(range(256)))),
    "utf16-md": (KEPT, document("plain-utf.md", "# Prüfung".encode("utf-16"))),
    "nul-md": (KEPT, document("plain-nul.md", b"# a\0b\n\x1b[2J")),
    "no-template": (KEPT, document("plain-template.md", b"---\ntemplate: nowhere.html\n---\n# x\n")),
    "other-template": (KEPT, document("plain-main.md", b"---\ntemplate: 404.html\ntitle: [1]\n---\n# x\n")),
    "bad-front": (KEPT, document("plain-front.md", b"---\n: [\n\t- {\n---\n# x\n")),
    "front-list": (KEPT, document("plain-list.md", b"---\n- 1\n- 2\n---\n# x\n")),
    "front-title": (KEPT, document("plain-title.md", b"---\ntitle: {a: 1}\nhide: 7\nstatus: []\n---\n# x\n")),
    "front-code": (KEPT, document("plain-code.md", b"---\nx: !!python/object/apply:os.getcwd []\n---\n")),
    "front-env": (KEPT, document("plain-env.md", b"---\nx: !ENV PATH\ntemplate: {}\n---\n")),
    "front-laughs": (KEPT, document("plain-laughs.md", b"---\n" + LAUGHS + b"---\n# x\n")),
    "jinja": (KEPT, document("plain-jinja.md", b"{% include 'nowhere' %}{{ 1/0 }}{% raw %}\n[TOC]\n")),
    "snippet": (KEPT, document("plain-snippet.md", b'--8<-- "nowhere.md"\n\n::: nothing.here\n\n!!! x\n')),
    "dead-links": (
        KEPT,
        document("plain-links.md", b"[a](nowhere.md#x) [b](/x) ![c](<../../../..>) [d](a\0b)\n"),
    ),
    "bad-url": (KEPT, document("plain-url.md", b"[a](http://[) [b](//[x) ![c](http://[::1)\n<http://[>\n")),
    "index-md": (KEPT, document("index.md", b"# index of documents\n")),
    "readme-md": (KEPT, document("README.md", b"# readme of documents\n")),
    "md-and-html": (KEPT, document("twin.md", b"# twin in markdown\n")),
    "part-number": (KEPT, document("EX-0001.md", b"# Lid knob\n**Fit it**\n")),
    "mkdocs-yml": (KEPT, document("mkdocs.yml", b"plugins: [nowhere]\n")),
    "meta-yml": (KEPT, document(".meta.yml", b"template: nowhere.html\n")),
    "python": (KEPT, document("conf.py", b"raise SystemExit(3)\n")),
    "empty": (KEPT, document("empty.pdf", b"")),
    "stray-md": told(instead, "plain-stray.md", b"---\ntemplate: nowhere.html\n---\n"),
    "stray-index": told(instead, "index.md", b"\xff"),
    "fitting-latin": told(instead, "fitting.md", "## Tools\n- Schlüssel".encode("latin-1")),
    "fitting-nul": told(instead, "fitting.md", b"## Tools\n- a\0b\n"),
}
QUIET = {  # fitting notes that may be shown as they are: nothing to tell, but nothing may break
    "fitting-front": instead("fitting.md", b"---\ntemplate: nowhere.html\n---\n## Tools\n- Spanner\n"),
    "fitting-jinja": instead(
        "fitting.md", b"## Tools\n- {% include 'x' %}{{ 1/0 }}\n\n[TOC]\n--8<-- \"x\"\n"
    ),
    "fitting-url": instead("fitting.md", b"## Tools\n- [a](http://[) <http://[> ![](//[x) [b](\x01)\n"),
    "fitting-reference": instead(
        "fitting.md", b"## Tools\n[a]: http://[\n[^1]: x\n*[b]: y\n&#x110000; &#0;\n"
    ),
    "fitting-empty": instead("fitting.md", b""),
    "fitting-bom": instead("fitting.md", b"\xef\xbb\xbf## Tools\r\n- Spanner\r\n"),
}
LINKS = {
    "folder-md": (KEPT, folder("documents/named-folder.md")),
    "folder-pdf": (KEPT, folder("documents/named-folder.pdf")),
    "folder-photo": told(folder, "photos/named-folder.png"),
    "loop": told(link, "documents/named-loop.pdf", "named-loop.pdf"),
    "broken": told(link, "documents/named-broken.pdf", "nowhere.pdf"),
    "broken-md": told(link, "documents/named-broken.md", "nowhere.md"),
    "broken-photo": told(link, "photos/named-broken.png", "nowhere.png"),
    "out": told(link, "documents/named-out.txt", "../../../../secret.txt"),
    "out-md": told(link, "documents/named-out.md", "../../../../secret.txt"),
    "out-pdf": told(link, "documents/named-out.pdf", "../../../../secret.pdf"),
    "out-photo": told(link, "photos/named-out.png", "../../../../secret.png"),
    "out-folder": told(link, "documents/named-outer", "../../../.."),
    "out-fitting": told(link, "fitting.md", "../../../secret.txt"),
    "documents-out": told(link, "documents", "../../../secrets"),
    "photos-out": told(link, "photos", "../../../secrets"),
    "up": told(link, "documents/named-up", ".."),
    "documents-loop": told(link, "documents", "documents"),
    "photos-loop": told(link, "photos", "photos"),
    "documents-file": told(file_for_folder, "documents"),
    "photos-file": told(file_for_folder, "photos"),
    "part-loop": told(link, "part.yml", "part.yml"),
    "approval-loop": told(link, "approval.yml", "approval.yml"),
    "approval-folder": told(folder, "approval.yml"),
    "fitting-folder": told(folder, "fitting.md"),
    "model-loop": told(link, "model.stl", "model.stl"),
    "model-folder": told(folder, "model.stl"),
}
PIPES = {
    "pipe-pdf": told(pipe, "documents/named-pipe.pdf"),
    "pipe-md": told(pipe, "documents/named-pipe.md"),
    "pipe-txt": told(pipe, "documents/named-pipe.txt"),
    "pipe-photo": told(pipe, "photos/named-pipe.png"),
    "pipe-stray": told(pipe, "named-pipe.md"),
    "pipe-part": told(pipe, "part.yml"),
    "pipe-approval": told(pipe, "approval.yml"),
    "pipe-fitting": told(pipe, "fitting.md"),
    "pipe-model": told(pipe, "model.stl"),
    "socket-pdf": told(a_socket, "documents/named-socket.pdf"),
    "socket-part": told(a_socket, "named-socket.yml"),
    "device-txt": told(device, "documents/named-device.txt"),
    "device-photo": told(device, "photos/named-device.png"),
}
NAMES = {
    "latin-name": (KEPT, document(b"named-\xe9\xff.pdf", b"latin name")),
    "latin-md": (KEPT, document(b"named-\xe9.md", b"latin name of markdown")),
    "longest": (KEPT, document("named-" + "l" * 245 + ".pdf", b"longest pdf")),
    "longest-md": (KEPT, document("named-" + "l" * 246 + ".md", b"longest md")),
    "longest-bare": (KEPT, document("named-" + "l" * 249, b"longest bare")),
    "longest-wide": (KEPT, document("named-" + "é" * 122 + ".txt", b"longest in letters of two bytes")),
    "dots": (KEPT, document("...", b"named with dots only")),
    "many-dots": (KEPT, document("." * 255, b"named with 255 dots")),
    "space": (KEPT, document(" ", b"named with one space")),
    "wide-space": (KEPT, document("\u3000\u200b", b"named with nothing to see")),
    "hidden": (KEPT, document(".named-hidden", b"a hidden document")),
    "newline": (KEPT, document("named\nin two.pdf", b"named in two lines")),
    "control": (KEPT, document("named\x1b[2J\x07\r.txt", b"named with control marks")),
    "backslash": (KEPT, document("named\\..\\..\\x.md", b"named with backslashes")),
    "percent": (KEPT, document("named%2e%2e%2f%00.md", b"named with percents")),
    "question": (KEPT, document("named?a=1#b.md", b"named with a question")),
    "brackets": (KEPT, document("named](x) {{ 7*7 }} {% x %}.md", b"named with brackets")),
    "colon": (KEPT, document("http://[".replace("/", ":"), b"named like an address")),
    "template": (KEPT, document("{{x}}${y}`z`<b>.html", b"named like a template")),
    "case-low": (KEPT, document("letter.html", b"the low letter")),
    "deep": (KEPT, deep),
}
PICTURES = {
    "bomb": told(photo, "named-bomb.png", png_bomb(200000, 200000)),
    "full-bomb": told(photo, "named-full.png", partial(png_bomb, 20000, 20000, rows=20000)),
    "flat-bomb": told(photo, "named-flat.png", partial(png_bomb, 2**31 - 1, 1)),
    "bmp-bomb": told(photo, "named-bmp.png", bmp_bomb()),
    "text-bomb": (None, photo("named-text.png", text_bomb)),
    "cut-png": told(photo, "named-cut.png", picture("PNG")[:400]),
    "cut-jpeg": told(photo, "named-cut.jpg", picture("JPEG")[:700]),
    "cut-webp": told(photo, "named-cut.webp", picture("WEBP")[:200]),
    "head-png": told(photo, "named-head.png", picture("PNG")[:8]),
    "no-size": told(photo, "named-size.png", png_bomb(0, 0)),
    "empty": told(photo, "named-empty.png", b""),
    "svg": told(photo, "named-svg.png", b"<svg xmlns='http://www.w3.org/2000/svg'/>"),
    "markdown": told(photo, "named-photo.md", b"---\ntemplate: nowhere.html\n---\n"),
    "latin": told(photo, "named-latin.md", b"\xff\xfe\xfd"),
    "index": told(photo, "index.md", b"# x\n"),
    "wrong-name": (None, photo("named-jpeg.png", picture("JPEG"))),
}
RECORDS = {
    "part-empty": told(instead, "part.yml", b""),
    "part-binary": told(instead, "part.yml", bytes(range(256))),
    "part-laughs": told(instead, "part.yml", LAUGHS),
    "part-code": told(instead, "part.yml", b"!!python/object/apply:os.system [false]\n"),
    "part-list": told(instead, "part.yml", b"- 1\n"),
    "part-two": told(instead, "part.yml", b"number: X\n---\nnumber: Y\n"),
    "part-self": told(instead, "part.yml", b"&a [*a]\n"),
    "part-folder": told(folder, "part.yml"),
    "approval-binary": told(instead, "approval.yml", b"\xff\xfe\0"),
    "approval-laughs": told(instead, "approval.yml", LAUGHS),
    "approval-dates": told(
        instead, "approval.yml", b"route: customer\nevents: [{on: 9999-99-99, what: x, by: y}]\n"
    ),
    "model-empty": told(instead, "model.stl", b""),
    "model-text": told(instead, "model.stl", b"solid \xff\nfacet normal nan inf 1e999\n"),
    "model-promise": told(instead, "model.stl", bytes(80) + struct.pack("<I", 2**32 - 1)),
}
SPARSE = {  # 1 TiB that takes no room; who reads all of it never ends, who copies it fills the disk
    "sparse-pdf": told(sparse, "documents/named-sparse.pdf", b"%PDF-1.4\n"),
    "sparse-txt": told(sparse, "documents/named-sparse.txt"),
    "sparse-md": told(sparse, "documents/named-sparse.md"),
    "sparse-photo": told(sparse, "photos/named-sparse.png", b"\x89PNG\r\n\x1a\n"),
    "sparse-fitting": told(sparse, "fitting.md"),
    "sparse-part": told(sparse, "part.yml"),
    "sparse-approval": told(sparse, "approval.yml"),
    "sparse-model": told(sparse, "model.stl"),
    "sparse-stray": told(sparse, "named-sparse.iso"),
}
GROUPS = {
    "markdown": MARKDOWN,
    "quiet": {slug: (None, put) for slug, put in QUIET.items()},
    "links": LINKS,
    "pipes": PIPES,
    "names": NAMES,
    "pictures": PICTURES,
    "records": RECORDS,
    "sparse": SPARSE,
}
