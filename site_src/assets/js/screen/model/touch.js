// Fingers, mouse and keys → the camera; a tap is no turn. What a finger does here scrolls nothing, for the canvas is open on its own.
(function () {
  "use strict";

  const { orbited, panned, pinched, zoomed } = spares.model;

  const STILL_PX = 8; // so far a gloved finger slips in a tap
  const STEP_PX = 40;
  const NOTCH = 1.0015;

  /** @param {HTMLElement} canvas @param {ModelTouch} on */
  function listenToHands(canvas, on) {
    /** @type {Map<number, ScreenSpot>} */
    const fingers = new Map();
    let moved = 0;
    let isSingle = true;

    /** @param {PointerEvent | WheelEvent} event @returns {ScreenSpot} */
    function spot(event) {
      const box = canvas.getBoundingClientRect();
      return [event.clientX - box.left, event.clientY - box.top];
    }

    canvas.addEventListener("pointerdown", (event) => {
      canvas.setPointerCapture(event.pointerId);
      if (!fingers.size) { moved = 0; isSingle = true; }
      fingers.set(event.pointerId, spot(event));
      if (fingers.size > 1 || event.button > 0) isSingle = false;
    });

    canvas.addEventListener("pointermove", (event) => {
      const before = fingers.get(event.pointerId);
      if (!before) return;
      const now = spot(event);
      const [dx, dy] = [now[0] - before[0], now[1] - before[1]];
      const all = [...fingers.keys()];
      if (fingers.size === 1) {
        moved += Math.hypot(dx, dy);
        if (moved <= STILL_PX && event.pointerType !== "mouse") return; // the finger still rests
        const isPan = event.shiftKey || (event.buttons & 6) > 0;
        on.change((camera) => (isPan ? panned(camera, dx, dy) : orbited(camera, on.size(), dx, dy)));
      } else if (all.indexOf(event.pointerId) < 2) {
        const other = /** @type {ScreenSpot} */ (fingers.get(all[0] === event.pointerId ? all[1] : all[0]));
        on.change((camera) => pinched(camera, on.size(), [before, other], [now, other], on.box));
      }
      fingers.set(event.pointerId, now);
    });

    /** @param {PointerEvent} event */
    function lifted(event) {
      const at = fingers.get(event.pointerId);
      fingers.delete(event.pointerId);
      if (event.type === "pointerup" && at && isSingle && moved <= STILL_PX) on.tapped(at[0], at[1]);
    }
    canvas.addEventListener("pointerup", lifted);
    canvas.addEventListener("pointercancel", lifted);
    canvas.addEventListener("contextmenu", (event) => event.preventDefault());

    canvas.addEventListener("wheel", (event) => {
      event.preventDefault();
      const [x, y] = spot(event);
      const lines = event.deltaMode === 0 ? 1 : 30;
      on.change((camera) => zoomed(camera, on.size(), x, y, NOTCH ** -Math.max(-400, Math.min(400, event.deltaY * lines)), on.box));
    }, { passive: false });

    canvas.addEventListener("keydown", (event) => {
      const ways = /** @type {Record<string, ScreenSpot>} */ ({ ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] });
      const { width, height } = on.size();
      const way = ways[event.key];
      if (event.altKey || event.ctrlKey || event.metaKey) return;
      if (way) on.change((camera) => (event.shiftKey ? panned(camera, way[0] * STEP_PX, way[1] * STEP_PX) : orbited(camera, on.size(), way[0] * STEP_PX, way[1] * STEP_PX)));
      else if (event.key === "+" || event.key === "=") on.change((camera) => zoomed(camera, on.size(), width / 2, height / 2, 1.25, on.box));
      else if (event.key === "-") on.change((camera) => zoomed(camera, on.size(), width / 2, height / 2, 0.8, on.box));
      else if (event.key === "Home") on.home();
      else if (event.key === "Enter") on.tapped(width / 2, height / 2);
      else return;
      event.preventDefault();
    });
  }

  spares.screen = { ...spares.screen, listenToHands };
})();
