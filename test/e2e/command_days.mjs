// What the days hang on, each said on the command line and seen in the days. Common practice.
//   node command_days.mjs PROGRAM
import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { check, done, must, same } from './tally.mjs';
import { folder, run } from './program.mjs';

const program = resolve(process.argv[2]), dir = folder(), book = join(dir, 'days.book');
const at = (...args) => {
  const r = run(program, [...args, '--book', book]);
  same(r.code, 0, `${args.join(' ')}: ${r.err}`);
  return r.out;
};
const wrong = (...args) => {
  const r = run(program, [...args, '--book', book]);
  must(r.code !== 0, `${args.join(' ')} went through`);
  return r.err + r.out;
};
let files = 0;
const file = (document) => {
  const path = join(dir, `${files++}.json`);
  writeFileSync(path, JSON.stringify(document));
  return path;
};
const shop = (document) => at('shop', 'change', file(document));
const NOW = '2026-10-05T10:00Z', MIN = (text) => Date.parse(text) / 60000;
const days = () => JSON.parse(at('days', '--now', NOW, '--json'));
const of = (d, operation) => d.tasks.filter((t) => t.operation === operation);
const utc = (t) => t.start_utc_min % 1440;

shop({ zone: 'UTC', day_temperature: '20 °C', night_temperature: '17 °C' });
at('paint', 'add', '--name', 'White', '--class', 'wb_enamel', '--color', '#f4f2ec', '--stock', '5 L');
for (const title of ['Left stand', 'Right stand'])
  at('piece', 'add', '--title', title, '--piece', file({ template: 'nightstand', width: '24 in', depth: '16 in', height: '28 in',
    finish: 'lacquer', year: 1995, wood: 'hard_maple', wanted: { color: '#f4f2ec', product: 'white' } }));

