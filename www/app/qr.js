/**
 * A text as a QR code: numeric, alphanumeric and byte mode, versions 1 to 40, level L, the mask with the least penalty.
 *
 * Written from ISO/IEC 18004: data as a run of bits (7.4), Reed–Solomon words over GF(256) with x⁸ + x⁴ + x³ + x² + 1 (7.5),
 * blocks interleaved (7.6), modules placed in columns of two from the right (7.7), masks and their penalties (7.8), format
 * and version words (7.9, 7.10). Level L alone: a code of a recipe is read from a clean screen or a fresh sheet of paper,
 * and every other level would need more, so smaller, modules.
 *
 * Not here: kanji, structured append (many readers drop it: see the numbered texts of `code.js`), micro codes.
 * Checked by decoding codes of every version with a decoder that is not ours (`tests/page`).
 */

/** Characters of the alphanumeric mode, in the order of their values (table 5). */
const QR_CHARACTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:';

/** Error correction words of a block at level L, by version (table 9); version 0 is none. */
const QR_CHECK_WORDS = [
  0, 7, 10, 15, 20, 26, 18, 20, 24, 30, 18, 20, 24, 26, 30, 22, 24, 28, 30, 28, 28,
  28, 28, 30, 30, 26, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30,
];

/** Blocks at level L, by version (table 9). */
const QR_BLOCKS = [
  0, 1, 1, 1, 1, 1, 2, 2, 2, 2, 4, 4, 4, 4, 4, 6, 6, 6, 6, 7, 8,
  8, 9, 9, 10, 12, 12, 12, 13, 14, 15, 16, 17, 18, 19, 19, 20, 21, 22, 24, 25,
];

/**
 * A mode: its indicator, the width of its character count for versions 1–9, 10–26 and 27–40 (tables 2 and 3), how many
 * characters make a group, and the bits of a group of each length.
 * @typedef {{ indicator: number, count: [number, number, number], group: number, bits: number[] }} QrMode
 */

/** @type {Record<'numeric' | 'alphanumeric' | 'byte', QrMode>} */
const QR_MODES = {
  numeric: { indicator: 1, count: [10, 12, 14], group: 3, bits: [0, 4, 7, 10] },
  alphanumeric: { indicator: 2, count: [9, 11, 13], group: 2, bits: [0, 6, 11] },
  byte: { indicator: 4, count: [8, 16, 16], group: 1, bits: [0, 8] },
};

/**
 * A stretch of text in one mode: its values, one a character or byte.
 * @typedef {{ mode: QrMode, values: number[] }} QrStretch
 */

/**
 * A code: `modules` row by row, 1 is dark.
 * @typedef {{ version: number, size: number, mask: number, modules: Uint8Array }} QrCode
 */

/** Side of a version in modules. @param {number} version */
const qrSide = (version) => 17 + 4 * version;

/** @param {number} version */
const widthOfCount = (version) => (version < 10 ? 0 : version < 27 ? 1 : 2);

/**
 * Centres of the alignment patterns along a side (annex E): the first at 6, the last 7 from the end, the others evenly
 * between at an even step; version 32 alone is spaced by 26.
 * @param {number} version
 */
function alignmentCentres(version) {
  if (version === 1) return [];
  const count = Math.floor(version / 7) + 2;
  const step = version === 32 ? 26 : 2 * Math.ceil((qrSide(version) - 13) / (2 * (count - 1)));
  const centres = [6];
  for (let place = count - 1; place >= 1; place -= 1) centres.push(qrSide(version) - 7 - (place - 1) * step);
  return centres;
}

/** Modules that hold data and error correction, in whole words. @param {number} version */
function qrWords(version) {
  const side = qrSide(version);
  const alignments = version === 1 ? 0 : (Math.floor(version / 7) + 2) ** 2 - 3;
  // Alignment patterns on the two timing rows cover 5 modules of them each.
  const onTiming = version === 1 ? 0 : 2 * Math.floor(version / 7);
  const patterns = 3 * 64 + 2 * (side - 16) + 25 * alignments - 5 * onTiming;
  const information = 31 + (version >= 7 ? 36 : 0);
  return Math.floor((side * side - patterns - information) / 8);
}

/** Words of data alone. @param {number} version */
const qrDataWords = (version) => qrWords(version) - QR_CHECK_WORDS[version] * QR_BLOCKS[version];

/**
 * The text in stretches of one mode each. A run of digits behind other characters is worth a mode of its own when it is
 * long; shorter changes of mode would cost more than they save, and no text of this page has them.
 * @param {string} text
 * @returns {QrStretch[]}
 */
