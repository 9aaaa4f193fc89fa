/* Instants (minutes since 1970, UTC) and days (since 1970) on the shop's clock, as they are said. Where
 * the shop names no zone it is this machine's, as it is for the plans. */
let zone: string | undefined,
  clock24 = false,
  asked: string | undefined;
const made = new Map<string, Intl.DateTimeFormat>();
export function setZone(z: string | undefined, metric: boolean) {
  if (z === asked && metric === clock24) return; /* every page part asks; a format costs */
  asked = z;
  try {
    new Intl.DateTimeFormat('en-US', { timeZone: z });
    zone = z;
  } catch {
    zone = undefined;
  }
  clock24 = metric;
  made.clear();
}
function format(key: string, o: Intl.DateTimeFormatOptions, at: number): string {
  let f = made.get(key);
  if (!f) made.set(key, (f = new Intl.DateTimeFormat('en-US', { timeZone: zone, ...o })));
  return f.format(at * 60000);
}
export function clockText(at: number): string {
  return clock24
    ? format('c24', { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }, at)
    : format('c12', { hour: 'numeric', minute: '2-digit', hour12: true }, at)
        .replace(' AM', ' am')
        .replace(' PM', ' pm');
}
export function weekday(at: number): string {
  return format('wd', { weekday: 'short' }, at);
}
export function dayNumber(at: number): string {
  return format('dn', { day: 'numeric' }, at);
}
export function longDay(at: number): string {
  return format('ld', { weekday: 'long', month: 'long', day: 'numeric' }, at);
}
/* Of a day more than half a year away the year is said: the weekday alone would be taken for the
 * next one of that name. */
const HALF_YEAR_MIN = 183 * 1440;
const isFar = (at: number) => Math.abs(at - nowMinutes()) > HALF_YEAR_MIN;
export function shortDay(at: number): string {
  return isFar(at)
    ? format('sdy', { month: 'short', day: 'numeric', year: 'numeric' }, at)
    : format('sd', { weekday: 'short', month: 'short', day: 'numeric' }, at);
}
export function whenText(at: number, now?: number): string {
  const same = now !== undefined && dayOf(at) === dayOf(now);
  return same ? clockText(at) : `${shortDay(at)}, ${clockText(at)}`;
}
/* minutes from local midnight, and the local day as days since 1970 */
export function localMinutes(at: number): number {
  const [h, m] = format('hm', { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }, at).split(
    ':',
  );
  return Number(h) * 60 + Number(m);
}
export function dayOf(at: number): number {
  const p = format('ymd', { year: 'numeric', month: '2-digit', day: '2-digit' }, at).split('/');
  return Date.UTC(Number(p[2]), Number(p[0]) - 1, Number(p[1])) / 86400000;
}
export function dueText(day: number): string {
  const far = isFar(day * 1440);
  return new Date(day * 86400000).toLocaleDateString('en-US', {
    timeZone: 'UTC',
    month: 'short',
    day: 'numeric',
    ...(far ? { year: 'numeric' } : { weekday: 'short' }),
  });
}
/* A day that is past: its weekday says nothing any more, its year does where it is not this one. */
export function dayText(day: number): string {
  const at = new Date(day * 86400000),
    past = at.getUTCFullYear() !== new Date().getUTCFullYear();
  return at.toLocaleDateString('en-US', {
    timeZone: 'UTC',
    month: 'short',
    day: 'numeric',
    ...(past ? { year: 'numeric' } : {}),
  });
}
export function isoDay(day: number): string {
  return new Date(day * 86400000).toISOString().slice(0, 10);
}
export function clockOfMinutes(min: number): string {
  const h = Math.floor(min / 60),
    m = min % 60,
    mm = String(m).padStart(2, '0');
  return clock24
    ? `${String(h).padStart(2, '0')}:${mm}`
    : `${h % 12 || 12}:${mm} ${h % 24 < 12 ? 'am' : 'pm'}`;
}
export function spanText(min: number): string {
  const r = Math.max(0, Math.round(min)),
    d = Math.floor(r / 1440),
    h = Math.floor((r % 1440) / 60),
    m = r % 60;
  if (d >= 3) return `${Math.round(r / 1440)} days`;
  if (r >= 1440) return `${Math.floor(r / 60)} h`;
  return h ? (m ? `${h} h ${m} min` : `${h} h`) : `${m} min`;
}
/* Hands-on time, by which work is paid, as the sheet says it: never in days, from an hour on to five
 * minutes. */
export function handsText(hours: number): string {
  let min = hours > 0 ? Math.max(1, Math.round(hours * 60)) : 0;
  if (min >= 60) min = Math.floor((min + 2) / 5) * 5;
  const h = Math.floor(min / 60);
  return [h && `${h} h`, (min % 60 || !h) && `${min % 60} min`].filter(Boolean).join(' ');
}
export function nowMinutes(): number {
  return Math.floor(Date.now() / 60000);
}
