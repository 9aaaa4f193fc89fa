// The page's source under the type checker, strictly; and its hand-written shapes of answers held
// against the schemas that the server gives out: every member of an interface must be one of one schema.
//   node web_types.mjs PROGRAM WEB_DIR
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, relative, resolve } from 'node:path';
import { check, done, must, skip } from './tally.mjs';
import { Server, folder } from './program.mjs';

const program = resolve(process.argv[2]), web = resolve(process.argv[3]), tsc = join(web, 'node_modules/typescript/bin/tsc');
if (!existsSync(tsc)) {
  skip('types', 'web/node_modules is missing (npm ci in web/)');
  done();
  process.exit();
}
await check('types', async () => {
  const r = spawnSync(process.execPath, [tsc, '--noEmit', '-p', web], { encoding: 'utf8' });
  must(r.status === 0, r.stdout.slice(0, 2000));
});

// Members that the page adds to an answer, or shapes that are no answers.
const OWN = new Set(['List', 'First']), ADDED = { AgainAnswer: ['body'], Paint: ['mixable'] };
const dir = folder(), s = await Server.start(program, ['--book', join(dir, 'a.book')], dir);
const api = await (await s.get('/api/openapi.json')).json(), choices = await (await s.get('/api/choices')).json(),
  job = await (await s.get('/api/schemas/job')).json();
await check('what forms offer as effects may be wished', async () => {
  must(choices.effects.length > 5, 'hardly any are offered');
  for (const { id } of choices.effects) {
    const piece = { id: 'stand', template: 'nightstand', width: '18 in', depth: '15 in', height: '26 in', wanted: { color: '#efe3d0', effects: [id] } };
    const r = await s.send('POST', '/api/plan', { job: { format: 'coatwright-job', version: 1, pieces: [piece] } });
    must(r.status === 200, `${id}: ${await r.text()}`);
  }
});
// What can be written in a document can be said on a page: its member stands in some page's source. A
// leftover's paints come from its batch.
await check('no member of a job document is known to the command line alone', () => {
  const all = readdirSync(join(web, 'src'), { recursive: true }).filter((f) => /\.tsx?$/.test(f) && !/net.types/.test(f))
    .map((f) => readFileSync(join(web, 'src', f), 'utf8')).join('\n');
  for (const [holder, { properties }] of Object.entries(job.$defs))
    for (const k of Object.keys(properties ?? {}))
      must(`${holder}.${k}` === 'paint.leftover_of' || new RegExp(`['"./]${k}\\b|\\b${k}:`).test(all), `${holder}.${k} is on no page`);
});
await s.stop();
const schemas = [];
(function walk(name, v) {
  if (!v || typeof v !== 'object') return;
  if (v.properties) schemas.push([name, new Set(Object.keys(v.properties))]);
  for (const [k, x] of Object.entries(v)) walk(k === 'properties' || k === 'items' ? name : `${name}/${k}`, x);
})('', api.components.schemas);

// Every shape that an answer is read as: those of net/types.ts, those that a page names where it asks,
// and what they are made of.
const ts = createRequire(join(web, 'package.json'))('typescript');
const under = (at) => readdirSync(at, { withFileTypes: true }).flatMap((e) => (e.isDirectory() ? under(join(at, e.name)) : join(at, e.name)));
const sources = under(join(web, 'src')).map((path) => [path, readFileSync(path, 'utf8')]);
const code = sources.filter(([path]) => /\.(tsx?|html)$/.test(path)), sheets = sources.filter(([path]) => path.endsWith('.css'));
const interfaces = []; // { path, name, node }
for (const [path, text] of code.filter(([path]) => /\.tsx?$/.test(path)))
  ts.createSourceFile(path, text, ts.ScriptTarget.ES2020, true).forEachChild((node) => { if (ts.isInterfaceDeclaration(node)) interfaces.push({ path, name: node.name.text, node }); });
const types = join(web, 'src/net/types.ts');
const named_in = (path, name) => interfaces.find((i) => i.name === name && i.path === path) ?? interfaces.find((i) => i.name === name);
const membersOf = ({ path, node }) => [
  ...(node.heritageClauses ?? []).flatMap((h) => h.types.flatMap((t) => { const base = named_in(path, t.expression.getText()); return base ? membersOf(base) : []; })),
  ...node.members.filter((m) => m.name).map((m) => m.name.getText())];
const asked = new Set(interfaces.filter((i) => i.path === types));
for (const [path, text] of code)
  for (const [, name] of text.matchAll(/\b(?:useAnswer|send|get)<(?:List<)?(\w+)/g)) asked.add(named_in(path, name));
asked.delete(undefined);
for (const i of asked)
  for (const [word] of i.node.getText().replace(/\/\*.*?\*\//gs, '').matchAll(/\b[A-Z]\w+/g)) {
    const inner = named_in(i.path, word);
    if (inner) asked.add(inner);
  }
let looked = 0;
for (const i of asked) {
  if (OWN.has(i.name)) continue;
  const members = membersOf(i).filter((m) => !(ADDED[i.name] ?? []).includes(m));
  if (!members.length) continue;
  looked++;
  await check(`interface ${i.name} of ${relative(web, i.path)}`, async () => {
    const [best, missing] = schemas.map(([at, has]) => [at, members.filter((m) => !has.has(m))]).sort((a, b) => a[1].length - b[1].length)[0];
    must(!missing.length, `no schema has all its members; ${best} lacks ${missing.join(', ')}`);
  });
}
must(looked > 60, `only ${looked} interfaces were looked at`);

// The forms of a piece: every member is one of the job document, its words are the program's.
const { outputFiles: [made] } = createRequire(join(web, 'package.json'))('esbuild').buildSync(
  { entryPoints: [join(web, 'src/ui/fields.ts')], bundle: true, format: 'esm', write: false });
const fields = await import(`data:text/javascript;base64,${Buffer.from(made.text).toString('base64')}`);
const memberOf = (schema, path) => path.split('.').reduce((at, key) => {
  const has = at?.$ref ? job.$defs[at.$ref.split('/').pop()] : at;
  return has?.properties?.[key];
}, schema);
const specs = [...new Set(Object.values(fields).flat().filter((f) => f?.path))];
must(specs.length > 60, `only ${specs.length} fields of forms were looked at`);
for (const f of specs) {
  await check(`field ${f.path}`, async () => {
    must(memberOf(job.$defs.piece, f.path), 'no such member of a piece');
    if (f.kind !== 'word') return;
    const own = choices.words[f.path.split('.').pop()];
    must(own && [...own].sort().join() === [...f.words].sort().join(), `the program's words are ${own}`);
  });
}

// What nothing uses: names that are exported and not imported, classes that only a style sheet names.
const named = (word, but) => code.some(([path, text]) => path !== but && new RegExp(`(?<![\\w-])${word}(?![\\w-])`).test(text));
await check('every export is imported', async () => {
  const alone = code.flatMap(([path, text]) => (path.endsWith('net/types.ts') ? [] : [...text.matchAll(/^export (?:async )?(?:function|const|class|interface|type) (\w+)/gm)]
    .filter(([, name]) => !named(name, path)).map(([, name]) => `${path}: ${name}`)));
  must(!alone.length, alone.join('\n'));
});
await check('every class of a style sheet is on a page', async () => {
  const alone = sheets.flatMap(([path, text]) => [...new Set([...text.replace(/\/\*[^]*?\*\//g, '').matchAll(/\.([a-z][\w-]*)/g)].map(([, name]) => name))]
    .filter((name) => !named(name)).map((name) => `${path}: ${name}`));
  must(!alone.length, alone.join('\n'));
});
done();
process.exit();
