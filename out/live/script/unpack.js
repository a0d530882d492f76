// Unpack: text to bytes, and bytes as they were before they were packed by LZMA
// (package lzma has the other side). One list holds all chances, of 2048ths.

// unpacked reads bytes from text: 11 letters of 94 are 9 bytes, see pack.go.
function unpacked(text, length) {
  const bytes = new Uint8Array(Math.ceil(length / 9) * 9);
  for (let from = 0, to = 0; to < length; to += 9) {
    let high = 0, middle = 0, low = 0; // 24 bits each
    for (const end = from + 11; from < end; from++) {
      const c = text.charCodeAt(from);
      low = low * 94 + (c > 60 ? c - 33 : c - 32);
      middle = middle * 94 + (low >>> 24);
      high = high * 94 + (middle >>> 24);
      low &= 0xffffff;
      middle &= 0xffffff;
    }
    bytes[to] = high >>> 16; bytes[to + 1] = high >>> 8; bytes[to + 2] = high;
    bytes[to + 3] = middle >>> 16; bytes[to + 4] = middle >>> 8; bytes[to + 5] = middle;
    bytes[to + 6] = low >>> 16; bytes[to + 7] = low >>> 8; bytes[to + 8] = low;
  }
  return bytes.subarray(0, length);
}

// Where each kind of chance begins in the list: by state and place, of the last distances,
// of lengths (choice, choice, low, mid, high), of distances, of literals.
const isMatch = 0, isLong = 192, isRep = 384, isRep0 = 396, isRep1 = 408, isRep2 = 420;
const matchLength = 432, repLength = 950, slotOf = 1468, special = 1724, align = 1852, literal = 1868;

// inflated is what was packed: bytes of an .lzma file whose size is known.
function inflated(packed) {
  const view = new DataView(packed.buffer, packed.byteOffset, packed.length);
  const properties = packed[0], context = properties % 9, places = (1 << Math.floor(properties / 45)) - 1;
  const size = view.getUint32(5, true);
  const out = new Uint8Array(size);
  const chances = new Uint16Array(literal + (0x300 << context)).fill(1024);
  let code = view.getUint32(14), wide = 0xffffffff, next = 18;

  const bit = (i) => {
    const chance = chances[i], bound = (wide >>> 11) * chance;
    let is = 0;
    if (code < bound) {
      wide = bound;
      chances[i] = chance + ((2048 - chance) >>> 5);
    } else {
      code -= bound;
      wide -= bound;
      chances[i] = chance - (chance >>> 5);
      is = 1;
    }
    if (wide < 0x1000000) {
      wide = (wide << 8) >>> 0;
      code = ((code << 8) | packed[next++]) >>> 0;
    }
    return is;
  };
  const tree = (at, bits) => {
    let node = 1;
    for (let i = 0; i < bits; i++) node = (node << 1) | bit(at + node);
    return node - (1 << bits);
  };
  const reverse = (at, bits) => {
    let node = 1, value = 0;
    for (let i = 0; i < bits; i++) {
      const is = bit(at + node);
      node = (node << 1) | is;
      value |= is << i;
    }
    return value;
  };
  const direct = (bits) => {
    let value = 0;
    for (let i = 0; i < bits; i++) {
      wide >>>= 1;
      value <<= 1;
      if (code >= wide) {
        code -= wide;
        value |= 1;
      }
      if (wide < 0x1000000) {
        wide = (wide << 8) >>> 0;
        code = ((code << 8) | packed[next++]) >>> 0;
      }
    }
    return value;
  };
  const lengthOf = (at, place) => {
    if (!bit(at)) return 2 + tree(at + 2 + place * 8, 3);
    if (!bit(at + 1)) return 10 + tree(at + 130 + place * 8, 3);
    return 18 + tree(at + 258, 8);
  };
  const distance = (length) => {
    const slot = tree(slotOf + Math.min(length - 2, 3) * 64, 6);
    if (slot < 4) return slot;
    const bits = (slot >>> 1) - 1, base = (2 | (slot & 1)) << bits;
    if (slot < 14) return base + reverse(special + base - slot, bits);
    return base + direct(bits - 4) * 16 + reverse(align, 4);
  };

  let state = 0, d0 = 0, d1 = 0, d2 = 0, d3 = 0; // the last distances, less 1
  for (let at = 0; at < size; ) {
    const place = at & places;
    if (!bit(isMatch + state * 16 + place)) {
      const chancesAt = literal + 0x300 * (at ? out[at - 1] >>> (8 - context) : 0);
      let symbol = 1;
      if (state >= 7) {
        let expected = out[at - d0 - 1], offset = 0x100;
        while (symbol < 0x100) {
          expected <<= 1;
          const is = bit(chancesAt + offset + (expected & offset) + symbol);
          symbol = (symbol << 1) | is;
          offset &= is ? expected : ~expected;
        }
      } else while (symbol < 0x100) symbol = (symbol << 1) | bit(chancesAt + symbol);
      out[at++] = symbol;
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
      continue;
    }
    let length;
    if (!bit(isRep + state)) {
      length = lengthOf(matchLength, place);
      state = state < 7 ? 7 : 10;
      const d = distance(length);
      d3 = d2; d2 = d1; d1 = d0; d0 = d;
    } else {
      let short_ = false;
      if (!bit(isRep0 + state)) short_ = !bit(isLong + state * 16 + place);
      else {
        let d = d1;
        if (bit(isRep1 + state)) {
          if (bit(isRep2 + state)) { d = d3; d3 = d2; } else d = d2;
          d2 = d1;
        }
        d1 = d0; d0 = d;
      }
      length = short_ ? 1 : lengthOf(repLength, place);
      state = short_ ? (state < 7 ? 9 : 11) : state < 7 ? 8 : 11;
    }
    if (d0 >= at || length > size - at) throw new Error("the engine in this page is damaged");
    for (const end = at + length; at < end; at++) out[at] = out[at - d0 - 1];
  }
  return out;
}
