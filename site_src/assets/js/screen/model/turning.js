// The model at work: canvas, hands, controls and what is measured, inside the window that screen/part/turn.js has opened.
(function () {
  "use strict";

  const { between, drawingOf, facingCut, homeCamera, isOfThePart, shownMm, shownWithin, snapped, zoomed } = spares.model;
  const { filled } = spares.judge;
  const { listenToHands, made, modelCanvas, readModel, showMarks } = spares.screen;

  const REACH_PX = 26;
  const HALF_WAY = 50; // of 100

  /** Rejects with an Error whose message is the key of its words.
   * @param {TurnWindow} win */
  async function turnModel(win) {
    const { model, rounds } = await readModel(win.path, win.mark);
    const canvas = made("canvas", "turn__canvas", { tabindex: "0", role: "img", "aria-label": filled(win.words.label, { name: win.name }, globalThis.sparesRules.words), "aria-describedby": "turn-help" });
    const over = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    over.setAttribute("class", "turn__over");
    over.setAttribute("aria-hidden", "true");
    win.stage.append(canvas, over);
    const drawn = modelCanvas(canvas, model, drawingOf(model));
    if (!drawn) { canvas.remove(); over.remove(); throw new Error("no_gl"); }
    start({ win, model, rounds, canvas, over, drawn });
  }

  /** @param {{ win: TurnWindow, model: TurnModel, rounds: ModelRound[], canvas: HTMLCanvasElement, over: SVGSVGElement, drawn: ModelCanvas }} parts */
  function start({ win, model, rounds, canvas, over, drawn }) {
    const { words } = globalThis.sparesRules;
    const said = win.words;
    const decimal = words.finder.decimal;
    const size = () => ({ width: canvas.clientWidth, height: canvas.clientHeight });
    let camera = homeCamera(model.box, size());
    /** @type {PlaneCut | null} */
    let cut = null;
    /** @type {Snap[]} */
    let snaps = [];
    let isMeasuring = false;
    let hasTurned = false;
    let figure = "";
    let isAsked = false;

    function show() {
      if (isAsked) return;
      isAsked = true;
      requestAnimationFrame(() => {
        isAsked = false;
        if (!canvas.isConnected) return;
        drawn.show({ camera, cut, isPit: document.body.getAttribute("data-md-color-scheme") === "slate" });
        showMarks(over, snaps, figure, camera, size());
        win.stage.setAttribute("data-drawn", "");
      });
    }

    /** @param {(camera: Camera) => Camera} changed */
    function change(changed) {
      camera = changed(camera);
      hasTurned = true;
      show();
    }

    function home() {
      camera = homeCamera(model.box, size());
      hasTurned = false;
      show();
    }

    /** @param {Snap} snap */
    const kind = (snap) => said[`kind_${snap.kind}`];
    /** @param {string} sentence */
    const begun = (sentence) => sentence.charAt(0).toLocaleUpperCase() + sentence.slice(1);
    /** @param {number} mm @param {number} within */
    const value = (mm, within) => filled(said.value, { mm: shownMm(mm, decimal), within: shownWithin(within, decimal) }, words);

    function tell() {
      figure = "";
      if (!isMeasuring) win.tell(said.help);
      else if (!snaps.length) win.tell(said.help_measure);
      else if (snaps.length === 2) {
        const far = between(snaps[0], snaps[1]);
        const isExact = snaps.every(isOfThePart);
        figure = isExact ? value(far.mm, far.withinMm) : filled(said.plain, { mm: shownMm(far.mm, decimal) }, words);
        win.tell(begun(filled(!isExact ? said.spots : far.isAxes ? said.axes : said.distance, { value: figure, one: kind(snaps[0]), other: kind(snaps[1]) }, words)), true);
      } else if (snaps[0].round) {
        const { round } = snaps[0];
        const isAcross = round.shape === "square" || round.shape === "hexagon";
        figure = `${isAcross ? "" : "Ø "}${value(round.size_mm, round.within_mm)}`;
        const deep = round.is_through || round.length_mm === null ? "" : shownMm(round.length_mm, decimal);
        const pitch = round.pitch_mm === undefined ? "" : round.pitch_mm.toFixed(2).replace(".", decimal);
        const sentence = !round.shape ? said[round.is_inner ? "hole" : "boss"] : said[`${round.shape}_${round.is_inner ? "in" : "out"}`];
        win.tell(filled(sentence, { value: figure, deep, through: round.is_inner && round.is_through ? said.through : "", pitch, hand: round.hand ? said[`hand_${round.hand}`] : "" }, words), true);
      } else win.tell(begun(filled(said.first, { kind: kind(snaps[0]) }, words)));
      controls.again.disabled = !snaps.length;
      show();
    }

    /** @param {number} x @param {number} y */
    function tapped(x, y) {
      if (!isMeasuring) return;
      const snap = snapped({ model, rounds, camera, size: size(), cut, reachPx: REACH_PX }, x, y);
      if (!snap) return snaps.length ? undefined : win.tell(said.missed); // a slip wipes nothing that is told
      snaps = snaps.length === 1 ? [snaps[0], snap] : [snap];
      tell();
    }

    const controls = spares.screen.turnControls(win, {
      home,
      grow: (factor) => change((now) => zoomed(now, size(), size().width / 2, size().height / 2, factor, model.box)),
      measure: (isOn) => { isMeasuring = isOn; snaps = []; over.classList.toggle("turn__over--on", isOn); tell(); },
      again: () => { snaps = []; tell(); },
      cut: (axis, share, isOther) => {
        if (axis === null) cut = null;
        else if (cut && cut.axis === axis && share !== null) cut = { ...cut, at: facingCut(camera, model.box, axis, share).at, sign: isOther ? -cut.sign : cut.sign };
        else cut = facingCut(camera, model.box, axis, HALF_WAY / 100);
        snaps = [];
        tell();
      },
    });
    listenToHands(canvas, { change, home, tapped, size, box: model.box });
    canvas.addEventListener("webglcontextlost", (event) => {
      event.preventDefault(); // so that it may come back
      win.still(said.lost);
    });
    canvas.addEventListener("webglcontextrestored", () => {
      try {
        drawn.again();
      } catch (reason) {
        console.error("spares: the drawing cannot be taken up again.", reason);
        return;
      }
      win.live();
      tell();
    });
    new ResizeObserver(() => { if (!hasTurned) camera = homeCamera(model.box, size()); show(); }).observe(canvas);
    win.live();
    tell();
    canvas.focus({ preventScroll: true });
  }

  spares.screen = { ...spares.screen, turnModel };
})();