function qrStretches(text) {
  const digits = /^([\s\S]*?)(\d{20,})$/.exec(text);
  if (digits) {
    const numeric = { mode: QR_MODES.numeric, values: Array.from(digits[2], Number) };
    return digits[1] ? [...qrStretches(digits[1]), numeric] : [numeric];
  }
  const values = Array.from(text, (character) => QR_CHARACTERS.indexOf(character));
  if (!values.includes(-1)) return [{ mode: QR_MODES.alphanumeric, values }];
  return [{ mode: QR_MODES.byte, values: Array.from(new TextEncoder().encode(text)) }];
}

/** Bits of the stretches in a version. @param {QrStretch[]} parts @param {number} version */
function qrBits(parts, version) {
  let bits = 0;
  for (const { mode, values } of parts) {
    const groups = Math.floor(values.length / mode.group);
    bits += 4 + mode.count[widthOfCount(version)] + groups * mode.bits[mode.group] + mode.bits[values.length % mode.group];
  }
  return bits;
}

/**
 * The data words of a version: stretches, terminator, padding (7.4.9, 7.4.10).
 * @param {QrStretch[]} parts
 * @param {number} version
 */
function qrData(parts, version) {
  /** @type {number[]} */
  const bits = [];
  /** @param {number} value @param {number} width */
  const put = (value, width) => {
    for (let bit = width - 1; bit >= 0; bit -= 1) bits.push((value >> bit) & 1);
  };
  for (const { mode, values } of parts) {
    put(mode.indicator, 4);
    put(values.length, mode.count[widthOfCount(version)]);
    const base = mode === QR_MODES.numeric ? 10 : 45;
    for (let place = 0; place < values.length; place += mode.group) {
      const group = values.slice(place, place + mode.group);
      put(group.reduce((value, digit) => value * base + digit, 0), mode.bits[group.length]);
    }
  }
  const room = qrDataWords(version) * 8;
  put(0, Math.min(4, room - bits.length));
  put(0, (8 - (bits.length % 8)) % 8);
  const words = new Uint8Array(room / 8);
  bits.forEach((bit, place) => {
    words[place >> 3] |= bit << (7 - (place & 7));
  });
  // Words that mean nothing, in turn, up to the end.
  for (let place = bits.length / 8, turn = 0; place < words.length; place += 1, turn += 1) words[place] = turn % 2 ? 0x11 : 0xec;
  return words;
}

/** Product in GF(256) over x⁸ + x⁴ + x³ + x² + 1. @param {number} a @param {number} b */
function fieldProduct(a, b) {
  let product = 0;
  for (let bit = 7; bit >= 0; bit -= 1) {
    product = (product << 1) ^ ((product >> 7) * 0x11d);
    product ^= ((b >> bit) & 1) * a;
  }
  return product;
}

/** Generator polynomial of a degree, without its leading 1: ∏ (x − 2ⁱ). @param {number} degree */
function generatorOf(degree) {
  const generator = new Uint8Array(degree);
  generator[degree - 1] = 1;
  let root = 1;
  for (let factor = 0; factor < degree; factor += 1) {
    for (let place = 0; place < degree; place += 1) {
      generator[place] = fieldProduct(generator[place], root) ^ (place + 1 < degree ? generator[place + 1] : 0);
    }
    root = fieldProduct(root, 2);
  }
  return generator;
}

/** Error correction words of a block: the rest of its division by the generator. @param {Uint8Array} block @param {Uint8Array} generator */
function correctionOf(block, generator) {
  const rest = new Uint8Array(generator.length);
  for (const word of block) {
    const factor = word ^ rest[0];
    rest.copyWithin(0, 1);
    rest[rest.length - 1] = 0;
    generator.forEach((coefficient, place) => {
      rest[place] ^= fieldProduct(coefficient, factor);
    });
  }
  return rest;
}

/** All words in the order in which they are placed: blocks interleaved, data before correction. @param {Uint8Array} data @param {number} version */
function qrInterleaved(data, version) {
  const blocks = QR_BLOCKS[version];
  const generator = generatorOf(QR_CHECK_WORDS[version]);
  const short = Math.floor(data.length / blocks);
  const longer = data.length % blocks;
  const parts = Array.from({ length: blocks }, (_, block) => {
    // The last `longer` blocks hold one word more.
    const from = block * short + Math.max(0, block - (blocks - longer));
    return data.subarray(from, from + short + (block >= blocks - longer ? 1 : 0));
  });
  const corrections = parts.map((part) => correctionOf(part, generator));
  const words = [];
  for (let place = 0; place <= short; place += 1) for (const part of parts) if (place < part.length) words.push(part[place]);
  for (let place = 0; place < generator.length; place += 1) for (const part of corrections) words.push(part[place]);
  return words;
}

