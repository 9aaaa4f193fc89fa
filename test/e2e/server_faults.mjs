// What strangers, broken clients and bad luck do to the server.
//   node server_faults.mjs PROGRAM
import net from 'node:net';
import { join, resolve } from 'node:path';
import { check, done, must, same, skip } from './tally.mjs';
import { Server, folder, run } from './program.mjs';

const program = resolve(process.argv[2]), dir = folder(), book = join(dir, 'a.book');
const s = await Server.start(program, ['--book', book], dir);
const host = `Host: 127.0.0.1:${s.port}\r\n`;
const status = (text) => Number(/^HTTP\/1\.1 (\d+)/.exec(text)?.[1] ?? 0);
const alive = async () => same((await s.get('/api/pieces')).status, 200, 'the server afterwards');
const wait = (ms) => new Promise((r) => setTimeout(r, ms));

// Drips one byte a second of a request that never ends; begun first, looked at last.
const drip = new Promise((resolve) => {
  const socket = net.connect(s.port, '127.0.0.1'), begun = Date.now();
  const text = `GET / HTTP/1.1\r\n${host}X-Slow: ${'a'.repeat(4000)}`;
  let i = 0;
  const timer = setInterval(() => { if (!socket.destroyed) socket.write(text[i++]); }, 1000);
  socket.on('error', () => {});
  socket.on('close', () => { clearInterval(timer); resolve(Date.now() - begun); });
  setTimeout(() => { clearInterval(timer); resolve(Infinity); }, 45000).unref();
});

for (const [name, bytes] of [
  ['two Host', `GET /api/pieces HTTP/1.1\r\n${host}${host}\r\n`],
  ['no Host', 'GET /api/pieces HTTP/1.1\r\n\r\n'],
  ['foreign Host', 'GET /api/pieces HTTP/1.1\r\nHost: evil.example\r\n\r\n'],
  ['own name, other port', 'GET /api/pieces HTTP/1.1\r\nHost: 127.0.0.1:1\r\n\r\n'],
  ['two Content-Length', `POST /api/pieces HTTP/1.1\r\n${host}Content-Length: 2\r\nContent-Length: 3\r\n\r\n{}`],
  ['Content-Length and chunked', `POST /api/pieces HTTP/1.1\r\n${host}Content-Length: 2\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n`],
  ['another transfer coding', `POST /api/pieces HTTP/1.1\r\n${host}Transfer-Encoding: gzip, chunked\r\n\r\n0\r\n\r\n`],
  ['chunked twice', `POST /api/pieces HTTP/1.1\r\n${host}Transfer-Encoding: chunked\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n`],
  ['chunked from HTTP/1.0', `POST /api/pieces HTTP/1.0\r\n${host}Transfer-Encoding: chunked\r\n\r\n0\r\n\r\n`],
  ['a blank before the colon', `POST /api/pieces HTTP/1.1\r\n${host}Content-Type: application/json\r\nContent-Length : 2\r\n\r\n{}`],
  ['a blank before the first header', `GET /api/pieces HTTP/1.1\r\n ${host}${host}\r\n`],
  ['two Origin', `GET /api/pieces HTTP/1.1\r\n${host}Origin: http://evil.example\r\nOrigin: http://127.0.0.1:${s.port}\r\n\r\n`],
  ['negative Content-Length', `POST /api/pieces HTTP/1.1\r\n${host}Content-Length: -1\r\n\r\n`],
  ['Content-Length of 30 digits', `POST /api/pieces HTTP/1.1\r\n${host}Content-Length: ${'9'.repeat(30)}\r\n\r\n`],
  ['NUL in a header', `GET /api/pieces HTTP/1.1\r\n${host}X-A: a\0b\r\n\r\n`],
  ['bare LF between headers', `GET /api/pieces HTTP/1.1\n${host}X-A: 1\n\n`],
  ['%00 in the path', `GET /api/pieces%00.html HTTP/1.1\r\n${host}\r\n`],
  ['broken escape', `GET /api/%zz HTTP/1.1\r\n${host}\r\n`],
  ['.. in the path', `GET /../../../../etc/passwd HTTP/1.1\r\n${host}\r\n`],
  ['%2e%2e in the path', `GET /files/%2e%2e/%2e%2e/etc/passwd HTTP/1.1\r\n${host}\r\n`],
  ['control byte in the method', `G\x01T / HTTP/1.1\r\n${host}\r\n`],
  ['unknown method', `BREW / HTTP/1.1\r\n${host}\r\n`],
  ['CONNECT', `CONNECT evil.example:80 HTTP/1.1\r\n${host}\r\n`],
  ['absolute address of another', `GET http://evil.example/ HTTP/1.1\r\n${host}\r\n`],
  ['100 kB of headers', `GET / HTTP/1.1\r\n${host}X-A: ${'a'.repeat(100000)}\r\n\r\n`],
  ['200 headers', `GET / HTTP/1.1\r\n${host}${'X-A: 1\r\n'.repeat(200)}\r\n`],
  ['an address of 50 kB', `GET /${'a'.repeat(50000)} HTTP/1.1\r\n${host}\r\n`],
  ['foreign Origin', `POST /api/pieces HTTP/1.1\r\n${host}Origin: http://evil.example\r\nContent-Type: application/json\r\nContent-Length: 2\r\n\r\n{}`],
  ['Origin null', `POST /api/pieces HTTP/1.1\r\n${host}Origin: null\r\nContent-Type: application/json\r\nContent-Length: 2\r\n\r\n{}`],
  ['sent by another site', `GET /api/pieces HTTP/1.1\r\n${host}Sec-Fetch-Site: cross-site\r\n\r\n`],
  ['a form of another site', `POST /api/pieces HTTP/1.1\r\n${host}Content-Type: text/plain\r\nContent-Length: 2\r\n\r\n{}`],
  ['100 MB announced', `POST /api/pieces HTTP/1.1\r\n${host}Content-Type: application/json\r\nContent-Length: 104857600\r\n\r\n`],
  ['garbage', '\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n'],
]) {
  await check(name, async () => {
    const got = await s.raw(Buffer.from(bytes, 'latin1'), 2500);
    const code = status(got);
    must(code === 0 || (code >= 400 && code < 500) || code === 501 || code === 505, `answered ${code}`);
    must(!got.includes('root:'), 'a file of the machine came back');
    await alive();
  });
}

