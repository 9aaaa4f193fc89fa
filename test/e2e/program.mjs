// The real binary, served from a new book in a folder of its own.
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import net from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

export function folder() {
  const path = mkdtempSync(join(tmpdir(), 'coatwright-'));
  process.on('exit', () => rmSync(path, { recursive: true, force: true }));
  return path;
}

export function run(program, args, input, env) {
  const r = spawnSync(program, args, { encoding: 'utf8', input, env, timeout: 60000, maxBuffer: 1 << 26 });
  return { code: r.status, out: r.stdout, err: r.stderr };
}

export class Server {
  static async start(program, args, dir) {
    const s = new Server();
    s.child = spawn(resolve(program), ['serve', '--listen', '127.0.0.1:0', ...args], { cwd: dir });
    s.err = '';
    s.child.stderr.on('data', (d) => { s.err += d; });
    s.ended = new Promise((resolve) => s.child.on('exit', (code, signal) => resolve({ code, signal })));
    process.on('exit', () => s.child.kill('SIGKILL'));
    const line = await new Promise((resolve, reject) => {
      let out = '';
      s.child.stdout.on('data', (d) => { out += d; if (out.includes('\n')) resolve(out); });
      s.ended.then(() => reject(new Error(`the server ended: ${s.err}`)));
      const patience_s = process.env.TSAN_OPTIONS ? 90 : 10;
      setTimeout(() => reject(new Error(`not ready after ${patience_s} s`)), 1000 * patience_s).unref();
    });
    s.url = /^ready (http:\/\/127\.0\.0\.1:\d+)\/\n/.exec(line)?.[1];
    if (!s.url) throw new Error(`no ready line: ${line}`);
    s.port = Number(s.url.split(':')[2]);
    return s;
  }
  get(path, headers = {}) { return fetch(this.url + path, { headers }); }
  send(method, path, body, headers = {}) {
    return fetch(this.url + path, {
      method, headers: { 'content-type': 'application/json', ...headers },
      body: body === undefined ? undefined : typeof body === 'string' ? body : JSON.stringify(body),
    });
  }
  // Bytes as they are; resolves with what came back when the server closes or after `ms`.
  raw(bytes, ms = 3000) {
    return new Promise((resolve) => {
      const socket = net.connect(this.port, '127.0.0.1');
      let got = '';
      const end = () => { socket.destroy(); resolve(got); };
      socket.setTimeout(ms, end);
      socket.on('data', (d) => { got += d.toString('latin1'); });
      socket.on('close', end);
      socket.on('error', end);
      socket.write(bytes);
    });
  }
  peakMegabytes() {
    const text = readFileSync(`/proc/${this.child.pid}/status`, 'utf8');
    return Number(/VmHWM:\s*(\d+)/.exec(text)[1]) / 1024;
  }
  async stop(signal = 'SIGTERM') {
    this.child.kill(signal);
    return this.ended;
  }
}
