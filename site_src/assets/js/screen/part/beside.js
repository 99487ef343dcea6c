// A photo of the old part beside the part's picture, at one scale. Two marks on the photo and the distance between them tell its
// scale; the picture's own is known. Nothing is recognised and nothing leaves the tablet.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { made } = spares.screen;
  const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-beside]"));
  const NUMBER = /^\d{1,4}(?:[.,]\d{1,2})?(?:\s*mm)?$/;
  const FRAME = { wide: 640, high: 480 };
  const STEP = 0.004; // of the photo's width, by a key
  // The type library of some compilers does not know the word.
  const UPRIGHT = /** @type {ImageBitmapOptions} */ (/** @type {unknown} */ ({ imageOrientation: "from-image" }));
  const START = [{ x: 0.3, y: 0.5 }, { x: 0.7, y: 0.5 }];

  /** @param {string} typed @returns {number | null} */
  function millimetres(typed) {
    const mm = NUMBER.test(typed) ? Number.parseFloat(typed.replace(",", ".")) : 0;
    return mm > 0 ? mm : null;
  }

  /** A mark that is dragged, or moved by the arrow keys.
   * @param {number} at @param {HTMLElement} stage @param {string} name @param {() => void} changed */
  function mark(at, stage, name, changed) {
    const own = { ...START[at] };
    const handle = made("button", "beside__mark", { type: "button", "aria-label": name }, String(at + 1));
    const show = () => { handle.style.left = `${own.x * 100}%`; handle.style.top = `${own.y * 100}%`; };
    /** @param {number} x @param {number} y */
    const put = (x, y) => { own.x = Math.min(Math.max(x, 0), 1); own.y = Math.min(Math.max(y, 0), 1); show(); changed(); };
    /** @param {PointerEvent} event */
    const follow = (event) => {
      const box = stage.getBoundingClientRect();
      put((event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height);
    };
    handle.addEventListener("pointerdown", (event) => { handle.setPointerCapture(event.pointerId); event.stopPropagation(); follow(event); });
    handle.addEventListener("pointermove", (event) => { if (handle.hasPointerCapture(event.pointerId)) follow(event); });
    handle.addEventListener("keydown", (event) => {
      const by = STEP * (event.shiftKey ? 5 : 1);
      /** @type {Record<string, [number, number]>} */
      const ways = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] };
      const way = ways[event.key];
      if (!way) return;
      event.preventDefault();
      put(own.x + way[0], own.y + way[1]);
    });
    show();
    return { own, handle, follow, again: () => { Object.assign(own, START[at]); show(); } };
  }

  /** The piece of a photo about the marks that is as wide in mm as the frame of the picture.
   * @param {HTMLCanvasElement} canvas @param {ImageBitmap} photo @param {{ x: number, y: number }} middle in px of the photo
   * @param {number} mmPerPx of the photo @param {number} frameMmPerPx of the picture */
  function cut(canvas, photo, middle, mmPerPx, frameMmPerPx) {
    const share = frameMmPerPx / mmPerPx; // px of the photo for one px of the frame
    const pen = canvas.getContext("2d");
    if (!pen) return;
    pen.clearRect(0, 0, FRAME.wide, FRAME.high);
    pen.drawImage(photo, middle.x - FRAME.wide * share / 2, middle.y - FRAME.high * share / 2, FRAME.wide * share, FRAME.high * share, 0, 0, FRAME.wide, FRAME.high);
  }

  /** @param {HTMLElement} root */
  function start(root) {
    const { words } = globalThis.sparesRules;
    const said = words.working.beside;
    const scale = Number(root.dataset.mmPerPx);
    /** @type {ImageBitmap | null} */
    let photo = null;
    let next = 0;
    const file = made("input", "beside__file", { type: "file", accept: "image/*", id: "beside-file" });
    const stage = made("div", "beside__stage", {});
    const whole = made("canvas", "beside__photo", { role: "img", "aria-label": said.photo });
    const size = made("input", "beside__size", { inputmode: "decimal", autocomplete: "off", maxlength: "9", id: "beside-mm" });
    const told = made("p", "beside__told", { role: "status" });
    const cutOut = made("canvas", "beside__cut", { width: String(FRAME.wide), height: String(FRAME.high), role: "img", "aria-label": said.photo });
    const front = made("img", "beside__front", { src: root.dataset.beside || "", alt: said.part, width: "640", height: "480" });
    const both = made("div", "beside__both", {}, made("figure", "", {}, cutOut, made("figcaption", "", {}, said.photo)), made("figure", "", {}, front, made("figcaption", "", {}, said.part)));

    const show = () => {
      const mm = millimetres(size.value.trim());
      const [one, other] = marks.map(({ own }) => ({ x: own.x * (photo?.width || 0), y: own.y * (photo?.height || 0) }));
      const px = Math.hypot(one.x - other.x, one.y - other.y);
      const isReady = photo !== null && mm !== null && px >= 2;
      both.hidden = !isReady;
      told.textContent = isReady ? said.caution : photo && size.value.trim() && mm === null ? filled(said.unread, { decimal: words.finder.decimal }, words) : "";
      if (photo && mm !== null && px >= 2) cut(cutOut, photo, { x: (one.x + other.x) / 2, y: (one.y + other.y) / 2 }, mm / px, scale);
    };
    const marks = [said.first, said.second].map((name, at) => mark(at, stage, name, show));
    marks.forEach(({ handle }, at) => handle.addEventListener("focus", () => { next = at; }));
    stage.addEventListener("pointerdown", (event) => { marks[next].follow(event); next = 1 - next; });
    size.addEventListener("input", show);
    file.addEventListener("change", async () => {
      const chosen = file.files?.[0];
      if (!chosen) return;
      try {
        photo = await createImageBitmap(chosen, UPRIGHT);
      } catch {
        photo = null;
      }
      steps.hidden = !photo;
      if (photo) {
        const share = Math.min(1, 1280 / Math.max(photo.width, photo.height));
        whole.width = Math.max(1, Math.round(photo.width * share));
        whole.height = Math.max(1, Math.round(photo.height * share));
        whole.getContext("2d")?.drawImage(photo, 0, 0, whole.width, whole.height);
        for (const each of marks) each.again();
      }
      show();
      if (!photo) told.textContent = said.no_picture;
    });
    stage.append(whole, ...marks.map(({ handle }) => handle));
    const steps = made("div", "beside__steps", {}, made("p", "", {}, said.mark), stage, made("label", "beside__label", { for: "beside-mm" }, said.size), size);
    steps.hidden = true;
    both.hidden = true;
    root.append(made("p", "", {}, said.says), made("label", "beside__label", { for: "beside-file" }, said.choose), file, steps, told, both);
    root.hidden = false;
  }

  if (place && typeof createImageBitmap === "function") start(place);
})();
