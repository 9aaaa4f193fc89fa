// The command line as a person or a script meets it: statuses, pointers, bad documents.
//   node command_line.mjs PROGRAM EXAMPLES_FOLDER
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { check, done, must, same } from './tally.mjs';
import { folder, run } from './program.mjs';

const program = resolve(process.argv[2]), examples = resolve(process.argv[3]), dir = folder();
const plan = (text, ...more) => run(program, ['plan', '-', ...more], text);
const head = '{"format":"coatwright-job","version":1,';
const sections = ['Agreement', 'Hazards', 'Inspection', 'Take-down and repairs', 'Coats', 'Surfaces', 'Color', 'Amounts', 'Days', 'Fittings', 'Price', 'Care'];

for (const name of readdirSync(examples).filter((f) => f.endsWith('.job.json'))) {
  const path = join(examples, name);
  await check(`${name}: a sheet with every section, in order`, () => {
    const r = run(program, ['plan', path, '--now', '2026-10-01T12:00Z']);
    same(r.code, 0, r.err);
    let at = 0;
    const refused = r.out.includes('This job is refused'); /* nothing that would help to do it */
    for (const s of refused ? sections.slice(0, 3) : sections) {
      at = r.out.indexOf(`\n${s} -`, at);
      must(at >= 0, `no heading ${s}`);
    }
    const wide = r.out.split('\n').filter((l) => [...l].length > 80);
    same(wide, [], 'lines over 80 columns');
    must(!/\bnan\b|\(null\)|-?inf\b/i.test(r.out.replace(/infrared/gi, '')), 'a figure that is none');
  });
  await check(`${name}: the same sheet every time`, () => {
    const twice = [1, 2].map(() => run(program, ['plan', path, '--json', '--now', '2026-10-01T12:00Z']).out);
    must(twice[0] === twice[1], 'two runs differ');
    JSON.parse(twice[0]);
  });
  await check(`${name}: metric`, () => {
    const r = run(program, ['plan', path, '--units', 'metric', '--now', '2026-10-01T12:00Z']);
    must(r.code === 0 && / mm\b/.test(r.out), r.err || 'no millimeters');
  });
  await check(`${name}: a wrong unit is found where it is`, () => {
    const job = JSON.parse(readFileSync(path));
    job.pieces[0].width = '12 parsecs';
    const r = plan(JSON.stringify(job));
    same(r.code, 1, 'status');
    must(r.err.startsWith('/pieces/0/width: "12 parsecs"'), r.err);
  });
}
for (const [name, text, pointer] of [
  ['a bracket', '{', ''],
  ['a list', '[]', ''],
  ['nothing', '', ''],
  ['an unknown member', `${head}"surprise":1}`, '/surprise'],
  ['a wrong type', `${head}"pieces":[{"width":true}]}`, '/pieces/0/width'],
  ['a number out of range', `${head}"pieces":[{"year":90000}]}`, '/pieces/0/year'],
  ['two equal ids', `${head}"pieces":[{"id":"a"},{"id":"a"}]}`, '/pieces/1/id'],
  ['10 MB of brackets', '['.repeat(10 << 20), ''],
  ['100 kB of brackets', '['.repeat(100000), '/0/0'],
  ['invalid UTF-8', Buffer.from(`${head}"title":"\xff"}`, 'latin1'), '/title'],
  ['a byte of NUL', Buffer.from(`${head}"title":"\0"}`, 'latin1'), ''],
  ['a newer version', '{"format":"coatwright-job","version":9,"pieces":[]}', '/version'],
  ['no piece', `${head}"pieces":[]}`, '/pieces'],
]) {
  await check(`refused: ${name}`, () => {
    const r = plan(text), j = plan(text, '--json');
    same([r.code, r.out], [1, ''], 'status and output');
    must(r.err.startsWith(pointer) && r.err.trim().split('\n').length === 1, r.err);
    same(j.code, 1, 'status with --json');
    const { error } = JSON.parse(j.err);
    must(error.code && error.text && error.field.startsWith(pointer), j.err);
  });
}
for (const args of [[], ['nonsense'], ['color'], ['plan'], ['plan', 'a', 'b'], ['plan', '--what'], ['color', 'diff', '#fff', '#000', '--units', 'cubits'], ['serve', '--listen', 'here'], ['serve', '--surprise']]) {
  await check(`wrong usage: ${args.join(' ') || 'nothing'}`, () => {
    const r = run(program, args);
    same(r.code, 2, 'status');
    must((r.err || r.out).length > 0, 'nothing said');
  });
}
await check('one name more than serve takes is not called an option that is none', () => {
  const r = run(program, ['serve', ...Array(9).fill(['--host', 'shop.lan']).flat()]);
  same(r.code, 2, 'status');
  must(/^\/host: 8 names at most\./.test(r.err), r.err);
});
await check('a file that is not there', () => {
  const r = run(program, ['plan', join(dir, 'nowhere.json')]);
  same(r.code, 1, 'status');
  must(/cannot be opened/.test(r.err), r.err);
});
await check('help of every operation', () => {
  const all = run(program, ['--help']);
  const names = [...all.out.matchAll(/^ {2}([a-z]+(?: [a-z]+)?) {2,}\S/gm)].map((m) => m[1]).filter((n) => n !== 'serve');
  must(names.length >= 10, `only ${names.length}`);
  for (const n of names) {
    const r = run(program, [...n.split(' '), '--help']);
    must(r.code === 0 && r.out.startsWith(`Usage: coatwright ${n}`), n);
  }
});
await check('the days in a terminal: kept, a slip told, tried again, all in 80 columns', () => {
  const book = join(dir, 'days.book'), at = (...args) => {
    const r = run(program, [...args, '--book', book]);
    same(r.code, 0, `${args.join(' ')}: ${r.err}`);
    same(r.out.split('\n').filter((l) => [...l].length > 80), [], `${args.join(' ')}: lines over 80 columns`);
    must(!/\bnan\b|\(null\)|\d{4}-\d\d-\d\dT/i.test(r.out), `${args.join(' ')}: a figure or time that nobody reads`);
    return r.out;
  };
  for (const name of ['chest', 'nightstands', 'desk']) at('import', join(examples, `${name}.job.json`));
  must(/^Nothing was accepted yet/.test(at('days', 'replan')), 'what moves before anything was kept');
  at('days');
  must(/^desk +Oak school desk with a slatted shelf\n +Looked over\. Next: [A-Z]/m.test(at('pieces')) && /Due Fri, Dec 18\. Ready \w+,\s+\w+ \d+, [^.]+ [ap]m\./.test(at('pieces').replace(/\n +/g, ' ')), at('pieces'));
  must(/^More: coatwright pieces --after \d+$/m.test(at('pieces', '--limit', '1')), 'a page does not say that there are more');
  const days = at('days', '--ids');
  must(/^3 pieces, \d+ tasks\. /.test(days) && /^[A-Z][a-z]{2}, [A-Z][a-z]{2} \d+ .* of work$/m.test(days), days.slice(0, 400));
  must(/Goes on with the wet /.test(days), 'no shared set-up is said');
  must(/^The days stand: \d+ tasks of 3 pieces\.$/m.test(at('days', 'accept')), 'accepted');
  same(at('days', 'replan').split('\n')[0], 'Nothing moves.', 'kept days');
  const id = /^ +(desk-\S+-clear-coat1)$/m.exec(days)?.[1];
  const until = new Date(Date.now() + 9 * 86400e3).toISOString().slice(0, 10);
  must(/^Cannot go on yet: /.test(at('task', 'slip', id, '--until', `${until} 13:00`)), 'slip');
  const moves = at('days', 'replan');
  must(/^\d+ of \d+ tasks move\.$/m.test(moves) && /^Oak school desk/m.test(moves) && /\sinstead\s+of\s/.test(moves), moves);
  const order = (...args) => at('days', ...args).replace(/\s+/g, ' ').slice(0, 200);
  /* on some days of the year either is proven to be the best, and that is said instead */
  const kept = order(), anew = order('--anew');
  must(/tasks\. (As accepted, changed only|None with these hours delivers sooner)/.test(kept) && /tasks\. (The best order found|None with these hours delivers sooner)/.test(anew), `days laid out anew are said to be as accepted: ${kept}, ${anew}`);
  must(/tasks move|Nothing moves/.test(at('days', 'replan', '--cold', until, '--night', '40 F')), 'a cold night');
  must(/^Next: /m.test(at('piece', 'inspection', 'chest')) && /^  Do +[A-Z]/m.test(at('piece', 'inspection', 'chest')), 'the next test');
  const sheet = at('piece', 'plan', 'desk').split('\n');
  must(!sheet.slice(0, 12).some((l) => /STOP/.test(l)) && sheet.filter((l) => l === 'Oak school desk with a slatted shelf').length === 1, 'the sheet of one piece begins with the stops of another');
  same(sheet.filter((l) => /usual for: (?!school desk)/.test(l)), [], 'assumed of other pieces');
  must(/When it is done: coatwright task done \S+/.test(at('today')), 'today says what to type');
  must(/^  \d.* of Waterborne clear, satin: [^]*?\n    For [^]*?\.\n[^]*In all \$\d/m.test(at('shopping')), at('shopping'));
});
await check('nothing begins a book that only keeps or changes what stands in one', () => {
  const book = join(dir, 'none.book');
  for (const args of [['days', 'accept'], ['task', 'done', 'desk-clean'], ['piece', 'remove', 'desk']]) {
    const r = run(program, [...args, '--book', book]);
    must(r.code === 1 && /There is no book/.test(r.err) && !existsSync(book), `${args.join(' ')}: ${r.out}${r.err}`);
  }
  same(run(program, ['shop', 'change', '-', '--book', book], '{"people":2}').code, 0, 'a first entry');
  same(run(program, ['shop', 'change', '{"rate":"$50/h"}', '--book', book]).code, 0, 'a document in the place of a file');
  const r = run(program, ['days', 'accept', '--book', book]);
  must(r.code === 1 && /no days to keep/.test(r.err), `days of no piece are kept: ${r.out}`);
  same(run(program, ['import', join(examples, 'desk.job.json'), '--book', book]).code, 0, 'a piece');
  const kept = run(program, ['days', 'accept', '--book', book]).out;
  must(/^The days stand: \d\d+ tasks of 1 piece\.$/m.test(kept), kept);
});
await check('a full disk is noticed', () => {
  if (!existsSync('/dev/full')) return;
  const r = run('/bin/sh', ['-c', `"${program}" --help >/dev/full`]);
  same(r.code, 1, 'status');
});
await check('six chairs are entered by a line', () => {
  const r = run(program, ['piece', 'add', '--template', 'side_chair', '--count', '6', '--year', '1935', '--condition', 'worn', '--width', '17 in', '--height', '35 in', '--json', '--book', join(dir, 'chairs.book')]);
  const { document: d } = JSON.parse(r.out || '{}');
  same([r.code, d?.count, d?.year, d?.condition], [0, 6, 1935, 'worn'], r.err);
});
await check('an export longer than any document is read back; a document as long is not', () => {
  const from = join(dir, 'chairs.book'), to = join(dir, 'again.book'), text = run(program, ['export', '--book', from]).out;
  const read = run(program, ['export', 'read', '-', '--book', to], text + ' '.repeat(5 << 20));
  same([read.code, read.err], [0, ''], 'an export of 5 MB');
  const tables = (t) => t.slice(t.indexOf('"tables"'));
  must(tables(run(program, ['export', '--book', to]).out) === tables(text), 'another book came back');
  const long = plan(head + '"pieces":[]}' + ' '.repeat(5 << 20));
  must(long.code === 1 && /more than 4 MB/.test(long.err), long.err);
});
await check('instants stand on the clock of the shop, as its zone has them', () => {
  const book = join(dir, 'clock.book'), zone = 'Pacific/Chatham'; /* three quarters of an hour off every other */
  same(run(program, ['shop', 'change', '-', '--book', book], JSON.stringify({ zone })).code, 0, 'shop change');
  const { rows } = JSON.parse(run(program, ['history', '--book', book, '--json']).out);
  const clock = { timeZone: zone, weekday: 'short', month: 'short', day: 'numeric', hour: 'numeric', minute: '2-digit' };
  const when = new Intl.DateTimeFormat('en-US', clock).format(new Date(rows[0].at_utc_min * 60000)).replace(/\s/g, ' ').toLowerCase();
  const r = run(program, ['history', '--book', book]);
  must(r.out.toLowerCase().includes(when) && !/T\d\d:\d\dZ/.test(r.out), `${when}: ${r.out.slice(0, 300)}`);
});
await check('lists of the book are read as lists: no members, no revisions, 80 columns', () => {
  const book = join(dir, 'lists.book'), at = (...args) => {
    const r = run(program, [...args, '--book', book]);
    same(r.code, 0, `${args.join(' ')}: ${r.err}`);
    return r.out;
  };
  for (const [i, name] of ['chest', 'nightstands', 'desk'].entries()) at('import', join(examples, `${name}.job.json`), ...(i ? [] : ['--shop']));
  same(at('money', 'add', '--kind', 'mileage', '--amount', '$8', '--distance', '4.5 mi', '--piece', 'nightstands', '--day', '2026-11-02'),
    'Nov 2, 2026   mileage           −$8  Pair of pine nightstands; 4.5 mi\n', 'an entry as it was written down');
  at('money', 'add', '--kind', 'mileage', '--distance', '24 mi', '--note', 'for veneer', '--day', '2026-11-03');
  at('record', 'add', '--kind', 'hours', '--operation', 'clean', '--piece', 'chest', '--took', '3 min');
  at('task', 'start', 'nightstands-card');
  at('task', 'done', 'nightstands-card', '--took', '50 min');
  at('client', 'add', '--name', 'whoever had the long table made in the spring');
  at('paint', 'add', '--name', 'A jar of no kind');
  at('money', 'add', '--kind', 'deposit', '--amount', '$320', '--piece', 'chest');
  at('batch', 'add', '--piece', 'nightstands', '--items', 'white=12,ochre=1', '--amount', '13 fl oz');
  at('record', 'add', '--kind', 'spread', '--class', 'wb_enamel', '--method', 'foam_roller', '--spread', '380 ft2/gal', '--piece', 'chest');
  at('record', 'add', '--kind', 'callback', '--piece', 'chest', '--class', 'wb_clear', '--note', 'a white ring');
  at('piece', 'close', 'desk', '--hours', '5 h 10 min', '--price', '$423');
  for (const [call, ...says] of [
    [['money', 'open'], /^chest +Bow-front chest, five drawers$/m, /For the owner of the glazed bowl\. Looked over\. \$[\d,]+ as planned, \$320 paid\./, /\$260 asked, nothing paid\..*Bought for \$40, which is not under Money/],
    [['money', 'pieces'], /^desk +Oak school desk/m, /Hours +5 h 10 min, planned 5 h 4\d min/, /Price +\$423, planned/, /Of it \$423 is not under Money/, / of Black, planned /],
    [['samples'], /^card-20 +3 Light gray, 1 Ultramarine$/m, /Dried to lab\(63\.5 -3\.4 -19\.0\) \(#849dbb\), satin, read from a photo\./],
    [['records'], /Spread, waterborne enamel, 4 in foam roller: 380 ft2\/gal, usual \d+ ft2\/gal\. Bow-front chest, five drawers\./, /Call-back, waterborne clear\. Bow-front chest, five drawers: a white ring\./],
    [['learned'], /Spread, waterborne enamel, 4 in foam roller: \d+ ft2\/gal here, usual \d+ ft2\/gal, 0\.\d\d times as usual\..* From 1 record\./],
    [['batches'], /13 fl oz, mixed .*12 fl oz of White 1 fl oz of Yellow ochre/],
    [['batch', 'label', 'pair-of-pine-nightstands'], /^ {2}12 fl oz of White \(92\.3 %\)$/m],
    [['paint', 'movements', 'white'], /^ +\d+ {2}\w.+ used +−12 fl oz$/m, /for nightstands/, / counted +26 fl oz$/m],
    [['clients'], /^a-reading-room +a reading room$/m, /^whoever-had-\S+\n {20,}whoever had the long table made in the spring$/m],
    [['search', 'reading'], /^client +a-reading-room\n +a reading room$/m],
    [['search', 'zzz'], /^Nothing in the book begins with "zzz"\.$/m],
    [['money'], /^Nov 3, 2026 +mileage +24 mi {2}for veneer$/m],
    [['callbacks'], / \+ [^]*\n {4}1 closed piece, 0 call-backs\.$/m],
    [['history'], /^ +took: 50 min$/m, /mileage 24 mi \(money written down\)/, /Hours, Clean and degrease: 3 min \(record logged\)/],
    [['records'], /Hours, Sample card: 50 min, usual 10 min\. Pair of pine nightstands\. Far off, so nothing is learned from it/],
    [['learned'], /Hours, Sample card: nothing learned yet\. 1 left out: far off\./],
    [['shelf', 'wet', '--class', 'wb_enamel'], /^Waterborne enamel: 0 mixes were read wet and dry: 3 are needed/m],
    [['paints'], /opened Aug 3, 2026\./],
    [['stock', 'table'], /^paint,a-jar-of-no-kind,A jar of no kind,,0,ml,/m],
    [['books', '--from', '2026-01-01', '--to', '2026-12-31'], /^mileage +\$8 +28\.5 mi$/m],
    [['money', 'pieces'], /money add --kind payment --amount '\$423' --piece desk/],
    [['task', 'help', 'chest-case-clear-coat1'], /^Bow-front chest, five drawers: Clear coat: Waterborne clear, satin\n! Open doors/, /^ {2}When it is read: coatwright piece accept chest caution --about solvent$/m, /^ {2}With +4 in foam roller$/m, /What can go wrong\n\n/],
    [['defects', '--q', 'orange peel'], /^Orange peel\n {2}Looks +Dimpled/],
    [['backups'], /^\w.+ MB {2}daily-.+\.book$/m, /^ {2}coatwright restore daily-.+\.book$/m],
    [['check'], /^The book is sound/],
    [['supplies'], /^grit220 +Abrasive sheets, 220 grit\n +18 left at \$0\.90 each\. Abrasive\.$/m],
    [['piece', 'went', 'chest'], /^ +planned +on record\nInspection and take-down +1 h \d+ min +-$/m, /^In all +13 h \d+ min +3 min$/m],
    [['history', '--limit', '500'], /hours: day weekdays, open 8:00 am, close 12:00 pm; day weekdays/],
    [['worth', 'nightstand', '--price', '$140', '--asked', '$25'], /^ {2}Sells for +\$140$/m, /^Assumed: width /m],
  ]) {
    const text = at(...call), name = call.join(' ');
    for (const say of says) must(say.test(text) || say.test(text.replace(/\s+/g, ' ')), `${name}: no ${say} in\n${text.slice(0, 900)}`);
    must(!/^ *(id|bytes|path|revision|as typed|color hex|price is|client name|weight|amount cent|distance m|qr)\b/m.test(text), `${name} lists members:\n${text.slice(0, 600)}`);
    const wide = call[1] !== 'table' && text.split('\n').find((l) => [...l].length > 80);
    must(!wide, `${name} is wider than 80 columns: ${wide}`);
  }
});
await check('help says what may be written in brackets, and what is needed last', () => {
  const help = (...args) => run(program, [...args, '--help']).out.replace(/\s+/g, ' ');
  const log = help('record', 'add'), close = help('piece', 'close');
  must(/--kind WORD what was measured \(spread, loss, hours, drying, callback\); needed --piece/.test(log), log);
  must(/The shelf follows \(planned, none\) --note/.test(close), close);
});
await check('a shop\'s assumptions and days stand in words', () => {
  const book = join(dir, 'lists.book'), at = (...args) => run(program, [...args, '--book', book]).out;
  must(/^ {2}sale fee 0 %: no seller's fee was named$/m.test(at('shop')), at('shop'));
  must(/^opened +Aug 3, 2026$/m.test(at('paint', 'show', 'white')), at('paint', 'show', 'white'));
});
await check('what is missing or too much on the command line is said short, with what it is', () => {
  for (const [args, words] of [
    [['piece', 'show'], /^ID is missing: which /],
    [['client', 'add'], /^--name is missing: as the shop calls/],
    [['plan', 'x', 'ä'.repeat(40000)], /^"ä{40}\.\.\." is more than this command takes\.$/m],
  ]) {
    const r = run(program, args);
    must(r.code === 2 && words.test(r.err), `${r.code}: ${r.err.slice(0, 300)}`);
  }
});
await check('an error is text, whatever it quotes: no half character, nothing that moves the terminal\'s pen', () => {
  const raw = (...args) => spawnSync(program, args);
  const valid = (bytes) => new TextDecoder('utf-8', { fatal: true }).decode(bytes); /* throws where it is none */
  const long = `a${'é'.repeat(300)}`;
  for (const args of [['client', 'show', long], ['plan', long], ['schema', long], [long], ['shop', '--book', long]]) {
    const r = raw(...args), said = valid(r.stderr);
    must(r.status > 0 && said.length < 400, `${args[0].slice(0, 9)}: ${r.status}, ${said.length} characters`);
    const j = raw(...args, '--json');
    must(JSON.parse(valid(j.stderr).split('\n')[0]).error.text, 'no JSON');
  }
  const shell = spawnSync('/bin/sh', ['-c', `"${program}" plan "$(printf '/tmp/\\377\\033[31mx')"`]);
  same(valid(shell.stderr), '/tmp/??[31mx cannot be opened: No such file or directory.\n', 'bytes that are no text');
});
await check('what operations write keeps to the width of the terminal, and fills it', () => {
  const book = join(dir, 'lists.book'), widest = (columns, ...args) => {
    const r = run(program, [...args, '--book', book], undefined, { ...process.env, COLUMNS: String(columns) });
    same(r.code, 0, r.err);
    /* a command to be typed stands whole */
    return Math.max(...r.out.split('\n').filter((l) => !l.includes('coatwright ')).map((l) => [...l].length));
  };
  for (const args of [['piece', 'story', 'chest'], ['piece', 'went', 'chest'], ['recipes', '--target', '#1c6a70', '--parts', '12'], ['shelf', 'mix', '--items', 'white=3,sea-blue=2'],
    ['sample', 'next', '--target', '#1c6a70'], ['money'], ['records'], ['history'], ['callbacks'], ['paint', 'movements', 'white'], ['shop'], ['clients']]) {
    const w = widest(60, ...args);
    must(w <= 60, `${args.join(' ')} at 60 columns: ${w}`);
  }
  for (const args of [['days'], ['today'], ['task', 'help', 'chest-case-clear-coat1']])
    for (const columns of [56, 72, 100]) {
      const w = widest(columns, ...args);
      must(w <= columns && w > columns - 8, `${args.join(' ')} at ${columns} columns: ${w}`);
    }
});
done();
