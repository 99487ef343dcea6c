// How does a photo become small enough to travel in a text file? Drawn anew at most 1280 px large, without where it was taken.
(function () {
  "use strict";

  /** The type library of some compilers does not know the word. */
  const UPRIGHT = /** @type {ImageBitmapOptions} */ (/** @type {unknown} */ ({ imageOrientation: "from-image" }));
  const LONGEST_PX = 1280;
  // As base64 it stays well below the 900,000 letters that a request file may hold.
  const MOST_BYTES = 450_000;
  const QUALITIES = [0.82, 0.7, 0.55, 0.4];

  /** @param {Blob} file @returns {Promise<string>} JPEG as base64; rejects for what is no picture */
  async function smallPhoto(file) {
    const picture = await createImageBitmap(file, UPRIGHT);
    try {
      for (const longest of [LONGEST_PX, 960, 640]) {
        const canvas = drawn(picture, longest);
        for (const quality of QUALITIES) {
          const blob = await asJpeg(canvas, quality);
          if (blob && blob.size <= MOST_BYTES) return base64(blob);
        }
      }
    } finally {
      picture.close();
    }
    throw new Error("the photo cannot be made small enough");
  }

  /** @param {ImageBitmap} picture @param {number} longest */
  function drawn(picture, longest) {
    const scale = Math.min(1, longest / Math.max(picture.width, picture.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    pen.fillStyle = "#fff"; // a JPEG knows no transparency
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.imageSmoothingQuality = "high";
    pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
    return canvas;
  }

  /** @param {HTMLCanvasElement} canvas @param {number} quality @returns {Promise<Blob | null>} */
  const asJpeg = (canvas, quality) => new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", quality));

  /** @param {Blob} blob @returns {Promise<string>} */
  const base64 = (blob) => new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).split(",")[1]);
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(blob);
  });

  spares.screen = { ...spares.screen, smallPhoto };
})();
