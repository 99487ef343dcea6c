"""Documents of many kinds, each of which would do something if a browser took it for a page or a script."""

import gzip
import io

from PIL import Image


def script(mark, canary):
    said = f"console.log('RAN {mark}');document.title='RAN {mark}';window.RAN=1"
    return f"{said};new Image().src='{canary}/{mark}'"


def html(mark, canary):
    does = script(mark, canary)
    return (
        f"<!doctype html><html><head><title>{mark}</title><script>{does}</script></head>"
        f'<body onload="{does}"><img src="x:" onerror="{does}"><a href="x">{mark}</a></body></html>\n'
    )


def xhtml(mark, canary):
    return (
        '<?xml version="1.0"?>\n<html xmlns="http://www.w3.org/1999/xhtml"><head><title>t</title></head>'
        f"<body><script>{script(mark, canary)}</script></body></html>\n"
    )


def svg(mark, canary):
    does = script(mark, canary)
    return (
        '<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9" onload="'
        f'{does}"><script>{does}</script><foreignObject><body xmlns="http://www.w3.org/1999/xhtml">'
        f"<script>{does}</script></body></foreignObject></svg>\n"
    )


def mhtml(mark, canary):
    return (
        'MIME-Version: 1.0\nContent-Type: multipart/related; type="text/html"; boundary="b"\n\n--b\n'
        f"Content-Type: text/html\nContent-Location: http://x.invalid/\n\n{html(mark, canary)}\n--b--\n"
    )


def markdown(mark, canary):
    does = script(mark, canary)
    return (
        f"# {mark}\n\n<script>{does}</script>\n\n<img src='x:' onerror=\"{does}\">\n\n"
        f'[{mark}](javascript:{does})\n\n<div markdown onclick="{does}">x</div>\n'
    )


def front(mark, canary):
    return (
        f'---\ntemplate: main.html\ntitle: "</title><script>{script(mark, canary)}</script>"\n---\n'
        + markdown(mark, canary)
    )


def picture(kind):
    file = io.BytesIO()
    Image.new("RGB", (24, 16), "#407080").save(file, kind)
    return file.getvalue()


def jpeg_comment(mark, canary):
    comment = html(mark, canary).encode()
    whole = picture("JPEG")
    return whole[:2] + b"\xff\xfe" + (len(comment) + 2).to_bytes(2, "big") + comment + whole[2:]


PAGES = "html htm HTML HtMl xhtml xht shtml shtm stm hta htc svg svgz xml xsl xslt rdf atom mht mhtml md"
PAGES += " markdown mdown mkd mkdn txt text log pdf png jpg jpeg webp gif bmp ico avif js mjs cjs css json"
PAGES += " map csv ics vtt swf url jar webmanifest wasm php cgi asp jsp eml vcf rtf docx zip appcache"
PAGES += " htaccess"
NAMES = [  # names that may confuse whoever reads them; {m} is the document's mark
    *(
        "bare-{m}",
        "{m}.pdf.html",
        "{m}.html.pdf",
        "{m}.png.svg",
        "{m}.html.",
        "{m}.html ",
        " {m}.html",
        "{m}.html;.png",
    ),
    *(
        "{m}#x.html",
        "{m}?x=.html",
        "{m}%2ehtml",
        "{m}%2f..%2f..%2findex.html",
        "{m}&lt;.html",
        '{m}"quote.html',
    ),
    *(
        "{m}'quote.html",
        "{m}\nnewline.html",
        "{m}\ttab.html",
        "{m}\\back.html",
        "{m}\u202elmth.pdf",
        "{m}\u200f.html",
    ),
    *("{m}\u2028line.html", "{m}\ufeff.html", "javascript:console.log('RAN {m}')", "data:text:html,{m}.html"),
    *(
        "<img src=x: onerror=console.log('RAN {m}')>.txt",
        "\"><img src=x: onerror=console.log('RAN {m}')>.pdf",
    ),
    *(
        "' onmouseover='console.log(1)' {m}.html",
        "]({m})<script>.md",
        "[{m}](javascript:console.log('RAN {m}')).md",
    ),
    *(
        "`{m}`{{{{7*7}}}}{{% raw %}}.html",
        "${{console.log('RAN {m}')}}.html",
        "{m}</script>.html".replace("/", ""),
    ),
    *(
        ".{m}.html",
        "-{m}.html",
        "{m}.zip.html",
        "{m}.html.zip",
        "{m}.html.zip.html",
        "{m}.txt.html",
        "con.{m}.html",
    ),
]
ALONE = [
    "index.html",
    "index.md",
    "README.md",
    "sw.js",
    "manifest.webmanifest",
    "EX-0003.html",
    "404.html",
    "_headers",
]


