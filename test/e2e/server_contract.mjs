// What the page and other programs rely on.
//   node server_contract.mjs PROGRAM WEB_FOLDER
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { check, done, must, same, skip } from './tally.mjs';
import { picture } from './bench_picture.mjs';
import { Server, folder, run } from './program.mjs';

const program = resolve(process.argv[2]), web = resolve(process.argv[3]), dir = folder();
const s = await Server.start(program, ['--book', join(dir, 'a.book')], dir);
const require = createRequire(join(web, 'package.json'));
const library = (name) => { try { return require(name); } catch { return undefined; } };
const chest = { template: 'chest', width: '34 in', depth: '20 in', height: '41 in', title: 'Chest' };

await check('a create with a key is done once', async () => {
  const key = { 'idempotency-key': 'key-number-1' };
  const a = await s.send('POST', '/api/pieces', chest, key), b = await s.send('POST', '/api/pieces', chest, key);
  same([a.status, b.status], [200, 200], 'status');
  same(await b.json(), await a.json(), 'the second answer');
  same((await (await s.get('/api/pieces')).json()).rows.length, 1, 'pieces');
  const other = await s.send('POST', '/api/pieces', { ...chest, title: 'Other' }, key);
  same(other.status, 409, 'another request under that key');
});
if (process.env.TSAN_OPTIONS) skip('a picture is the body itself', 'the sanitizer needs more memory than the process that reads pictures may have');
else await check('a picture is the body itself, is done once, and comes back as it went', async () => {
  const file = picture(['#f1efec'], [0.8, 0.8, 0.7]).buffer, key = { 'idempotency-key': 'picture-key-1' };
  const put = (body, headers, query = '') => fetch(`${s.url}/api/pictures${query}`, { method: 'POST', headers, body });
  const as = { 'content-type': 'image/png' };
  const a = await put(file, { ...as, ...key }), b = await put(file, { ...as, ...key }), { id } = await a.clone().json();
  same([a.status, await b.json()], [200, await a.json()], 'the second answer');
  same((await (await s.get('/api/pictures')).json()).rows.length, 1, 'pictures');
  same((await put(file.subarray(0, 900), { ...as, ...key })).status, 409, 'other bytes under that key');
  const back = await s.get(`/api/pictures/${id}/file`);
  same(back.headers.get('content-type'), 'image/png', 'type');
  must(Buffer.from(await back.arrayBuffer()).equals(file), 'other bytes came back');
  const look = await s.get(`/api/pictures/${id}/look?side=64`);
  same(look.headers.get('content-type'), 'image/jpeg', 'type of the small one');
  same((await s.get(`/api/pictures/${id}/look?x=700&y=0&w=200&h=10`)).status, 422, 'a part outside');
  for (const [what, r, status] of [
    ['no picture', put(Buffer.from('hello'), as), 400], ['cut off', put(file.subarray(0, 900), as), 400], ['nothing', put(undefined, as), 400],
    ['JSON for a picture', s.send('POST', '/api/pictures', { a: 1 }), 400], ['a picture for JSON', fetch(`${s.url}/api/pieces`, { method: 'POST', headers: as, body: file }), 400],
    ['a plain form', put(file, { 'content-type': 'application/x-www-form-urlencoded' }), 400], ['a file of the server', put(file, as, '?photo=/etc/hostname'), 400]])
    same((await r).status, status, what);
  // refused by its head, before the body comes: 30 MB for pictures, 4 MB for everything else
  for (const [path, type, mb] of [['/api/pictures', 'image/png', 31], ['/api/pieces', 'application/json', 5]]) {
    const got = await s.raw(`POST ${path} HTTP/1.1\r\nHost: 127.0.0.1:${s.port}\r\nContent-Type: ${type}\r\nContent-Length: ${mb << 20}\r\n\r\n`);
    must(/^HTTP\/1.1 413 /.test(got), `${mb} MB to ${path}: ${got.slice(0, 60)}`);
  }
  same((await (await s.get('/api/pictures')).json()).rows.length, 1, 'pictures after all that');
});
await check('a stale change is 412, a fresh one goes through', async () => {
  const r = await s.get('/api/pieces/chest'), tag = r.headers.get('etag');
  must(/^"\d+"$/.test(tag), `etag ${tag}`);
  const good = await s.send('PATCH', '/api/pieces/chest', { piece: { width: '35 in' } }, { 'if-match': tag });
  same(good.status, 200, 'fresh');
  const stale = await s.send('PATCH', '/api/pieces/chest', { piece: { width: '36 in' } }, { 'if-match': tag });
  same(stale.status, 412, 'stale');
  const told = await stale.json();
  same(told.error.code, 'stale', 'code');
  same(told.changed, [{ pointer: '/width', before: '34 in', after: '35 in', operation: 'piece change' }], 'what was changed');
  same((await (await s.get('/api/pieces/chest')).json()).width_mm, 889, 'width');
});
await check('errors name field, fault and remedy', async () => {
  const r = await s.send('POST', '/api/pieces', { ...chest, width: '12 parsecs' }), { error } = await r.json();
  same(r.status, 400, 'status');
  must(/width$/.test(error.field) && /parsecs/.test(error.text) && /32 3\/4 in/.test(error.text), JSON.stringify(error));
  same((await s.send('POST', '/api/pieces', '{"a":')).status, 400, 'broken JSON');
  same((await s.get('/api/pieces?surprise=1')).status, 400, 'unknown query');
  same((await s.get('/api/pieces/nobody')).status, 404, 'nobody');
  const typed = await fetch(`${s.url}/nothing/here`, { headers: { accept: 'text/html,*/*;q=0.8' } });
  same([typed.status, typed.headers.get('content-type')], [404, 'text/html; charset=utf-8'], 'an address that a person typed');
  must((await s.get('/nothing/here')).headers.get('content-type').startsWith('application/json'), 'the same asked by a program');
  const method = await s.send('PUT', '/api/pieces', {});
  same([method.status, method.headers.get('allow')], [405, 'GET, POST'], 'method');
});
await check('an operation without arguments takes an empty object, and nothing else', async () => {
  for (const body of [undefined, '{}', ' { } ']) same((await s.send('POST', '/api/days/replan', body)).status, 200, `body ${body}`);
  for (const body of ['{"a":1}', '[]', '{}x']) same((await s.send('POST', '/api/days/replan', body)).status, 400, `body ${body}`);
});
await check('an argument that stands before an ending is the argument alone', async () => {
  const table = await s.get('/api/export/piece.csv');
  same([table.status, table.headers.get('content-type')], [200, 'text/csv; charset=utf-8'], 'a table');
  must(/^number,id,/.test(await table.text()), 'its columns');
  same((await (await s.get('/api/export/nothing.csv')).json()).error.field, '/table', 'no such table');
  for (const path of ['/api/export/piece.txt', '/api/export/.csv', '/api/export/piece']) same((await s.get(path)).status, 404, path);
});
await check('HEAD answers without a body', async () => {
  const r = await fetch(`${s.url}/api/pieces`, { method: 'HEAD' });
  same([r.status, (await r.text()).length], [200, 0], 'HEAD');
});
await check('a job document becomes pieces of the book, once', async () => {
  const path = resolve(web, '../examples/desk.job.json');
  if (!existsSync(path)) return;
  const job = JSON.parse(readFileSync(path)), r = await s.send('POST', '/api/import', job), body = await r.json();
  same(r.status, 200, JSON.stringify(body));
  same(body.pieces.length, job.pieces.length, 'pieces');
  same(body.paints, job.shelf.paints.length, 'paints');
  const piece = await (await s.get(`/api/pieces/${body.pieces[0]}`)).json();
  same(piece.document.width, job.pieces[0].width, 'as typed');
  const again = await s.send('POST', '/api/import', { job }), { error } = await again.json();
  same([again.status, error.field], [400, '/job/pieces/0/id'], 'again');
});
await check('an event tells that the book has moved', async () => {
  const stop = new AbortController();
  const r = await fetch(`${s.url}/api/events`, { signal: stop.signal });
  same(r.headers.get('content-type'), 'text/event-stream; charset=utf-8', 'type');
  const reader = r.body.getReader();
  let got = '';
  const until = Date.now() + 3000;
  await s.send('PATCH', '/api/pieces/chest', { piece: { note: 'hello' } });
  while (!/event: change\ndata: \{"revision":\d+\}/.test(got) && Date.now() < until) {
    const { value, done: end } = await reader.read();
    if (end) break;
    got += new TextDecoder().decode(value);
  }
  stop.abort();
  must(/event: change/.test(got), `got ${got}`);
});
await check('a change made on the command line is told too', async () => {
  const stop = new AbortController();
  const r = await fetch(`${s.url}/api/events`, { signal: stop.signal }), reader = r.body.getReader();
  await reader.read();
  const c = run(program, ['piece', 'change', 'chest', '--title', 'Chest of drawers', '--book', join(dir, 'a.book')]);
  same(c.code, 0, c.err);
  let got = '';
  while (!/event: change/.test(got)) got += new TextDecoder().decode((await reader.read()).value);
  stop.abort();
});
await check('the page: policy, own files only, first data inside', async () => {
  const r = await s.get('/pieces/chest'), html = await r.text();
  same(r.status, 200, 'status');
  const policy = r.headers.get('content-security-policy');
  must(/default-src 'none'/.test(policy) && !/unsafe/.test(policy), policy);
  must(!/(src|href)="https?:/.test(html), 'it points outside');
  const first = JSON.parse(/<script type="application\/json" id="first">(.*?)<\/script>/s.exec(html)[1]);
  same(first.answers['/api/pieces/chest'].body.id, 'chest', 'first data');
  must(!/<script(?![^>]*(src=|application\/json))/.test(html), 'inline script');
});
await check('what somebody typed does not end the data in the page', async () => {
  const title = 'Crib </script><b>bold</b> <!-- & more';
  same((await s.send('POST', '/api/pieces', { ...chest, title, piece: { id: 'tagged' } })).status, 200, 'entered');
  const html = await (await s.get('/pieces')).text();
  const first = JSON.parse(/<script type="application\/json" id="first">(.*?)<\/script>/s.exec(html)[1]);
  const row = first.answers['/api/pieces?documents=true&stage=open'].body.rows.find((r) => r.id === 'tagged');
  same([row.title, row.document.title], [title, title], 'its title');
  must(!/<b>bold/.test(html), 'a tag of the title stands in the page');
  await s.send('DELETE', '/api/pieces/tagged');
});
await check('files: hashed names kept for ever, gzip where it is taken', async () => {
  const html = await (await s.get('/')).text(), urls = [...html.matchAll(/(?:src|href)="(\/files\/[^"]+)"/g)].map((m) => m[1]);
  must(urls.length >= 2, `only ${urls.length} files`);
  for (const url of urls) {
    const r = await s.get(url, { 'accept-encoding': 'gzip' });
    same(r.status, 200, url);
    must(/immutable/.test(r.headers.get('cache-control')), `${url}: ${r.headers.get('cache-control')}`);
    same(r.headers.get('content-encoding'), 'gzip', url);
    const plain = await s.get(url, { 'accept-encoding': 'identity' });
    same(plain.headers.get('content-encoding'), null, `${url} plain`);
    must(await plain.text() === await r.text(), `${url}: both codings hold the same`);
  }
});
await check('page and answers are packed where that pays, and say the same', async () => {
  for (const path of ['/pieces/chest', '/api/choices', '/api/openapi.json', '/api/export.json']) {
    const packed = await s.get(path, { 'accept-encoding': 'gzip' }), plain = await s.get(path, { 'accept-encoding': 'gzip;q=0' });
    same([packed.headers.get('content-encoding'), plain.headers.get('content-encoding')], ['gzip', null], path);
    same([packed.headers.get('vary'), plain.headers.get('vary')], ['Accept-Encoding', 'Accept-Encoding'], `${path}: vary`);
    const size = Number(packed.headers.get('content-length')), text = await plain.text();
    must(await packed.text() === text, `${path}: both codings hold the same`);
    must(size < text.length * .6, `${path}: ${size} of ${text.length} bytes`);
  }
  same((await s.get('/api/check', { 'accept-encoding': 'gzip' })).headers.get('content-encoding'), null, 'a short answer');
});
await check('one job alone: its sheet stands in the page', async () => {
  const job = resolve(web, '../examples/chest.job.json');
  if (!existsSync(job)) return skip('one job alone', 'no examples');
  const one = await Server.start(program, ['--job', job], dir);
  const html = await (await one.get('/')).text();
  const first = JSON.parse(/<script type="application\/json" id="first">(.*?)<\/script>/s.exec(html)[1]);
  must(first.job.sheet.pieces.length >= 1, 'no sheet');
  must(Object.keys(first.job.basis ?? {}).length > 0, 'no bases');
  same((await one.get('/api/pieces')).status, 404, 'no book');
  await one.stop();
  const nojob = run(program, ['serve', '--job', dir]);
  same(nojob.code, 1, 'a folder is no job');
  must(/cannot be read/.test(nojob.err), nojob.err);
});

const api = await (await s.get('/api/openapi.json')).json();
await check('the API document names every operation', async () => {
  must(/^3\.1/.test(api.openapi), api.openapi);
  const ids = Object.values(api.paths).flatMap((p) => Object.values(p).map((o) => o.operationId));
  same(new Set(ids).size, ids.length, 'operation ids');
  const refs = [...JSON.stringify(api).matchAll(/#\/components\/schemas\/([^"]+)"/g)].map((m) => m[1]);
  for (const r of refs) must(api.components.schemas[r], `no schema ${r}`);
});
const { Validator } = library('@seriousme/openapi-schema-validator') ?? {};
if (Validator) {
  await check('the API document is valid OpenAPI 3.1', async () => {
    const r = await new Validator().validate(api);
    must(r.valid, JSON.stringify(r.errors)?.slice(0, 600));
  });
} else skip('the API document is valid OpenAPI 3.1', 'no validator in web/node_modules');

const Ajv = library('ajv/dist/2020');
if (Ajv) {
  const ajv = new Ajv.default({ strict: false, allErrors: false });
  const schemas = {};
  for (const which of ['job', 'shelf', 'plan', 'recipes']) {
    await check(`schema/${which}.schema.json is current and valid`, async () => {
      const made = run(program, ['schema', which]).out, kept = resolve(web, `../schema/${which}.schema.json`);
      must(readFileSync(kept, 'utf8') === made, `${kept} differs: build/coatwright schema ${which} >${kept}`);
      schemas[which] = ajv.compile(JSON.parse(made));
    });
  }
  for (const name of ['chest', 'nightstands', 'desk']) {
    const path = resolve(web, `../examples/${name}.job.json`);
    if (!existsSync(path)) { skip(`${name}.job.json`, 'not there'); continue; }
    await check(`${name}.job.json follows the schema`, async () => {
      must(schemas.job(JSON.parse(readFileSync(path))), JSON.stringify(schemas.job.errors));
    });
    await check(`the plan of ${name}.job.json follows its schema`, async () => {
      const r = run(program, ['plan', path, '--json', '--why']);
      must(r.code === 0 && schemas.plan(JSON.parse(r.out)), r.err || JSON.stringify(schemas.plan.errors));
    });
  }
  await check('the schema refuses what the program refuses', async () => {
    const head = { format: 'coatwright-job', version: 1 };
    for (const bad of [{}, { ...head }, { ...head, pieces: [], surprise: 1 }, { ...head, pieces: [{ width: 3 }] }, { ...head, pieces: [{ condition: 'blue' }] }])
      must(!schemas.job(bad), `${JSON.stringify(bad)} passes`);
    must(schemas.job({ ...head, pieces: [{ id: 'a', width: '3 in' }] }), 'a good one');
  });
} else skip('schemas', 'no ajv in web/node_modules');
await s.stop();
done();
process.exit();
