// Differences and conversions against a general color library (culori, MIT) on 100,000 random
// colors. Outside the branch points of CIEDE2000, where hues stand half a turn apart and the mean
// hue jumps, both must agree to 1e-6.
//   node color_library.mjs PAIRS_PROGRAM WEB_DIR
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { check, done, must, skip } from './tally.mjs';

const [pairs, web] = process.argv.slice(2), home = join(web, 'node_modules/culori');
const COLORS = 100000;
if (!existsSync(home)) skip('color library', 'web/node_modules is missing (npm ci in web/)');
else {
  const { converter, differenceCiede2000 } = await import(pathToFileURL(join(home, 'src/index.js')));
  const run = spawnSync(pairs, [String(COLORS)], { encoding: 'utf8', maxBuffer: 1 << 28 });
  const rows = run.stdout.trim().split('\n').map((l) => l.split(' ').map(Number));
  const hue = (a, b) => (Math.atan2(b, a) * 180) / Math.PI;
  // hues of CIEDE2000 itself: a is stretched by the mean chroma
  const apart = ([, a1, b1, , a2, b2]) => {
    const c7 = ((Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2) ** 7, g = 1.5 - 0.5 * Math.sqrt(c7 / (c7 + 25 ** 7));
    const d = Math.abs(hue(g * a1, b1) - hue(g * a2, b2)) % 360;
    return Math.abs(d - 180);
  };
  const worst = (name, most, off) => check(name, async () => {
    let bad = 0, at;
    for (const r of rows) {
      const d = off(r);
      if (!(d <= bad)) bad = d, at = r;
    }
    must(bad <= most, `off by ${bad} at ${at?.join(' ')}`);
  });
  await check('as many colors as were asked for', async () => must(rows.length === COLORS, `${rows.length}`));
  const e00 = differenceCiede2000();
  let branches = 0;
  await worst('CIEDE2000 to 1e-6', 1e-6, (r) => {
    if (apart(r) < 1e-6 && ++branches) return 0;
    return Math.abs(r[6] - e00({ mode: 'lab65', l: r[0], a: r[1], b: r[2] }, { mode: 'lab65', l: r[3], a: r[4], b: r[5] }));
  });
  await check('next to no pair stands at a branch point', async () => must(branches < COLORS / 1000, `${branches}`));
  const far = (c, keys, r, at) => Math.max(...keys.map((k, i) => Math.abs(c[k] - r[at + i])));
  const rgb = (r) => ({ mode: 'rgb', r: r[7], g: r[8], b: r[9] });
  const lab = converter('lab'), oklab = converter('oklab'), p3 = converter('p3');
  await worst('sRGB to Lab D50', 1e-4, (r) => far(lab(rgb(r)), ['l', 'a', 'b'], r, 10));
  await worst('sRGB to OkLab', 1e-6, (r) => far(oklab(rgb(r)), ['l', 'a', 'b'], r, 13));
  await worst('sRGB to Display P3', 1e-6, (r) => far(p3(rgb(r)), ['r', 'g', 'b'], r, 16));
}
done();
