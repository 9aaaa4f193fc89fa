// A new shop's own jars on the command line: what does not mix, what is not there, what cannot be
// measured or learnt from is said where it stands, with what would be right.
//   node own_jars.mjs PROGRAM
import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { check, done, must, same } from './tally.mjs';
import { folder, run } from './program.mjs';

const program = resolve(process.argv[2]), dir = folder();
const JARS = { white: '#f2f0ea', black: '#1d1c1c', ochre: '#ba8639', umber: '#4b3a2c', blue: '#24348c' };

// A book with those jars, and its commands.
function shop(name, jars = JARS) {
  const book = join(dir, `${name}.book`), raw = (...args) => run(program, [...args, '--book', book, '--json']);
  const ask = (...args) => {
    const r = raw(...args);
    if (r.code !== 0) throw new Error(`${args.join(' ')}: ${r.err}`);
    return JSON.parse(r.out);
  };
  const fails = (...args) => {
    const r = raw(...args);
    must(r.code === 1, `${args.join(' ')} was taken: ${r.out}`);
    return JSON.parse(r.err).error;
  };
  const sample = (items, color) => {
    const file = join(dir, `${name}.sample.json`);
    writeFileSync(file, JSON.stringify({ items: items.map(([paint, parts]) => ({ paint, parts })), color }));
    return ['sample', 'add', file];
  };
  for (const [id, color] of Object.entries(jars)) ask('paint', 'add', '--name', id, '--class', 'wb_enamel', '--color', color, '--stock', '1 qt');
  return { ask, fails, sample };
}
function pieceFile() {
  const file = join(dir, 'stand.json');
  writeFileSync(file, JSON.stringify({ template: 'nightstand', width: '18 in', depth: '15 in', height: '26 in', wanted: { color: '#7f8cbf' } }));
  return file;
}
const paints = (recipe) => recipe.items.map((i) => i.paint);

