// A picture of known colors for the browser tests, as PNG.
import { deflateSync } from 'node:zlib';

const crc32 = (bytes) => { // PNG, annex D
  let c = -1;
  for (const v of bytes) {
    c ^= v;
    for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  }
  return ~c >>> 0;
};
const chunk = (name, data) => {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]), out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(crc32(body), body.length + 4);
  return out;
};
const decode = (v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
const encode = (v) => (v <= 0.0031308 ? v * 12.92 : 1.055 * v ** (1 / 2.4) - 0.055);
// Squares of colors on a gray table, all moved `by`, seen in a light of `gains`, with a sensor's grain.
export const W = 800, H = 600, CELL = 140, AT = (n) => ({ x: 100 + 200 * (n % 4), y: 100 + 200 * Math.floor(n / 4) });
export function picture(colors, gains, by = [0, 0]) {
  const raw = Buffer.alloc((W * 3 + 1) * H);
  let seed = 7;
  for (let y = 0; y < H; y++)
    for (let x = 0; x < W; x++) {
      const n = colors.findIndex((_, k) => Math.abs(x - by[0] - AT(k).x) < CELL / 2 && Math.abs(y - by[1] - AT(k).y) < CELL / 2);
      const hex = n < 0 ? '#6a6a68' : colors[n];
      for (let c = 0; c < 3; c++) {
        seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
        const v = encode(Math.min(1, decode(parseInt(hex.slice(1 + 2 * c, 3 + 2 * c), 16) / 255) * gains[c]));
        raw[y * (W * 3 + 1) + 1 + 3 * x + c] = Math.max(0, Math.min(255, Math.round(v * 255 + 3 * (seed / 2 ** 32 - 0.5))));
      }
    }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(W, 0);
  head.writeUInt32BE(H, 4);
  head.set([8, 2, 0, 0, 0], 8);
  return { name: 'bench.png', mimeType: 'image/png', buffer: Buffer.concat([Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]),
    chunk('IHDR', head), chunk('IDAT', deflateSync(raw, { level: 6 })), chunk('IEND', Buffer.alloc(0))]) };
}
