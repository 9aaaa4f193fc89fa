// Named cases, and the closing line that script/test adds up.
let passed = 0, failed = 0, skipped = 0;

export async function check(name, run) {
  try {
    await run();
    passed++;
  } catch (e) {
    failed++;
    console.log(`FAILED ${name}: ${e.message}`);
  }
}
export function skip(name, why) {
  skipped++;
  console.log(`skipped ${name}: ${why}`);
}
export function must(condition, text) {
  if (!condition) throw new Error(text);
}
export function same(got, want, text = '') {
  const a = JSON.stringify(got), b = JSON.stringify(want);
  if (a !== b) throw new Error(`${text} is ${a}, want ${b}`);
}
// What the page or the server comes to in a moment: tried again until it throws no more, at most 15 s.
export async function until(holds) {
  for (let tries = 0; ; tries++)
    try {
      return await holds();
    } catch (e) {
      if (tries >= 300) throw e;
      await new Promise((r) => setTimeout(r, 50));
    }
}
export function done() {
  console.log(`${passed} passed, ${failed} failed, ${skipped} skipped`);
  process.exitCode = failed ? 1 : 0;
}
