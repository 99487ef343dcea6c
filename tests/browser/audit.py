"""What axe-core's own rules find on a page: what depends on colours is asked in the dark again, all else once.

Colours take two thirds of the time, and are the same on a wider screen: there the page's shape alone is asked. Of texts
that look alike on a ground that looks alike, which a page has hundreds of, two are asked: contrast is of nothing else.
"""

from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

COLOURS = ["color-contrast", "link-in-text-block"]
RULES: dict[str, dict[str, Any]] = {"light": {}, "dark": {"runOnly": {"type": "rule", "values": COLOURS}}}
SHAPE = {"rules": {rule: {"enabled": False} for rule in COLOURS}}
_AXE = Axe()
# Of each look the first and the largest are marked (of a small text axe-core cannot tell whether what
# is drawn before it hides it), and whatever may be unlike the others for another reason: it lies over something, is tiny, cannot be used, or names what cannot be.
_ALIKE = """() => {
  const grounds = new Map([[null, "page"]]), named = new Map(), looks = new Map(), all = [...document.querySelectorAll("body, body *")];
  for (const each of all) {
    const style = getComputedStyle(each), box = each.getBoundingClientRect();
    const ground = [style.backgroundColor, style.backgroundImage, style.opacity, style.filter, style.mixBlendMode].join();
    const over = ["absolute", "fixed", "sticky"].includes(style.position) ? all.indexOf(each) : "";
    const plain = ground === "rgba(0, 0, 0, 0),none,1,none,normal" && over === "";
    const below = grounds.get(each.parentElement) || "page", here = plain ? below : `${below}/${ground}${over}`;
    if (!named.has(here)) named.set(here, `${named.size}`);
    grounds.set(each, plain ? below : named.get(here));
    if (!each.getClientRects().length) continue;
    const words = [...each.childNodes].filter(one => one.nodeType === 3).map(one => one.data.trim()).join("");
    if (!words && !each.matches("input, select, textarea, button")) continue;
    const isOther = box.width < 4 || box.height < 4 || each.closest("label, :disabled, [aria-disabled], [aria-hidden], svg");
    const look = isOther ? all.indexOf(each) : [grounds.get(each), style.color, style.fontSize, style.fontWeight, style.textShadow,
      each.matches("input, select, textarea, button") ? each.tagName : words.length > 1, each.checkVisibility({ visibilityProperty: true })].join();
    looks.set(look, [...(looks.get(look) || []), each]);
  }
  const area = each => each.getBoundingClientRect().width * each.getBoundingClientRect().height;
  for (const alike of looks.values()) {
    const largest = alike.reduce((one, other) => area(other) > area(one) ? other : one);
    for (const each of [alike[0], largest]) each.setAttribute("data-asked", "");
  }
  axe.configure({ rules: [{ id: "color-contrast", selector: "[data-asked]" }] });
}"""

# As a hand turns pit mode on or off, and the tablet forgets it again.
_PIT = """isDark => {
  if (isDark !== (document.body.getAttribute("data-md-color-scheme") === "slate")) document.querySelector(".pit").click();
  localStorage.removeItem("spares.pit");
}"""


def violations(page: Page, asked: str) -> list[tuple[str, str]]:
    """Each with the name of its rule and the first element that breaks it."""
    if not page.evaluate("'axe' in globalThis"):
        page.evaluate(_AXE.axe_script)
    if asked != "shape":
        page.evaluate("document.querySelectorAll('[data-asked]').forEach(each => each.removeAttribute('data-asked'))")
        page.evaluate(_ALIKE)
    options = {**RULES, "shape": SHAPE}[asked] | {"resultTypes": ["violations"]}
    found = page.evaluate("options => axe.run(document, options).then(found => found.violations)", options)
    return [(each["id"], each["nodes"][0]["html"]) for each in found]


def in_both(page: Page) -> list[tuple[str, str, str]]:
    """What is found in the light, and on the same page in the dark; each with `light` or `dark` before it."""
    found = []
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme="dark" if scheme == "dark" else "light", reduced_motion="reduce")
        page.evaluate(_PIT, scheme == "dark")
        found += [(scheme, *each) for each in violations(page, scheme)]
    page.emulate_media(color_scheme="light")
    page.evaluate(_PIT, False)
    return found
