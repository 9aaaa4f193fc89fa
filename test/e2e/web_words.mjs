// How the pages say amounts and days: the modules themselves, without a browser.
//   node web_words.mjs PROGRAM WEB_DIR
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { check, done, same, skip } from './tally.mjs';
import { folder } from './program.mjs';

const web = resolve(process.argv[3]);
if (!existsSync(join(web, 'node_modules/esbuild'))) {
  skip('words', 'web/node_modules is missing (npm ci in web/)');
  done();
  process.exit();
}
const dir = folder(), { buildSync } = createRequire(join(web, 'package.json'))('esbuild');
const load = (name) => {
  const outfile = join(dir, `${name}.mjs`);
  buildSync({ entryPoints: [join(web, `src/lib/${name}.ts`)], bundle: true, format: 'esm', outfile });
  return import(pathToFileURL(outfile));
};
const { quantity } = await load('quantity'), { setZone, shortDay, dueText, whenText, nowMinutes } = await load('time');
const OZ = 29.5735295625; // NIST Handbook 44, appendix C

await check('a pour keeps the quarter of an ounce at which it was read; what was reckoned is said to the half', () => {
  const said = (oz) => quantity(oz * OZ, 'volume', 'us');
  same([10.75, 10.749, 10.7, 13, 2.25, 0.25, 0.75, 0.5, 4.5, 128].map(said),
    ['10 3/4 fl oz', '10 3/4 fl oz', '10 1/2 fl oz', '13 fl oz', '2 1/4 fl oz', '1/4 fl oz', '3/4 fl oz', '1/2 fl oz', '4 1/2 fl oz', '1 gal'], 'amounts');
});
await check('no amount is a decimal that neither cup nor spoon shows', () => {
  const said = (oz) => quantity(oz * OZ, 'volume', 'us');
  // 6 tsp to the fluid ounce (NIST SP 811); twenty drops to the milliliter (common practice)
  same([1.6, 3.9, 0.6, 0.3, 0.04, 0.01, 0, 150, 256, 127.9].map(said),
    ['1 1/2 fl oz', '4 fl oz', '3 1/2 tsp', '1 3/4 tsp', '1/4 tsp', '6 drops', '0 fl oz', '1 gal 22 fl oz', '2 gal', '1 gal'], 'amounts');
  for (let oz = 0.005; oz < 200; oz *= 1.07) if (/\.\d/.test(said(oz))) throw new Error(`${oz} fl oz is said as ${said(oz)}`);
});
await check('a length of less than a sixteenth is not nothing', () => {
  same([25.4, 24.2, 1.6, 0.597, 0.327, 0, -1.6].map((mm) => quantity(mm, 'length', 'us')), ['1 in', '15/16 in', '1/16 in', '0.024 in', '0.013 in', '0 in', '-1/16 in'], 'lengths');
});
await check('a day more than half a year away is said with its year, a near one with its weekday', () => {
  setZone('UTC', false);
  const year = (n) => new Date(Date.now() + n * 86400e3).getUTCFullYear();
  for (const far of [-400, -200, 200, 400]) {
    const at = nowMinutes() + far * 1440;
    for (const text of [shortDay(at), dueText(Math.floor(at / 1440)), whenText(at)])
      same([new RegExp(`, ${year(far)}\\b`).test(text), /^[A-Z][a-z]{2}, /.test(text)], [true, false], `${far} days: ${text}`);
  }
  for (const near of [-100, -1, 0, 30, 150]) {
    const at = nowMinutes() + near * 1440;
    for (const text of [shortDay(at), dueText(Math.floor(at / 1440))])
      same([/\d{4}/.test(text), /^[A-Z][a-z]{2}, [A-Z][a-z]{2} \d+$/.test(text)], [false, true], `${near} days: ${text}`);
  }
});
done();
