// What people read says words: no id of a table, no member's name, no value that is none, in any
// text of any command or answer; sizes that are offered are round; what was typed comes back so.
// Usage: words.mjs PROGRAM ROOT
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { demoBook } from './browser.mjs';
import { Server, folder, run } from './program.mjs';
import { check, done, must, same } from './tally.mjs';

const [program, root] = process.argv.slice(2);
const dir = folder(), book = join(dir, 'demo.book'), NOW = '2026-10-12T12:00Z';
const files = ['examples', 'test/e2e/jobs'].flatMap((d) =>
  readdirSync(join(root, d)).filter((f) => f.endsWith('.json') && f !== 'shelf.json').map((f) => join(root, d, f)));
const examples = readdirSync(join(root, 'examples')).filter((f) => f.endsWith('.job.json')).map((f) => f.replace('.job.json', ''));
demoBook(program, root, book, ['chest', ...examples.filter((n) => n !== 'chest')]);
const told = (...args) => {
  const r = run(program, [...args, '--book', book]);
  must(r.code === 0, `${args.join(' ')}: exit ${r.code} ${r.err}`);
  return r.out;
};

// A name of a file, an address or a pointer is none of a table's.
const BARE = /(?<![#/\w.-])[a-z0-9]+(?:_[a-z0-9]+)+(?![\w(])/;
const FAULTS = [
  ['a bare id', BARE],
  ['minutes since 1970', /(?<![\d.,#/-])(?:29|30)\d{6}(?![\d.])/],
  ['a value that is none', /\b(undefined|null|NaN|nan|-?inf)\b|\[object/],
  ['one of many', /(?<![\d./,#-] ?)\b1 (coats|days|hours|minutes|drawers|doors|parts|pieces|drops|cards|pours|cans|weeks|samples|figures|legs|slats|shelves|sheets|rolls|paints|lines|records)\b/],
  ['a stop too many', / [.,;](?= |$)|\(\s*\)|,,|;;|(?<!\.)\.\.(?![./])/],
];
const faults = (text, where, found) => {
  for (const [what, at] of FAULTS) {
    const m = at.exec(text);
    if (m) found.push(`${where}: ${what}: ${text.slice(Math.max(0, m.index - 50), m.index + 60).trim()}`);
  }
};
// Members that hold ids by what they are; all others are read.
const IDS = new Set(['id', 'template', 'kind', 'class', 'product', 'operation', 'task', 'role', 'rule', 'tool', 'shape', 'part', 'finish', 'wood', 'material', 'method', 'tools',
  'group', 'stage', 'pointer', 'source', 'in_one_go', 'after', 'before', 'gate', 'blocks', 'topic', 'faces', 'profile', 'treatment', 'condition', 'effects', 'clear', 'primer']);
// The rule of a basis is a sentence, the rule of a coat a row of the table.
const read = (value, where, found, key = '') => {
  if (typeof value === 'string') {
    if (!IDS.has(key) || (key === 'rule' && / /.test(value))) faults(value, where, found);
  } else if (Array.isArray(value)) for (const v of value) read(v, where, found, key);
  else if (value) for (const [k, v] of Object.entries(value)) if (k !== 'document') read(v, `${where}/${k.slice(0, 60)}`, found, k);
};
const none = (found) => must(!found.length, `${found.length}:\n  ${[...new Set(found)].slice(0, 12).join('\n  ')}`);

for (const units of ['us', 'metric'])
  await check(`every text of every plan is words (${units})`, () => {
    const found = [];
    for (const file of files) {
      const args = ['plan', file, '--now', NOW, '--why', '--units', units], name = file.split('/').at(-1);
      const r = run(program, [...args, '--json']);
      same(r.code, 0, name);
      read(JSON.parse(r.out), name, found);
      if (units === 'us') faults(run(program, args).out.replace(/\n\s*/g, ' '), `${name} as text`, found);
    }
    none(found);
  });

// An id that is typed again stands in a line or column of its own, and a document as it was typed.
const listed = (text) => text.replace(/\nas typed\n(  .*\n)*/g, '\n').replace(/^( *id +)\S+$/gm, '$1').replace(/^( +(?:waits|open|done|next|skipped|not needed) +)[a-z_]+(?=  )/gm, '$1');
await check('every listing of the book is words', () => {
  const found = [], pieces = JSON.parse(told('pieces', '--json')).rows.map((p) => p.id).filter((p) => p !== 'crib'); // refused: not offered
  told('piece', 'change', 'desk', '--stage', 'in_work');
  told('supply', 'change', 'tape', '--kind', 'tape', '--cost', '$6.50');
  const calls = [['shop'], ['pieces'], ['paints'], ['supplies'], ['clients'], ['samples'], ['days'], ['today'], ['shopping'], ['history'], ['learned'], ['records'], ['callbacks'], ['books'], ['money'],
    ['money', 'open'], ['money', 'pieces'], ['shelf', 'known'], ['shelf', 'reach', '#1c6a70'], ['shelf', 'wet'], ['recipes', 'kept'], ['batches'], ['defects'], ['search', 'desk'],
    ['worth', 'chest', '--asked', '$40', '--price', '$300', '--why'], ['paint', 'show', 'warm-white'], ['paint', 'movements', 'warm-white'], ['days', 'replan'],
    ...pieces.flatMap((p) => [['piece', 'show', p], ['piece', 'plan', p, '--why'], ['piece', 'inspection', p], ['piece', 'listing', p], ['piece', 'story', p], ['piece', 'accepted', p]])];
  for (const call of calls) faults(listed(told(...call)), call.join(' '), found);
  none(found);
});
await check('what was assumed is said in words, as part of a sentence', () => {
  const { assumed } = JSON.parse(run(program, ['plan', join(root, 'examples/chest.job.json'), '--json']).out);
  same(assumed.find((a) => a.pointer.endsWith('/wanted/product'))?.text, 'waterborne enamel', 'the paint');
  for (const a of assumed) must(/^[a-z("0-9]/.test(a.why) && !/\.$/.test(a.why), `${a.pointer}: ${a.why}`);
});
await check('the table of the stock names classes of paint', () => must(/,White,waterborne enamel,/.test(told('stock', 'table')), told('stock', 'table').slice(0, 300)));

// ---- sizes of usual pieces ----
// Common practice: a rule in inches is read to the eighth on boards, to the inch on pieces; a metric one to the millimeter.
const bare = (template, units, usual = {}) => {
  const job = { format: 'coatwright-job', version: 1, shop: { units }, pieces: [{ id: 'x', template, width: '900 mm', height: '900 mm', wanted: { color: '#7d2f2b' }, ...usual }] };
  const r = run(program, ['plan', '-', '--now', NOW, '--json'], JSON.stringify(job));
  must(r.code === 0, `${template} ${units}: ${r.err}`);
  return JSON.parse(r.out);
};
for (const units of ['us', 'metric'])
  await check(`a usual size is round in the units of the shop, and stored as it was shown (${units})`, async () => {
    const own = join(dir, `${units}.book`);
    same(run(program, ['shop', 'change', '-', '--book', own], JSON.stringify({ units })).code, 0, 'the shop');
    const server = await Server.start(program, ['--book', own], dir);
    const { templates } = await (await server.get('/api/choices')).json();
    for (const t of templates) {
      const sizes = Object.entries(t.usual).filter(([, v]) => typeof v === 'string');
      for (const [k, v] of sizes)
        must(units === 'us' ? /^(\d+|[1-9]\d? [1357]\/8|\d+ [13]\/4|\d+ 1\/2|[1-7]\/[248]) in$/.test(v) : /^(\d*[05]|[1-4]?\d) mm$/.test(v), `${t.id} ${k}: ${v}`);
      if (units === 'us') for (const [k, v] of sizes) must(!/\d{2,} \d/.test(v) || parseInt(v, 10) < 12, `${t.id} ${k}: ${v}`);
    }
    // what the form offers, saved, is what a plan takes where nothing is said
    for (const id of ['chest', 'nightstand', 'sideboard', 'side_chair']) {
      const { usual } = templates.find((t) => t.id === id), plan = bare(id, units, { width: usual.width, height: usual.height }), said = bare(id, units, usual);
      for (const k of ['depth_mm', 'leg_mm', 'opening_mm']) must(!(Math.abs(plan.pieces[0].piece[k] - said.pieces[0].piece[k]) > 1e-9), `${id} ${k}: ${plan.pieces[0].piece[k]} and ${said.pieces[0].piece[k]}`);
      same(plan.pieces[0].price.price_cent, said.pieces[0].price.price_cent, `${id}: price`);
    }
    await server.stop();
  });
await check('what somebody measured is not rounded, and a sheet in other units keeps the sizes of the shop', () => {
  const { piece } = bare('nightstand', 'us', { depth: '15 31/32 in', width: '20.3 in' }).pieces[0];
  same([piece.depth_mm, piece.width_mm], [15.96875 * 25.4, 515.62], 'measured');
  const file = join(dir, 'stand.json');
  writeFileSync(file, JSON.stringify({ format: 'coatwright-job', version: 1, pieces: [{ template: 'nightstand', width: '20 in', height: '26 in', wanted: { color: '#336644' } }] }));
  const depth = (units) => JSON.parse(run(program, ['plan', file, '--json', '--units', units]).out).pieces[0].piece.depth_mm;
  same([depth('us'), depth('metric')], [406.4, 406.4], '16 in');
});

// ---- the shop as typed ----
await check('what was typed of the shop comes back as typed', () => {
  const own = join(dir, 'typed.book');
  for (const [typed, metric] of [['1/4 fl oz', '7.4 ml'], ['1 1/2 tsp', '7.4 ml'], ['0.1 g', '0.1 ml']]) {
    same(run(program, ['shop', 'change', '-', '--book', own], JSON.stringify({ smallest: typed, drying_area: '90 sq ft' })).code, 0, typed);
    const said = run(program, ['shop', '--book', own]).out;
    must(new RegExp(`smallest +${typed}\\n`).test(said) && /drying area +90 sq ft\n/.test(said), said);
    must(run(program, ['shop', '--units', 'metric', '--book', own]).out.includes(metric), 'in other units where they are asked for');
  }
});
await check('a smallest amount of before that is no more allowed stops nothing, and is said', () => {
  const file = join(dir, 'old.json'), own = join(dir, 'old.book'), text = told('export');
  const old = text.replace(/(smallest\\?":\s*\\?")1\/4 fl oz/, '$12 gal');
  must(old !== text, 'no smallest amount in the export');
  writeFileSync(file, old);
  same(run(program, ['export', 'read', file, '--book', own]).code, 0, 'the book');
  const ask = (...args) => run(program, [...args, '--book', own]), plan = ask('piece', 'plan', 'desk', '--json');
  must(plan.code === 0, plan.err);
  const said = JSON.parse(plan.out).assumed.find((a) => a.pointer === '/shop/smallest');
  must(/2 gal/.test(said?.why) && Math.abs(said.value - 8 * 29.5735) < 0.1, JSON.stringify(said));
  must(/Smallest amount: the shop says 2 gal/.test(ask('shop').out), ask('shop').out);
  const recipes = ask('recipes', '--target', '#8a9a5b', '--seconds', '1');
  must(recipes.code === 0, recipes.err);
  // another change of the shop goes through; the same mistake again does not
  same(run(program, ['shop', 'change', '-', '--book', own], '{"rate":"$50/h"}').code, 0, 'another change');
  const again = run(program, ['shop', 'change', '-', '--book', own], '{"smallest":"2 gal"}');
  must(again.code === 1 && /\/shop\/smallest: 2 gal/.test(again.err), again.err);
});
// Double entry is not asked for: what a closing says was paid is in the books once it stands under Money.
await check('closing says what of the price is in no books, until it is written down', () => {
  const unbooked = (text) => JSON.parse(text).unbooked_cent;
  same(unbooked(told('piece', 'close', 'nightstands', '--hours', '9 h', '--price', '$240', '--unlogged', 'none', '--json')), 24000, 'at closing');
  told('money', 'add', '--kind', 'sale', '--amount', '$200', '--piece', 'nightstands');
  const row = () => JSON.parse(told('money', 'pieces', '--piece', 'nightstands', '--json')).rows[0].unbooked_cent;
  same(row(), 4000, 'after a part of it');
  told('money', 'add', '--kind', 'sale', '--amount', '$40', '--piece', 'nightstands');
  same(row(), undefined, 'after all of it');
});
done();
