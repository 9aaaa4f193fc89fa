// The real browser on the real pages: every page is watched for console errors, requests to
// anywhere else, and breaches of the accessibility rules.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { Server, folder } from './program.mjs';
import { check, done, must, same, skip, until } from './tally.mjs';

export const DESKTOP = { width: 1280, height: 900 }, PHONE = { width: 390, height: 844 };
export const PAGES = ['/today', '/pieces', '/pieces/new', '/pieces/worth', '/pieces/chest', '/color', '/color/chest', '/photo', '/shelf', '/clients',
  '/money', '/days', '/shop'];
const BROWSERS = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

// Why no browser test can run here, or undefined.
export function missing(web) {
  if (!existsSync(join(web, 'node_modules/playwright-core'))) return 'web/node_modules is missing (npm ci in web/)';
  if (!BROWSERS.some(existsSync)) return 'no chromium on this machine';
  return undefined;
}

// The demo book (no names: an empty one) served to a browser, for a test that is called with PROGRAM
// WEB_DIR; where no browser can run the test says so and ends.
export async function demo(what, names) {
  const [program, web] = process.argv.slice(2), no = missing(web);
  if (no) {
    skip(what, no);
    done();
    process.exit();
  }
  const root = dirname(web), dir = folder(), book = join(dir, 'demo.book');
  demoBook(program, root, book, names);
  const server = await Server.start(program, ['--book', book], dir), b = await Browser.start(web, server.url);
  return { program, web, root, dir, book, server, b, json: async (path) => (await server.get(path)).json() };
}

// How such a test ends; `known`: console errors that it brought about on purpose.
export async function finish({ server, b }, known = () => false) {
  await check('no console error in all of it', async () => same(b.errors.filter((e) => !known(e)), [], 'console'));
  await check('nothing was asked of anywhere else', async () => same(b.outside, [], 'requests'));
  await server.stop();
  await b.stop();
  done();
}

export class Browser {
  static async start(web, base, args = []) {
    const need = createRequire(join(web, 'package.json')), { chromium } = need('playwright-core');
    const b = new Browser();
    b.base = base;
    b.axe = readFileSync(need.resolve('axe-core/axe.min.js'), 'utf8');
    b.profile = mkdtempSync(join(tmpdir(), 'coatwright-browser-'));
    b.context = await chromium.launchPersistentContext(b.profile, {
      executablePath: BROWSERS.find(existsSync), headless: true, reducedMotion: 'reduce',
      args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage', '--in-process-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
        '--disable-component-update', '--disable-sync', ...args],
    });
    b.errors = [];
    b.outside = [];
    b.context.on('request', (r) => {
      if (!/^(data|blob|about):/.test(r.url()) && !r.url().startsWith(`${b.base}/`)) b.outside.push(r.url());
    });
    return b;
  }
  async page(size = DESKTOP) {
    const page = await this.context.newPage();
    await page.setViewportSize(size);
    page.on('console', (m) => { if (m.type() === 'error') this.errors.push(`${page.url()}: ${m.text()} ${m.location().url}`); });
    page.on('pageerror', (e) => this.errors.push(`${page.url()}: ${e.message}`));
    page.asked = new Set(); // what has no answer yet; the event stream stays open
    page.on('request', (r) => { if (!r.url().endsWith('/api/events')) page.asked.add(r); });
    for (const end of ['requestfinished', 'requestfailed']) page.on(end, (r) => page.asked.delete(r));
    let leaves = false; // for another document: what this one asked is cut off, and nothing says so of each
    page.on('request', (r) => { leaves ||= r.isNavigationRequest() && r.frame() === page.mainFrame(); });
    page.on('framenavigated', (f) => {
      if (!leaves || f !== page.mainFrame()) return;
      page.asked.clear();
      leaves = false;
    });
    return page;
  }
  async open(page, path) {
    await page.goto(this.base + path);
    await page.waitForSelector('main h1');
    await this.rest(page);
    return page;
  }
  // Until nothing has been asked for a moment: one answer may lead to the next question.
  async rest(page, quiet_ms = 120) {
    for (let quiet = 0, all = 0; quiet < quiet_ms && all < 10000; all += 30) {
      await page.waitForTimeout(30);
      quiet = page.asked.size ? 0 : quiet + 30;
    }
  }
  // The cursor comes into the field that is wrong a moment after it is drawn so.
  async cursorIn(field) {
    await until(async () => must(await field.evaluate((e) => e === document.activeElement), 'the field that is wrong has not the cursor'));
  }
  // Waits until the app says such words back.
  async said(page, words) {
    await page.waitForFunction((w) => new RegExp(w).test(document.querySelector('.said')?.textContent ?? ''), words, { timeout: 15000 })
      .catch(async () => { throw new Error(`"${await page.locator('.said').innerText()}" is said, want "${words}"`); });
  }
  // What breaks WCAG 2.2 A and AA (axe-core's rules for them), in the whole page or in what a selector finds.
  async breaches(page, within) {
    if (await page.evaluate(() => !globalThis.axe)) await page.evaluate(this.axe);
    const r = await page.evaluate((part) => globalThis.axe.run(part ?? document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'], resultTypes: ['violations'],
    }), within);
    return r.violations.map((v) => `${v.id}: ${v.nodes.slice(0, 2).map((n) => n.html.slice(0, 140)).join(' | ')}`);
  }
  // A page that a failed case left open would go on asking a server that is gone.
  async closePages() {
    for (const p of this.context.pages().slice(1)) await p.close();
  }
  async stop() {
    await this.context.close();
    rmSync(this.profile, { recursive: true, force: true });
  }
}

// A book with the three demo pieces and their shelf, made as a person would: by import.
export function demoBook(program, root, book, names = ['chest', 'nightstands', 'desk']) {
  for (const [i, name] of names.entries()) {
    const r = spawnSync(program, ['import', join(root, `examples/${name}.job.json`), ...(i ? [] : ['--shop']), '--book', book],
      { encoding: 'utf8', timeout: 60000 });
    if (r.status !== 0) throw new Error(`import of ${name}: ${r.stderr}`);
  }
}
export function textOfPdf(file) {
  const text = spawnSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
  const info = spawnSync('pdfinfo', [file], { encoding: 'utf8' });
  if (text.error || info.error) return undefined;
  return { text: text.stdout, pages: Number(/Pages:\s*(\d+)/.exec(info.stdout)?.[1]), size: /Page size:\s*(.*)/.exec(info.stdout)?.[1] };
}