def dangerous(canary):
    """Name and content of every dangerous document, in an order that does not change."""
    found = {}

    def add(name, make, mark=None):
        mark = mark or f"d{len(found)}"
        content = make(mark, canary)
        found[name.format(m=mark) if "{m}" in name else name] = (
            content if isinstance(content, bytes) else content.encode()
        )

    for kind in PAGES.split():
        add("{m}." + kind, html)
    for kind in ("xhtml", "xht", "xml", "svg", "xsl", "html", "txt", "png"):
        add("{m}-x." + kind, xhtml)
    for kind in ("svg", "svgz", "xml", "png", "webp", "SVG", "txt", "html", "jpg"):
        add("{m}-s." + kind, svg)
    for kind in ("svgz", "svg", "html"):
        add("{m}-z." + kind, lambda mark, canary: gzip.compress(svg(mark, canary).encode(), mtime=0))
    for kind in ("mht", "mhtml", "eml", "txt"):
        add("{m}-m." + kind, mhtml)
    for kind in ("md", "markdown", "mdown", "mkd", "mkdn", "MD", "txt"):
        add("{m}-w." + kind, markdown)
    add("{m}-f.md", front)
    for kind in ("js", "mjs", "json", "css"):
        add("{m}-j." + kind, script)
    for name in NAMES:
        add(name, html)
    for name in ALONE:
        add(name, markdown if name.endswith(".md") else html)
    # of two kinds at once
    add("{m}-both.pdf", lambda mark, canary: b"%PDF-1.4\n" + html(mark, canary).encode())
    add("{m}-both.html", lambda mark, canary: b"%PDF-1.4\n" + html(mark, canary).encode())
    add("{m}-late.pdf", lambda mark, canary: html(mark, canary).encode() + b"\n%PDF-1.4\n")
    add("{m}-bom.pdf", lambda mark, canary: b"\xef\xbb\xbf \n" + html(mark, canary).encode() + b"%PDF-1.7")
    for name in ("{m}-tail.png", "{m}-tail.html", "{m}-tail.htm.png", "{m}-tail"):
        add(name, lambda mark, canary: picture("PNG") + html(mark, canary).encode())
    add("{m}-tail.webp", lambda mark, canary: picture("WEBP") + html(mark, canary).encode())
    add("{m}-comment.jpg", jpeg_comment)
    add("{m}-comment.html", jpeg_comment)
    add("{m}-riff.webp", lambda mark, canary: b"RIFF\x10\0\0\0WAVE" + html(mark, canary).encode())
    add("{m}-riff.html", lambda mark, canary: b"RIFF\x10\0\0\0WEBP" + html(mark, canary).encode())
    add("{m}-short.png", lambda mark, canary: b"\x89PNG" + html(mark, canary).encode())
    add("{m}-gif.gif", lambda mark, canary: b"GIF89a/*" + html(mark, canary).encode() + b"*/=1;" + b"RAN=1")
    add("{m}-zip.zip", lambda mark, canary: html(mark, canary).encode() + b"PK\x05\x06" + bytes(18))
    for code in ("utf-16", "utf-7", "utf-32", "utf-8-sig", "cp037"):
        add(f"{{m}}-{code}.txt", lambda mark, canary, code=code: html(mark, canary).encode(code))
        add(f"{{m}}-{code}.html", lambda mark, canary, code=code: html(mark, canary).encode(code))
    add(
        "{m}-feed.xml",
        lambda mark, canary: f'<?xml-stylesheet type="text/xsl" href="d.xsl"?>{xhtml(mark, canary)[22:]}',
    )
    add(
        "{m}-end.txt",
        lambda mark, canary: f"</pre></textarea></title></script></template>{html(mark, canary)}",
    )
    add(
        "{m}-cdata.txt",
        lambda mark, canary: f"]]>--></bdi></code>{svg(mark, canary)[22:]}{{{{7*7}}}}{{% raw %}}",
    )
    return found
