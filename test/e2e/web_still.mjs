// Nothing moves under the finger: every page with its answers late by 800 ms, as it is opened; with
// COATWRIGHT_SLOW on a tablet too and as one comes to it from another page; what the browser counts as layout shift (CLS) stays unseen.
//   node web_still.mjs PROGRAM WEB_DIR
import { DESKTOP, demo, PAGES, PHONE } from './browser.mjs';
import { check, done, must } from './tally.mjs';

const { server, b } = await demo('pages that stand still');
const LATE_MS = 800, QUIET_MS = 300, MOST = 0.02; // a page is called good under 0.1 (web.dev, "Cumulative Layout Shift")
async function slow(size) {
  const page = await b.page(size);
  page.under_way = 0;
  await page.route(/\/api\/(?!events)/, async (route) => {
    page.under_way++;
    await new Promise((r) => setTimeout(r, LATE_MS));
    await route.continue().catch(() => undefined);
    page.under_way--;
  });
  await page.addInitScript(() => {
    globalThis.shifts = [];
    const where = ({ node, previousRect: from, currentRect: to }) => {
      const n = node?.nodeType === 3 ? node.parentElement : node;
      return `${n?.tagName} "${(n?.textContent ?? '').slice(0, 30)}" ${Math.round(from.y)} -> ${Math.round(to.y)}`;
    };
    new PerformanceObserver((list) => {
      for (const e of list.getEntries()) globalThis.shifts.push({ value: e.value, what: e.sources.map(where).join(', ') });
    }).observe({ type: 'layout-shift', buffered: true });
  });
  return page;
}
// Until nothing has been asked for a while: one answer may lead to the next question.
async function rest(page) {
  for (let quiet = 0; quiet < QUIET_MS; quiet = page.under_way ? 0 : quiet + 50) await page.waitForTimeout(50);
}
async function moved(page) {
  await page.waitForSelector('main h1');
  await rest(page);
  const shifts = await page.evaluate(() => globalThis.shifts.splice(0)), sum = shifts.reduce((n, s) => n + s.value, 0);
  must(sum <= MOST, `${sum.toFixed(3)}: ${shifts.map((s) => `${s.value.toFixed(3)} ${s.what}`).join('; ')}`);
}
async function opened(name, size) {
  const page = await slow(size);
  for (const path of PAGES)
    await check(`${name} ${path} opened`, async () => {
      await page.goto(b.base + path);
      await moved(page);
    });
  await page.close();
}
async function come_to() {
  const page = await slow(PHONE);
  for (const path of PAGES)
    await check(`phone ${path} come to`, async () => {
      await page.goto(`${b.base}/nowhere`);
      await page.waitForSelector('main h1');
      await rest(page);
      await page.evaluate((to) => {
        globalThis.shifts.length = 0;
        history.pushState(null, '', to);
        dispatchEvent(new PopStateEvent('popstate'));
      }, path);
      await page.waitForFunction(() => !/stands here/.test(document.querySelector('main h1')?.textContent ?? ''));
      await moved(page);
    });
  await page.close();
}
// side by side: much of it is waiting
const slowly = process.env.COATWRIGHT_SLOW ? [opened('tablet', { width: 820, height: 1180 }), come_to()] : [];
await Promise.all([opened('desktop', DESKTOP), opened('phone', PHONE), ...slowly]);
await b.stop();
await server.stop();
done();