await check('a header without a blank behind its colon is a header (RFC 9110, 5.5)', async () => {
  const got = await s.raw(Buffer.from(`GET /api/pieces HTTP/1.1\r\nHost:127.0.0.1:${s.port}\r\nAccept:*/*\r\nAccept-Encoding: br\r\nAccept-Encoding: gzip\r\nX-Nothing:\r\n\r\n`), 2500);
  must(status(got) === 200, `answered ${status(got)}`);
});
await check('what is left of a refused request is not the next one (RFC 9112, 11.2)', async () => {
  const got = await s.raw(Buffer.from(`POST /api/pieces HTTP/1.1\r\n${host}Content-Type: application/json\r\nTransfer-Encoding : chunked\r\n\r\n0\r\n\r\nGET /api/pieces HTTP/1.1\r\n${host}\r\n`, 'latin1'), 2500);
  same(got.match(/HTTP\/1\.1 \d+/g), ['HTTP/1.1 400'], 'answers');
});
await check('a method that an address does not know is told the ones it knows (RFC 9110, 15.5.6)', async () => {
  for (const [method, path, allow] of [['POST', '/', 'GET'], ['DELETE', '/api/pieces', 'GET, POST'], ['BREW', '/api/pieces', 'GET, POST']]) {
    const got = await s.raw(`${method} ${path} HTTP/1.1\r\n${host}\r\n`, 2500);
    same(status(got), 405, `${method} ${path}`);
    same(/^Allow: (.*)\r$/m.exec(got)?.[1].split(', ').sort(), allow.split(', ').sort(), `Allow of ${method} ${path}`);
  }
});
await check('HEAD of the events has no body', async () => {
  const got = await s.raw(`HEAD /api/events HTTP/1.1\r\n${host}\r\nGET /api/pieces HTTP/1.1\r\n${host}\r\n`, 2500);
  must(/\r\n\r\nHTTP\/1\.1 200 /.test(got), got.slice(-300));
});
await check('what is not UTF-8 is refused in UTF-8', async () => {
  for (const path of ['/api/pieces?%ff=1', '/api/pieces?q=%ff', '/api/pieces/%ff', `/api/pieces?${'a'.repeat(62)}%c3%a9%c3%a9=1`]) {
    const r = await s.get(path);
    same(r.status, 400, path);
    JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(await r.arrayBuffer()));
  }
});
await check('a body in chunks that never ends', async () => {
  const socket = net.connect(s.port, '127.0.0.1');
  let closed = false, sent = 0;
  socket.on('close', () => { closed = true; });
  socket.on('error', () => { closed = true; });
  socket.write(`POST /api/pieces HTTP/1.1\r\n${host}Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n`);
  const block = Buffer.from(`10000\r\n${'x'.repeat(65536)}\r\n`);
  for (; !closed && sent < 100 << 20; sent += 65536) {
    if (!socket.write(block)) await Promise.race([new Promise((r) => socket.once('drain', r)), wait(200)]);
  }
  socket.destroy();
  must(sent < 32 << 20, `took ${sent >> 20} MB`);
  await alive();
});
await check('an upload that stops half way', async () => {
  const socket = net.connect(s.port, '127.0.0.1');
  socket.on('error', () => {});
  socket.write(`POST /api/pieces HTTP/1.1\r\n${host}Content-Type: application/json\r\nContent-Length: 1000\r\n\r\n{"title":`);
  await wait(50);
  socket.destroy();
  await alive();
  same((await (await s.get('/api/pieces')).json()).rows.length, 0, 'pieces');
});
await check('3,000 damaged requests', async () => {
  const good = [`GET /api/pieces?q=a HTTP/1.1\r\n${host}Accept: */*\r\n\r\n`,
    `POST /api/plan HTTP/1.1\r\n${host}Content-Type: application/json\r\nContent-Length: 20\r\n\r\n{"job":{"pieces":[]}}`,
    `PATCH /api/pieces/a HTTP/1.1\r\n${host}If-Match: "1"\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n2\r\n{}\r\n0\r\n\r\n`];
  let seed = 1;
  const random = (n) => (seed = (seed * 48271) % 2147483647) % n;
  for (let round = 0; round < 60; round++) {
    await Promise.all(Array.from({ length: 50 }, () => {
      const bytes = Buffer.from(good[random(3)], 'latin1');
      for (let k = 1 + random(4); k; k--) bytes[random(bytes.length)] = random(256);
      return s.raw(bytes.subarray(0, 1 + random(bytes.length)), 40);
    }));
  }
  await alive();
});
await check('500 idle connections', async () => {
  const idle = await Promise.all(Array.from({ length: 500 }, () => new Promise((resolve) => {
    const socket = net.connect(s.port, '127.0.0.1', () => resolve(socket));
    socket.on('error', () => resolve(socket));
  })));
  const begun = Date.now();
  await alive();
  must(Date.now() - begun < 500, `the answer took ${Date.now() - begun} ms`);
  idle.forEach((x) => x.destroy());
});
await check('16 clients write at once: every entry that was acknowledged is there', async () => {
  let wrote = 0;
  const until = Date.now() + (process.env.COATWRIGHT_SLOW ? 10000 : 3000);
  await Promise.all(Array.from({ length: 16 }, async (_, k) => {
    for (let i = 0; Date.now() < until; i++) {
      const r = await s.send('POST', '/api/pieces', { title: `piece ${k} ${i}`, template: 'chest' },
        { 'idempotency-key': `client-${k}-${i}` });
      same(r.status, 200, 'status');
      wrote++;
    }
  }));
  let rows = 0, after = '';
  do {
    const page = await (await s.get(`/api/pieces?limit=1000${after && `&after=${encodeURIComponent(after)}`}`)).json();
    rows += page.rows.length;
    after = page.next;
  } while (after);
  same(rows, wrote, 'rows');
  console.log(`wrote ${wrote} pieces`);
});
await check('the same port again', async () => {
  const r = run(program, ['serve', '--book', join(dir, 'b.book'), '--listen', `127.0.0.1:${s.port}`]);
  same(r.code, 1, 'exit');
  must(r.err.includes('in use'), r.err);
});
await check('the same book again', async () => {
  const r = run(program, ['serve', '--book', book, '--listen', '127.0.0.1:0']);
  same(r.code, 1, 'exit');
  must(r.err.length > 10, r.err);
});
await check('an address of another machine', async () => {
  const r = run(program, ['serve', '--book', join(dir, 'c.book'), '--listen', '0.0.0.0:0']);
  same(r.code, 1, 'exit');
  must(r.err.includes('this machine alone'), r.err);
});
await check('a request that drips is hung up on', async () => {
  const ms = await drip;
  must(ms < 30000, `after ${ms} ms`);
  await alive();
});
if (process.env.TSAN_OPTIONS) skip('memory stayed bounded', 'the sanitizer needs a multiple of it');
else await check('memory stayed bounded', async () => {
  const mb = s.peakMegabytes();
  console.log(`peak ${mb.toFixed(1)} MB`);
  must(mb < 100, `${mb} MB`);
});
await check('it stops in order, with streams open', async () => {
  const stream = await s.get('/api/events');
  same(stream.status, 200, 'status');
  const begun = Date.now(), end = await s.stop();
  same(end, { code: 0, signal: null }, 'end');
  must(Date.now() - begun < 4000, `after ${Date.now() - begun} ms`);
});
await check('it stops while it looks ahead, and does not end its searches first', async () => {
  const big = join(dir, 'big.book'), fill = await Server.start(program, ['--book', big], dir);
  for (let i = 0; i < 20; i++)
    await fill.send('POST', '/api/paints', { name: `Paint ${i}`, class: 'wb_enamel', stock: '1 qt', color: `lab(${20 + (i * 17) % 75} ${(i * 23) % 90 - 45} ${(i * 31) % 110 - 55})` });
  for (let i = 0; i < 36; i++)
    await fill.send('POST', '/api/pieces', { title: `Piece ${i}`, template: 'desk', width: '34 in', depth: '20 in', height: '30 in', color: `lab(${30 + (i * 7) % 60} ${(i * 11) % 30 - 15} ${(i * 13) % 40 - 20})` });
  await fill.stop();
  const whole = await Server.start(program, ['--book', big], dir), asked = Date.now();
  same((await whole.get('/api/shopping')).status, 200, 'what is looked for ahead');
  const search_ms = Date.now() - asked;
  await whole.stop();
  const cut = await Server.start(program, ['--book', big], dir), begun = Date.now();
  same(await cut.stop(), { code: 0, signal: null }, 'end');
  const stop_ms = Date.now() - begun;
  console.log(`searches ${search_ms} ms, stopped after ${stop_ms} ms`);
  must(stop_ms < search_ms / 2, `stopped after ${stop_ms} ms, the searches take ${search_ms} ms`);
});
done();
process.exit();
