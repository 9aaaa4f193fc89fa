// Builds the page: scripts, one style sheet, one HTML file, into the folder given.
//   node web/build.mjs OUT_DIR
// File names are fixed (the build system wants them so); URLs carry a hash of the content, so that a
// browser may keep a file for ever. files.tsv tells the server: url, file, media type, cache, gzip file.
import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';

const web = dirname(fileURLToPath(import.meta.url));
const out = resolve(process.argv[2] ?? join(web, '../build/web'));
mkdirSync(out, { recursive: true });

const common = {
  bundle: true,
  minify: true,
  write: false,
  logLevel: 'warning',
  absWorkingDir: web,
};
/* app.js and what it shares with rest.js, which comes later (src/page/later.tsx). */
const script = await build({
  ...common,
  entryPoints: { app: 'src/main.tsx', rest: 'src/page/rest.ts' },
  format: 'esm',
  splitting: true,
  outdir: '/files',
  entryNames: '[name]-[hash]',
  chunkNames: 'shared-[hash]',
  target: 'es2020',
  jsx: 'automatic',
  jsxImportSource: 'preact',
  legalComments: 'none',
  define: { 'process.env.NODE_ENV': '"production"' },
});
const style = await build({ ...common, entryPoints: ['src/css/main.css'] });

const hash = (bytes) => createHash('sha256').update(bytes).digest('hex').slice(0, 10);
const rows = [];
function put(file, type, bytes, url) {
  const stem = file.split('.');
  url ??= `/files/${stem[0]}.${hash(bytes)}.${stem[1]}`;
  writeFileSync(join(out, file), bytes);
  writeFileSync(join(out, `${file}.gz`), gzipSync(bytes, { level: 9 }));
  rows.push([url, file, type, 'immutable', `${file}.gz`].join('\t'));
  return url;
}
const urls = {};
for (const o of script.outputFiles) {
  const name = /\/(app|rest|shared)-[^/]*\.js$/.exec(o.path)?.[1];
  if (!name || urls[name]) throw new Error(`${o.path}: the build system does not know this file`);
  urls[name] = put(`${name}.js`, 'text/javascript; charset=utf-8', o.contents, `/files/${basename(o.path)}`);
}
const css = put('app.css', 'text/css; charset=utf-8', style.outputFiles[0].contents);
const icon = put('favicon.svg', 'image/svg+xml', readFileSync(join(web, 'src/favicon.svg')));
const html = readFileSync(join(web, 'src/index.html'), 'utf8')
  .replace('APP_JS', urls.app)
  .replace('SHARED_JS', urls.shared)
  .replace('APP_CSS', css)
  .replace('ICON', icon);
writeFileSync(join(out, 'index.html'), html);
rows.push(['/', 'index.html', 'text/html; charset=utf-8', '-', '-'].join('\t'));
writeFileSync(join(out, 'files.tsv'), `${rows.join('\n')}\n`);

const limit = 120 * 1024;
let size = 0;
for (const o of script.outputFiles) size += gzipSync(o.contents, { level: 9 }).length;
if (size > limit) {
  console.error(`the scripts are ${size} bytes gzipped; the limit is ${limit}`);
  process.exit(1);
}
