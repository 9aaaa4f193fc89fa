// Every member of a job document that names something else: a name nobody knows is refused where it
// stands, with what would be right; a size that the template has no use for is said to be left out.
// Usage: names.mjs PROGRAM EXAMPLES
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { folder, run } from './program.mjs';
import { check, must, same, done } from './tally.mjs';

const [program, examples] = process.argv.slice(2);
const chest = readFileSync(join(examples, 'chest.job.json'), 'utf8');
const plan = (job) => run(program, ['plan', '-', '--json'], JSON.stringify(job));

const unknown = {
  '/pieces/0/template': (p) => (p.template = 'nonsense'),
  '/pieces/0/finish': (p) => (p.finish = 'nonsense'),
  '/pieces/0/place': (p) => (p.place = 'nonsense'),
  '/pieces/0/condition': (p) => (p.condition = 'nonsense'),
  '/pieces/0/wanted/product': (p) => (p.wanted.product = 'nonsense'),
  '/pieces/0/wanted/clear': (p) => (p.wanted.clear = 'nonsense'),
  '/pieces/0/wanted/primer': (p) => (p.wanted.primer = 'nonsense'),
  '/pieces/0/wanted/method': (p) => (p.wanted.method = 'nonsense'),
  '/pieces/0/wanted/top': (p) => (p.wanted.top = 'nonsense'),
  '/pieces/0/wanted/effects/0': (p) => (p.wanted.effects = ['nonsense']),
  '/pieces/0/repairs/0/kind': (p) => (p.repairs = [{ kind: 'nonsense' }]),
  '/pieces/0/tests/skipped/0': (p) => (p.tests.skipped = ['nonsense']),
  '/pieces/0/parts/0/shape': (p) => (p.parts = [{ id: 'top', shape: 'nonsense' }]),
  '/pieces/0/parts/0/profile': (p) => (p.parts = [{ id: 'top', profile: 'nonsense' }]),
  '/pieces/0/parts/0/material': (p) => (p.parts = [{ id: 'top', material: 'nonsense' }]),
  '/pieces/0/parts/0/treatment': (p) => (p.parts = [{ id: 'top', treatment: 'nonsense' }]),
  '/pieces/0/parts/0/product': (p) => (p.parts = [{ id: 'top', product: 'nonsense' }]),
  '/pieces/0/parts/0/clear': (p) => (p.parts = [{ id: 'top', clear: 'nonsense' }]),
  '/pieces/0/waits/0/kind': (p) => (p.waits = [{ kind: 'nonsense' }]),
  '/pieces/0/waits/0/before': (p) => (p.waits = [{ kind: 'part', before: 'nonsense' }]),
  '/pieces/0/fittings/metal': (p) => (p.fittings.metal = 'nonsense'),
  '/pieces/0/fittings/panels/0/kind': (p) => (p.fittings.panels = [{ id: 'a', kind: 'nonsense' }]),
  '/pieces/0/fittings/panels/0/hold': (p) =>
    (p.fittings.panels = [{ id: 'a', kind: 'cane', hold: 'nonsense' }]),
  '/pieces/0/fittings/slides/0/part': (p) => (p.fittings.slides = [{ part: 'nonsense' }]),
  '/pieces/0/fittings/slides/0/grain': (p) =>
    (p.fittings.slides = [{ part: 'top', grain: 'nonsense' }]),
  '/shelf/paints/0/class': (_, job) => (job.shelf.paints[0].class = 'nonsense'),
  '/shelf/paints/0/leftover_of/0/paint': (_, job) =>
    (job.shelf.paints[0].leftover_of = [{ paint: 'nonsense', parts: 1 }]),
  '/shelf/samples/0/items/0/paint': (_, job) => (job.shelf.samples[0].items[0].paint = 'nonsense'),
  '/shop/zone': (_, job) => (job.shop.zone = 'Nonsense/Town'),
  '/shop/tools/0': (_, job) => (job.shop.tools = ['nonsense']),
  '/shop/crew/0/only/0': (_, job) => (job.shop.crew = [{ id: 'ann', only: ['nonsense'] }]),
};
for (const [field, spoil] of Object.entries(unknown))
  await check(`refused: ${field} that nobody knows`, () => {
    const job = JSON.parse(chest);
    spoil(job.pieces[0], job);
    const r = plan(job);
    same(r.code, 1, 'status');
    const { error } = JSON.parse(r.err);
    same(error.field, field, 'field');
    must(/nonsense/i.test(error.text) && /Write | are: /.test(error.text), error.text);
  });

await check('the doubt of a single paint is its own, not that of a mix with itself', () => {
  const book = ['--book', join(folder(), 'one.book')];
  same(run(program, ['paint', 'add', '--name', 'Solo', '--class', 'wb_enamel', '--color', '#aa3311', ...book]).code, 0, 'the paint');
  const known = run(program, ['shelf', 'known', ...book]).out.replace(/\s+/g, ' ');
  must(/by itself: expect/.test(known) && !/half with Solo/.test(known), known);
});
// Arithmetic: no nightstand of 24 in has room for 100 drawers, nor for a base of 30 in.
await check('what leaves no room for a part is refused at the field that was given', () => {
  const stand = (more) => ({ format: 'coatwright-job', version: 1, pieces: [{ template: 'nightstand', width: '20 in', depth: '15 in', height: '24 in', wanted: { color: '#336644' }, ...more }] });
  for (const [more, field, word] of [[{ drawers: 100 }, 'drawers', '100 drawers'], [{ leg: '30 in' }, 'leg', '30 in'], [{ thickness: '12 in' }, 'thickness', '12 in']]) {
    const { error } = JSON.parse(plan(stand(more)).err);
    same(error.field, `/pieces/0/${field}`, 'field');
    must(error.text.includes(word) && /the usual nightstand has /.test(error.text) && !/opening_/.test(error.text), error.text);
  }
});
// Common practice: a cup of 8 fl oz is the coarsest thing that paint is measured with.
await check('the smallest amount that a shop measures has an upper bound', () => {
  const job = (smallest) => {
    const j = JSON.parse(chest);
    j.shop.smallest = smallest;
    return plan(j);
  };
  const { error } = JSON.parse(job('2 gal').err || '{}');
  same(error?.field, '/shop/smallest', 'field');
  must(/2 gal .*Write between .* 8 fl oz/.test(error.text), error.text);
  same(job('1 cup').code, 0, 'a cup');
});
await check('"Waxed", "oiled" and the like are known as words', () => {
  for (const top of ['painted', 'natural', 'stained', 'Waxed', 'oiled']) {
    const job = JSON.parse(chest);
    job.pieces[0].wanted.top = top;
    same(plan(job).code, 0, top);
  }
});
await check('slats of a chest are said to be left out, and nothing else', () => {
  const job = JSON.parse(chest);
  job.pieces[0].slats = 4;
  const left = JSON.parse(plan(job).out).assumed.filter((a) => a.text === 'left out');
  same(left.map((a) => a.pointer).join(), '/pieces/0/slats', 'left out');
});
done();
