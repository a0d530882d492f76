// Unpacks LZMA with its header of 13 bytes, three bits of the letter before and no place
// choosing probabilities, as the packer of the engine (package lzma) writes it.
function unpacked(packed) {
  const size = packed[5] + packed[6] * 0x100 + packed[7] * 0x10000 + packed[8] * 0x1000000;
  const out = new Uint8Array(size);
  const even = (n) => new Uint16Array(n).fill(1024);
  const letters = even(0x300 * 8), match = even(12), rep = even(12), rep0 = even(12), rep1 = even(12), rep2 = even(12), rep0Long = even(12);
  const slots = even(4 * 64), places = even(115), align = even(16);
  const newLengths = () => ({ choice: even(2), low: even(8), mid: even(8), high: even(256) });
  const lengths = newLengths(), repLengths = newLengths();
  let at = 18, width = 0xffffffff, code = ((packed[14] << 24) | (packed[15] << 16) | (packed[16] << 8) | packed[17]) >>> 0;

  const bit = (p, i) => {
    if (width < 0x1000000) {
      width = (width << 8) >>> 0;
      code = ((code << 8) | packed[at++]) >>> 0;
    }
    const bound = (width >>> 11) * p[i];
    if (code < bound) {
      width = bound;
      p[i] += (2048 - p[i]) >> 5;
      return 0;
    }
    width -= bound;
    code -= bound;
    p[i] -= p[i] >> 5;
    return 1;
  };
  const tree = (p, from, bits) => {
    let m = 1;
    for (let i = 0; i < bits; i++) m = (m << 1) | bit(p, from + m);
    return m - (1 << bits);
  };
  const reverse = (p, from, bits) => {
    let m = 1, v = 0;
    for (let i = 0; i < bits; i++) {
      const b = bit(p, from + m);
      m = (m << 1) | b;
      v |= b << i;
    }
    return v;
  };
  const length = (l) => (bit(l.choice, 0) === 0 ? 2 + tree(l.low, 0, 3) : bit(l.choice, 1) === 0 ? 10 + tree(l.mid, 0, 3) : 18 + tree(l.high, 0, 8));
  const distance = (n) => {
    const slot = tree(slots, 64 * Math.min(n - 2, 3), 6);
    if (slot < 4) return slot;
    const footer = (slot >> 1) - 1, base = (2 | (slot & 1)) << footer;
    if (slot < 14) return base + reverse(places, base - slot, footer);
    let direct = 0;
    for (let i = 4; i < footer; i++) {
      if (width < 0x1000000) {
        width = (width << 8) >>> 0;
        code = ((code << 8) | packed[at++]) >>> 0;
      }
      width >>>= 1;
      direct <<= 1;
      if (code >= width) {
        code -= width;
        direct |= 1;
      }
    }
    return base + (direct << 4) + reverse(align, 0, 4);
  };

  let state = 0, reps = [0, 0, 0, 0];
  for (let to = 0; to < size; ) {
    if (bit(match, state) === 0) {
      const from = 0x300 * (to > 0 ? out[to - 1] >> 5 : 0);
      let symbol = 1;
      if (state >= 7) {
        let beside = out[to - 1 - reps[0]];
        while (symbol < 0x100) {
          const b = (beside >> 7) & 1;
          beside <<= 1;
          const x = bit(letters, from + ((1 + b) << 8) + symbol);
          symbol = (symbol << 1) | x;
          if (x !== b) break;
        }
      }
      while (symbol < 0x100) symbol = (symbol << 1) | bit(letters, from + symbol);
      out[to++] = symbol;
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
      continue;
    }
    let n;
    if (bit(rep, state) === 1) {
      if (bit(rep0, state) === 0) {
        if (bit(rep0Long, state) === 0) {
          out[to] = out[to - 1 - reps[0]];
          to++;
          state = state < 7 ? 9 : 11;
          continue;
        }
      } else {
        const k = bit(rep1, state) === 0 ? 1 : 2 + bit(rep2, state);
        reps = [reps[k], ...reps.filter((_, i) => i !== k)];
      }
      n = length(repLengths);
      state = state < 7 ? 8 : 11;
    } else {
      n = length(lengths);
      reps = [distance(n), reps[0], reps[1], reps[2]];
      state = state < 7 ? 7 : 10;
    }
    const back = reps[0] + 1;
    if (back > to || at > packed.length) throw new Error("the engine in this page is damaged");
    for (const end = Math.min(size, to + n); to < end; to++) out[to] = out[to - back];
  }
  return out;
}
