// What does a text look like as a QR code? ISO/IEC 18004, model 2, byte mode, error correction L or M. Pure.
(function () {
  "use strict";

  /** Error correction codewords a block, and blocks, of versions 1 to 40 (ISO/IEC 18004, table 9). */
  const LEVELS = {
    L: {
      bits: 1,
      check: [7, 10, 15, 20, 26, 18, 20, 24, 30, 18, 20, 24, 26, 30, 22, 24, 28, 30, 28, 28, 28, 28, 30, 30, 26, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30],
      blocks: [1, 1, 1, 1, 1, 2, 2, 2, 2, 4, 4, 4, 4, 4, 6, 6, 6, 6, 7, 8, 8, 9, 9, 10, 12, 12, 12, 13, 14, 15, 16, 17, 18, 19, 19, 20, 21, 22, 24, 25],
    },
    M: {
      bits: 0,
      check: [10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26, 26, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28],
      blocks: [1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5, 8, 9, 9, 10, 10, 11, 13, 14, 16, 17, 17, 18, 20, 21, 23, 25, 26, 28, 29, 31, 33, 35, 37, 38, 40, 43, 45, 47, 49],
    },
  };
  /** The data masks: a module is turned over where the value is 0 (clause 7.8.2).
   * @type {((row: number, column: number) => number)[]} */
  const MASKS = [
    (r, c) => (r + c) % 2,
    (r) => r % 2,
    (_r, c) => c % 3,
    (r, c) => (r + c) % 3,
    (r, c) => (Math.floor(r / 2) + Math.floor(c / 3)) % 2,
    (r, c) => ((r * c) % 2) + ((r * c) % 3),
    (r, c) => (((r * c) % 2) + ((r * c) % 3)) % 2,
    (r, c) => (((r + c) % 2) + ((r * c) % 3)) % 2,
  ];

  /** @typedef {"L" | "M"} Level */
  /** @typedef {{ size: number, dark: Uint8Array, taken: Uint8Array }} Grid */

  /** The code as rows of booleans, dark is true, without its quiet zone; null where the text is too long for `most`.
   * @param {string} text @param {{ most?: number, level?: Level, mask?: number, version?: number }} [how]
   *   most: highest version that may be used; level: M where it fits, else L, unless given
   * @returns {{ version: number, level: Level, mask: number, rows: boolean[][] } | null} */
  function qrCode(text, how = {}) {
    const bytes = new TextEncoder().encode(text);
    const most = how.most || 40;
    for (const level of /** @type {Level[]} */ (how.level ? [how.level] : ["M", "L"])) {
      for (let version = how.version || 1; version <= (how.version || most); version += 1) {
        if (bitsNeeded(bytes, version) <= 8 * dataCodewords(version, level)) return drawn(bytes, version, level, how.mask);
      }
    }
    return null;
  }

  /** @param {Uint8Array} bytes @param {number} version */
  const bitsNeeded = (bytes, version) => 4 + lengthBits(version) + 8 * bytes.length;

  /** @param {number} version */
  const lengthBits = (version) => (version < 10 ? 8 : 16);

  /** All modules that carry data or error correction.
   * @param {number} version */
  function rawModules(version) {
    const align = version > 1 ? Math.floor(version / 7) + 2 : 0;
    const patterns = align ? (25 * align - 10) * align - 55 : 0;
    return (16 * version + 128) * version + 64 - patterns - (version >= 7 ? 36 : 0);
  }

  /** @param {number} version @param {Level} level */
  function dataCodewords(version, level) {
    const { check, blocks } = LEVELS[level];
    return Math.floor(rawModules(version) / 8) - check[version - 1] * blocks[version - 1];
  }

  /** @param {Uint8Array} bytes @param {number} version @param {Level} level @param {number} [mask] */
  function drawn(bytes, version, level, mask) {
    const words = withCheckWords(dataWords(bytes, version, level), version, level);
    const grid = emptyGrid(version);
    place(grid, words);
    let best = { mask: -1, penalty: Infinity, dark: grid.dark };
    for (const each of mask === undefined ? MASKS.keys() : [mask]) {
      const masked = { ...grid, dark: Uint8Array.from(grid.dark) };
      turnOver(masked, MASKS[each]);
      writeFormat(masked, level, each);
      const penalty = penaltyOf(masked);
      if (penalty < best.penalty) best = { mask: each, penalty, dark: masked.dark };
    }
    const rows = Array.from({ length: grid.size }, (_each, r) => Array.from(best.dark.subarray(r * grid.size, (r + 1) * grid.size), Boolean));
    return { version, level, mask: best.mask, rows };
  }

  /** Mode, length, data, end and padding (clause 7.4).
   * @param {Uint8Array} bytes @param {number} version @param {Level} level */
  function dataWords(bytes, version, level) {
    /** @type {number[]} */
    const bits = [];
    const add = (/** @type {number} */ value, /** @type {number} */ count) => {
      for (let i = count - 1; i >= 0; i -= 1) bits.push((value >>> i) & 1);
    };
    add(0b0100, 4);
    add(bytes.length, lengthBits(version));
    for (const byte of bytes) add(byte, 8);
    const room = 8 * dataCodewords(version, level);
    add(0, Math.min(4, room - bits.length));
    add(0, (8 - (bits.length % 8)) % 8);
    for (let pad = 0xec; bits.length < room; pad ^= 0xec ^ 0x11) add(pad, 8);
    return Uint8Array.from({ length: room / 8 }, (_each, i) => parseInt(bits.slice(8 * i, 8 * i + 8).join(""), 2));
  }

  /** Data and Reed-Solomon words of all blocks, interleaved (clauses 7.5 and 7.6).
   * @param {Uint8Array} data @param {number} version @param {Level} level */
  function withCheckWords(data, version, level) {
    const blocks = LEVELS[level].blocks[version - 1];
    const checkLength = LEVELS[level].check[version - 1];
    const short = Math.floor(data.length / blocks);
    const shortBlocks = blocks - (data.length % blocks);
    const divisor = generatorOf(checkLength);
    const cut = [];
    for (let i = 0, at = 0; i < blocks; i += 1) {
      const length = short + (i < shortBlocks ? 0 : 1);
      cut.push(data.subarray(at, at + length));
      at += length;
    }
    const checks = cut.map((block) => remainder(block, divisor));
    const words = [];
    for (let i = 0; i <= short; i += 1) for (const block of cut) if (i < block.length) words.push(block[i]);
    for (let i = 0; i < checkLength; i += 1) for (const check of checks) words.push(check[i]);
    return words;
  }

  /** A product in the field of 256 elements, modulo x^8 + x^4 + x^3 + x^2 + 1.
   * @param {number} a @param {number} b */
  function product(a, b) {
    let result = 0;
    for (let i = 7; i >= 0; i -= 1) {
      result = (result << 1) ^ ((result >>> 7) * 0x11d);
      result ^= ((b >>> i) & 1) * a;
    }
    return result;
  }

  /** The generator polynomial without its leading 1.
   * @param {number} degree */
  function generatorOf(degree) {
    const result = new Uint8Array(degree);
    result[degree - 1] = 1;
    for (let i = 0, power = 1; i < degree; i += 1, power = product(power, 2)) {
      for (let j = 0; j < degree; j += 1) result[j] = product(result[j], power) ^ (j + 1 < degree ? result[j + 1] : 0);
    }
    return result;
  }

  /** @param {Uint8Array} data @param {Uint8Array} divisor */
  function remainder(data, divisor) {
    const result = new Uint8Array(divisor.length);
    for (const word of data) {
      const factor = word ^ result[0];
      result.copyWithin(0, 1);
      result[result.length - 1] = 0;
      for (let i = 0; i < divisor.length; i += 1) result[i] ^= product(divisor[i], factor);
    }
    return result;
  }

  /** The grid with all that every code of this version shows.
   * @param {number} version @returns {Grid} */
  function emptyGrid(version) {
    const size = 17 + 4 * version;
    const grid = { size, dark: new Uint8Array(size * size), taken: new Uint8Array(size * size) };
    for (let i = 0; i < size; i += 1) {
      set(grid, 6, i, i % 2 === 0);
      set(grid, i, 6, i % 2 === 0);
    }
    for (const [r, c] of [[3, 3], [3, size - 4], [size - 4, 3]]) rings(grid, r, c, 4, [0, 1, 3]);
    const centres = alignment(version);
    const last = centres.length - 1;
    centres.forEach((r, i) => centres.forEach((c, j) => {
      const isFinder = (i === 0 && j === 0) || (i === 0 && j === last) || (i === last && j === 0);
      if (!isFinder) rings(grid, r, c, 2, [0, 2]);
    }));
    writeFormat(grid, "M", 0); // keeps its place free
    if (version >= 7) writeVersion(grid, version);
    return grid;
  }

  /** @param {Grid} grid @param {number} r @param {number} c @param {boolean | number} dark */
  function set(grid, r, c, dark) {
    grid.dark[r * grid.size + c] = dark ? 1 : 0;
    grid.taken[r * grid.size + c] = 1;
  }

  /** Square rings around a centre.
   * @param {Grid} grid @param {number} row @param {number} column @param {number} reach @param {number[]} dark */
  function rings(grid, row, column, reach, dark) {
    for (let dr = -reach; dr <= reach; dr += 1) {
      for (let dc = -reach; dc <= reach; dc += 1) {
        const [r, c] = [row + dr, column + dc];
        if (r < 0 || c < 0 || r >= grid.size || c >= grid.size) continue;
        set(grid, r, c, dark.includes(Math.max(Math.abs(dr), Math.abs(dc))));
      }
    }
  }

  /** Rows and columns of the alignment patterns (annex E).
   * @param {number} version */
  function alignment(version) {
    if (version === 1) return [];
    const count = Math.floor(version / 7) + 2;
    const size = 17 + 4 * version;
    const step = version === 32 ? 26 : Math.ceil((size - 13) / (2 * count - 2)) * 2;
    const rest = Array.from({ length: count - 1 }, (_each, i) => size - 7 - i * step).reverse();
    return [6, ...rest];
  }

  /** Level and mask in a (15, 5) BCH code, twice (clause 7.9).
   * @param {Grid} grid @param {Level} level @param {number} mask */
  function writeFormat(grid, level, mask) {
    const data = (LEVELS[level].bits << 3) | mask;
    let rest = data;
    for (let i = 0; i < 10; i += 1) rest = (rest << 1) ^ ((rest >>> 9) * 0x537);
    const bits = ((data << 10) | rest) ^ 0x5412;
    const bit = (/** @type {number} */ i) => (bits >>> i) & 1;
    const last = grid.size - 1;
    for (let i = 0; i <= 5; i += 1) set(grid, i, 8, bit(i));
    set(grid, 7, 8, bit(6));
    set(grid, 8, 8, bit(7));
    set(grid, 8, 7, bit(8));
    for (let i = 9; i < 15; i += 1) set(grid, 8, 14 - i, bit(i));
    for (let i = 0; i < 8; i += 1) set(grid, 8, last - i, bit(i));
    for (let i = 8; i < 15; i += 1) set(grid, last - 14 + i, 8, bit(i));
    set(grid, last - 7, 8, 1);
  }

  /** The version in an (18, 6) BCH code, twice (clause 7.10).
   * @param {Grid} grid @param {number} version */
  function writeVersion(grid, version) {
    let rest = version;
    for (let i = 0; i < 12; i += 1) rest = (rest << 1) ^ ((rest >>> 11) * 0x1f25);
    const bits = (version << 12) | rest;
    for (let i = 0; i < 18; i += 1) {
      const [far, near] = [grid.size - 11 + (i % 3), Math.floor(i / 3)];
      set(grid, near, far, (bits >>> i) & 1);
      set(grid, far, near, (bits >>> i) & 1);
    }
  }

  /** Upwards and downwards in columns of two, from the right (clause 7.7.3).
   * @param {Grid} grid @param {number[]} words */
  function place(grid, words) {
    let at = 0;
    for (let right = grid.size - 1; right >= 1; right -= 2) {
      if (right === 6) right = 5;
      for (let step = 0; step < grid.size; step += 1) {
        for (const c of [right, right - 1]) {
          const upwards = ((right + 1) & 2) === 0;
          const r = upwards ? grid.size - 1 - step : step;
          if (grid.taken[r * grid.size + c] || at >= 8 * words.length) continue;
          grid.dark[r * grid.size + c] = (words[at >>> 3] >>> (7 - (at & 7))) & 1;
          at += 1;
        }
      }
    }
  }

  /** @param {Grid} grid @param {(row: number, column: number) => number} mask */
  function turnOver(grid, mask) {
    for (let r = 0; r < grid.size; r += 1) {
      for (let c = 0; c < grid.size; c += 1) {
        const i = r * grid.size + c;
        if (!grid.taken[i] && mask(r, c) === 0) grid.dark[i] ^= 1;
      }
    }
  }

  /** How hard the pattern is to read (clause 7.8.3).
   * @param {Grid} grid */
  function penaltyOf(grid) {
    const { size, dark } = grid;
    let penalty = 0;
    for (let i = 0; i < size; i += 1) {
      penalty += linePenalty(size, (k) => dark[i * size + k]) + linePenalty(size, (k) => dark[k * size + i]);
    }
    for (let r = 0; r < size - 1; r += 1) {
      for (let c = 0; c < size - 1; c += 1) {
        const i = r * size + c;
        if (dark[i] === dark[i + 1] && dark[i] === dark[i + size] && dark[i] === dark[i + size + 1]) penalty += 3;
      }
    }
    const share = dark.reduce((sum, each) => sum + each, 0) / (size * size);
    return penalty + 10 * Math.floor(Math.abs(share - 0.5) * 20);
  }

  /** Long runs, and what looks like a finder pattern, in one row or column.
   * @param {number} size @param {(k: number) => number} at */
  function linePenalty(size, at) {
    let [penalty, run, recent] = [0, 0, 0];
    for (let k = 0; k < size; k += 1) {
      run = k && at(k) === at(k - 1) ? run + 1 : 1;
      penalty += run === 5 ? 3 : run > 5 ? 1 : 0;
      recent = ((recent << 1) | at(k)) & 0x7ff;
      if (k >= 10 && (recent === 0b00001011101 || recent === 0b10111010000)) penalty += 40;
    }
    return penalty;
  }

  spares.request = { ...spares.request, qrCode };
})();