// Common practice: oil-based and waterborne paint curdle when stirred together.
await check('oil-based and waterborne colors never go into one recipe, one batch, one sample', () => {
  const { ask, fails } = shop('kinds', { white: JARS.white, black: JARS.black });
  ask('paint', 'add', '--name', 'Oil blue', '--class', 'alkyd_enamel', '--color', JARS.blue, '--stock', '1 qt');
  ask('paint', 'add', '--name', 'Oil white', '--class', 'alkyd_enamel', '--color', '#f4f1e4', '--stock', '1 qt');
  const oil = (id) => id.startsWith('oil'), one = (r) => new Set(paints(r).map(oil)).size === 1;
  for (const more of [[], ['--sure'], ['--amount', '13 fl oz']]) {
    const found = ask('recipes', '--target', '#8c9cd0', ...more);
    must([...found.recipes, ...(found.tradeoff ?? [])].every(one), `a mixed recipe with ${more}`);
    same(paints(found.recipes[0]).sort().join(), 'oil-blue,oil-white', `best with ${more}`);
    same(found.proof.kind, 'optimal', 'proof');
  }
  const bad = fails('recipes', '--target', '#8c9cd0', '--must', 'white,oil-blue');
  same(bad.field, '/must/1', 'at fault');
  must(/do not mix/.test(bad.text), bad.text);
  must(/do not mix/.test(ask('steps', 'white=3,oil-blue=1', '--amount', '8 fl oz').apart), 'pours of both without a word');
  same(ask('steps', 'oil-white=3,oil-blue=1', '--amount', '8 fl oz').apart, undefined, 'a word on what does mix');
  for (const row of ask('sample', 'next', '--target', '#8c9cd0').rows) must(one(row), `a test mix of both: ${row.text}`);
  const batch = ask('batch', 'add', '--name', 'Blue', '--target', '#8c9cd0', '--items', '[{"paint":"white","parts":9},{"paint":"black","parts":1}]', '--amount', '1 cup');
  for (const i of ask('batch', 'correct', batch.id, '--dried', '#9d9d9d').add ?? []) must(!oil(i.paint), `${i.paint} into a waterborne batch`);
});
await check('with nothing learnt the nearest on paper stands beside the surest, and reach is not doubted for doubt', () => {
  const { ask } = shop('sure', { ...JARS, black: '#141414' }), target = '#7d8a86';
  const near = ask('recipes', '--target', target, '--amount', '13 fl oz'), sure = ask('recipes', '--target', target, '--amount', '13 fl oz', '--sure');
  must(near.recipes[0].difference < 2 && sure.recipes[0].expected_difference > 4, 'not the case that was meant');
  same(sure.recipes.at(-1).difference.toFixed(6), near.recipes[0].difference.toFixed(6), 'nearest on paper');
  same(sure.out_of_reach, near.out_of_reach, 'out of reach');
  same(sure.advice, undefined, 'advice');
});
await check('jars of which only the color was said are painted with, and that they are is listed as assumed', () => {
  const said = (more = {}) => Object.entries(JARS).map(([id, color]) => ({ id, color, stock: '1 qt', ...more })), shelf = (paints) => JSON.stringify({ format: 'coatwright-shelf', version: 1, paints });
  const recipe = (paints) => { const r = run(program, ['recipe', '--shelf', '-', '--target', '#7f8899', '--paints', '3', '--parts', '16', '--json'], shelf(paints)); must(r.code === 0, r.err); return JSON.parse(r.out).recipes[0]; };
  same(recipe(said()), recipe(said({ class: 'wb_enamel' })), 'as if it had been said');
  same(recipe([...said(), { id: 'chalk', class: 'chalk', color: '#8899aa' }]).items.some((x) => x.paint === 'white'), true, 'of the kind that most color paints here are');
  const job = { format: 'coatwright-job', version: 1, shelf: { paints: [...said(), { id: 'left', color: '#7f8899', leftover_of: [{ paint: 'white', parts: 1 }, { paint: 'blue', parts: 1 }] }] }, pieces: [{ id: 'a', template: 'nightstand', width: '18 in', depth: '15 in', height: '26 in', finish: 'bare', wanted: { color: '#7f8899' } }] };
  const r = run(program, ['plan', '-', '--json'], JSON.stringify(job)), plan = JSON.parse(r.out);
  must(plan.pieces[0].color.lines.length > 0, 'the plan mixes them too');
  same(plan.assumed.filter((a) => /^\/shelf/.test(a.pointer)).map((a) => a.pointer), job.shelf.paints.map((_, k) => `/shelf/paints/${k}/class`), 'assumed');
  const book = join(dir, 'unsaid.book'), b = (...args) => run(program, [...args, '--book', book, '--json']);
  for (const [id, color] of Object.entries(JARS)) must(b('paint', 'add', '--name', id, '--color', color).code === 0, id);
  must(JSON.parse(b('recipes', '--target', '#7f8899').out).recipes.length > 0, 'so does the book');
});
await check('a jar of which none is left is not poured, whatever is asked', () => {
  const { ask, fails } = shop('none');
  ask('paint', 'stock', 'blue', '--kind', 'counted', '--amount', '0 fl oz');
  for (const more of [[], ['--amount', '8 fl oz']]) {
    same(fails('recipes', '--target', '#8c9cd0', '--must', 'blue', ...more).field, '/must/0', 'must be in');
    const only = ask('recipes', '--target', '#8c9cd0', '--only', 'white,blue', ...more);
    must(only.recipes.every((r) => !paints(r).includes('blue')), 'an empty jar is poured');
  }
  must(ask('recipes', '--target', '#8c9cd0', '--must', 'blue', '--buy', '--amount', '8 fl oz').recipes.length, 'bought');
});
await check('a jar that nobody counted is not an empty one, also after some of it was poured', () => {
  const { ask } = shop('uncounted', {});
  for (const id of ['white', 'black']) ask('paint', 'add', '--name', id, '--class', 'wb_enamel', '--color', JARS[id]);
  for (const time of ['before', 'after']) {
    must(ask('recipes', '--target', '#888', '--amount', '8 fl oz').recipes[0].difference < 3, `no recipe ${time} a batch`);
    same(ask('paint', 'show', 'white').stock_ml, undefined, `stock ${time} a batch`);
    ask('batch', 'add', '--name', time, '--target', '#888', '--items', '[{"paint":"white","parts":9},{"paint":"black","parts":1}]', '--amount', '1 cup');
  }
  same(ask('paint', 'stock', 'white', '--kind', 'counted', '--amount', '500 ml').stock_ml.toFixed(6), '500.000000', 'stock once it is counted');
  ask('paint', 'stock', 'black', '--kind', 'counted', '--amount', '0 ml');
  same(ask('paint', 'show', 'black').stock_ml, 0, 'counted as none');
  must(ask('recipes', '--target', '#888', '--amount', '8 fl oz').recipes.every((r) => !paints(r).includes('black')), 'an empty jar is poured');
});
await check('a batch of which much more is needed: all of it, or what is missing is said', () => {
  const { ask, fails } = shop('need'), qt = 946.352946;
  const batch = ask('batch', 'add', '--name', 'Gray', '--target', '#909090', '--items', '[{"paint":"white","parts":40},{"paint":"black","parts":1}]', '--amount', '6 fl oz');
  const more = ask('batch', 'correct', batch.id, '--dried', '#a0a0a0', '--need', '1 qt');
  must(more.add?.length && more.after_ml >= qt - 1e-6, `${more.after_ml} ml of ${qt}`);
  const bad = fails('batch', 'correct', batch.id, '--dried', '#a0a0a0', '--need', '20 gal');
  same(bad.field, '/need', 'field');
  must(/buy/.test(bad.text), bad.text);
  same(fails('batch', 'correct', batch.id, '--dried', '#a0a0a0', '--need', '1 qt', '--most', '8 fl oz').field, '/most', 'field');
  for (const id of ['white', 'black']) ask('paint', 'stock', id, '--kind', 'counted', '--amount', '9 gal');
  const large = ask('batch', 'correct', batch.id, '--dried', '#a0a0a0', '--need', '4 gal', '--step', '1/4 tsp');
  must(large.after_ml >= 16 * qt - 1e-6, `${large.after_ml} ml of 4 gal`);
});
await check('of more jars than a search takes the full ones are looked at, and that some were not is said', () => {
  const book = 'many', { ask } = shop(book, {}), jars = Array.from({ length: 70 }, (_, i) => ({ id: `jar-${i}`, class: 'wb_enamel', color: `lab(${20 + i} 10 10)`, stock: i < 10 ? '0 ml' : '1 qt' }));
  const file = join(dir, 'many.json');
  writeFileSync(file, JSON.stringify({ format: 'coatwright-job', version: 1, shelf: { paints: jars }, pieces: [] }));
  ask('import', file);
  const found = ask('recipes', '--target', 'lab(89 10 10)');
  same(paints(found.recipes[0]).join(), 'jar-69', 'best');
  must(/^6 paints .* not looked at/.test(found.left_out), found.left_out);
});
await check('a search through millions ends in time, with the best so far and the nearest on paper', () => {
  const many = Object.fromEntries(Array.from({ length: 24 }, (_, i) => [`jar-${i}`, `lab(${20 + 3 * i} ${(i * 17) % 50} ${((i * 31) % 70) - 20})`]));
  const { ask } = shop('time', { ...JARS, ...many }), ask4 = (...more) => ask('recipes', '--target', '#7d8a86', '--paints-max', '4', '--amount', '16 fl oz', ...more);
  const begun = process.hrtime.bigint(), found = ask4('--sure', '--seconds', '0.5'), took = Number(process.hrtime.bigint() - begun) / 1e9;
  same(found.proof.kind, 'limit', 'proof');
  must(found.recipes.length >= 8 && found.recipes[0].expected_difference > 0, 'nothing found');
  must(took < 20, `${took} s`); // of a busy machine's clock
  must(found.recipes.at(-1).difference < 1 && ask4().proof.kind === 'optimal', 'nearest on paper');
});
// Common practice: a tinted clear is a glaze, and changes every color below it.
await check('a tinted clear coat goes over a color only where it is named, and then says so', () => {
  const { ask } = shop('tinted'), piece = (id, clear) => {
    const file = join(dir, 'tinted.piece.json');
    writeFileSync(file, JSON.stringify({ template: 'nightstand', width: '18 in', depth: '15 in', height: '26 in', finish: 'bare', wanted: { color: '#7d8a86', clear } }));
    ask('piece', 'add', '--piece', file, '--title', id);
    return ask('piece', 'plan', id).pieces[0];
  };
  ask('paint', 'add', '--name', 'amber', '--class', 'wb_clear', '--color', '#eadfb0', '--stock', '1 qt');
  const amounts = (p) => p.amounts.filter((a) => a.role === 'clear').map((a) => a.name ?? a.class);
  const usual = piece('usual', 'wb_clear'), named = piece('named', 'amber');
  must(amounts(usual).length && !amounts(usual).includes('amber'), `clear: ${amounts(usual)}`);
  same(amounts(named).join(), 'amber', 'clear that was named');
  const why = (p) => p.coats.rows.filter((c) => c.role === 'clear').map((c) => c.why).join(' ');
  must(/tinted/.test(why(named)) && !/tinted/.test(why(usual)), 'no word of the tint, or too many');
});
await check('mixed again when a jar is empty: that is said, and the recipes do without it', () => {
  const { ask } = shop('again');
  const batch = ask('batch', 'add', '--name', 'Gray', '--target', '#9aa0a0', '--items', '[{"paint":"white","parts":12},{"paint":"black","parts":1}]', '--amount', '8 fl oz');
  same(ask('batch', 'again', batch.id).same, true, 'nothing has changed');
  ask('paint', 'stock', 'black', '--kind', 'counted', '--amount', '0 ml');
  const again = ask('batch', 'again', batch.id);
  same([again.same, again.changed.map((c) => `${c.paint}: ${c.text}`).join()], [false, 'black: none is left'], 'an empty jar');
  must(/empty/.test(again.text), again.text);
  must(ask('recipes', '--target', again.target, '--batch', batch.id, '--amount', '8 fl oz').recipes.every((r) => !paints(r).includes('black')), 'it is poured all the same');
});
await check('a mix of jars without a price has no cost', () => {
  const { ask } = shop('price'), batch = ask('batch', 'add', '--name', 'Gray', '--target', '#909090', '--items', '[{"paint":"white","parts":40},{"paint":"black","parts":1}]', '--amount', '6 fl oz');
  const fix = ask('batch', 'correct', batch.id, '--dried', '#a8a8a8');
  same([fix.add.length > 0, fix.add_cost_cent, fix.fresh_cost_cent], [true, undefined, undefined], 'cost of a correction');
  const cost = (...only) => ask('recipes', '--target', '#909090', '--amount', '8 fl oz', '--only', only.join()).recipes[0].cost_cent;
  for (const id of ['white', 'black']) ask('paint', 'change', id, '--size', '1 qt', '--cost', '$32'); // $1 a fluid ounce
  must(Math.abs(cost('white', 'black') - 800) < 1e-6, `${cost('white', 'black')} cents of 8 fl oz`);
  same(cost('white', 'umber'), undefined, 'cost with a jar that has no price');
});
await check('the next can of a paint begins with what was learnt of it, and its own cards refine that', () => {
  const { ask, fails, sample } = shop('can', { ...JARS, spare: JARS.blue });
  // two cards of a blue that is weaker than its color lets expect
  ask(...sample([['white', 4], ['blue', 1]], '#7f8cbf'));
  ask(...sample([['white', 8], ['blue', 1]], '#9aa5d0'));
  const known = (id) => ask('shelf', 'known').paints.find((p) => p.id === id), old = known('blue'), never = known('spare');
  must(old.expected_difference < 0.6 * never.expected_difference, 'not the case that was meant');
  const can = ask('paint', 'add', '--can-of', 'blue', '--stock', '1 pt');
  same([can.id, can.name, can.class, can.color_hex, can.document.can_of].join(), `blue-2,blue 2,wb_enamel,${JARS.blue},blue`, 'the can');
  const next = known('blue-2');
  must(next.expected_difference > old.expected_difference && next.expected_difference < 0.6 * never.expected_difference, `${next.expected_difference} to expect of the new can, ${old.expected_difference} of the old one, ${never.expected_difference} without`);
  // common practice: lots of one paint differ by about 1
  same(next.can_of, 'blue', 'of which');
  must(next.lots_apart > 0.3 && next.lots_apart < 2 && /2 samples/.test(next.lots), next.lots);
  same(known('blue').expected_difference.toFixed(3), old.expected_difference.toFixed(3), 'the old can knows what it knew');
  // cans of one paint are one paint to a search, unless one of them is named
  const target = '#7f8cbf', both = (r) => paints(r).includes('blue') && paints(r).includes('blue-2');
  const found = ask('recipes', '--target', target, '--sure');
  must(found.recipes.every((r) => !paints(r).includes('blue-2')), 'two cans crowd the list');
  must(ask('recipes', '--target', target, '--must', 'blue-2').recipes.every((r) => paints(r).includes('blue-2')), 'the can that was named');
  // too little in either for the batch: both may be poured, and once the old one is empty the new one is
  ask('paint', 'stock', 'blue', '--kind', 'counted', '--amount', '1 fl oz');
  must(!ask('recipes', '--target', target, '--amount', '12 fl oz').recipes.some(both), 'both, where one will do');
  ask('paint', 'stock', 'blue', '--kind', 'counted', '--amount', '0 fl oz');
  must(paints(ask('recipes', '--target', target, '--amount', '12 fl oz').recipes[0]).includes('blue-2'), 'the new can is not opened');
  // a card of its own
  ask(...sample([['white', 4], ['blue-2', 1]], '#7886bb'));
  must(known('blue-2').expected_difference < next.expected_difference, 'its own card taught nothing');
  must(/of its own/.test(known('blue-2').text), known('blue-2').text);
  // the empty can leaves the shelf: what it taught stays, and goes along into a job document
  const before = known('blue-2').expected_difference;
  ask('paint', 'remove', 'blue');
  same(known('blue'), undefined, 'an empty can that is gone is no paint');
  same(known('blue-2').expected_difference.toFixed(3), before.toFixed(3), 'what the can that is gone taught');
  must(ask('recipes', '--target', target).recipes.every((r) => !paints(r).includes('blue')), 'a can that is gone is poured');
  same(ask('sample', 'next', '--target', target).rows.some((r) => paints(r).includes('blue')), false, 'a card of a can that is gone');
  const piece = ask('piece', 'add', '--title', 'Stand', '--piece', pieceFile());
  const job = ask('piece', 'document', piece.id), file = join(dir, 'can.job.json');
  same(job.shelf.paints.find((p) => p.id === 'blue').stock, '0 fl oz', 'the can that is gone, in the document');
  writeFileSync(file, JSON.stringify(job));
  const other = shop('can-there', {});
  other.ask('import', file);
  same(other.ask('shelf', 'known').paints.find((p) => p.id === 'blue-2').expected_difference.toFixed(3), before.toFixed(3), 'the same in another book');
  // nonsense
  same(fails('paint', 'add', '--can-of', 'nosuch').field, '/paint/can_of', 'no such paint');
  same(fails('paint', 'add', '--can-of', 'white', '--class', 'shellac').field, '/paint/can_of', 'another kind');
  same(fails('paint', 'change', 'white', '--can-of', 'white').field, '/paint/can_of', 'itself');
  ask('paint', 'change', 'spare', '--can-of', 'blue-2');
  same(fails('paint', 'change', 'blue-2', '--can-of', 'spare').field, '/paint/can_of', 'in a circle');
  must(/another can/i.test(fails('paint', 'add', '--name', 'white', '--class', 'wb_enamel', '--color', JARS.white).text), 'no word of another can');
});
await check('coats of a jar that was tried over black and white are reckoned from that', () => {
  const file = join(dir, 'sun.json'), coats = (more) => {
    writeFileSync(file, JSON.stringify({ format: 'coatwright-job', version: 1, shelf: { paints: [{ id: 'sun', class: 'wb_enamel', color: '#f2c01e', stock: '2 qt', ...more }] }, pieces: [{ id: 'stand', template: 'nightstand', width: '18 in', depth: '15 in', height: '26 in', finish: 'oil_varnish', wanted: { color: '#f2c01e' } }] }));
    const r = run(program, ['plan', file, '--json']);
    return JSON.parse(r.out).pieces[0].coats.rows.find((c) => c.role === 'color').coats;
  };
  // common practice: a clean yellow wants a coat more than others; of one that was seen to hide well that is not so
  same([coats({}), coats({ hides_in: 1 }), coats({ hides_in: 3 })], [3, 2, 2], 'over a white primer');
  must(coats({ hides_in: 6 }) > 3, 'a jar that took six');
});
await check('a plan pours no less of a jar than can be poured of it', () => {
  const file = join(dir, 'small.json'), pours = (smallest) => {
    writeFileSync(file, JSON.stringify({ format: 'coatwright-job', version: 1, shop: { smallest: '5 ml' }, shelf: { paints: [{ id: 'white', class: 'wb_enamel', color: '#f4f2ec', stock: '2 L' }, { id: 'blue', class: 'wb_enamel', color: '#24348c', stock: '1 L', smallest }] }, pieces: [{ id: 'stand', template: 'nightstand', width: '300 mm', depth: '300 mm', height: '300 mm', finish: 'shellac', wanted: { color: '#8f98c4' } }] }));
    return JSON.parse(run(program, ['plan', file, '--json']).out).pieces[0].color.lines;
  };
  const free = pours(undefined).find((l) => l.paint === 'blue');
  must(free && free.volume_ml < 60, `${free?.volume_ml} ml of blue`);
  for (const least of [Math.ceil(free.volume_ml) + 1, 60, 2000])
    must(pours(`${least} ml`).every((l) => l.paint !== 'blue' || l.volume_ml >= least), `less than ${least} ml of blue`);
});
await check('a mix hides as its jars were seen to: in the plan, on the days and on the Color page alike', () => {
  const { ask } = shop('hides', { white: '#f4f2ec', yellow: '#f2c01e', black: '#201f1e' }), file = join(dir, 'gray.json');
  writeFileSync(file, JSON.stringify({ template: 'nightstand', width: '18 in', depth: '15 in', height: '26 in', finish: 'shellac', tests: { rag: 'clean' }, now_color: '#5b3a28', wanted: { color: '#efe5c0', primer: 'shellac_clear' } }));
  const piece = ask('piece', 'add', '--title', 'Stand', '--piece', file), plan = () => ask('piece', 'plan', piece.id, '--why');
  const color = (p) => p.pieces[0].coats.rows.findIndex((c) => c.role === 'color'), coats = (p) => p.pieces[0].coats.rows[color(p)].coats;
  const before = coats(plan());
  ask('paint', 'change', 'white', '--hides-in', '6');
  const now = plan(), basis = now.basis[`/pieces/0/coats/rows/${color(now)}/coats`], input = (name) => basis.inputs.find((i) => i.name === name)?.value;
  must(coats(now) > before, `${before} coats, and ${coats(now)} of a white that took six`);
  must(/as its jars together/.test(basis.rule), basis.rule);
  same(input('coats of white that hid black and white'), 6, 'what was seen of the jar');
  // the figure comes out of its inputs: each jar by its share of what the mix scatters and absorbs
  const lines = now.pieces[0].color.lines, sum = lines.reduce((s, l) => s + input(`share of ${l.name} in what the mix scatters and absorbs`) * (input(`so ${l.name} hides against what its lightness tells`) ?? 1), 0);
  for (const l of lines) same(input(`so ${l.name} hides against what its lightness tells`) === undefined, l.paint !== 'white', `a figure of ${l.name}, which only the white was tried for`);
  must(Math.abs(sum - input('so the mix hides, by these shares')) < 1e-9, 'shares');
  same(ask('hiding', '--items', lines.map((l) => `${l.paint}=${l.parts}`).join(), '--ground', '#5b3a28').coats, input('until it hides'), 'the Color page');
  // where only days are asked for, no recipe is wanted, and still as many coats are planned
  const painted = (r) => r.days.rows.filter((t) => t.operation === 'color').length;
  same(painted(ask('days')), painted(now), 'coats of color on the days and in the plan');
  must(painted(now) >= coats(now), `${painted(now)} tasks of color`);
});
await check('another can in a shelf document has what it does not say from the first', () => {
  const file = join(dir, 'cans.json'), shelf = { format: 'coatwright-shelf', version: 1, paints: [{ id: 'white', class: 'wb_enamel', color: JARS.white }, { id: 'blue', class: 'wb_enamel', color: JARS.blue, stock: '0 ml' }, { id: 'blue-2', can_of: 'blue', stock: '1 qt' }], samples: [{ items: [{ paint: 'white', parts: 4 }, { paint: 'blue', parts: 1 }], color: '#7f8cbf' }] };
  const mix = (of) => {
    writeFileSync(file, JSON.stringify(shelf));
    const r = run(program, ['mix', '--shelf', file, '--items', `white=4,${of}=1`, '--json']);
    return JSON.parse(r.code ? r.err : r.out);
  };
  same(mix('blue-2').lab.map((x) => x.toFixed(4)).join(), mix('blue').lab.map((x) => x.toFixed(4)).join(), 'the same prediction');
  must(mix('blue-2').expected_difference > mix('blue').expected_difference, 'a lot is as sure as the can that was learnt of');
  shelf.paints[2].can_of = 'blau';
  same(mix('blue').error.field, '/paints/2/can_of', 'no such paint');
  shelf.paints[2].can_of = 'blue-2';
  same(mix('blue').error.field, '/paints/2/can_of', 'itself');
});
await check('a batch is not spoiled by a paint that was never read: of what is known enough is added, or nothing', () => {
  const { ask, sample } = shop('spoil', { white: '#f4f2ec', black: '#201f1e', ochre: '#c08a3e', blue: '#232a70', red: '#7d3527' });
  ask(...sample([['white', 23], ['ochre', 24], ['blue', 17]], '#6d8d95'));
  const batch = ask('batch', 'add', '--name', 'Stone', '--target', '#8c8478', '--items', '[{"paint":"white","parts":1},{"paint":"ochre","parts":6},{"paint":"blue","parts":1}]', '--amount', '6 fl oz');
  for (const read of ['eye', 'chart', 'photo', 'instrument']) {
    const fix = ask('batch', 'correct', batch.id, '--dried', '#978e80', '--read', read);
    ask('undo');
    if (fix.advice === 'add') must(fix.expected_difference < 1.5 * fix.difference_now, `read by ${read}: ${fix.text} It is ${fix.difference_now} off, ${fix.expected_difference} to expect`);
    if (!fix.add?.length) same(fix.after_ml, batch.amount_ml, 'what is left alone grows');
    if (read === 'photo') same([fix.advice, paints({ items: fix.add }).sort().join()], ['add', 'blue,ochre'], 'what was read is what is added');
  }
});
await check('a sample that tells nothing is refused where it is wrong', () => {
  const { ask, fails, sample } = shop('samples');
  same(fails(...sample([], '#fff')).field, '/sample/items', 'nothing on the card');
  same(fails(...sample([['white', 0], ['black', 0]], '#888')).field, '/sample/items/0/parts', 'no parts');
  same(fails(...sample([['white', 1], ['black', -1]], '#888')).field, '/sample/items/1/parts', 'less than nothing');
  same(fails(...sample([['white', 2], ['white', 3]], '#888')).field, '/sample/items/1/paint', 'twice');
  same(fails(...sample([['white', 2], ['nope', 3]], '#888')).field, '/sample/items/1/paint', 'not there');
  same(ask('samples').rows?.length ?? 0, 0, 'samples kept');
  ask(...sample([['white', 3], ['black', 1]], '#888'));
});
await check('a kind of product that nobody knows is refused when the can is entered or changed', () => {
  const { ask, fails } = shop('class', { white: JARS.white });
  const bad = fails('paint', 'add', '--name', 'x', '--class', 'foo', '--color', '#123456');
  same(bad.field, '/paint/class', 'field');
  must(/waterborne enamel/.test(bad.text), bad.text);
  same(fails('paint', 'change', 'white', '--class', 'foo').field, '/paint/class', 'field');
  same(ask('paints').rows.length, 1, 'cans');
});
await check('a scale that shows a tenth of a gram, and drops, are said as such', () => {
  const { ask, fails } = shop('fine'), ml = 100, fine = ask('recipes', '--target', '#7d8a86', '--amount', `${ml} ml`, '--measure', 'gram', '--step', '0.1 g');
  // 0.1 g of paint at 1.2 g/ml (common practice); the grid is as many of them as a search takes, or fewer
  must(Math.abs(fine.part_ml / (0.1 / 1.2) - Math.round(fine.part_ml / (0.1 / 1.2))) < 1e-6, `parts of ${fine.part_ml} ml are no steps of .1 g`);
  must(/ g$/.test(fine.recipes[0].items[0].text), fine.recipes[0].items[0].text);
  for (const pour of ask('steps', 'white=78,blue=9', '--amount', `${ml} ml`, '--measure', 'gram', '--step', '0.1 g').steps) must(/^\d+(\.\d)? g$/.test(pour.text), pour.text);
  // twenty drops to the milliliter (common practice)
  const drops = ask('steps', 'white=9,blue=1', '--amount', '5 ml', '--measure', 'drop');
  same(drops.items.map((i) => i.text).join(), '90 drops,10 drops', 'drops');
  must(/0.1 g/.test(fails('steps', 'white=9,blue=1', '--amount', '5 ml', '--measure', 'gram', '--step', '1 parsec').text), 'no word of grams');
});
await check('a target from measured reflectance: the jar that was measured is itself, under every light', () => {
  const { ask, fails } = shop('measured'), file = join(dir, 'two.csv');
  const of = (v) => Array.from({ length: 31 }, (_, i) => v(i / 30).toFixed(4)), wave = of((t) => 0.1 + 0.4 * (1 - t) ** 2), flat = of(() => 0.3);
  writeFileSync(file, `name,${Array.from({ length: 31 }, (_, i) => 400 + 10 * i).join(',')}\nBowl,${wave.join(',')}\nGray,${flat.join(',')}\n`);
  ask('paint', 'measured', file, '--sample', 'Bowl', '--name', 'bowl', '--class', 'wb_enamel', '--stock', '1 qt');
  const [best] = ask('recipes', '--measured', file, '--sample', 'Bowl').recipes;
  same(paints(best).join(), 'bowl', 'best');
  must(best.difference < 0.05 && best.metamerism < 0.05, `${best.difference} off itself, ${best.metamerism} under other lights`);
  same(fails('recipes', '--measured', file).field, '/sample', 'which of two');
  must(fails('recipes', '--measured', process.argv[1]).field.startsWith('/measured'), 'no spectra in it');
  same(fails('recipes').field, '/target', 'no target at all');
});
await check('what keeps a paint out of a mix is said: a primer, no color, another kind, not there', () => {
  const { ask, fails } = shop('kept_out');
  ask('paint', 'add', '--name', 'Gray primer', '--class', 'wb_primer', '--color', '#9a9a98');
  ask('paint', 'add', '--name', 'Lost lid', '--class', 'wb_enamel');
  for (const [paint, words] of [['gray-primer', /is .*primer/], ['lost-lid', /color of "lost-lid" is not known/], ['nothing', /no paint "nothing"/]])
    for (const asked of [['steps', `white=3,${paint}=1`, '--amount', '8 fl oz'], ['recipes', '--target', '#8c9cd0', '--must', paint]]) {
      const { field, text } = fails(...asked);
      must(words.test(text) && /^\/(items\/1\/paint|must\/0)$/.test(field), `${field}: ${text}`);
    }
});
await check('a batch far larger than asked, because the smallest share must be measured, says so', () => {
  const { ask } = shop('larger');
  must(/measure/.test(ask('steps', 'white=30,black=1', '--amount', '1 tsp').larger), 'no word of it');
  same(ask('steps', 'white=3,black=1', '--amount', '8 fl oz').larger, undefined, 'a word where there is no need');
  must(/For 40 ml,/.test(ask('steps', 'white=30,black=1', '--amount', '40 ml', '--measure', 'ml').larger), 'in another measure than is poured with');
  const coarse = (amount, step) => ask('recipes', '--target', '#9c9c98', '--amount', amount, '--measure', 'ml', '--step', step).coarse;
  must(/^100 ml is mixed, more than the 40 ml/.test(coarse('40 ml', '100 ml')), 'more, and no word of it');
  must(/^100 ml is mixed, less than the 140 ml/.test(coarse('140 ml', '100 ml')), 'less, and no word of it');
  same(coarse('400 ml', '5 ml'), undefined, 'a word where the amount comes out');
});
await check('a batch is logged as its pours are written, and is shown as the shop measures', () => {
  const { ask, fails } = shop('spoons'), file = join(dir, 'spoons.json');
  const texts = (measure) => {
    writeFileSync(file, JSON.stringify({ measure }));
    ask('shop', 'change', file);
    return ask('batch', 'show', 'try').items.map((i) => i.text).join();
  };
  ask('batch', 'add', '--name', 'Try', '--items', 'white=3, ochre=1', '--amount', '4 fl oz');
  same(texts('fl oz'), '3 fl oz,1 fl oz', 'by the ounce');
  same(texts('tsp'), '1/4 cup + 2 tbsp,2 tbsp', 'by the spoon');
  const grams = texts('gram');
  must(/^\d+ g,[\d.]+ g$/.test(grams), `on a scale: ${grams}`);
  must(ask('batch', 'label', 'try').lines.some((l) => l.startsWith(grams.split(',')[0])), 'the label, on a scale');
  same(fails('batch', 'add', '--items', 'white=3,ochre', '--amount', '4 fl oz').field, '/items/1/parts', 'no parts');
  same(fails('batch', 'add', '--items', 'white=x', '--amount', '4 fl oz').field, '/items/0/parts', 'no number');
});
// Common practice: two batches never match, so pieces that are to look alike are painted out of one.
const STOOL = '#8c9cd0', MIX = '[{"paint":"white","parts":9},{"paint":"blue","parts":1}]';
function stools(name, owners) {
  const { ask } = shop(name), ids = owners.map((client, i) => {
    const file = join(dir, `${name}.json`);
    writeFileSync(file, JSON.stringify({ title: `Stool ${i + 1}`, template: 'stool', width: '12 in', depth: '12 in', height: '18 in', year: 2005, finish: 'lacquer',
      wanted: { color: STOOL }, agreement: client ? { purpose: 'client', client } : { purpose: 'own' } }));
    return ask('piece', 'add', '--piece', file).id;
  });
  const plan = (id) => ask('piece', 'plan', id);
  const of = (id) => plan(id).pieces.find((p) => p.id === id);
  return {
    ask, ids, of,
    words: (id) => of(id).color.notices?.map((n) => n.text).filter((t) => /mixed already/.test(t)) ?? [],
    need: (id) => of(id).amounts.find((a) => a.role === 'color').need_ml,
    samples: (id) => (of(id).price.rows.find((r) => r.id === 'samples')?.hours ?? 0) * 60,
    // what of card and batch still stands in a piece's days
    open: (id) => ask('days').tasks.filter((t) => t.piece === id && /^(sample_card|mix_batch)$/.test(t.operation) && t.state !== 'done').map((t) => t.operation).sort().join(),
    mix: (piece, amount) => ask('batch', 'add', '--name', 'Stool blue', '--target', STOOL, '--piece', piece, '--items', MIX, '--amount', amount),
  };
}
const near = (is, want, what) => must(Math.abs(is - want) < 0.5, `${what}: ${is}, not ${want}`);
await check('a batch that was mixed for a sister piece is named on the sheet, of one owner only', () => {
  const { ask, ids, words, mix } = stools('sisters', ['Lane', 'Lane', 'Moor', undefined]);
  same(ids.map((id) => words(id).length), [0, 0, 0, 0], 'before it is mixed');
  const batch = mix(ids[0], '16 fl oz');
  same(ids.map((id) => words(id).length), [0, 1, 0, 0], 'once it is mixed');
  must(/^16 fl oz of this color are mixed already, for Stool 1\. .*two batches never match/.test(words(ids[1])[0]), words(ids[1])[0]);
  ask('batch', 'remove', batch.id);
  same(words(ids[1]), [], 'once it is taken out of the book');
});
await check('a batch that is enough for both is asked for once, in the days and in the price', () => {
  const { ask, ids: [a, b], of, open, need, samples, words, mix } = stools('enough', [undefined, undefined]);
  const before = [samples(a), samples(b)], once = before[0] + before[1];
  same([open(a), open(b)], ['mix_batch,sample_card', ''], 'before: the first makes both');
  near(samples(b), once / 2, 'like pieces share the time by halves');
  ask('task', 'done', `${a}-card`);
  const batch = mix(a, `${Math.ceil((need(a) + need(b)) / 29.5735)} fl oz`);
  same(batch.ticked, 'Mix the batch', 'logging it does the task');
  same([open(a), open(b)], ['', ''], 'card and batch are made for both');
  near(samples(a), before[0], 'the price of the first does not move');
  near(samples(b), before[1], 'nor that of its sister');
  near(ask('money', 'open').rows.find((r) => r.id === b).hours * 60, of(b).price.hours * 60, 'hours in the list of open prices');
  const color = of(b).amounts.find((x) => x.role === 'color');
  same([of(b).color.batch, color.buy_ml], [batch.id, 0], 'the sheet takes that cup');
  must(color.mixed_ml >= color.need_ml, `of it mixed: ${color.mixed_ml} of ${color.need_ml}`);
  must(/paint it from that cup/.test(words(b)[0]), words(b)[0]);
});
await check('a batch that is not enough for both is asked for again by the second', () => {
  const { ids: [a, b], open, need, samples, words, mix } = stools('short', [undefined, undefined]);
  const once = samples(a) + samples(b);
  mix(a, `${Math.ceil(need(a) / 29.5735) + 1} fl oz`);
  same(open(b), 'mix_batch,sample_card', 'the second makes its own');
  near(samples(a), once, 'the first pays its own');
  near(samples(b), once, 'and so does the second');
  must(/mix what is short by the same recipe/.test(words(b)[0]), words(b)[0]);
  mix(b, `${Math.ceil(need(b) / 29.5735)} fl oz`);
  same(open(b), 'sample_card', 'the second batch does the mixing');
});
await check('of three sisters those get what is in the cup whose turn comes first', () => {
  const { ids: [a, b, c], open, need, words, mix } = stools('three', ['Lane', 'Lane', 'Lane']);
  mix(a, `${Math.ceil(2.3 * need(a) / 29.5735)} fl oz`);
  same([open(b), open(c)], ['', 'mix_batch,sample_card'], 'two of three');
  must(/paint it from that cup/.test(words(b)[0]), words(b)[0]);
});
await check('the jar of what was left serves the sister, and so does the batch of a piece that is closed', () => {
  const { ask, ids: [a, b], open, need, mix } = stools('left', [undefined, undefined]);
  ask('task', 'done', `${a}-card`);
  const batch = mix(a, `${Math.ceil(2.2 * need(a) / 29.5735)} fl oz`);
  ask('piece', 'close', a, '--price', '$100', '--hours', '3 h');
  same(open(b), '', 'the first is closed');
  ask('batch', 'left', batch.id, '--amount', `${Math.ceil(need(b) / 29.5735) + 1} fl oz`);
  same(open(b), '', 'the jar is enough');
  ask('paint', 'stock', ask('batch', 'show', batch.id).left_paint, '--kind', 'counted', '--amount', '1/2 fl oz');
  same(open(b), 'mix_batch,sample_card', 'the jar is nearly empty');
});
await check('a batch that was logged on the sister does the task of the piece that makes it', () => {
  const { ask, ids: [a, b], open, need, mix } = stools('other', [undefined, undefined]);
  ask('task', 'done', `${a}-card`);
  same(mix(b, `${Math.ceil(2.2 * need(a) / 29.5735)} fl oz`).ticked, 'Mix the batch', 'ticked');
  same([open(a), open(b)], ['', ''], 'nothing is asked for again');
});
done();
