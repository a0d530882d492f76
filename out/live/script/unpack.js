// Unpacks LZMA with its header of 13 bytes, three bits of the letter before and no place
// choosing probabilities, as the packer of the engine (package lzma) writes it. A page waits
// for it, so all is one loop over variables of its own: it walks down a tree of
// probabilities, and then says what the bits found mean and which tree comes next.
function unpacked(packed) {
  const size = packed[5] + packed[6] * 0x100 + packed[7] * 0x10000 + packed[8] * 0x1000000;
  const out = new Uint8Array(size);
  // Where the trees begin: of one bit for each state; of lengths after a match and after a repeat; of distances; of letters.
  const isMatch = -1, isRep = 11, isRep0 = 23, isRep1 = 35, isRep2 = 47, isLong = 59, newLength = 72, repLength = 346, slots = 620, places = 876, align = 991, letters = 1007;
  const odds = new Uint16Array(letters + 0x300 * 8).fill(1024);
  const match = 0, letter = 1, rep = 2, rep0 = 3, long = 4, rep1 = 5, rep2 = 6, choice = 7, choice2 = 8, length = 9, slot = 10, low = 11;
  let at = 18, width = 0xffffffff, code = ((packed[14] << 24) | (packed[15] << 16) | (packed[16] << 8) | packed[17]) >>> 0;
  let state = 0, back0 = 0, back1 = 0, back2 = 0, back3 = 0, lengths = newLength, least = 0, n = 0, far = 0;
  let means = match, tree = isMatch, bits = 1;
  for (let to = 0; to < size; ) {
    let m = 1, reversed = 0;
    for (let i = 0; i < bits; i++) {
      if (width < 0x1000000) {
        width = (width << 8) >>> 0;
        code = ((code << 8) | packed[at++]) >>> 0;
      }
      const p = odds[tree + m], bound = (width >>> 11) * p;
      if (code < bound) {
        width = bound;
        odds[tree + m] = p + ((2048 - p) >> 5);
        m <<= 1;
      } else {
        width -= bound;
        code -= bound;
        odds[tree + m] = p - (p >> 5);
        m = (m << 1) | 1;
        reversed |= 1 << i;
      }
    }
    const yes = m === 3;
    let copies = false;
    switch (means) {
      case match:
        if (yes) {
          means = rep, tree = isRep + state;
          continue;
        }
        tree = letters + 0x300 * (to > 0 ? out[to - 1] >> 5 : 0), bits = 8, means = letter;
        if (state < 7) continue;
        m = 1; // after a match the byte at the last distance chooses the tree, as long as it is right
        for (let beside = out[to - 1 - back0]; m < 0x100; beside <<= 1) {
          const near = (beside >> 7) & 1, i = tree + ((1 + near) << 8) + m;
          if (width < 0x1000000) {
            width = (width << 8) >>> 0;
            code = ((code << 8) | packed[at++]) >>> 0;
          }
          const p = odds[i], bound = (width >>> 11) * p;
          let bit = 0;
          if (code < bound) {
            width = bound;
            odds[i] = p + ((2048 - p) >> 5);
          } else {
            width -= bound;
            code -= bound;
            odds[i] = p - (p >> 5);
            bit = 1;
          }
          m = (m << 1) | bit;
          if (bit !== near) break;
        }
        while (m < 0x100) {
          if (width < 0x1000000) {
            width = (width << 8) >>> 0;
            code = ((code << 8) | packed[at++]) >>> 0;
          }
          const i = tree + m, p = odds[i], bound = (width >>> 11) * p;
          if (code < bound) {
            width = bound;
            odds[i] = p + ((2048 - p) >> 5);
            m <<= 1;
          } else {
            width -= bound;
            code -= bound;
            odds[i] = p - (p >> 5);
            m = (m << 1) | 1;
          }
        }
      // falls through
      case letter:
        out[to++] = m;
        state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
        means = match, tree = isMatch + state, bits = 1;
        continue;
      case rep:
        if (yes) means = rep0, tree = isRep0 + state;
        else means = choice, lengths = newLength, tree = lengths - 1;
        continue;
      case rep0:
        if (yes) means = rep1, tree = isRep1 + state;
        else means = long, tree = isLong + state;
        continue;
      case long:
        if (yes) break;
        out[to] = out[to - 1 - back0];
        to++;
        state = state < 7 ? 9 : 11;
        means = match, tree = isMatch + state;
        continue;
      case rep1:
        if (yes) {
          means = rep2, tree = isRep2 + state;
          continue;
        }
        [back0, back1] = [back1, back0];
        break;
      case rep2:
        if (yes) [back0, back1, back2, back3] = [back3, back0, back1, back2];
        else [back0, back1, back2] = [back2, back0, back1];
        break;
      case choice:
        if (yes) means = choice2, tree = lengths;
        else means = length, tree = lengths + 2, bits = 3, least = 2;
        continue;
      case choice2:
        means = length, least = yes ? 18 : 10, tree = lengths + least, bits = yes ? 8 : 3;
        continue;
      case length:
        n = least + m - (1 << bits);
        if (lengths === repLength) {
          state = state < 7 ? 8 : 11;
          copies = true;
          break;
        }
        means = slot, tree = slots + 64 * Math.min(n - 2, 3), bits = 6;
        continue;
      default: // slot, and the low bits of a distance
        if (means === low) far += reversed;
        else {
          far = m - 64;
          if (far >= 4) {
            const of = far, footer = (of >> 1) - 1;
            far = (2 | (of & 1)) << footer;
            means = low;
            if (of < 14) {
              tree = places + far - of, bits = footer;
              continue;
            }
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
            far += direct << 4;
            tree = align, bits = 4;
            continue;
          }
        }
        back3 = back2, back2 = back1, back1 = back0, back0 = far;
        state = state < 7 ? 7 : 10;
        copies = true;
    }
    if (!copies) { // a length of a repeat comes next
      means = choice, lengths = repLength, tree = lengths - 1, bits = 1;
      continue;
    }
    const back = back0 + 1;
    if (back > to || at > packed.length) throw new Error("the engine in this page is damaged");
    for (const end = Math.min(size, to + n); to < end; to++) out[to] = out[to - back];
    means = match, tree = isMatch + state, bits = 1;
  }
  return out;
}