await check('people with hours, days off and tasks of their own', () => {
  shop({ crew: [{ id: 'ann', name: 'Ann', only: ['color', 'clear', 'primer'], hours: [{ day: 'daily', open: '9:00 am', close: '1:00 pm' }] },
    { id: 'ben', name: 'Ben', days_off: ['2026-10-06'] }] });
  const d = days(), ann = d.tasks.filter((t) => t.person === 'Ann');
  must(ann.length > 0 && ann.every((t) => ['color', 'clear', 'primer'].includes(t.operation)), 'Ann does what is not hers');
  must(ann.every((t) => utc(t) >= 540 && t.end_utc_min % 1440 <= 780), 'Ann works out of her hours');
  must(d.tasks.every((t) => t.person !== 'Ben' || Math.floor(t.start_utc_min / 1440) !== 20732), 'Ben works on his day off');
  must(/\(Ann\)/.test(at('days', '--now', NOW)), 'the terminal names nobody');
});
await check('who began a task and who did it', () => {
  const id = of(days(), 'clean')[0].id;
  must(/ann, ben/.test(wrong('task', 'start', id, '--person', 'eve')), 'a stranger');
  for (const stand of ['left-stand', 'right-stand']) for (const about of ['spirits', 'rags_strip']) at('piece', 'accept', stand, 'caution', '--about', about); // nobody has looked for wax
  must(/, by Ben\. /.test(at('task', 'start', id, '--person', 'ben')), 'begun');
  must(/, by Ann\. /.test(at('task', 'done', id, '--person', 'ann', '--took', '25 min')), 'done');
  same(at('batches'), 'Nothing yet. The first one: coatwright batch add (--help tells how).\n', 'an empty list says how it is begun');
  same(JSON.parse(at('records', '--json')).rows[0].person, 'ann', 'whose hours the record names');
  same(['ann', 'ben'].map((p) => JSON.parse(at('records', '--person', p, '--json')).rows.length), [1, 0], 'records of one of them');
  at('undo');
  at('undo');
  shop({ crew: null });
});
await check('what would bring the days forward is what comes of it', () => {
  const sooner = () => JSON.parse(at('days', 'sooner', '--now', NOW, '--json')), anew = () => JSON.parse(at('days', '--anew', '--now', NOW, '--json')).days.deliver_utc_min;
  shop({ hours: [{ day: 'daily', open: '9:00 am', close: '10:30 am' }] });
  const was = anew(), a = sooner(), row = a.rows.find((r) => /hour longer/.test(r.name)), hands = a.rows.find((r) => /pair of hands/.test(r.name));
  must(row?.ready_utc_min < was && hands, `an hour and a half a day: ${JSON.stringify(a)}`);
  must(/^As the shop is, laid out anew: all may be handed over \w{3}, Oct \d+, none after its promised day\.\n\nIn one thing otherwise/.test(at('days', 'sooner', '--now', NOW).replace(/(\S)\n(?=\S)/g, '$1 ')), 'in words');
  shop({ people: 2 });
  same(anew(), hands.ready_utc_min, 'two people, said in the shop');
  shop({ people: null, crew: [{ id: 'ann' }, { id: 'ben' }], sand_apart: true });
  const other = sooner(), names = other.rows.map((r) => r.name).join(', ') + other.in_vain;
  must(!/pair of hands|anding in another/i.test(names), `a crew with names, sanding apart already: ${names}`);
  shop({ crew: null, sand_apart: null, hours: null });
});
await check('days of another time or shop are not those that lists show', () => {
  const listed = () => JSON.parse(at('pieces', '--json')).rows.map((r) => r.ready_utc_min);
  at('days');
  const is = listed(), day = (n) => new Date(Date.now() + n * 86400e3).toISOString().slice(0, 10);
  must(is.every((t) => t > 0), 'lists show when pieces are ready');
  for (const ask of [['--now', '2031-03-03T08:00Z'], ['--off', day(1)], ['--anew'], ['--cold', day(1), '--night', '40 F']]) at('days', ...ask);
  at('days', 'sooner');
  at('days', 'replan', '--off', day(1));
  same(listed(), is, 'after what was only supposed');
});
await check('a spray booth is held while a coat dries to touch', () => {
  shop({ tools: ['hvlp', 'brush'], booth: true });
  for (const id of ['left-stand', 'right-stand']) at('piece', 'change', id, '--piece', file({ wanted: { method: 'hvlp' } }));
  const coats = of(days(), 'color').sort((a, b) => a.start_utc_min - b.start_utc_min);
  must(coats.length > 3, 'no coats');
  coats.slice(1).forEach((t, i) => must(t.start_utc_min >= coats[i].end_utc_min + 60, 'two in the booth'));
  shop({ booth: null, tools: null });
  for (const id of ['left-stand', 'right-stand']) at('piece', 'change', id, '--piece', file({ wanted: { method: null } }));
});
await check('when a piece arrives, when it is due, and how much that weighs', () => {
  at('piece', 'change', 'right-stand', '--piece', file({ agreement: { arrives: '2026-10-07' } }));
  must(days().tasks.every((t) => t.piece !== 'right-stand' || t.start_utc_min >= MIN('2026-10-07T00:00Z')), 'begun before it came');
  at('piece', 'change', 'right-stand', '--piece', file({ agreement: { arrives: null } }));
  const ready = (first) => {
    for (const id of ['left-stand', 'right-stand'])
      at('piece', 'change', id, '--piece', file({ agreement: { due: '2026-10-06', due_weight: id === first ? 50 : 1 } }));
    return days().pieces.find((p) => p.id === first).deliver_utc_min;
  };
  for (const id of ['left-stand', 'right-stand']) {
    const first = ready(id), other = days().pieces.find((p) => p.id !== id).deliver_utc_min;
    must(first <= other, `${id} weighs more and comes later: ${first} ${other}`);
  }
  must(/would be ready .*; promised for Tue, Oct 6\./.test(at('days', '--now', NOW).replace(/\n */g, ' ')), 'a broken promise is not said');
  for (const id of ['left-stand', 'right-stand']) at('piece', 'change', id, '--piece', file({ agreement: { due: null, due_weight: null } }));
});
await check('waits on the outside', () => {
  at('piece', 'change', 'left-stand', '--piece', file({ waits: [{ kind: 'client', until: '2026-10-14' }, { kind: 'part', until: '2026-10-20', before: 'drawers_in' }] }));
  const own = days().tasks.filter((t) => t.piece === 'left-stand'), first = (o) => own.find((t) => t.operation === o).start_utc_min;
  must(first('color') >= MIN('2026-10-14T00:00Z') && first('clean') < MIN('2026-10-14T00:00Z'), 'the client’s yes');
  must(first('drawers_in') >= MIN('2026-10-20T00:00Z'), 'the ordered part');
  must(/Waits for the client's yes/.test(at('days', '--now', NOW).replace(/\s+/g, ' ')), 'it is not said');
  at('piece', 'change', 'left-stand', '--piece', file({ waits: null }));
});
await check('a client’s color waits for the signed sample, and no more once it is signed', () => {
  const agreement = (more) => at('piece', 'change', 'left-stand', '--piece', file({ agreement: { purpose: 'client', client: 'Lane', ...more } }));
  const color = () => of(days(), 'color').find((t) => t.piece === 'left-stand');
  const free = color().start_utc_min;
  agreement({});
  must(color().start_utc_min >= MIN(NOW) + 3 * 1440 && color().start_utc_min > free, 'no wait');
  const said = days().outside.filter((w) => w.piece === 'left-stand');
  same(said.map((w) => [w.kind, w.expected_day]), [['sample', undefined]], 'what is waited for');
  must(/Waits for the client's signed sample\. Nobody said when/.test(said[0].text), said[0].text);
  must(/When it is signed: coatwright piece accept left-stand sample/.test(at('today', '--now', NOW).replace(/\s+/g, ' ')), 'Today does not say how');
  agreement({ sample_expected: '2026-10-14' });
  must(color().start_utc_min >= MIN('2026-10-14T00:00Z') && color().start_utc_min < MIN('2026-10-15T00:00Z'), 'not on the day');
  must(/Waits for the client's signed sample\. Expected Oct 14/.test(at('piece', 'plan', 'left-stand', '--now', NOW).replace(/[|\s]+/g, ' ')), 'not on the sheet');
  must(/Have the sample card/.test(wrong('task', 'start', color().id)), 'begun without the signature');
  at('piece', 'accept', 'left-stand', 'sample');
  same(JSON.parse(at('piece', 'accepted', 'left-stand', '--json')).rows[0].who, 'Lane', 'who signed');
  same(color().start_utc_min, free, 'it still waits');
  at('undo');
  must(color().start_utc_min >= MIN('2026-10-14T00:00Z'), 'undone, it waits again');
  at('piece', 'change', 'left-stand', '--piece', file({ agreement: null }));
});
await check('coats and what the shop does in one go stop at no break, the rest may', () => {
  at('piece', 'change', 'left-stand', '--piece', file({ finish: 'oil_varnish', condition: 'flaking' }));
  shop({ hours: [{ day: 'daily', open: '8:00 am', close: '9:30 am' }, { day: 'daily', open: '10:00 am', close: '11:30 am' }] });
  const short = (t) => t.hands_min <= 90;
  must(days().tasks.some((t) => t.pauses && short(t)), 'nothing pauses');
  const stops = [...new Set(days().tasks.filter((t) => t.pauses && short(t)).map((t) => t.operation))];
  must(stops.every((o) => !['color', 'clear', 'primer'].includes(o)), `a coat pauses: ${stops}`);
  shop({ in_one_go: stops });
  must(days().tasks.every((t) => !t.pauses || !stops.includes(t.operation) || !short(t)), 'done in one go, and pauses');
  shop({ in_one_go: ['polish_the_cat'] });
  must(/in_one_go\/0/.test(wrong('days')), 'an operation that is none');
  shop({ in_one_go: null, hours: null });
});
await check('a shop that would rather wait than scuff', () => {
  at('paint', 'change', 'white', '--paint', file({ label_recoat: '12 h', label_recoat_until: '20 h' }));
  shop({ days_off: ['2026-10-08'] }); // a coat the day before dries too long, unless it waits
  must(days().tasks.some((t) => /is missed: scuff first/.test(t.note ?? '')), 'no window passes by itself');
  shop({ within_windows: true });
  must(days().tasks.every((t) => !/is missed: scuff first/.test(t.note ?? '')), 'a window passes all the same');
});
await check('the sheet of a piece has the days of the shop, whichever sheet is looked at', () => {
  shop({ within_windows: null, days_off: null });
  at('paint', 'change', 'white', '--paint', file({ label_recoat: null, label_recoat_until: null }));
  at('paint', 'add', '--name', 'Umber', '--class', 'wb_enamel', '--color', '#5d4a38', '--stock', '1 L');
  at('piece', 'add', '--title', 'Mixed stand', '--due', '2026-10-09', '--piece', file({ template: 'nightstand', width: '24 in', depth: '16 in', height: '28 in',
    finish: 'lacquer', year: 1995, wood: 'hard_maple', wanted: { color: '#c9b8a4' } }));
  at('piece', 'add', '--title', 'Umber chairs', '--due', '2026-10-20', '--piece', file({ template: 'side_chair', width: '18 in', depth: '19 in', height: '34 in',
    count: 4, finish: 'oil_varnish', year: 1995, wood: 'beech', wanted: { color: '#5d4a38' } }));
  const starts = (rows) => rows.map((t) => [t.piece, t.id, t.start_utc_min]).sort((a, b) => (a.join() < b.join() ? -1 : 1)), whole = days();
  must(whole.pieces.length === 4, 'not all pieces are in the days');
  for (const p of whole.pieces) {
    const sheet = JSON.parse(at('piece', 'plan', p.id, '--now', NOW, '--json'));
    same(sheet.pieces[0].deliver_utc_min, p.deliver_utc_min, `${p.id} is ready on two days`);
    same(starts(sheet.days.rows), starts(whole.tasks), `days on the sheet of ${p.id}`);
  }
});
await check('the color of one can is taken as it is: no card, no batch, bought by the can', () => {
  const plan = JSON.parse(at('piece', 'plan', 'umber-chairs', '--now', NOW, '--json')), [p] = plan.pieces;
  same(p.color.lines.map((l) => [l.paint, l.parts]), [['umber', 1]], 'what is poured');
  must(!whole(plan, 'umber-chairs').some((o) => ['sample_card', 'mix_batch'].includes(o)), 'a single paint is mixed');
  must(whole(plan, 'mixed-stand').includes('mix_batch'), 'a mix is not mixed');
  const sheet = at('piece', 'plan', 'umber-chairs', '--now', NOW);
  must(/Umber as it is\.\n/.test(sheet) && !/expected difference/i.test(sheet), sheet.slice(0, 600));
});
await check('coats that are done want no more paint, and what they took is reckoned to be gone', () => {
  at('paint', 'add', '--name', 'Water clear', '--class', 'wb_clear', '--stock', '2 L');
  const clear = () => JSON.parse(at('shopping', '--json')).rows.find((r) => r.product === 'water-clear');
  at('paint', 'change', 'water-clear', '--stock', '1 ml');
  const before = clear(), own = days().tasks.filter((t) => t.piece === 'umber-chairs' && t.operation === 'clear');
  must(own.length > 1 && before.pieces.includes('Umber chairs'), 'no clear on the chairs');
  for (const t of own) at('task', 'done', t.id, '--took', `${Math.ceil(t.hands_min)} min`);
  const after = clear(), took = before.need_ml - after.need_ml;
  must(!after.pieces.includes('Umber chairs') && took > 100, `${before.need_ml} ml are wanted, then ${after.need_ml}`);
  at('paint', 'change', 'water-clear', '--stock', `${Math.ceil(before.need_ml - 20)} ml`);
  const stocked = clear();
  must(Math.abs(stocked.used_ml - took) < 1e-6 && Math.abs(stocked.buy_ml - 20) < 1.001, JSON.stringify(stocked));
  at('paint', 'stock', 'water-clear', '--kind', 'used', '--amount', `${Math.ceil(took)} ml`, '--piece', 'umber-chairs');
  same(clear().used_ml, 0, 'what was logged is taken off twice');
});
await check('today: what dries first stands first; a piece that is done waits to be handed over', () => {
  const today = () => JSON.parse(at('today', '--json'));
  const { drying } = today(), until = drying.map((t) => t.dry_until_utc_min);
  must(until.length > 1 && until.every((t, i) => !i || until[i - 1] <= t), `drying: ${until}`);
  for (const t of JSON.parse(at('days', '--json')).tasks.filter((t) => t.piece === 'umber-chairs' && t.state !== 'done')) {
    for (const about of ['spirits', 'rags_strip', 'sanding']) run(program, ['piece', 'accept', 'umber-chairs', 'caution', '--about', about, '--book', book]);
    at('task', 'done', t.id);
  }
  same(today().waiting.filter((w) => w.piece === 'umber-chairs').map((w) => /^Everything is done: [^.]+\.$/.test(w.text)), [true], 'nobody is told');
});
await check('more open pieces than are planned together: whose turn is last has its sheet and its day all the same', () => {
  const full = join(dir, 'full.book'), there = (...args) => {
    const r = run(program, [...args, '--book', full]);
    same(r.code, 0, `${args.join(' ')}: ${r.err}`);
    return JSON.parse(r.out);
  };
  const stand = file({ template: 'nightstand', width: '18 in', depth: '15 in', height: '26 in', year: 2001, finish: 'bare', wanted: { color: '#446677' } });
  for (let i = 0; i < 26; i++) there('piece', 'add', '--title', `Stand ${i}`, '--piece', stand, '--json');
  must(there('piece', 'plan', 'stand-25', '--now', NOW, '--json').pieces[0].deliver_utc_min > MIN(NOW), 'the last one has no day');
  must(there('piece', 'preview', stand, '--now', NOW, '--json').pieces[0].deliver_utc_min > MIN(NOW), 'one more has no day');
});
function whole(plan, piece) {
  return plan.days.rows.filter((t) => t.piece === piece).map((t) => t.operation);
}
await check('closing on the command line: amounts as one types them, the rest as planned and named', () => {
  const closed = at('piece', 'close', 'left-stand', '--hours', '5 h', '--price', '$200', '--used', 'white=20 fl oz').replace(/\s+/g, ' ');
  must(/Closed: Left stand\. Hours 5 h, planned/.test(closed) && !/of White/.test(closed), closed);
  const more = /Of it \$200 is not under Money, and so in no books: coatwright (money add --kind \w+) --amount '\$200' --piece left-stand/.exec(closed);
  must(more, `what is in no books: ${closed}`);
  must(/200/.test(at(...more[1].split(' '), '--amount', '$200', '--piece', 'left-stand')), 'what it says to type');
  at('undo');
  must(/nothing|is missing/.test(wrong('piece', 'close', 'right-stand', '--used', 'white')), 'an amount left out');
  at('undo');
  must(/count as planned, and the shelf has so much less: [^.]*of White/.test(at('piece', 'close', 'left-stand', '--hours', '5 h').replace(/\s+/g, ' ')), 'what was taken for granted is not said');
  must(/No money is on record/.test(at('piece', 'close', 'right-stand', '--hours', '5 h')) === false, 'own pieces bring no money');
});
await check('every time is taken by the shop\'s clock or with a zone', () => {
  shop({ zone: 'America/New_York' });
  const day = days(), t = day.tasks.find((x) => x.state === 'open'), json = (...args) => JSON.parse(at(...args, '--json'));
  const forms = ['2026-10-05 8:00 am', '2026-10-05 08:00', '2026-10-05T12:00Z', '2026-10-05T08:00-04:00'];
  for (const when of forms) {
    same(json('task', 'done', t.id, '--at', when).done_utc_min, MIN('2026-10-05T12:00Z'), `done ${when}`);
    at('task', 'undone', t.id);
    same(json('today', '--now', when).now_utc_min, MIN('2026-10-05T12:00Z'), `today ${when}`);
    const until = when.replace('10-05', '12-07').replace('12:00Z', '13:00Z').replace('-04:00', '-05:00');
    at('task', 'slip', t.id, '--until', until);
    same(days().tasks.find((x) => x.id === t.id).not_before_utc_min, MIN('2026-12-07T13:00Z'), `slip ${until}`);
  }
  for (const [field, ...args] of [['at', 'task', 'done', t.id, '--at'], ['until', 'task', 'slip', t.id, '--until'], ['now', 'today', '--now']])
    must(wrong(...args, 'soon').startsWith(`/${field}: "soon" is not a day and time. Write 2026-10-12 8:00 am`), `${field}: ${wrong(...args, 'soon')}`);
});
await check('more open pieces than are planned together: the days say so, and a promised one is among them', () => {
  const many = join(dir, 'many.book'), of = (...args) => {
    const r = run(program, [...args, '--book', many]);
    same(r.code, 0, `${args.join(' ')}: ${r.err}`);
    return r.out;
  };
  const stool = (n, more = []) => of('piece', 'add', '--title', `Stool ${n}`, '--template', 'stool', '--width', '14 in', '--depth', '14 in', '--height', '18 in', '--year', '1995', '--finish', 'lacquer', '--color', '#446677', ...more);
  for (let n = 1; n <= 24; n++) stool(n);
  must(!/Not every open piece/.test(of('days', '--now', NOW)), 'it is said of pieces that are all in it');
  stool(25, ['--due', '2026-11-02']);
  const text = of('days', '--now', NOW).replace(/\s+/g, ' '), data = JSON.parse(of('days', '--now', NOW, '--json'));
  must(text.includes('! Not every open piece is in these days. Those promised first are, then those longest in the book.'), text.slice(0, 400));
  same([data.cut, data.pieces.length, data.pieces.some((p) => p.title === 'Stool 25'), data.pieces.some((p) => p.title === 'Stool 24')], [true, 24, true, false], 'what is in the days');
});
done();
