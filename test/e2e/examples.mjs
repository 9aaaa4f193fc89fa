// Every example is planned and compared with figures that were computed by hand (examples.tsv); every
// basis points at a figure that is there; a piece that must be refused shows no amounts or dates.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { area_m2, areas } from './examples_geometry.mjs';
import { at, rows_of } from './figures.mjs';
import { run } from './program.mjs';
import { check, done, must } from './tally.mjs';

const [program, examples] = process.argv.slice(2);
const NOW = '2026-10-12T12:00Z';
const plan = (file, ...more) => {
  const r = run(program, ['plan', file, '--now', NOW, '--json', ...more]);
  must(r.code === 0, `${file}: exit ${r.code} ${r.err}`);
  return JSON.parse(r.out);
};
const refused = (name) => plans.get(name)?.pieces.every((p) => p.hazards.refused);
const jobs = readdirSync(examples).filter((f) => f.endsWith('.job.json'));
const plans = new Map();
for (const f of jobs) {
  const name = f.replace('.job.json', '');
  await check(`${name} is planned`, () => plans.set(name, plan(join(examples, f), '--why')));
  await check(`${name}: every basis points at a figure`, () => {
    const r = plans.get(name), pointers = Object.keys(r.basis);
    must(refused(name) || pointers.length > 20, `only ${pointers.length} figures say where they come from`);
    for (const p of pointers) must(at(r, p) !== undefined, `nothing at ${p}`);
    for (const p of pointers) must(r.basis[p].rule && r.basis[p].source, `no rule or source at ${p}`);
  });
}
// What a person reads as a number opens to where it comes from; what was said by somebody (the agreement,
// a color wanted) and lists of stock sizes are no figures of ours.
const SAID = new Set(['agreement']), NO_FIGURE = /^(#|[a-z]+\(|From the can|First$|Always$)|, \d+ mm$/;
for (const [name, r] of plans)
  await check(`${name}: every figure on the sheet opens`, () => {
    const shut = r.sheet.pieces.flatMap((p) => p.sections.filter((s) => !SAID.has(s.id)).flatMap((s) => s.rows
      .filter((l) => /\d/.test(l.figure ?? '') && !NO_FIGURE.test(l.figure) && !r.basis[l.pointer])
      .map((l) => `${s.id}: ${l.figure} ${l.what}`)));
    must(!shut.length, `${shut.length} that do not: ${shut.slice(0, 6).join('; ')}`);
  });
// Trade sizes keep their names: screws by gauge, shellac by its cut, pulls by their market size.
const TRADE = /2 lb\s+cut|#\d+\s+wood\s+screw\s+[\d/ -]+in|8-32\s+x\s+[\d/ -]+in|3-3\/4 in is not 96 mm, 5 in is\s+not 128 mm|[\d/ -]+ in, \d+ mm/g;
await check('in metric units no inch, pound, ounce or degree Fahrenheit stands alone', () => {
  for (const name of plans.keys()) {
    const text = run(program, ['plan', join(examples, `${name}.job.json`), '--now', NOW, '--units', 'metric']).out
      .replace(/[|]?\n\s*[|]?/g, ' ').replace(/\s+/g, ' ').replace(TRADE, '');
    const left = text.match(/[^.]{0,40}\b\d[\d/ ]* ?(in|ft2?|fl oz|qt|gal|lb|mil)\b(?! ?\()[^.]{0,20}|[^.]{0,40}\u00b0F(?! ?\()[^.]{0,20}/g) ?? [];
    must(!left.length, `${name}: ${left.slice(0, 4).join(' | ')}`);
  }
});
await check('sources stand as people read them, not as ids', () => {
  const citation = new Map(rows_of(new URL('../../data/sources.tsv', import.meta.url)).map(([id, text]) => [id, text.split(' (')[0]]));
  for (const [name, r] of plans)
    for (const [p, b] of Object.entries(r.basis)) {
      const text = citation.get(b.source.split(/[,; ]/)[0]);
      must(text === undefined || b.cited?.startsWith(text), `${name} ${p}: ${b.source} is cited as ${b.cited}`);
    }
});
await check('a figure has one basis, and its inputs make it', () => {
  const input = (b, name) => b.inputs.find((i) => i.name === name)?.value ?? 0;
  for (const [name, r] of plans) {
    const raw = run(program, ['plan', join(examples, `${name}.job.json`), '--now', NOW, '--json', '--why']).out, keys = raw.match(/"\/[a-z0-9_/]+":/g) ?? [];
    must(new Set(keys).size === keys.length, `${name}: two bases of ${keys.find((k, i) => keys.indexOf(k) !== i)}`);
    r.pieces.forEach((p, n) => {
      if (p.hazards.refused) return;
      const of = (tail) => r.basis[`/pieces/${n}/price/${tail}`], near = (a, b, what) => must(Math.abs(a - b) < 1, `${name}: ${what} ${a}, its inputs make ${b}`);
      const h = of('hour_cent_per_h'), all = (b) => b.inputs.reduce((sum, i) => sum + i.value, 0);
      near(p.price.hour_cent_per_h, (input(h, 'at the price of') - input(h, "seller's fee") - input(h, 'bought for') - input(h, 'material') - input(h, 'overhead')) / (input(h, 'hands-on') / 60), 'an hour');
      near(p.price.cost_cent, all(of('cost_cent')), 'the cost');
      p.price.rows.forEach((l, i) => {
        const b = of(`rows/${i}/cost_cent`);
        if (l.hours) near(l.cost_cent, input(b, 'hands-on') / 60 * input(b, "the shop's rate"), l.name);
        else if (b.inputs.every((x) => x.unit === 'money') && b.inputs.length) near(l.cost_cent, all(b), l.name);
      });
      p.amounts.forEach((a, i) => {
        const b = r.basis[`/pieces/${n}/amounts/${i}/mix_ml`], spread = b.inputs.find((x) => x.unit === 'spread').value;
        near(a.need_ml, (input(b, 'area of one coat') * input(b, 'coats') + input(b, 'of it under one coat more')) / spread / (1 - input(b, 'loss')) * 1000
          + input(b, 'left in tool and tray, each session') * input(b, 'sessions'), `${a.name}: need`);
        let cost = 0, ml = 0, can = 0; // its inputs are an amount, then what that costs: a can and what it holds, a liter, or nothing
        for (const x of r.basis[`/pieces/${n}/amounts/${i}/cost_cent`].inputs)
          if (x.name === 'and holds') cost += ml * can / x.value;
          else if (x.unit === 'volume') ml = x.value;
          else if (x.name === 'its can cost') can = x.value;
          else if (x.unit === 'money') cost += ml / 1000 * x.value;
        near(a.cost_cent, cost, `${a.name}: cost`);
      });
      p.fittings.forEach((l, i) => {
        if (!/^clearance/.test(l.id)) return;
        const b = r.basis[`/pieces/${n}/fittings/${i}/size_mm`], film = input(b, 'film on both faces') / 1000;
        const swell = input(b, 'height across the grain') * input(b, 'coefficient, for 1 % of moisture') * 100 * Math.max(0, input(b, 'at 80 % humidity and 70 °F (21 °C)') - input(b, "moisture of the wood in the shop's air"));
        must(Math.abs(l.size_mm - (l.id === 'clearance' ? input(b, 'gap') - film - swell : film + swell)) < 0.001, `${name}: ${l.what} ${l.size_mm}, its inputs make ${film} and ${swell}`);
      });
      p.coats.rows.forEach((k, i) => {
        const b = r.basis[`/pieces/${n}/coats/rows/${i}/hands_min`];
        near(k.hands_min, input(b, 'getting ready and cleaning up') + (input(b, 'the area, usually') * input(b, 'here times') || input(b, 'the work')), k.id);
        if (k.recoat_min && k.class) must(Math.abs(Math.max(input(b, 'times longer in that air') * (input(b, 'next coat, usually') || input(b, "next coat by the can's label")), input(b, 'on laminate no sooner than') || 0) - k.recoat_min) < 1, `${name} ${k.id}: dries ${k.recoat_min}`);
      });
    });
  }
});
const rows = rows_of(new URL('examples.tsv', import.meta.url));
for (const [job, pointer, value, tol, , how] of rows)
  await check(`${job} ${pointer} as by hand`, () => {
    const got = at(plans.get(job), pointer);
    must(Math.abs(got - Number(value)) <= Number(tol), `${got}, by hand ${value} +- ${tol} (${how})`);
  });
for (const job of Object.keys(areas))
  await check(`${job}: the painted area as by plane geometry alone`, () => {
    const p = plans.get(job).pieces[0], q = p.piece;
    const by = area_m2(job, { t: q.thickness_mm, base: q.leg_mm, leg: q.leg_mm, opening: q.opening_mm });
    must(Math.abs(p.surfaces.coated_m2 / by - 1) < 0.001, `${p.surfaces.coated_m2}, by geometry ${by}`);
    const hand = rows.find((r) => r[0] === job && r[1] === '/pieces/0/surfaces/coated_m2');
    must(/script/.test(hand[4]) && Math.abs(by - Number(hand[2])) <= Number(hand[3]), `by hand ${hand[2]}, by geometry ${by}`);
  });
await check('every example has its hand-computed figures', () => {
  for (const name of plans.keys()) if (!refused(name)) must(rows.filter((r) => r[0] === name).length >= 4, name);
});
await check('a crib of 1955 is refused, without amounts, dates or price', () => {
  const crib = { format: 'coatwright-job', version: 1, pieces: [{ id: 'crib', template: 'crib',
    width: '54 in', depth: '30 in', height: '42 in', year: 1955, finish: 'alkyd_paint', child: true,
    wanted: { color: '#f4f2ec' } }] };
  const r = run(program, ['plan', '-', '--now', NOW, '--json'], JSON.stringify(crib));
  must(r.code === 0, `exit ${r.code} ${r.err}`);
  const p = JSON.parse(r.out).pieces[0];
  must(p.hazards.refused && p.hazards.refusal && p.hazards.instead, 'not refused');
  must(!p.amounts.length && !p.coats.rows.length && !p.color.lines.length, 'amounts are shown');
  must(p.deliver_utc_min === undefined && p.price.price_cent === undefined, 'a date or price is shown');
  const text = run(program, ['plan', '-', '--now', NOW], JSON.stringify(crib)).out;
  must(!/^(Amounts|Days|Price) /m.test(text), 'a section of amounts, days or price is shown');
});
done();