/** A word with its check bits: `value` times x^`degree` and the rest of that over `polynomial`. @param {number} value @param {number} degree @param {number} polynomial */
function withCheckBits(value, degree, polynomial) {
  let rest = value;
  for (let bit = 0; bit < degree; bit += 1) rest = (rest << 1) ^ ((rest >> (degree - 1)) * polynomial);
  return (value << degree) | rest;
}

/** A square of modules; `fixed` marks those that are no data. */
class QrSquare {
  /** @param {number} version */
  constructor(version) {
    this.version = version;
    this.side = qrSide(version);
    this.dark = new Uint8Array(this.side * this.side);
    this.fixed = new Uint8Array(this.side * this.side);
  }

  /** @param {number} x @param {number} y @param {number | boolean} dark */
  fix(x, y, dark) {
    if (x < 0 || y < 0 || x >= this.side || y >= this.side) return;
    this.dark[y * this.side + x] = Number(dark);
    this.fixed[y * this.side + x] = 1;
  }

  /** Finder with its separator, about a centre. @param {number} cx @param {number} cy */
  finder(cx, cy) {
    for (let y = -4; y <= 4; y += 1) {
      for (let x = -4; x <= 4; x += 1) {
        const ring = Math.max(Math.abs(x), Math.abs(y));
        this.fix(cx + x, cy + y, ring !== 2 && ring !== 4);
      }
    }
  }

  /** @param {number} cx @param {number} cy */
  alignment(cx, cy) {
    for (let y = -2; y <= 2; y += 1) for (let x = -2; x <= 2; x += 1) this.fix(cx + x, cy + y, Math.max(Math.abs(x), Math.abs(y)) !== 1);
  }

  /** Everything that is no data; the format is written again with each mask. */
  patterns() {
    const { side, version } = this;
    for (let place = 0; place < side; place += 1) {
      this.fix(6, place, place % 2 === 0);
      this.fix(place, 6, place % 2 === 0);
    }
    this.finder(3, 3);
    this.finder(side - 4, 3);
    this.finder(3, side - 4);
    const centres = alignmentCentres(version);
    const last = centres.length - 1;
    centres.forEach((cx, column) => centres.forEach((cy, row) => {
      const atFinder = (column === 0 && (row === 0 || row === last)) || (column === last && row === 0);
      if (!atFinder) this.alignment(cx, cy);
    }));
    this.format(0);
    if (version < 7) return;
    const word = withCheckBits(version, 12, 0x1f25);
    for (let bit = 0; bit < 18; bit += 1) {
      const along = Math.floor(bit / 3);
      const across = side - 11 + (bit % 3);
      this.fix(along, across, (word >> bit) & 1);
      this.fix(across, along, (word >> bit) & 1);
    }
  }

  /** Level L (01) and the mask, twice (7.9). @param {number} mask */
  format(mask) {
    const word = withCheckBits((1 << 3) | mask, 10, 0x537) ^ 0x5412;
    const { side } = this;
    for (let bit = 0; bit < 15; bit += 1) {
      const dark = (word >> bit) & 1;
      // Down the left of the first finder's right edge, skipping the timing row; then along its lower edge.
      if (bit < 8) this.fix(8, bit < 6 ? bit : bit + 1, dark);
      else this.fix(bit === 8 ? 7 : 14 - bit, 8, dark);
      if (bit < 8) this.fix(side - 1 - bit, 8, dark);
      else this.fix(8, side - 15 + bit, dark);
    }
    this.fix(8, side - 8, 1);
  }

  /** Words into the free modules: columns of two from the right, up and down in turn, past the timing column. @param {number[]} words */
  place(words) {
    const { side } = this;
    let bit = 0;
    for (let right = side - 1, turn = 0; right >= 1; right -= 2, turn += 1) {
      if (right === 6) right = 5;
      for (let step = 0; step < side; step += 1) {
        const y = turn % 2 === 0 ? side - 1 - step : step;
        for (let x = right; x > right - 2; x -= 1) {
          const at = y * side + x;
          if (this.fixed[at]) continue;
          const word = words[bit >> 3] ?? 0;
          this.dark[at] = (word >> (7 - (bit & 7))) & 1;
          bit += 1;
        }
      }
    }
  }

  /** Turns over the free modules of a mask; twice is as before (table 10). @param {number} mask */
  turnOver(mask) {
    const { side } = this;
    const over = QR_MASKS[mask];
    for (let y = 0; y < side; y += 1) {
      for (let x = 0; x < side; x += 1) {
        if (!this.fixed[y * side + x] && over(x, y)) this.dark[y * side + x] ^= 1;
      }
    }
  }

  /** Sum of the four penalties (7.8.3). */
  penalty() {
    const { side, dark } = this;
    let sum = 0;
    let black = 0;
    for (let line = 0; line < side; line += 1) {
      sum += qrLinePenalty(dark, line * side, 1, side) + qrLinePenalty(dark, line, side, side);
      for (let x = 0; x < side; x += 1) black += dark[line * side + x];
      if (line === 0) continue;
      for (let x = 1; x < side; x += 1) {
        const at = line * side + x;
        if (dark[at] === dark[at - 1] && dark[at] === dark[at - side] && dark[at] === dark[at - side - 1]) sum += 3;
      }
    }
    return sum + 10 * Math.floor(Math.abs(20 * black - 10 * side * side) / (side * side));
  }
}

/** Where a mask turns a module over (table 10). @type {((x: number, y: number) => boolean)[]} */
const QR_MASKS = [
  (x, y) => (x + y) % 2 === 0,
  (_, y) => y % 2 === 0,
  (x) => x % 3 === 0,
  (x, y) => (x + y) % 3 === 0,
  (x, y) => (Math.floor(x / 3) + Math.floor(y / 2)) % 2 === 0,
  (x, y) => ((x * y) % 2) + ((x * y) % 3) === 0,
  (x, y) => (((x * y) % 2) + ((x * y) % 3)) % 2 === 0,
  (x, y) => (((x + y) % 2) + ((x * y) % 3)) % 2 === 0,
];

/**
 * Penalties of a row or column: runs of five and more, and what looks like a finder with four light modules beside it;
 * outside the code is light.
 * @param {Uint8Array} dark
 * @param {number} from
 * @param {number} step
 * @param {number} side
 */
function qrLinePenalty(dark, from, step, side) {
  let sum = 0;
  let run = 0;
  let last = -1;
  // The eleven modules that end here, as bits; the outside counts as light.
  let window = 0;
  for (let place = 0; place < side + 4; place += 1) {
    const module = place < side ? dark[from + place * step] : 0;
    if (place < side) {
      run = module === last ? run + 1 : 1;
      last = module;
      if (run === 5) sum += 3;
      else if (run > 5) sum += 1;
    }
    window = ((window << 1) | module) & 0x7ff;
    if (window === 0b10111010000 || (window === 0b00001011101 && place < side)) sum += 40;
  }
  return sum;
}

/**
 * A text as a QR code of the least version that holds it; null where none up to `mostVersion` does.
 * @param {string} text
 * @param {number} [mostVersion]  1 to 40
 * @returns {QrCode | null}
 */
export function qrCode(text, mostVersion = 40) {
  const parts = qrStretches(text);
  let version = 1;
  while (version <= mostVersion && qrBits(parts, version) > qrDataWords(version) * 8) version += 1;
  if (version > mostVersion) return null;
  const square = new QrSquare(version);
  square.patterns();
  square.place(qrInterleaved(qrData(parts, version), version));
  let best = 0;
  let least = Infinity;
  for (let mask = 0; mask < QR_MASKS.length; mask += 1) {
    square.turnOver(mask);
    square.format(mask);
    const penalty = square.penalty();
    if (penalty < least) {
      best = mask;
      least = penalty;
    }
    square.turnOver(mask);
  }
  square.turnOver(best);
  square.format(best);
  return { version, size: square.side, mask: best, modules: square.dark };
}

/**
 * Characters of the alphanumeric mode that a version holds.
 * @param {number} version
 */
export function qrRoom(version) {
  const bits = qrDataWords(version) * 8 - 4 - QR_MODES.alphanumeric.count[widthOfCount(version)];
  return 2 * Math.floor(bits / 11) + (bits % 11 >= 6 ? 1 : 0);
}

/**
 * The dark modules as the data of an SVG path, in units of a module, without the quiet zone.
 * @param {QrCode} code
 */
export function qrPath(code) {
  let path = '';
  for (let y = 0; y < code.size; y += 1) {
    for (let x = 0; x < code.size; ) {
      if (!code.modules[y * code.size + x]) {
        x += 1;
        continue;
      }
      let run = 1;
      while (x + run < code.size && code.modules[y * code.size + x + run]) run += 1;
      path += `M${x} ${y}h${run}v1h-${run}z`;
      x += run;
    }
  }
  return path;
}
